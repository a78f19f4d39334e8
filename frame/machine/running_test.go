package machine

import (
	"context"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// Every position of a running machine is the machine moved there, built and solved whole.
func TestRunningIsTheMachineMoved(t *testing.T) {
	doc, err := Read("../../examples/fixed-gantry-mill.yaml")
	require.NoError(t, err)
	m, err := doc.Machine("")
	require.NoError(t, err)
	for _, names := range [][]string{{"x"}, {"y"}, {"z"}, {"x", "y"}, {"x", "z"}, {"z", "x"}, {"y", "z"}} {
		t.Run(fmt.Sprint(names), func(t *testing.T) {
			var axes []*runningAxis
			for _, name := range names {
				for i := range m.Axes {
					if a := &m.Axes[i]; a.Name == name {
						axes = append(axes, &runningAxis{axis: a, at: []float64{a.Travel[0], a.Travel[0] + 13.7, a.At, a.Travel[1]}})
					}
				}
			}
			r, err := new(Builder).run(context.Background(), m, axes)
			require.NoError(t, err)
			var loads []*Load
			for i := range m.Loads {
				loads = append(loads, &m.Loads[i])
			}
			c, err := r.chart(loads)
			require.NoError(t, err)
			worst := 0.0
			c.read(func(positions []int, s *tipState) {
				at := map[string]float64{}
				for i, a := range axes {
					at[a.axis.Name] = a.at[positions[i]]
				}
				moved, err := m.At(at)
				require.NoError(t, err)
				model, err := Build(moved)
				if err != nil {
					require.Nil(t, s, "%v", err)
					return
				}
				result, err := model.Solve(TipOnly)
				require.NoError(t, err)
				worst = math.Max(worst, math.Abs(s.softest()/result.Tip.StiffnessNPerUm.Softest-1))
				for n, l := range result.Loads {
					for k := range 3 {
						worst = math.Max(worst, math.Abs(micro*s.moved[n][k]-l.TipUm[k]) / *l.TipSizeUm)
					}
				}
				if !(worst <= 1e-6) {
					t.Fatalf("at %v: off by %g", at, worst)
				}
			})
			t.Logf("worst %.1e", worst)
		})
	}
}
