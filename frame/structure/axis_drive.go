package structure

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/answer"
	"tiploop/frame/drive"
	"tiploop/frame/machine"
)

// madeDrive is a drive with its links.
type madeDrive struct {
	drive *machine.Drive
	chain []drive.Part // what gives way from the frame to the table; nil: one spring
	pulls []int        // in Model.links: those that hold the part with nut, clamp or pinion
	sides []int        // in Model.links: those that hold the nut of a screw across it
	hold  drive.SideHold
}

// driveSource is the name under which the energy of a drive is counted.
func driveSource(a *machine.FeedAxis, d *machine.Drive) string {
	return "drive " + driveName(a, d)
}

// driveName tells the drives of all axes apart.
func driveName(a *machine.FeedAxis, d *machine.Drive) string {
	if d.Name == "" {
		return a.Name
	}
	return a.Name + ": " + d.Name
}

// makeDrive puts the springs of a drive between the parts it stands on. Bearings, shaft, nut and motor lie in a row.
// Where two ways lead to the frame, by both bearings of a screw or both spans of a belt, they meet in a node of their
// own; it is taken out by turning the star of the three springs into the triangle that acts alike:
//
//	k_ab = k_a·k_b/(k_a + k_b + k_c).
func (m *Model) makeDrive(a *machine.FeedAxis, d *madeDrive) *machine.Fault {
	v := d.drive
	part, on := m.bodies[v.Part], m.bodies[v.On]
	if v.Kind == machine.ByScrew || v.Kind == machine.ByBelt {
		if f := m.checkDriveEnds(a, v); f != nil {
			return f
		}
	}
	push := part.spotNear(v.Push)
	near := on.spotNear(v.From)
	var far *body
	var farSpot *spot
	if v.Far != nil {
		far = m.bodies[*v.Far]
		farSpot = far.spotNear(v.To)
	}
	spring := func(b *body, s *spot, k float64, others ...end) {
		m.link(link{a: b, spot: s, others: others, direction: a.Along.Direction(), stiffness: k, source: driveSource(a, v)})
	}
	pull := func(k float64, others ...end) {
		d.pulls = append(d.pulls, len(m.links))
		spring(part, push, k, others...)
	}
	switch v.Kind {
	case machine.ByRack, machine.BySpring:
		pull(v.Force, end{on, near, -1})
	case machine.ByScrew:
		number := slices.IndexFunc(m.machine.Axes, func(o machine.FeedAxis) bool { return o.Name == a.Name })
		screw := m.shimmedScrew(number, slices.IndexFunc(a.Drives, func(o machine.Drive) bool { return o.Name == v.Name }), v)
		chain, err := screw.Parts(nutAt(v))
		if err != nil {
			f := m.fault(v.Pos, "", "axis %s: %v", a.Name, err)
			return &f
		}
		d.chain = chain
		m.holdSideways(number, a, d, push, near)
		k1, k2, k3 := screwWays(screw, nutAt(v))
		if k2 == 0 {
			pull(drive.Series(k1, k3), end{on, near, -1})
			break
		}
		sum := k1 + k2 + k3
		pull(k1*k3/sum, end{on, near, -1})
		pull(k2*k3/sum, end{far, farSpot, -1})
		spring(far, farSpot, k1*k2/sum, end{on, near, -1})
	case machine.ByBelt:
		return m.makeBelt(a, d, pull, spring, near, farSpot)
	}
	return nil
}

// screwWays are the stiffnesses of a screw's ways to the frame by the driven end and by the far end (0: none), and of
// what both have in common: nut, twist and motor.
func screwWays(s drive.ScrewDrive, nutAt float64) (near, far, common float64) {
	shaft := s.Shaft
	shaft.Ends = drive.FixedFree // each way by itself
	onSeat := func(k, seat float64) float64 {
		if seat > 0 {
			return drive.Series(k, seat)
		}
		return k
	}
	near = drive.Series(onSeat(s.NearBearing, s.NearBracket), shaft.Axial(nutAt))
	if s.Shaft.Ends == drive.FixedFixed {
		far = drive.Series(onSeat(s.FarBearing, s.FarBracket), shaft.Axial(shaft.Length-nutAt))
	}
	common = onSeat(s.Nut, s.NutBracket)
	if s.Twisting == drive.TwistCounts {
		common = drive.Series(common, drive.AxialOfRotary(shaft.Twist(nutAt), s.Lead))
	}
	if s.Turning > 0 {
		common = drive.Series(common, drive.AxialOfRotary(s.Turning, s.Lead))
	}
	return near, far, common
}

// checkDriveEnds makes sure that screw and belt begin on their parts and that the nut or clamp stays on them.
func (m *Model) checkDriveEnds(a *machine.FeedAxis, v *machine.Drive) *machine.Fault {
	for _, e := range []struct {
		part *int
		at   r3.Vec
		what string
	}{{&v.On, v.From, "driven end"}, {v.Far, v.To, "far end"}} {
		if e.part == nil {
			continue
		}
		if f := m.offPart(m.bodies[*e.part], e.at, v.Pos, fmt.Sprintf("%s of the %s of axis %s", e.what, v.Kind,
			a.Name)); f != nil {
			return f
		}
	}
	length := r3.Norm(r3.Sub(v.To, v.From))
	begin := r3.Dot(r3.Sub(v.Push, v.From), r3.Unit(r3.Sub(v.To, v.From)))
	holds := map[machine.DriveKind]string{machine.ByScrew: "nut", machine.ByBelt: "clamp"}[v.Kind]
	for _, to := range a.Travel {
		if at := begin + runs(v, a)*(to-a.At); !(at > machine.Touching && at < length-machine.Touching) {
			f := m.fault(v.Pos, fmt.Sprintf("lengthen the %s, move the %s, or shorten the travel", v.Kind, holds),
				"axis %s: with the axis at %s the %s is %s from the driven end, and the %s is %s long", a.Name, machine.MM(to),
				holds, machine.MM(at), v.Kind, machine.MM(length))
			return &f
		}
	}
	return nil
}

