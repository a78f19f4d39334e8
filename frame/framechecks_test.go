package frame_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame"
	"tiploop/testdata/checks"
)

// axiallyRigid is an area, mm², that stands for the infinite one of formulas without axial deformation. In portals and
// rings of this size it leaves a part in 1e8; a larger one would cost digits of the bending.
const axiallyRigid = 1e8

// axialRest is what axiallyRigid leaves, with the digits it costs.
const axialRest = 1e-7

// Every published frame, through the frame's own interface. Tolerances are the printing of the table (nine digits)
// unless a row says why not.
func TestPublishedFrames(t *testing.T) {
	checks.RunKind(t, "frame", map[string]func(t *testing.T, c checks.Case){
		"frame-portal-pinned-lateral":        portalPinnedLateral,
		"frame-portal-fixed-lateral":         portalFixedLateral,
		"frame-portal-pinned-gravity":        portalPinnedGravity,
		"frame-portal-fixed-beam-load":       portalFixedBeamLoad,
		"frame-portal-semirigid-lateral":     portalSemirigid,
		"frame-bent-cantilever-out-of-plane": bentCantilever,
		"frame-space-cantilever-z":           func(t *testing.T, c checks.Case) { spaceCantilever(t, c, r3.Vec{Z: -1}) },
		"frame-space-cantilever-x":           func(t *testing.T, c checks.Case) { spaceCantilever(t, c, axisX) },
		"frame-quarter-arc-out-of-plane":     quarterArc,
		"frame-ring-pinched":                 pinchedRing,
		"frame-grillage-cross":               crossedBeams,
		"frame-grillage-torsion":             twistedGrillage,
		"frame-gravity-cantilever":           gravityCantilever,
		"frame-space-propped":                proppedSpaceFrame,
	})
}

// chain joins places by members of one section, end to end, and returns its nodes and members.
func chain(f *frame.Frame, section beam.Section, m beam.Material, up r3.Vec, places ...r3.Vec) (nodes, members []int) {
	for i, at := range places {
		nodes = append(nodes, f.AddNode(at))
		if i > 0 {
			members = append(
				members,
				f.AddMember(frame.Member{Ends: [2]int{nodes[i-1], nodes[i]}, Up: up, Section: section, Made: m, Source: "chain"}),
			)
		}
	}
	return nodes, members
}

// portal is a frame in the x-z plane. Its beam ends in nodes of its own, sprung to the corners or bonded.
type portal struct {
	frame.Frame
	foot, corner [2]int
	middle       int    // of the beam
	columns      [2]int // from foot to corner
	beams        [2]int // from left to right
	held         [2][6]int
}

func newPortal(t *testing.T, c checks.Case, feet string, joint float64) *portal {
	h, span := c.In(t, "height_mm"), c.In(t, "span_mm")
	m := beam.Material{E: c.In(t, "E_MPa"), Nu: 0.33}
	column, girder := slender(axiallyRigid, c.In(t, "I_column_mm4")), slender(axiallyRigid, c.In(t, "I_beam_mm4"))
	p := &portal{}
	for i, x := range []float64{0, span} {
		nodes, members := chain(&p.Frame, column, m, axisY, r3.Vec{X: x}, r3.Vec{X: x, Z: h})
		p.foot[i], p.corner[i], p.columns[i] = nodes[0], nodes[1], members[0]
		p.held[i] = hold(&p.Frame, p.foot[i], feet)
	}
	nodes, members := chain(&p.Frame, girder, m, axisY, r3.Vec{Z: h}, r3.Vec{X: span / 2, Z: h}, r3.Vec{X: span, Z: h})
	p.middle, p.beams = nodes[1], [2]int{members[0], members[1]}
	for i, end := range []int{nodes[0], nodes[2]} {
		for _, d := range world {
			p.Constrain(
				frame.Constraint{Form: frame.Move(end, still, d).Plus(-1, frame.Move(p.corner[i], still, d)), Name: "beam end"},
			)
			turning := frame.Turn(end, d).Plus(-1, frame.Turn(p.corner[i], d))
			if d == axisY && joint > 0 {
				p.AddSpring(frame.Spring{Form: turning, Stiffness: joint, Source: "joint"})
			} else {
				p.Constrain(frame.Constraint{Form: turning, Name: "beam end"})
			}
		}
	}
	return p
}

