package frame_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"tiploop/beam"
	"tiploop/frame"
	"tiploop/testdata/checks"
)

// What the loads do is what the frame stores (Clapeyron's theorem).
func TestEnergyIsTheWorkOfTheLoads(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		_, s := solvePlan(t, drawPlan(t), upright)
		sum := 0.0
		for _, e := range s.Energy() {
			require.GreaterOrEqual(t, e.Energy, -randomTolerance*s.Work(), e.Source)
			sum += e.Energy
		}
		closeToRapid(t, "energy", sum, s.Work(), randomTolerance)
	})
}

// Sources come in the order in which they were first added, members, springs, blocks, and share a line if they share a
// name. A bar and a spring in series: F²/(2·EA/L) and F²/(2·k).
func TestEnergyIsListedBySource(t *testing.T) {
	const force, length, area, stiffness = 100., 50., 10., 2000.
	m := beam.Material{E: 7e4, Nu: 0.3}
	f := &frame.Frame{}
	a, b, c, d := f.AddNode(
		still,
	), f.AddNode(
		r3.Vec{X: length},
	), f.AddNode(
		r3.Vec{X: 2 * length},
	), f.AddNode(
		r3.Vec{X: 2 * length},
	)
	f.AddMember(frame.Member{Ends: [2]int{b, c}, Up: axisZ, Section: slender(area, 100), Made: m, Source: "bar"})
	f.AddSpring(
		frame.Spring{
			Form:      frame.Move(d, still, axisX).Plus(-1, frame.Move(c, still, axisX)),
			Stiffness: stiffness,
			Source:    "spring",
		},
	)
	f.AddMember(frame.Member{Ends: [2]int{a, b}, Up: axisZ, Section: slender(area, 100), Made: m, Source: "bar"})
	hold(f, a, clamped)
	hold(f, d, "12345")
	s := solve(t, f, push(d, axisX, force))
	list := s.Energy()
	require.Len(t, list, 2)
	require.Equal(t, "bar", list[0].Source)
	require.Equal(t, "spring", list[1].Source)
	checks.CloseTo(t, "bar", list[0].Energy, force*force*2*length/(2*m.E*area), 1e-12)
	checks.CloseTo(t, "spring", list[1].Energy, force*force/(2*stiffness), 1e-12)
	checks.CloseTo(t, "work", s.Work(), list[0].Energy+list[1].Energy, 1e-12)
}
