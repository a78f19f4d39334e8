package frame_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"tiploop/beam"
	"tiploop/frame"
	"tiploop/testdata/checks"
)

// Compliances are what a solve under unit pushes reads.
func TestComplianceIsASolveUnderAUnitPush(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t)
		b := p.build(upright)
		system, err := b.Factor()
		require.NoError(t, err)
		var push, read []frame.Form
		for _, a := range p.pushes {
			push = append(push, b.form(a.at, a.motion, a.direction))
		}
		for _, at := range b.spots() {
			for _, d := range world {
				read = append(read, b.form(at, moving, d))
			}
		}
		c := system.Compliance(read, push)
		require.Len(t, c, len(read))
		for j, form := range push {
			s, err := system.Solve(frame.Load{Pushes: []frame.Push{{Form: form, Force: 1}}})
			require.NoError(t, err)
			own := s.Value(form)
			for i, r := range read {
				self := system.Compliance([]frame.Form{r}, []frame.Form{r})[0][0]
				if e := math.Abs(c[i][j] - s.Value(r)); !(e <= randomTolerance*math.Sqrt(own*self)) {
					t.Fatalf("read %d, push %d: compliance %g, solved %g", i, j, c[i][j], s.Value(r))
				}
			}
		}
	})
}

// One list may serve as both, or one be the beginning of the other.
func TestCompliancesOfSharedLists(t *testing.T) {
	f := &frame.Frame{}
	a, b := f.AddNode(still), f.AddNode(r3.Vec{X: 100})
	f.AddMember(
		frame.Member{Ends: [2]int{a, b}, Up: axisZ, Section: slender(10, 100), Made: beam.Material{E: 7e4, Nu: 0.3}},
	)
	hold(f, a, clamped)
	system, err := f.Factor()
	require.NoError(t, err)
	forms := []frame.Form{frame.Move(b, still, axisX), frame.Move(b, still, axisZ), frame.Turn(b, axisY)}
	all := system.Compliance(forms, forms)
	checks.CloseTo(t, "sinks per force", all[1][1], 1e6/(3*7e4*100), 1e-12)
	checks.CloseTo(t, "turns per force", all[2][1], -1e4/(2*7e4*100), 1e-12)
	for n := range len(forms) + 1 {
		rows := system.Compliance(forms[:n], forms)
		columns := system.Compliance(forms, forms[:n])
		require.Len(t, rows, n)
		for i := range n {
			require.Equal(t, all[i], rows[i])
		}
		for i := range forms {
			require.Equal(t, all[i][:n], columns[i])
		}
	}
}