const pinned = "0135" // in the x-z plane: held in place, free to turn in the plane; 2 is z

// cornerMoment is the bending moment at the top of a column.
func (p *portal) cornerMoment(s *frame.Solution, side int) float64 {
	return math.Abs(s.EndForces(p.columns[side])[11])
}

func portalPinnedLateral(t *testing.T, c checks.Case) {
	p := newPortal(t, c, pinned+"2", 0)
	s := solve(t, &p.Frame, push(p.corner[0], axisX, c.In(t, "load_N")))
	c.Near(t, "sway_mm", s.Value(frame.Move(p.corner[0], still, axisX)), axialRest)
	for side := range 2 {
		c.Near(t, "corner_moment_N_mm", p.cornerMoment(s, side), axialRest)
		c.Near(t, "foot_thrust_N", -s.Reaction(p.held[side][0]), axialRest)
	}
	c.Near(t, "foot_vertical_N", -s.Reaction(p.held[0][2]), axialRest)
	c.Near(t, "foot_vertical_N", s.Reaction(p.held[1][2]), axialRest)
}

func portalFixedLateral(t *testing.T, c checks.Case) {
	p := newPortal(t, c, clamped, 0)
	s := solve(t, &p.Frame, push(p.corner[0], axisX, c.In(t, "load_N")))
	c.Near(t, "sway_mm", s.Value(frame.Move(p.corner[0], still, axisX)), axialRest)
	for side := range 2 {
		c.Near(t, "foot_moment_N_mm", -s.Reaction(p.held[side][4]), axialRest)
		c.Near(t, "corner_moment_N_mm", p.cornerMoment(s, side), axialRest)
	}
}

func portalPinnedGravity(t *testing.T, c checks.Case) {
	p := newPortal(t, c, pinned+"2", 0)
	q := r3.Vec{Z: -c.In(t, "load_N_per_mm")}
	half := c.In(t, "span_mm") / 2
	s := solve(t, &p.Frame, frame.Load{Lines: []frame.Line{
		{Member: p.beams[0], To: half, AtFrom: q, AtTo: q}, {Member: p.beams[1], To: half, AtFrom: q, AtTo: q},
	}})
	c.Near(t, "foot_thrust_N", s.Reaction(p.held[0][0]), axialRest)
	c.Near(t, "foot_thrust_N", -s.Reaction(p.held[1][0]), axialRest)
	c.Near(t, "corner_moment_N_mm", p.cornerMoment(s, 0), axialRest)
}

func portalFixedBeamLoad(t *testing.T, c checks.Case) {
	p := newPortal(t, c, clamped, 0)
	s := solve(t, &p.Frame, push(p.middle, axisZ, -c.In(t, "load_N")))
	c.Near(t, "foot_thrust_N", s.Reaction(p.held[0][0]), axialRest)
	c.Near(t, "foot_moment_N_mm", math.Abs(s.Reaction(p.held[0][4])), axialRest)
	c.Near(t, "corner_moment_N_mm", p.cornerMoment(s, 0), axialRest)
	c.Near(t, "mid_deflection_mm", -s.Value(frame.Move(p.middle, still, axisZ)), axialRest)
}

func portalSemirigid(t *testing.T, c checks.Case) {
	p := newPortal(t, c, pinned+"2", c.In(t, "joint_spring_N_mm_per_rad"))
	s := solve(t, &p.Frame, push(p.corner[0], axisX, c.In(t, "load_N")))
	c.Near(t, "sway_mm", s.Value(frame.Move(p.corner[0], still, axisX)), axialRest)
}

func bentCantilever(t *testing.T, c checks.Case) {
	f := &frame.Frame{}
	wall := c.In(t, "leg_at_wall_mm")
	nodes, _ := chain(f, round(c.In(t, "diameter_mm")), material(c.In(t, "E_MPa"), c.In(t, "G_MPa")), axisZ,
		still, r3.Vec{X: wall}, r3.Vec{X: wall, Y: c.In(t, "leg_at_tip_mm")})
	hold(f, nodes[0], clamped)
	s := solve(t, f, push(nodes[2], axisZ, -c.In(t, "load_N")))
	c.Near(t, "tip_deflection_mm", -s.Value(frame.Move(nodes[2], still, axisZ)), checks.Printed)
	c.Near(t, "tip_twist_of_first_leg_rad", -s.Value(frame.Turn(nodes[1], axisX)), checks.Printed)
}

