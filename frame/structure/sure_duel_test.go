package structure

import (
	"context"
	"fmt"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame"
	"tiploop/frame/answer"
	"tiploop/frame/chance"
	"tiploop/frame/modelfile"
)

// drawnText builds a model file's machine, solves it and draws it.
func drawnText(t require.TestingT, text, name string, columns *chance.Columns) answer.Result {
	doc, err := modelfile.Parse("m.yaml", []byte(text))
	require.NoError(t, err)
	machine, err := doc.Machine("")
	require.NoError(t, err)
	m, err := new(Builder).Build(context.Background(), machine)
	require.NoError(t, err)
	r, err := m.Solve(TipOnly)
	require.NoError(t, err)
	r.Sure, err = m.Sure(context.Background(), columns, r)
	require.NoError(t, err)
	r.Name = name
	return *r
}

// smallMill is a base with a column and an arm, of metals whose modulus is given.
func smallMill(e float64) string {
	return fmt.Sprintf(`machine: small
materials: {metal: {E: %g MPa, nu: 0.33, density: 2700}}
parts:
  base: {plate: {from: [-60, -20, 0], to: [60, 120, 20]}, material: metal}
  column: {plate: {from: [-30, 0, 20], to: [30, 30, 150]}, material: metal}
  arm: {plate: {from: [-20, -90, 110], to: [20, 0, 140]}, material: metal}
joints:
  - {between: [base, column], screws: {size: M6, grid: [2, 2]}}
  - {between: [column, arm], screws: {size: M5, grid: [2, 1]}}
grounds: [{part: base, face: bottom, feet: [[-45, 0], [45, 0], [-45, 100], [45, 100]], stiffness: 20 N/um}]
tool: {part: arm, at: [0, -75, 90], stickout: 20, diameter: 6, material: carbide}
work: {part: base, at: [0, -10, 20]}
loads: {push: {tip: [30, 0, 0]}, press: {tip: [0, 0, 50]}}
`, e)
}

// Options that differ by nothing are the same in every draw; one whose metal is stiffer throughout beats the other in
// every draw and quantity, though the ranges of both overlap nearly all the way.
func TestDuelsOfOptions(t *testing.T) {
	t.Parallel()
	var columns chance.Columns
	a := drawnText(t, smallMill(70e3), "as it is", &columns)
	for _, d := range answer.Duels([]answer.Result{a, drawnText(t, smallMill(70e3), "again", &columns)}) {
		require.Equal(t, answer.TheSame, d.Verdict, d.Quantity)
		require.Equal(t, 50.0, d.BetterPercent)
	}
	stiffer := drawnText(t, smallMill(72e3), "stiffer", &columns)
	duels := answer.Duels([]answer.Result{a, stiffer})
	require.Len(t, duels, 6)
	for _, d := range duels {
		require.Equal(t, 100.0, d.BetterPercent, d.Quantity)
		require.Equal(t, answer.Better, d.Verdict)
	}
	require.Less(t, stiffer.Sure.Stiffness.X.Low, a.Sure.Stiffness.X.Median)
	require.InDelta(t, a.Tip.StiffnessNPerUm.X, a.Sure.Stiffness.X.Median, 0.15*a.Tip.StiffnessNPerUm.X)
}

// The same draws on one core and on two, and in the second run as in the first.
func TestSureIsTheSameEveryTime(t *testing.T) {
	sure := func(cores int) *answer.Sure {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
		return drawnText(t, smallMill(70e3), "", new(chance.Columns)).Sure
	}
	one := sure(1)
	require.Equal(t, one, sure(1))
	require.Equal(t, one, sure(2))
	require.EqualValues(t, chance.Seed, one.Seed)
}

// Truths drawn from the tables lie in the printed ranges in nine of ten machines: each machine's truth is a draw of
// another sequence, solved whole.
func TestCoverage(t *testing.T) {
	t.Parallel()
	machines, apart := 40, 0.12
	if thorough() {
		machines, apart = 500, 0.02
	}
	inside, asked := 0, 0
	for i := range machines {
		text := smallMill(70e3 + 100*float64(i))
		if i%2 == 1 {
			text = rapid.Custom(drawSmall).Example(i)
		}
		doc, err := modelfile.Parse("m.yaml", []byte(text))
		require.NoError(t, err)
		drawn, err := doc.Machine("")
		require.NoError(t, err)
		m, err := new(Builder).Build(context.Background(), drawn)
		if err != nil {
			continue // this one does not fit together
		}
		r, err := m.Solve(TipOnly)
		require.NoError(t, err)
		s, sure, logs, err := m.sample(context.Background(), new(chance.Columns), r)
		require.NoError(t, err)
		s.tell(sure, logs)
		others, err := new(chance.Columns).Logs(s.unknowns, mostDraws)
		require.NoError(t, err)
		truth := drawnWhole(t, s, others[mostDraws-1-i])
		for _, q := range s.drawn {
			if strings.HasPrefix(q.Quantity, "movement") {
				r := chance.RangeOf(q.Values)
				if asked++; r.Low <= truth[q.Quantity] && truth[q.Quantity] <= r.High {
					inside++
				}
			}
		}
	}
	share := float64(inside) / float64(asked)
	t.Logf("%d of %d movements of %d machines within their ranges", inside, asked, machines)
	require.InDelta(t, 0.9, share, apart)
}

// BenchmarkDraw is one draw of the sample machine over one full solution of it.
func BenchmarkDraw(b *testing.B) {
	m, r := solvedExample(b, "bed-layouts", "short bed held all along", TipOnly)
	s, _, logs, err := m.sample(context.Background(), new(chance.Columns), r)
	require.NoError(b, err)
	b.Run("draw", func(b *testing.B) {
		for i := 0; b.Loop(); i++ {
			s.basis.Solve(logs[i%len(logs):][:1], func(_ int, d *frame.Drawn) { s.moment(d, logs[i%len(logs)]) })
		}
	})
	b.Run("whole", func(b *testing.B) {
		for i := 0; b.Loop(); i++ {
			whole := m.frame.With(s.doubts.frame, logs[i%len(logs)])
			system, err := whole.Factor()
			require.NoError(b, err)
			for _, l := range m.machine.Loads {
				_, err := system.Solve(m.frameLoad(&l, m.tool.gauges()))
				require.NoError(b, err)
			}
		}
	})
}
