package frame_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame"
	"tiploop/testdata/checks"
)

// The published beams that need more of a frame than one member: supports in several places, springs, beds, settlement,
// temperature, steps. Beams lie along x, height along z; the table counts down positive.
func TestPublishedBeams(t *testing.T) {
	checks.Run(t, map[string]func(t *testing.T, c checks.Case){
		"beam-cantilever-triangular":     cantileverTriangular,
		"beam-ss-triangular":             supportedTriangular,
		"beam-ss-offset":                 supportedOffset,
		"beam-fixed-fixed-uniform":       fixedUniform,
		"beam-propped-central":           proppedCentral,
		"beam-overhang-tip":              overhang,
		"beam-two-span-uniform":          twoSpansUniform,
		"beam-two-span-one-load":         twoSpansOneLoad,
		"beam-stubby-cantilever":         stubbyCantilever,
		"beam-stubby-propped-uniform":    stubbyPropped,
		"beam-settlement-fixed":          settlement,
		"beam-thermal-ss":                thermalSupported,
		"beam-thermal-fixed":             thermalFixed,
		"beam-foundation-infinite":       longBed,
		"beam-foundation-finite-central": shortBed,
		"beam-middle-spring":             middleSpring,
		"beam-cantilever-root-spring":    rootSpring,
		"beam-semirigid-ends-uniform":    semirigidEnds,
		"beam-tapered-cantilever":        tapered,
		"beam-stepped-tool":              steppedTool,
	})
}

// girder is a straight beam of the case's section through some places.
type girder struct {
	frame.Frame
	nodes, members []int
}

func newGirder(t *testing.T, c checks.Case, x ...float64) *girder {
	bed := 0.0
	if _, ok := c.Inputs["foundation_N_per_mm2"]; ok {
		bed = c.In(t, "foundation_N_per_mm2")
	}
	b, h := c.In(t, "width_mm"), c.In(t, "height_mm")
	m := beam.Material{E: c.In(t, "E_MPa"), Nu: 0.33}
	if _, ok := c.Inputs["expansion_per_K"]; ok {
		m.Expansion = c.In(t, "expansion_per_K")
	}
	section := beam.Section{A: b * h, Iy: b * h * h * h / 12, Iz: h * b * b * b / 12, J: b * h * h * h / 3}
	if _, ok := c.Inputs["shear_area_mm2"]; ok {
		section.Ay, section.Az = c.In(t, "shear_area_mm2"), c.In(t, "shear_area_mm2")
		m = material(c.In(t, "E_MPa"), c.In(t, "shear_modulus_MPa"))
	}
	g := &girder{}
	for i, at := range x {
		g.nodes = append(g.nodes, g.AddNode(r3.Vec{X: at}))
		if i > 0 {
			g.members = append(g.members, g.AddMember(frame.Member{
				Ends: [2]int{g.nodes[i-1], g.nodes[i]}, Up: axisZ, Section: section, Made: m, Bed: [2]float64{0, bed},
			}))
		}
	}
	return g
}

const (
	roller = "2"    // held up
	hinged = "0123" // held in place and against twist
)

// line loads the whole beam downward, linearly from a at its first node to b at its last.
func (g *girder) line(a, b float64) (load frame.Load) {
	first := g.Node(g.nodes[0]).X
	whole := g.Node(g.nodes[len(g.nodes)-1]).X - first
	at := func(n int) r3.Vec { return r3.Vec{Z: -(a + (b-a)*(g.Node(n).X-first)/whole)} }
	for i, m := range g.members {
		n := g.nodes[i : i+2]
		load.Lines = append(
			load.Lines,
			frame.Line{Member: m, To: g.Node(n[1]).X - g.Node(n[0]).X, AtFrom: at(n[0]), AtTo: at(n[1])},
		)
	}
	return load
}

func (g *girder) sunk(s *frame.Solution, n int) float64 {
	return -s.Value(frame.Move(g.nodes[n], still, axisZ))
}
func (g *girder) slope(s *frame.Solution, n int) float64 {
	return s.Value(frame.Turn(g.nodes[n], axisY))
}