// threeLegs is a column up from the origin, clamped, an arm along x and one along y.
func threeLegs(t *testing.T, c checks.Case) (*frame.Frame, []int) {
	f := &frame.Frame{}
	h, x, y := c.In(t, "column_mm"), c.In(t, "arm_x_mm"), c.In(t, "arm_y_mm")
	nodes, _ := chain(f, round(c.In(t, "diameter_mm")), material(c.In(t, "E_MPa"), c.In(t, "G_MPa")), axisZ,
		still, r3.Vec{Z: h}, r3.Vec{X: x, Z: h}, r3.Vec{X: x, Y: y, Z: h})
	hold(f, nodes[0], clamped)
	return f, nodes
}

func spaceCantilever(t *testing.T, c checks.Case, direction r3.Vec) {
	f, nodes := threeLegs(t, c)
	s := solve(t, f, push(nodes[3], direction, c.In(t, "load_N")))
	c.Near(t, "tip_deflection_in_load_direction_mm", s.Value(frame.Move(nodes[3], still, direction)), checks.Printed)
	for k, want := range c.WantList(t, "all_tip_components_mm") {
		c.NearTo(t, "component", s.Value(frame.Move(nodes[3], still, world[k])), want, checks.Printed)
	}
}

func proppedSpaceFrame(t *testing.T, c checks.Case) {
	f, nodes := threeLegs(t, c)
	prop := hold(f, nodes[3], "2")[2]
	s := solve(t, f, push(nodes[2], axisZ, -c.In(t, "load_N")))
	c.Near(t, "prop_reaction_N", s.Reaction(prop), checks.Printed)
	c.Near(t, "load_point_deflection_mm", -s.Value(frame.Move(nodes[2], still, axisZ)), checks.Printed)
}

// arc are chords-of-a-circle places from one angle over another, in the plane of x and y.
func arc(radius, from, over float64, chords int) (places []r3.Vec) {
	for i := range chords + 1 {
		angle := from + over*float64(i)/float64(chords)
		places = append(places, r3.Vec{X: radius * math.Cos(angle), Y: radius * math.Sin(angle)})
	}
	return places
}

// chords in a quarter circle. Their error falls as 1/chords², and with 64 it is about 1e-4.
const (
	chords         = 64
	chordTolerance = 2e-4
)

func quarterArc(t *testing.T, c checks.Case) {
	off := func(n int) float64 {
		f := &frame.Frame{}
		nodes, _ := chain(f, round(c.In(t, "diameter_mm")), material(c.In(t, "E_MPa"), c.In(t, "G_MPa")), axisZ,
			arc(c.In(t, "radius_mm"), 0, math.Pi/2, n)...)
		hold(f, nodes[0], clamped)
		s := solve(t, f, push(nodes[n], axisZ, -c.In(t, "load_N")))
		return -s.Value(frame.Move(nodes[n], still, axisZ))
	}
	c.Near(t, "tip_deflection_mm", off(chords), chordTolerance)
	// Second-order convergence makes the extrapolated value far better than either.
	c.Near(t, "tip_deflection_mm", (4*off(chords)-off(chords/2))/3, 1e-6)
}

func pinchedRing(t *testing.T, c checks.Case) {
	f := &frame.Frame{}
	section := slender(axiallyRigid, round(c.In(t, "diameter_mm")).Iy)
	m := beam.Material{E: c.In(t, "E_MPa"), Nu: 0.33}
	places := arc(c.In(t, "radius_mm"), -math.Pi/2, 2*math.Pi, 4*chords)
	nodes, _ := chain(f, section, m, axisZ, places[:4*chords]...)
	f.AddMember(
		frame.Member{Ends: [2]int{nodes[4*chords-1], nodes[0]}, Up: axisZ, Section: section, Made: m, Source: "ring"},
	)
	hold(f, nodes[0], clamped) // by symmetry the lowest point does not turn
	s := solve(t, f, push(nodes[2*chords], axisY, -c.In(t, "load_N")))
	c.Near(t, "change_of_diameter_along_load_mm", -s.Value(frame.Move(nodes[2*chords], still, axisY)), chordTolerance)
	across := frame.Move(nodes[chords], still, axisX).Plus(-1, frame.Move(nodes[3*chords], still, axisX))
	c.Near(t, "change_of_diameter_across_load_mm", s.Value(across), chordTolerance)
}

