package structure

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tiploop/frame/machine"
	"tiploop/frame/modelfile"
)

// BenchmarkPlane maps a plane of 100 by 100 positions under the loads of the file, and builds and solves the machine
// whole in some of them. It reports the time of a whole solve, all that a position's answer needs, over that of a
// mapped position.
func BenchmarkPlane(b *testing.B) { benchmarkPlane(b, Section, 20) }

// BenchmarkPlaneSolid is the same with meshed bodies. It also reports how many whole solves the whole plane costs.
func BenchmarkPlaneSolid(b *testing.B) { benchmarkPlane(b, Solid, 2) }

func benchmarkPlane(b *testing.B, detail Detail, wholes int) {
	doc, err := modelfile.Read("../../examples/fixed-gantry-mill.yaml")
	require.NoError(b, err)
	m, err := doc.Machine("")
	require.NoError(b, err)
	const side = 100
	var whole, mapped time.Duration
	for range b.N {
		begun := time.Now()
		for i := range wholes {
			share := (float64(i) + 0.5) / float64(wholes)
			moved, err := m.At(map[string]float64{"x": -60 + 120*share, "y": 70 - 140*share})
			require.NoError(b, err)
			model, err := (&Builder{Detail: detail}).Build(context.Background(), moved)
			require.NoError(b, err)
			_, err = model.tipStiffness()
			require.NoError(b, err)
			for i := range m.Loads {
				_, err := model.solve(&m.Loads[i], model.tool.gauge)
				require.NoError(b, err)
			}
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
		r, err := (&Builder{Detail: detail}).run(context.Background(), m, axes)
		require.NoError(b, err)
		var loads []*machine.Load
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
	each := float64(whole) / float64(wholes)
	b.ReportMetric(each/(float64(mapped)/(side*side)), "whole/position")
	b.ReportMetric(float64(mapped)/each, "wholes/plane")
	b.ReportMetric(float64(mapped.Microseconds())/float64(b.N)/(side*side), "µs/position")
}