// moment is the bending moment at the far end of a member, without its sign.
func (g *girder) moment(s *frame.Solution, m int) float64 {
	return math.Abs(s.EndForces(g.members[m])[10])
}

func cantileverTriangular(t *testing.T, c checks.Case) {
	g := newGirder(t, c, 0, c.In(t, "length_mm"))
	root := hold(&g.Frame, g.nodes[0], clamped)
	s := solve(t, &g.Frame, g.line(c.In(t, "load_root_N_per_mm"), 0))
	c.Near(t, "tip_deflection_mm", g.sunk(s, 1), checks.Printed)
	c.Near(t, "root_moment_N_mm", math.Abs(s.Reaction(root[4])), checks.Printed)
}

func supportedTriangular(t *testing.T, c checks.Case) {
	l := c.In(t, "length_mm")
	g := newGirder(t, c, 0, l/2, l)
	hold(&g.Frame, g.nodes[0], hinged)
	hold(&g.Frame, g.nodes[2], "12")
	s := solve(t, &g.Frame, g.line(0, c.In(t, "load_right_N_per_mm")))
	c.Near(t, "left_slope_rad", g.slope(s, 0), checks.Printed)
	c.Near(t, "right_slope_rad", -g.slope(s, 2), checks.Printed)
	c.Near(t, "mid_deflection_mm", g.sunk(s, 1), checks.Printed)
}

func supportedOffset(t *testing.T, c checks.Case) {
	l := c.In(t, "length_mm")
	g := newGirder(t, c, 0, c.In(t, "load_at_mm"), l/2, l)
	hold(&g.Frame, g.nodes[0], hinged)
	hold(&g.Frame, g.nodes[3], "12")
	s := solve(t, &g.Frame, push(g.nodes[1], axisZ, -c.In(t, "load_N")))
	c.Near(t, "deflection_under_load_mm", g.sunk(s, 1), checks.Printed)
	c.Near(t, "mid_deflection_mm", g.sunk(s, 2), checks.Printed)
	c.Near(t, "near_end_slope_rad", g.slope(s, 0), checks.Printed)
}

func fixedUniform(t *testing.T, c checks.Case) {
	l := c.In(t, "length_mm")
	g := newGirder(t, c, 0, l/2, l)
	hold(&g.Frame, g.nodes[0], clamped)
	far := hold(&g.Frame, g.nodes[2], clamped)
	q := c.In(t, "load_N_per_mm")
	s := solve(t, &g.Frame, g.line(q, q))
	c.Near(t, "mid_deflection_mm", g.sunk(s, 1), checks.Printed)
	c.Near(t, "end_moment_N_mm", math.Abs(s.Reaction(far[4])), checks.Printed)
	c.Near(t, "mid_moment_N_mm", g.moment(s, 0), checks.Printed)
}

func proppedCentral(t *testing.T, c checks.Case) {
	l := c.In(t, "length_mm")
	g := newGirder(t, c, 0, l/2, l)
	root := hold(&g.Frame, g.nodes[0], clamped)
	prop := hold(&g.Frame, g.nodes[2], roller)
	s := solve(t, &g.Frame, push(g.nodes[1], axisZ, -c.In(t, "load_N")))
	c.Near(t, "right_reaction_N", s.Reaction(prop[2]), checks.Printed)
	c.Near(t, "fixed_moment_N_mm", math.Abs(s.Reaction(root[4])), checks.Printed)
	c.Near(t, "deflection_under_load_mm", g.sunk(s, 1), checks.Printed)
}

func overhang(t *testing.T, c checks.Case) {
	l := c.In(t, "length_mm")
	g := newGirder(t, c, 0, l, l+c.In(t, "overhang_mm"))
	left := hold(&g.Frame, g.nodes[0], hinged)
	hold(&g.Frame, g.nodes[1], "12")
	s := solve(t, &g.Frame, push(g.nodes[2], axisZ, -c.In(t, "load_N")))
	c.Near(t, "tip_deflection_mm", g.sunk(s, 2), checks.Printed)
	c.Near(t, "left_uplift_N", -s.Reaction(left[2]), checks.Printed)
}