func crossedBeams(t *testing.T, c checks.Case) {
	f := &frame.Frame{}
	m := beam.Material{E: c.In(t, "E_MPa"), Nu: 0.33}
	centre := f.AddNode(still)
	var ends [4]int
	var held [4][6]int
	for k, arm := range []r3.Vec{
		{X: c.In(t, "span_1_mm") / 2}, {X: -c.In(t, "span_1_mm") / 2}, {Y: c.In(t, "span_2_mm") / 2},
		{Y: -c.In(t, "span_2_mm") / 2},
	} {
		inertia := c.In(t, []string{"I_1_mm4", "I_2_mm4"}[k/2])
		ends[k] = f.AddNode(arm)
		f.AddMember(
			frame.Member{Ends: [2]int{centre, ends[k]}, Up: axisZ, Section: slender(100, inertia), Made: m, Source: "beam"},
		)
		held[k] = hold(f, ends[k], []string{"0123", "0124"}[k/2]) // free to bend, not to twist
	}
	s := solve(t, f, push(centre, axisZ, -c.In(t, "load_N")))
	c.Near(t, "crossing_deflection_mm", -s.Value(frame.Move(centre, still, axisZ)), checks.Printed)
	c.Near(t, "share_of_beam_1", (s.Reaction(held[0][2])+s.Reaction(held[1][2]))/c.In(t, "load_N"), checks.Printed)
}

func twistedGrillage(t *testing.T, c checks.Case) {
	f := &frame.Frame{}
	m := material(c.In(t, "E_MPa"), c.In(t, "G_MPa"))
	half, cross := c.In(t, "main_length_mm")/2, c.In(t, "cross_length_mm")
	main := slender(1000, c.In(t, "main_I_mm4"))
	main.J = c.In(t, "main_J_mm4")
	var middles [2]int
	for k, y := range []float64{0, cross} {
		nodes, _ := chain(f, main, m, axisZ, r3.Vec{X: -half, Y: y}, r3.Vec{Y: y}, r3.Vec{X: half, Y: y})
		hold(f, nodes[0], clamped)
		hold(f, nodes[2], clamped)
		middles[k] = nodes[1]
	}
	loaded := f.AddNode(r3.Vec{Y: cross / 2})
	for _, n := range middles {
		f.AddMember(
			frame.Member{
				Ends:    [2]int{n, loaded},
				Up:      axisZ,
				Section: slender(1000, c.In(t, "cross_I_mm4")),
				Made:    m,
				Source:  "cross bar",
			},
		)
	}
	s := solve(t, f, push(loaded, axisZ, -c.In(t, "load_N")))
	c.Near(t, "load_point_deflection_mm", -s.Value(frame.Move(loaded, still, axisZ)), checks.Printed)
}

func gravityCantilever(t *testing.T, c checks.Case) {
	f := &frame.Frame{}
	b, h := c.In(t, "width_mm"), c.In(t, "height_mm")
	section := beam.Section{A: b * h, Iy: b * h * h * h / 12, Iz: h * b * b * b / 12, J: b * h * h * h / 3}
	m := beam.Material{E: c.In(t, "E_MPa"), Nu: 0.33, Density: c.In(t, "density_tonne_per_mm3")}
	nodes, _ := chain(f, section, m, axisZ, still, r3.Vec{X: c.In(t, "length_mm") / 3}, r3.Vec{X: c.In(t, "length_mm")})
	hold(f, nodes[0], clamped)
	s := solve(t, f, frame.Load{Gravity: r3.Vec{Z: -c.In(t, "gravity_mm_per_s2")}})
	c.Near(t, "max_sag_mm", -s.Value(frame.Move(nodes[2], still, axisZ)), checks.Printed)
}
