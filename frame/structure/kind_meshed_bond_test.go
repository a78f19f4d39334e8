package structure

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame/machine"
)

// An invented metal of round numbers that does not thin when pulled: its bars are clamped without constraint.
var slackMetal = beam.Material{Key: "slack", E: 70000, Density: 2.7e-9, Expansion: 23e-6}

func plateOf(name string, made beam.Material, from, to r3.Vec) machine.Part {
	return machine.Part{Name: name, Material: made, Plate: &machine.Plate{From: from, To: to}}
}

// pile is plates bonded one to the next, the first fixed on its left face, the last with a point in the middle of its
// right one.
func pile(parts ...machine.Part) *machine.Machine {
	m := &machine.Machine{Name: "pile", Parts: parts, Grounds: []machine.Ground{{Part: 0, Face: machine.Left, Fixed: true}}}
	for i := range parts[1:] {
		m.Joints = append(m.Joints, machine.Joint{Parts: [2]int{i, i + 1}, Bonded: true})
	}
	last := parts[len(parts)-1].Plate
	at := r3.Scale(0.5, r3.Add(last.From, last.To))
	at.X = last.To.X
	m.Points = []machine.Point{{Name: "end", Part: len(parts) - 1, At: at,
		Patch: [2]float64{last.To.Y - last.From.Y, last.To.Z - last.From.Z}}}
	return m
}

// endUnder is the movement of the point under a load.
func endUnder(t *testing.T, m *machine.Machine, mesh float64, actions ...machine.Action) [6]float64 {
	t.Helper()
	model, err := (&Builder{Detail: Solid, Mesh: mesh}).Build(context.Background(), m)
	require.NoError(t, err)
	s, err := model.solve(&machine.Load{Name: "load", Actions: actions}, nil)
	require.NoError(t, err)
	return s.of(model.points[0].gauge)
}

// A bar in two or three pieces is a bar, bonded face to face: Timoshenko's beam with the shear coefficient 5/6 of a
// rectangle at ν = 0 (Timoshenko 1921), F·L³/(3EI) + F·L/(κGA), and F·L/(EA) along. Over pieces of the faces only
// means go together, so that a bond is a little soft: 2 % of a bar ten times as long as thick.
func TestBondedCantileverIsOnePiece(t *testing.T) {
	I, A, G := 20*20*20*20/12., 400., slackMetal.G()
	want := 100 * (200*200*200/(3*slackMetal.E*I) + 200/(5./6*G*A))
	for _, cuts := range [][]float64{{0, 200}, {0, 73, 200}, {0, 20, 90, 200}} {
		var parts []machine.Part
		for i := range cuts[1:] {
			parts = append(parts, plateOf(string(rune('a'+i)), slackMetal, r3.Vec{X: cuts[i]}, r3.Vec{X: cuts[i+1], Y: 20, Z: 20}))
		}
		push := func(force r3.Vec) machine.Action { return machine.Action{Kind: machine.OnPoint, Force: force} }
		for _, mesh := range []float64{1, 0} {
			across := endUnder(t, pile(parts...), mesh, push(r3.Vec{Z: 100}))
			along := endUnder(t, pile(parts...), mesh, push(r3.Vec{X: 100}))
			require.InEpsilon(t, want, across[2], 0.02, "cut at %v, mesh %g", cuts, mesh)
			require.InEpsilon(t, 100*200/(slackMetal.E*A), along[0], 1e-6, "an even pull is followed exactly")
		}
	}
}

