package cutting

import (
	"fmt"

	"tiploop/frame/constant"
)

// Spindle is what a spindle can give. Zero fields are limits nobody has stated.
type Spindle struct {
	PowerW     float64 // of its motor
	TorqueNmm  float64 // at the cutter, lasting
	Efficiency float64 // power at the cutter over that of the motor, above 0 to 1; 0 means 1
}

// mostPowerW and mostTorqueNmm bound the limits, far above any spindle.
const (
	mostPowerW    = 1e9
	mostTorqueNmm = 1e12
)

// Check returns an error unless the limits are limits.
func (s Spindle) Check() error {
	if err := within("spindle power", "W", s.PowerW, 0, mostPowerW); err != nil {
		return err
	}
	if err := within("spindle torque", "N·mm", s.TorqueNmm, 0, mostTorqueNmm); err != nil {
		return err
	}
	if e := s.efficiency(); !(e >= leastEfficiency && e <= 1) {
		return fmt.Errorf("spindle efficiency of %g must lie between %g and 1", e, leastEfficiency)
	}
	return nil
}

// leastEfficiency is below that of any drive that turns.
const leastEfficiency = 0.01

// efficiency returns the efficiency in use.
func (s Spindle) efficiency() float64 {
	if s.Efficiency == 0 {
		return 1
	}
	return s.Efficiency
}

// DrivePowerW returns the power a motor must give, W, for a cutting force at a cutting speed:
// F v/(60 η). The efficiency lies above 0 and at most at 1.
func DrivePowerW(forceN, speedMMin, efficiency float64) float64 {
	constant.MustNotBeNegative("cutting: force", forceN)
	constant.MustNotBeNegative("cutting: cutting speed", speedMMin)
	if !(efficiency > 0 && efficiency <= 1) {
		panic(fmt.Sprintf("cutting: efficiency %g is not above 0 and at most 1", efficiency))
	}
	return forceN * speedMMin / (60 * efficiency)
}

// cautions holds a mean power at the motor and a mean torque against the limits.
func (s Spindle) cautions(motorW, torqueNmm float64) (list []Caution) {
	if s.PowerW > 0 && motorW > s.PowerW {
		list = append(list, Caution{PowerAbove, motorW, s.PowerW, "W"})
	}
	if s.TorqueNmm > 0 && torqueNmm > s.TorqueNmm {
		list = append(list, Caution{TorqueAbove, torqueNmm, s.TorqueNmm, "N·mm"})
	}
	return list
}
