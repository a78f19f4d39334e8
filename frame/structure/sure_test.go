package structure

import (
	"context"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tiploop/frame"
	"tiploop/frame/answer"
	"tiploop/frame/chance"
	"tiploop/frame/constant"
	"tiploop/frame/modelfile"
)

// solvedExample is one option of an example, solved.
func solvedExample(t testing.TB, name, option string, extent Extent) (*Model, *answer.Result) {
	t.Helper()
	text, err := os.ReadFile("../../examples/" + name + ".yaml")
	require.NoError(t, err)
	doc, err := modelfile.Parse(name, text)
	require.NoError(t, err)
	machine, err := doc.Machine(option)
	require.NoError(t, err)
	m, err := new(Builder).Build(context.Background(), machine)
	require.NoError(t, err)
	r, err := m.Solve(extent)
	require.NoError(t, err)
	return m, r
}

// drawnWhole are the quantities of a machine with the numbers of one draw, solved whole.
func drawnWhole(t testing.TB, s *sampler, logs []float64) map[string]float64 {
	t.Helper()
	whole := *s.model
	whole.frame = s.model.frame.With(s.doubts.frame, logs)
	var err error
	whole.system, err = whole.frame.Factor()
	require.NoError(t, err)
	exact := &sampler{model: &whole, result: s.result, doubts: &doubts{cuts: s.doubts.cuts, joints: s.doubts.joints}}
	require.NoError(t, exact.begin())
	exact.read()
	// What the metal round gauges gives is that of the typical machine, softer as its body is.
	s.basis.Solve([][]float64{logs}, func(_ int, d *frame.Drawn) {
		at := func(o offset) offset { return offset{by: o.plus([3]float64{}, d)} }
		for k := range exact.reads.local {
			exact.reads.local[k] = at(s.reads.local[k])
		}
		for i := range exact.reads.tips {
			exact.reads.tips[i] = at(s.reads.tips[i])
		}
		for k := range exact.reads.points {
			for i := range exact.reads.points[k].loads {
				exact.reads.points[k].loads[i] = at(s.reads.points[k].loads[i])
			}
		}
		for k := range exact.reads.paths {
			for i := range exact.reads.paths[k].loads {
				l := &exact.reads.paths[k].loads[i]
				for n := range l.adds {
					l.adds[n] = at(s.reads.paths[k].loads[i].adds[n])
				}
			}
		}
		for k := range exact.reads.checks {
			exact.reads.checks[k].add = at(s.reads.checks[k].add)
		}
	})
	values := map[string]float64{}
	exact.basis.Solve([][]float64{logs}, func(_ int, d *frame.Drawn) {
		moment := exact.moment(d, logs)
		for _, q := range exact.drawn {
			values[q.Quantity] = q.of(moment)
		}
		for _, c := range s.courses {
			for n, share := range c.share {
				values[c.key(n)] = share(moment)
			}
		}
	})
	return values
}

// Draws of examples against whole solutions of the same machines with the same numbers: all that is drawn lies within
// the bound that is told.
func TestSureAgainstWholeSolutions(t *testing.T) {
	t.Parallel()
	draws := 12
	if thorough() {
		draws = 200
	}
	for _, example := range []struct {
		name, option string
		extent       Extent
	}{
		{"bed-layouts", "short bed held all along", FullTravel}, {"gussets", "", TipOnly},
		{"moving-gantry-router", "", TipOnly}, {"motor-mount", "", TipOnly},
	} {
		if !thorough() && example.name == "moving-gantry-router" {
			continue
		}
		m, r := solvedExample(t, example.name, example.option, example.extent)
		s, sure, logs, err := m.sample(context.Background(), new(chance.Columns), r)
		require.NoError(t, err)
		bound := sure.ErrorPercent / 100
		require.LessOrEqual(t, bound, 2*mostLacking)
		worst, of := 0.0, ""
		for i := range draws {
			draw := i * (sure.Draws - 1) / draws
			whole := drawnWhole(t, s, logs[draw])
			for _, q := range s.drawn {
				size := whole[q.Quantity]
				if strings.HasPrefix(q.Quantity, "stretch") { // it jumps where a flat curve begins to keep its tolerance
					continue
				}
				for _, l := range r.Loads { // a point's error is a share of how far the tip goes
					if p, ok := strings.CutPrefix(q.Quantity, answer.MovementKey(l.Name, "")+" / "); ok && p != "" {
						size = math.Sqrt(pointSlack) * math.Max(size, whole[answer.MovementKey(l.Name, "")])
					}
				}
				if strings.HasPrefix(q.Quantity, "check") {
					size *= placeSlack
				}
				if off := math.Abs(q.Values[draw]-whole[q.Quantity]) / size; off > worst {
					worst, of = off, q.Quantity
				}
			}
		}
		t.Logf("%s: %d movements, bound %.2g %%, worst %.2g %% (%s)", example.name, s.basis.Size(), 100*bound, 100*worst, of)
		assert.LessOrEqual(t, worst, bound)
	}
}

// However often the basis has grown and been read anew, at typical numbers it says what the answer does.
func TestTypicalDrawIsTheAnswer(t *testing.T) {
	t.Parallel()
	m, r := solvedExample(t, "bed-layouts", "long bed held in the middle", FullTravel)
	s, _, _, err := m.sample(context.Background(), new(chance.Columns), r)
	require.NoError(t, err)
	s.read()
	typical := make([]float64, len(s.unknowns))
	s.basis.Solve([][]float64{typical}, func(_ int, d *frame.Drawn) {
		at := s.moment(d, typical)
		for k, p := range s.reads.paths {
			for i, l := range p.loads {
				for n, place := range p.places {
					requireVec(t, l.travel.TipUm[place], array3(at.paths[k][i][n], constant.UmPerMM))
				}
			}
		}
		for i, l := range r.Loads {
			requireVec(t, *l.TipUm, array3(at.tip[i], constant.UmPerMM))
		}
		for k, c := range r.Check {
			require.InEpsilon(t, c.ReadingUm, at.checks[k]*constant.UmPerMM, 1e-9)
		}
	})
}

func requireVec(t *testing.T, want, got [3]float64) {
	t.Helper()
	for k := range want {
		require.InDelta(t, want[k], got[k], 1e-9*norm(want))
	}
}

// A stretch is that of the typical curve where every place moves as typical, and follows the tolerance where all move
// more or less by one factor.
func TestStretchOfDraws(t *testing.T) {
	curve := &answer.Travel{ToleranceUm: 50}
	for x := -100.0; x <= 100; x += 10 {
		curve.AtMM = append(curve.AtMM, x)
		curve.TipUm = append(curve.TipUm, [3]float64{0, 0, 20 + math.Abs(x)})
	}
	l, places := pathLoad{travel: curve}, []int{0, 10, 20}
	moved := func(factor float64) (list [][3]float64) {
		for _, p := range places {
			list = append(list, [3]float64{0, 0, factor * curve.TipUm[p][2] / 1000})
		}
		return list
	}
	require.InDelta(t, 60, l.stretch(places, moved(1)), 1e-9)
	require.InDelta(t, 160, l.stretch(places, moved(0.5)), 1e-9)
	require.Zero(t, l.stretch(places, moved(3)))
}