// Two bonded strips of different growth, warmed alike, bend to Timoshenko's curvature (Analysis of bi-metal
// thermostats, J. Opt. Soc. Am. 11 (1925), eq. 4): κ = 6·Δα·T·(1+m)² / (h·(3(1+m)² + (1+m·n)(m² +
// 1/(m·n)))), m = h₁/h₂, n = E₁/E₂. With ν = 0 a wide strip bends as a narrow one. What the clamped end
// disturbs is left behind by a strip 24 times as long as thick; a bond over pieces, two and a half times as long as the
// thinner strip is thick, lets the strips shear past one another by 3 %.
func TestBondedBimetal(t *testing.T) {
	low := beam.Material{Key: "low", E: 210000, Expansion: 12e-6}
	const L, h1, h2, T = 240, 4, 6, 50
	m := pile(plateOf("low", low, r3.Vec{}, r3.Vec{X: L, Y: 20, Z: h1}),
		plateOf("high", slackMetal, r3.Vec{Z: h1}, r3.Vec{X: L, Y: 20, Z: h1 + h2}))
	end := endUnder(t, m, 1, machine.Action{Kind: machine.Warming, Rise: T})
	r, n := float64(h1)/h2, low.E/slackMetal.E
	want := 6 * (slackMetal.Expansion - low.Expansion) * T * (1 + r) * (1 + r) / ((h1 + h2) * (3*(1+r)*(1+r) +
		(1+r*n)*(r*r+1/(r*n))))
	require.InEpsilon(t, want*L, math.Abs(end[4]), 0.035)
	require.Positive(t, end[4], "the upper grows more: the free end sinks, turning from z towards x")
}

// Bonded parts of one growth warmed alike grow as one, free of stress, however different their metals' stiffness: the
// farthest point moves by α·T times its way from the foot's middle.
func TestBondedPartsGrowFreely(t *testing.T) {
	stiff := beam.Material{Key: "stiff", E: 210000, Nu: 0.28, Expansion: slackMetal.Expansion}
	m := pile(plateOf("a", slackMetal, r3.Vec{}, r3.Vec{X: 60, Y: 40, Z: 20}),
		plateOf("b", stiff, r3.Vec{X: 60, Y: 5, Z: -8}, r3.Vec{X: 95, Y: 40, Z: 28}))
	m.Grounds = []machine.Ground{{Part: 0, At: &r3.Vec{X: 30, Y: 20}, Hold: [6]bool{true, true, true, true, true, true}}}
	model, err := (&Builder{Detail: Solid}).Build(context.Background(), m)
	require.NoError(t, err)
	s, err := model.solve(&machine.Load{Actions: []machine.Action{{Kind: machine.Warming, Rise: 30}}}, nil)
	require.NoError(t, err)
	for i := range model.solids {
		worst, _ := s.fields[i].Worst()
		require.Less(t, worst.Stress, 1e-6*stiff.E*stiff.Expansion*30)
	}
}

// Two equal plates bonded over all of their faces and pulled apart at one end only part there: what holds them together
// lies within about a thickness, which pieces as wide as the plates would not know. As one plate of twice the thickness
// they give hardly less.
func TestEqualPlatesBondedFlatAreOne(t *testing.T) {
	patch := [2]float64{8, 60}
	apart := func(m *machine.Machine, upper int) float64 {
		m.Points = []machine.Point{{Name: "upper", Part: upper, At: r3.Vec{X: 116, Y: 30, Z: 20}, Patch: patch},
			{Name: "lower", Part: 0, At: r3.Vec{X: 116, Y: 30}, Patch: patch}}
		model, err := (&Builder{Detail: Solid}).Build(context.Background(), m)
		require.NoError(t, err)
		s, err := model.solve(&machine.Load{Actions: []machine.Action{push(0, machine.Z, 100), push(1, machine.Z, -100)}}, nil)
		require.NoError(t, err)
		return s.of(model.points[0].gauge)[2] - s.of(model.points[1].gauge)[2]
	}
	two := pile(plateOf("low", slackMetal, r3.Vec{}, r3.Vec{X: 120, Y: 60, Z: 10}),
		plateOf("high", slackMetal, r3.Vec{Z: 10}, r3.Vec{X: 120, Y: 60, Z: 20}))
	two.Grounds = append(two.Grounds, machine.Ground{Part: 1, Face: machine.Left, Fixed: true})
	one := pile(plateOf("whole", slackMetal, r3.Vec{}, r3.Vec{X: 120, Y: 60, Z: 20}))
	a, b := apart(one, 0), apart(two, 1)
	t.Logf("%.4g apart as one, %.4g as two", a, b)
	require.InEpsilon(t, a, b, 0.25)
}