func twoSpansUniform(t *testing.T, c checks.Case) {
	l := c.In(t, "length_mm")
	g := newGirder(t, c, 0, l, 2*l)
	end := hold(&g.Frame, g.nodes[0], hinged)
	middle := hold(&g.Frame, g.nodes[1], roller)
	hold(&g.Frame, g.nodes[2], "12")
	q := c.In(t, "load_N_per_mm")
	s := solve(t, &g.Frame, g.line(q, q))
	c.Near(t, "middle_reaction_N", s.Reaction(middle[2]), checks.Printed)
	c.Near(t, "end_reaction_N", s.Reaction(end[2]), checks.Printed)
	c.Near(t, "middle_moment_N_mm", g.moment(s, 0), checks.Printed)
}

func twoSpansOneLoad(t *testing.T, c checks.Case) {
	l := c.In(t, "length_mm")
	g := newGirder(t, c, 0, l/2, l, 2*l)
	near := hold(&g.Frame, g.nodes[0], hinged)
	middle := hold(&g.Frame, g.nodes[2], roller)
	far := hold(&g.Frame, g.nodes[3], "12")
	s := solve(t, &g.Frame, push(g.nodes[1], axisZ, -c.In(t, "load_N")))
	c.Near(t, "middle_reaction_N", s.Reaction(middle[2]), checks.Printed)
	c.Near(t, "near_reaction_N", s.Reaction(near[2]), checks.Printed)
	c.Near(t, "far_reaction_N", s.Reaction(far[2]), checks.Printed)
	c.Near(t, "middle_moment_N_mm", g.moment(s, 1), checks.Printed)
}

func stubbyCantilever(t *testing.T, c checks.Case) {
	g := newGirder(t, c, 0, 17, c.In(t, "length_mm"))
	hold(&g.Frame, g.nodes[0], clamped)
	s := solve(t, &g.Frame, push(g.nodes[2], axisZ, -c.In(t, "load_N")))
	c.Near(t, "tip_deflection_mm", g.sunk(s, 2), checks.Printed)
}

func stubbyPropped(t *testing.T, c checks.Case) {
	g := newGirder(t, c, 0, c.In(t, "length_mm"))
	hold(&g.Frame, g.nodes[0], clamped)
	prop := hold(&g.Frame, g.nodes[1], roller)
	q := c.In(t, "load_N_per_mm")
	s := solve(t, &g.Frame, g.line(q, q))
	c.Near(t, "right_reaction_N", s.Reaction(prop[2]), checks.Printed)
}

func settlement(t *testing.T, c checks.Case) {
	g := newGirder(t, c, 0, c.In(t, "length_mm"))
	left := hold(&g.Frame, g.nodes[0], clamped)
	right := hold(&g.Frame, g.nodes[1], clamped)
	s := solve(t, &g.Frame, frame.Load{Moved: []frame.Moved{{Constraint: right[2], Value: -c.In(t, "settlement_mm")}}})
	c.Near(t, "end_moment_N_mm", math.Abs(s.Reaction(left[4])), checks.Printed)
	c.Near(t, "end_shear_N", s.Reaction(left[2]), checks.Printed)
}

func warm(t *testing.T, c checks.Case, g *girder) (load frame.Load) {
	for _, m := range g.members {
		load.Warm = append(load.Warm, frame.Warm{Member: m, GradZ: c.In(t, "top_minus_bottom_K") / c.In(t, "height_mm")})
	}
	return load
}

func thermalSupported(t *testing.T, c checks.Case) {
	l := c.In(t, "length_mm")
	g := newGirder(t, c, 0, l/2, l)
	hold(&g.Frame, g.nodes[0], hinged)
	hold(&g.Frame, g.nodes[2], "12")
	s := solve(t, &g.Frame, warm(t, c, g))
	c.Near(t, "mid_rise_mm", -g.sunk(s, 1), checks.Printed)
	c.Near(t, "end_slope_rad", math.Abs(g.slope(s, 0)), checks.Printed)
}