// makeBelt puts the springs of a belt between clamp, motor and idler. With t the way the motor lets the belt run, the
// spans stretch by a + t and b − t: a = clamp − motor and b = 2·idler − clamp − motor on a closed path, a =
// clamp − first end and b = second end − clamp on an open one, so a + b is what the ends of the belt move apart.
func (m *Model) makeBelt(a *machine.FeedAxis, d *madeDrive, pull func(float64, ...end), spring func(*body, *spot,
	float64, ...end), near, farSpot *spot) *machine.Fault {
	v := d.drive
	on, far := m.bodies[v.On], m.bodies[*v.Far]
	first, second, err := v.Belt.Spans(nutAt(v))
	if err != nil {
		f := m.fault(v.Pos, "", "axis %s: %v", a.Name, err)
		return &f
	}
	specific, err := v.Belt.Belt.Specific()
	if err != nil {
		f := m.fault(v.Pos, "", "axis %s: %v", a.Name, err)
		return &f
	}
	k1, k2 := specific.Typical/first, specific.Typical/second
	k3 := v.Belt.Belt.Mesh(float64(v.Belt.Teeth) / 2).Typical
	mesh := drive.Part{Name: "teeth on the pulley", Compliance: 1 / k3}
	d.chain = []drive.Part{{Name: "belt", Compliance: 1 / (k1 + k2)}, mesh}
	if v.Belt.Motor > 0 {
		r := v.Belt.Belt.PitchRadius(float64(v.Belt.Teeth))
		d.chain = append(d.chain, drive.Part{Name: "motor", Compliance: r * r / v.Belt.Motor})
		k3 = drive.Series(k3, v.Belt.Motor/(r*r))
	}
	sum := k1 + k2 + k3
	pull(k1*k3/sum, end{on, near, -1})
	if v.Belt.Path == drive.OpenPath {
		pull(k2*k3/sum, end{far, farSpot, -1})
		spring(far, farSpot, k1*k2/sum, end{on, near, -1})
		return nil
	}
	pull(k2*k3/sum, end{far, farSpot, -2}, end{on, near, 1})
	spring(far, farSpot, 4*k1*k2/sum, end{on, near, -1})
	return nil
}

// nutAt is how far the nut or clamp is from the driven end.
func nutAt(v *machine.Drive) float64 { return r3.Norm(r3.Sub(v.Push, v.From)) }

// metersPerMinute turns mm/s into m/min.
const metersPerMinute = 0.06

// whirl is the speed at which the screw whirls, revolutions per minute, over the longest length beside the nut within
// the travel, and that length, mm.
func whirl(v *machine.Drive, a *machine.FeedAxis) (rpm, length float64) {
	s := v.Screw.Shaft
	length = longestFree(v, a)
	return s.CriticalRPM(length, machine.ScrewDensity, s.Ends), length
}

// longestFree is the longest free length of a screw beside its nut within the travel.
func longestFree(v *machine.Drive, a *machine.FeedAxis) float64 {
	most := 0.0
	for _, end := range a.Travel {
		at := nutAt(v) + runs(v, a)*(end-a.At)
		most = math.Max(most, math.Max(at, v.Screw.Shaft.Length-at))
	}
	return math.Min(most, v.Screw.Shaft.Length)
}

// runs is 1 when the nut moves away from the driven end as the axis goes on, −1 when towards it.
func runs(v *machine.Drive, a *machine.FeedAxis) float64 {
	sign := math.Copysign(1, machine.Component(r3.Sub(v.To, v.From), a.Along))
	if !moves(a, v.Part) {
		sign = -sign
	}
	return sign
}

// buckling is Euler's load of the longest stretch between the nut and the bearing that takes a push, N. The driven end
// takes it; with both ends fixed the longer side may.
func buckling(v *machine.Drive, a *machine.FeedAxis) float64 {
	longest := 0.0
	for _, end := range a.Travel {
		at := nutAt(v) + runs(v, a)*(end-a.At)
		longest = math.Max(longest, at)
		if v.Screw.Shaft.Ends == drive.FixedFixed {
			longest = math.Max(longest, v.Screw.Shaft.Length-at)
		}
	}
	held := v.Screw.Shaft.Ends
	if held == drive.FixedFree {
		held = drive.FixedSupported // the nut holds the end of the stretch that is pushed
	}
	return v.Screw.Shaft.BucklingLoad(longest, held)
}

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

// turnMotor works out the motor's torque, N·mm: that of the force along the travel, F·s/η with s the travel per radian,
// and that which turns rotor and screw faster, J·a/s. Friction of guides and bearings is left out.
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
