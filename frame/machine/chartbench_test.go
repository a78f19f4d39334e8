package machine

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// BenchmarkPlane maps a plane of 100 by 100 positions under the loads of the file, and builds and solves the machine whole
// in some of them. It reports the time of a whole solve over that of a mapped position.
func BenchmarkPlane(b *testing.B) {
	doc, err := Read("../../examples/fixed-gantry-mill.yaml")
	require.NoError(b, err)
	m, err := doc.Machine("")
	require.NoError(b, err)
	const side, wholes = 100, 20
	var whole, mapped time.Duration
	for range b.N {
		begun := time.Now()
		for i := range wholes {
			moved, err := m.At(map[string]float64{"x": -60 + 6*float64(i), "y": 70 - 7*float64(i)})
			require.NoError(b, err)
			model, err := Build(moved)
			require.NoError(b, err)
			_, err = model.Solve(TipOnly)
			require.NoError(b, err)
		}
		whole += time.Since(begun)
		begun = time.Now()
		var axes []*runningAxis
		for i := range 2 {
			a := &runningAxis{axis: &m.Axes[i]}
			for k := range side {
				a.at = append(a.at, a.axis.Travel[0]+(a.axis.Travel[1]-a.axis.Travel[0])*float64(k)/(side-1))
			}
			axes = append(axes, a)
		}
		r, err := new(Builder).run(context.Background(), m, axes)
		require.NoError(b, err)
		var loads []*Load
		for i := range m.Loads {
			loads = append(loads, &m.Loads[i])
		}
		c, err := r.chart(loads)
		require.NoError(b, err)
		softest := 0.0
		c.read(func(_ []int, s *tipState) {
			if s != nil {
				softest = max(softest, s.softest())
			}
		})
		require.Positive(b, softest)
		mapped += time.Since(begun)
	}
	b.ReportMetric(float64(whole)/wholes/(float64(mapped)/(side*side)), "ratio")
	b.ReportMetric(float64(mapped.Microseconds())/float64(b.N)/(side*side), "µs/position")
}
