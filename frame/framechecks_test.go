package frame_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame"
)

// Every published frame, through the frame's own interface. Tolerances are the printing of the table (nine digits) unless
// a row says why not.
func TestPublishedFrames(t *testing.T) {
	tests := map[string]func(t *testing.T, c check){
		"frame-portal-pinned-lateral":         portalPinnedLateral,
		"frame-portal-fixed-lateral":          portalFixedLateral,
		"frame-portal-pinned-gravity":         portalPinnedGravity,
		"frame-portal-fixed-beam-load":        portalFixedBeamLoad,
		"frame-portal-semirigid-lateral":      portalSemirigid,
		"frame-bent-cantilever-out-of-plane":  bentCantilever,
		"frame-space-cantilever-z":            func(t *testing.T, c check) { spaceCantilever(t, c, r3.Vec{Z: -1}) },
		"frame-space-cantilever-x":            func(t *testing.T, c check) { spaceCantilever(t, c, axisX) },
		"frame-quarter-arc-out-of-plane":      quarterArc,
		"frame-ring-pinched":                  pinchedRing,
		"frame-grillage-cross":                crossedBeams,
		"frame-grillage-torsion":              twistedGrillage,
		"frame-gravity-cantilever":            gravityCantilever,
		"frame-space-propped":                 proppedSpaceFrame,
	}
	for _, c := range loadChecks(t) {
		if c.Kind == "frame" {
			require.Contains(t, tests, c.ID, "a published frame without a test")
		}
	}
	runChecks(t, tests)
}

// portal is a frame in the x-z plane: nodes foot, corner, (middle of the beam,) corner, foot.
type portal struct {
	frame.Frame
	nodes   []int
	members []int
	feet    [2][6]int // constraints
}

func newPortal(t *testing.T, c check, feet string) *portal {
	h, span := c.in(t, "height_mm"), c.in(t, "span_mm")
	m := beam.Material{E: c.in(t, "E_MPa"), Nu: 0.33}
	p := &portal{}
	for _, at := range []r3.Vec{{}, {Z: h}, {X: span / 2, Z: h}, {X: span, Z: h}, {X: span}} {
		p.nodes = append(p.nodes, p.AddNode(at))
	}
	for i, inertia := range []float64{c.in(t, "I_column_mm4"), c.in(t, "I_beam_mm4"), c.in(t, "I_beam_mm4"), c.in(t, "I_column_mm4")} {
		p.members = append(p.members, p.AddMember(frame.Member{
			Ends: [2]int{p.nodes[i], p.nodes[i+1]}, Up: axisY, Section: slender(axiallyRigid, inertia), Made: m, Source: "portal",
		}))
	}
	for i, n := range []int{p.nodes[0], p.nodes[4]} {
		p.feet[i] = hold(&p.Frame, n, feet)
	}
	return p
}

const (
	pinned = "0135" // in the x-z plane: held in place, free to turn in the plane
)

func portalPinnedLateral(t *testing.T, c check) {
	p := newPortal(t, c, pinned)
	s := solve(t, &p.Frame, push(p.nodes[1], axisX, c.in(t, "load_N")))
	_ = s
}