func thermalFixed(t *testing.T, c checks.Case) {
	l := c.In(t, "length_mm")
	g := newGirder(t, c, 0, l/3, l)
	hold(&g.Frame, g.nodes[0], clamped)
	far := hold(&g.Frame, g.nodes[2], clamped)
	s := solve(t, &g.Frame, warm(t, c, g))
	c.Near(t, "end_moment_N_mm", math.Abs(s.Reaction(far[4])), checks.Printed)
	c.Near(t, "end_moment_N_mm", g.moment(s, 0), checks.Printed)
}

// bedded is a beam of n members on the case's bed, loaded in the middle.
func bedded(t *testing.T, c checks.Case, n int) (*girder, *frame.Solution) {
	x := make([]float64, n+1)
	for i := range x {
		x[i] = c.In(t, "length_mm") * float64(i) / float64(n)
	}
	g := newGirder(t, c, x...)
	hold(&g.Frame, g.nodes[0], "0135")
	return g, solve(t, &g.Frame, push(g.nodes[n/2], axisZ, -c.In(t, "load_N")))
}

// On a bed a member is held by its unbedded shapes; the error falls as (length)⁴. These numbers of members leave less
// than the tolerance.
const (
	longBedMembers, shortBedMembers = 800, 128
	bedTolerance                    = 2e-8
)

func longBed(t *testing.T, c checks.Case) {
	g, s := bedded(t, c, longBedMembers)
	c.Near(t, "deflection_under_load_mm", g.sunk(s, longBedMembers/2), bedTolerance)
	c.Near(t, "moment_under_load_N_mm", g.moment(s, longBedMembers/2-1), bedTolerance)
	// Mesh against mesh: members twice as long are off sixteen times as much.
	want := c.Want(t, "deflection_under_load_mm")
	off := func(n int) float64 {
		g, s := bedded(t, c, n)
		return math.Abs(g.sunk(s, n/2) - want)
	}
	if ratio := off(40) / off(80); !(ratio > 13 && ratio < 18) {
		t.Errorf("error falls by %g when members are halved, not by 16", ratio)
	}
}

func shortBed(t *testing.T, c checks.Case) {
	g, s := bedded(t, c, shortBedMembers)
	c.Near(t, "mid_deflection_mm", g.sunk(s, shortBedMembers/2), bedTolerance)
	c.Near(t, "mid_moment_N_mm", g.moment(s, shortBedMembers/2-1), bedTolerance)
	c.Near(t, "end_deflection_mm", g.sunk(s, shortBedMembers), bedTolerance)
	up := 0.0
	for _, m := range g.members {
		up += s.BedForce(m).Z
	}
	checks.CloseTo(t, "bed force", up, c.In(t, "load_N"), checks.Printed)
}

func middleSpring(t *testing.T, c checks.Case) {
	l := c.In(t, "length_mm")
	g := newGirder(t, c, 0, l/2, l)
	hold(&g.Frame, g.nodes[0], hinged)
	hold(&g.Frame, g.nodes[2], "12")
	spring := g.AddSpring(frame.Spring{Form: frame.Move(g.nodes[1], still, axisZ), Stiffness: c.In(t, "spring_N_per_mm")})
	s := solve(t, &g.Frame, push(g.nodes[1], axisZ, -c.In(t, "load_N")))
	c.Near(t, "mid_deflection_mm", g.sunk(s, 1), checks.Printed)
	c.Near(t, "spring_force_N", -s.SpringForce(spring), checks.Printed)
}

func rootSpring(t *testing.T, c checks.Case) {
	g := newGirder(t, c, 0, c.In(t, "length_mm"))
	hold(&g.Frame, g.nodes[0], "01235")
	g.AddSpring(frame.Spring{Form: frame.Turn(g.nodes[0], axisY), Stiffness: c.In(t, "root_spring_N_mm_per_rad")})
	s := solve(t, &g.Frame, push(g.nodes[1], axisZ, -c.In(t, "load_N")))
	c.Near(t, "tip_deflection_mm", g.sunk(s, 1), checks.Printed)
}

