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
		n := 0 // draws are solved many at once, as an answer has them
		for b.Loop() {
			s.basis.Solve(logs, func(i int, d *frame.Drawn) { s.moment(d, logs[i]) })
			n += len(logs)
		}
		b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(n), "us/draw")
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

// drawnOptions are the options of a model file, drawn under the same luck.
func drawnOptions(t *testing.T, text string) (list []answer.Result) {
	t.Helper()
	doc, err := modelfile.Parse("m.yaml", []byte(text))
	require.NoError(t, err)
	var columns chance.Columns
	for _, option := range doc.OptionNames() {
		machine, err := doc.Machine(option)
		require.NoError(t, err)
		m, err := new(Builder).Build(context.Background(), machine)
		require.NoError(t, err)
		r, err := m.Solve(TipOnly)
		require.NoError(t, err)
		r.Sure, err = m.Sure(context.Background(), &columns, r)
		require.NoError(t, err)
		list = append(list, *r)
	}
	return list
}

// twoSprings is a bar of next to no give on a spring of 5 to 20 N/um, with what else stands in the file.
const twoSprings = `machine: two springs
values: {second: false}
materials: {stiff: {E: 1e8 N/mm2, nu: 0.3, density: 1000 kg/m3}}
parts:
  a: {bar: {from: [0, 0, 0], to: [0, 0, 100]}, section: {rect: [90, 90]}, material: stiff}
  b: {bar: {from: [0, 0, 100], to: [0, 0, 200]}, section: {rect: [90, 90]}, material: stiff}
joints:
%s
grounds:
  - {part: a, hold: [x, y, rx, ry, rz], at: [0, 0, 0]}
%s
  - {part: a, spring: {z: 5..20 N/um}, at: [0, 0, 0]}
points: {top: {part: b, at: [0, 0, 200]}}
loads: {down: {at: top, force: [0, 0, -100 N]}}
options: {A: {}, B: {second: true}}
`

// One support less is never stiffer: grounds without a name keep their luck when one before them is left out.
func TestOneSupportLessNeverWins(t *testing.T) {
	list := drawnOptions(t, fmt.Sprintf(twoSprings, "  - {between: [a, b], bonded: true}",
		"  - {part: a, if: not second, spring: {z: 2..4 N/um}, at: [0, 0, 50]}"))
	duels := answer.Duels(list)
	require.Len(t, duels, 1)
	require.Zero(t, duels[0].BetterPercent)
	require.Equal(t, answer.Worse, duels[0].Verdict)
}

// Two chains that share a spring: the one with 30..60 N/um is the stiffer in 92.3 of 100 over the one with 18..40, both on
// one of 5..20 (a sum over 200,000 pseudo-random draws and by quadrature of the log-normals, python3).
func TestChainsThatShareASpring(t *testing.T) {
	list := drawnOptions(t, fmt.Sprintf(twoSprings, "  - {between: [a, b], if: not second, sprung: {z: 30..60 N/um}}\n"+
		"  - {between: [a, b], if: second, sprung: {z: 18..40 N/um}}", ""))
	duels := answer.Duels(list)
	require.Len(t, duels, 1)
	require.InDelta(t, 100-92.3, duels[0].BetterPercent, 1.5)
}
