package machine

import (
	"fmt"
	"math"

	"tiploop/frame/drive"
)

// travelPerRadian is how far the motor's turning by one radian moves the axis, mm.
func (v *Drive) travelPerRadian() float64 {
	switch v.Kind {
	case ByScrew:
		return v.Screw.Lead / (2 * math.Pi * v.Motor.turns())
	case ByBelt:
		return v.Belt.Belt.PitchRadius(float64(v.Belt.Teeth))
	case ByRack:
		return v.Pinion
	}
	return 0 // nothing is known of what turns
}

// turns are those of the motor for one of the screw.
func (w DriveMotor) turns() float64 {
	if w.Ratio == 0 {
		return 1
	}
	return w.Ratio
}

// spin is the moment of inertia of what turns, at the motor, tonne·mm²: its rotor and the screw. Couplings, pulleys and
// belts are left out.
func (v *Drive) spin() float64 {
	inertia := v.Motor.Rotor
	if v.Kind == ByScrew {
		inertia += v.Screw.Shaft.SpinInertia(screwDensity) / (v.Motor.turns() * v.Motor.turns())
	}
	return inertia
}

// gain is how fast an axis gains speed in a load, mm/s².
func (l *Load) gain(m *Machine, axis *FeedAxis) (by float64) {
	for _, a := range l.Actions {
		if a.Kind == Accelerating && &m.Axes[a.Axis] == axis {
			by += component(a.Force, axis.Along)
		}
	}
	return by
}

// turn works out the motor's torque, N·mm: that of the force along the travel, F·s/η with s the travel per radian, and that
// which turns rotor and screw faster, J·a/s. Friction of guides and bearings is left out.
func (d *DriveLoad) turn(v *Drive, gain float64) {
	if hold := v.Motor.Hold; hold > 0 {
		d.HoldingNmm = &hold
	}
	travel := v.travelPerRadian()
	if travel == 0 || v.Efficiency == 0 {
		return
	}
	torque := math.Abs(d.ForceN*travel/v.Efficiency + v.spin()*gain/travel)
	d.TorqueNmm = &torque
}

// motorNotes warn of motors of which a load asks more than they can be trusted with.
func (m *Model) motorNotes(loads []DriveLoad) (notes []string) {
	for _, d := range worstOf(loads, func(d DriveLoad) string { return d.Drive }, func(d DriveLoad) float64 {
		if d.TorqueNmm == nil || d.HoldingNmm == nil {
			return 0
		}
		return *d.TorqueNmm / *d.HoldingNmm
	}) {
		share := drive.InMotion().Typical
		if d.TorqueNmm == nil || d.HoldingNmm == nil || *d.TorqueNmm <= share**d.HoldingNmm {
			continue
		}
		notes = append(notes, fmt.Sprintf("%s: %s asks %.0f N·mm of its motor, more than %.0f %% of the %.0f N·mm it holds at rest; a stepper has less the faster it turns, and loses steps: gain speed more slowly, or take a larger motor.",
			d.Drive, d.Load, *d.TorqueNmm, 100*share, *d.HoldingNmm))
	}
	return notes
}