func semirigidEnds(t *testing.T, c checks.Case) {
	l := c.In(t, "length_mm")
	g := newGirder(t, c, 0, l/2, l)
	var springs [2]int
	for k, n := range []int{0, 2} {
		hold(&g.Frame, g.nodes[n], "01235")
		springs[k] = g.AddSpring(
			frame.Spring{Form: frame.Turn(g.nodes[n], axisY), Stiffness: c.In(t, "end_spring_N_mm_per_rad")},
		)
	}
	q := c.In(t, "load_N_per_mm")
	s := solve(t, &g.Frame, g.line(q, q))
	c.Near(t, "end_moment_N_mm", s.SpringForce(springs[0]), checks.Printed)
	c.Near(t, "end_moment_N_mm", -s.SpringForce(springs[1]), checks.Printed)
	c.Near(t, "mid_deflection_mm", g.sunk(s, 1), checks.Printed)
}

// tapered takes each piece of a tapered bar as prismatic, of the depth in its middle.
func tapered(t *testing.T, c checks.Case) {
	tip := func(n int) float64 {
		f := &frame.Frame{}
		length, b := c.In(t, "length_mm"), c.In(t, "width_mm")
		last := f.AddNode(still)
		hold(f, last, clamped)
		for i := range n {
			share := (float64(i) + 0.5) / float64(n)
			h := c.In(t, "root_height_mm") + share*(c.In(t, "tip_height_mm")-c.In(t, "root_height_mm"))
			next := f.AddNode(r3.Vec{X: length * float64(i+1) / float64(n)})
			f.AddMember(frame.Member{
				Ends: [2]int{
					last,
					next,
				}, Up: axisZ, Section: slender(b*h, b*h*h*h/12), Made: beam.Material{E: c.In(t, "E_MPa"), Nu: 0.33},
			})
			last = next
		}
		s := solve(t, f, push(last, axisZ, -c.In(t, "load_N")))
		return -s.Value(frame.Move(last, still, axisZ))
	}
	want := c.Want(t, "tip_deflection_mm")
	coarse, fine := tip(100), tip(200)
	c.Near(t, "tip_deflection_mm", fine, 2e-5) // what 1/n² leaves with 200 pieces
	c.Near(t, "tip_deflection_mm", (4*fine-coarse)/3, checks.Printed)
	if ratio := (coarse - want) / (fine - want); !(ratio > 3.9 && ratio < 4.1) {
		t.Errorf("error falls by %g when pieces are halved, not by 4", ratio)
	}
}

func steppedTool(t *testing.T, c checks.Case) {
	f := &frame.Frame{}
	m := beam.Material{E: c.In(t, "E_MPa"), Nu: 0.22}
	shank, neck := c.In(t, "shank_length_mm"), c.In(t, "neck_length_mm")
	root, step, tip := f.AddNode(still), f.AddNode(r3.Vec{Z: -shank}), f.AddNode(r3.Vec{Z: -shank - neck})
	f.AddMember(frame.Member{Ends: [2]int{root, step}, Up: axisX, Section: round(c.In(t, "shank_diameter_mm")), Made: m})
	f.AddMember(frame.Member{Ends: [2]int{step, tip}, Up: axisX, Section: round(c.In(t, "neck_diameter_mm")), Made: m})
	hold(f, root, clamped)
	for _, direction := range []r3.Vec{axisX, axisY} {
		s := solve(t, f, push(tip, direction, c.In(t, "load_N")))
		moved := s.Value(frame.Move(tip, still, direction))
		c.Near(t, "tip_deflection_mm", moved, checks.Printed)
		c.Near(t, "tip_stiffness_N_per_mm", c.In(t, "load_N")/moved, checks.Printed)
	}
}
