package structure

import (
	"fmt"
	"math"

	"tiploop/frame/answer"
	"tiploop/frame/drive"
	"tiploop/frame/machine"
)

// travelPerRadian is how far the motor's turning by one radian moves the axis, mm.
func travelPerRadian(v *machine.Drive) float64 {
	switch v.Kind {
	case machine.ByScrew:
		return v.Screw.Lead / (2 * math.Pi * motorTurns(v.Motor))
	case machine.ByBelt:
		return v.Belt.Belt.PitchRadius(float64(v.Belt.Teeth))
	case machine.ByRack:
		return v.Pinion
	}
	return 0 // nothing is known of what turns
}

// motorTurns are those of the motor for one of the screw.
func motorTurns(w machine.DriveMotor) float64 {
	if w.Ratio == 0 {
		return 1
	}
	return w.Ratio
}

// spinInertia is the moment of inertia of what turns, at the motor, tonne·mm²: its rotor and the screw. Couplings,
// pulleys and belts are left out.
func spinInertia(v *machine.Drive) float64 {
	inertia := v.Motor.Rotor
	if v.Kind == machine.ByScrew {
		inertia += v.Screw.Shaft.SpinInertia(machine.ScrewDensity) / (motorTurns(v.Motor) * motorTurns(v.Motor))
	}
	return inertia
}

// speedGain is how fast an axis gains speed in a load, mm/s².
func speedGain(l *machine.Load, m *machine.Machine, axis *machine.FeedAxis) (by float64) {
	for _, a := range l.Actions {
		if a.Kind == machine.Accelerating && &m.Axes[a.Axis] == axis {
			by += machine.Component(a.Force, axis.Along)
		}
	}
	return by
}

// turnMotor works out the motor's torque, N·mm: that of the force along the travel, F·s/η with s the travel per
// radian, and that which turns rotor and screw faster, J·a/s. Friction of guides and bearings is left out.
func turnMotor(d *answer.DriveLoad, v *machine.Drive, gain float64) {
	if hold := v.Motor.Hold; hold > 0 {
		d.HoldingNmm = &hold
	}
	travel := travelPerRadian(v)
	if travel == 0 || v.Efficiency == 0 {
		return
	}
	torque := math.Abs(d.ForceN*travel/v.Efficiency + spinInertia(v)*gain/travel)
	d.TorqueNmm = &torque
}

// motorNotes warn of motors of which a load asks more than they can be trusted with.
func (m *Model) motorNotes(loads []answer.DriveLoad) (notes []string) {
	for _, d := range worstOf(loads, func(d answer.DriveLoad) string { return d.Drive }, func(d answer.DriveLoad) float64 {
		if d.TorqueNmm == nil || d.HoldingNmm == nil {
			return 0
		}
		return *d.TorqueNmm / *d.HoldingNmm
	}) {
		share := drive.InMotion().Typical
		if d.TorqueNmm == nil || d.HoldingNmm == nil || *d.TorqueNmm <= share**d.HoldingNmm {
			continue
		}
		notes = append(notes, fmt.Sprintf("%s: %s asks %.0f N·mm of its motor, more than %.0f %% of the %.0f N·mm it holds "+
			"at rest; a stepper has less the faster it turns, and loses steps: gain speed more slowly, or take a larger motor.",
			d.Drive, d.Load, *d.TorqueNmm, 100*share, *d.HoldingNmm))
	}
	return notes
}
