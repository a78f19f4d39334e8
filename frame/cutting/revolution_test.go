package cutting_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/constant"
	"tiploop/frame/cutting"
)

// Measured by a single component, a revolution says what Forces says by another way through the samples; and no sample
// of a fine grid lies outside.
func TestRevolution(t *testing.T) {
	brass, _ := cutting.LookupMaterial("brass-cz120")
	for _, mode := range []cutting.Mode{cutting.Slot, cutting.Up, cutting.Down, cutting.Centred} {
		m := cutting.Milling{
			Mill: cutting.Mill{DiameterMM: 6, Flutes: 2, HelixDeg: 30}, Mode: mode,
			RadialDepthMM: 2, AxialDepthMM: 3, FeedPerToothMM: 0.02, SpeedRPM: 12000,
		}
		spread, err := m.Spread(brass)
		require.NoError(t, err)
		for level, want := range map[constant.Level]cutting.Forces{constant.Low: spread.Low,
			constant.Typical: spread.Typical, constant.High: spread.High} {
			c, err := m.Cut(brass, level)
			require.NoError(t, err)
			r := c.Revolution()
			x := r.Span(func(l cutting.Load) float64 { return l.X })
			require.InDelta(t, want.Least.X, x.Least, 1e-9*want.Peak.Load.Size())
			require.InDelta(t, want.Most.X, x.Most, 1e-9*want.Peak.Load.Size())
			require.Equal(t, want.Peak, r.Most(func(l cutting.Load) float64 { return l.X*l.X + l.Y*l.Y + l.Z*l.Z }))
			for deg := range 360 {
				load := c.At(float64(deg) + 0.37)
				require.LessOrEqual(t, load.X, x.Most*(1+1e-9)+1e-9)
				require.GreaterOrEqual(t, load.X, x.Least-1e-9)
			}
			require.Len(t, r.Sides(), len(want.Surfaces))
			for i, side := range r.Sides() {
				s := want.Surfaces[i]
				require.Equal(t, s.Side, side)
				made := r.Made(side,
					func(l cutting.Load) float64 { return l.X*s.Normal[0] + l.Y*s.Normal[1] + l.Z*s.Normal[2] })
				require.InDelta(t, s.LeastPush, made.Least, 1e-12*want.Peak.Load.Size())
				require.InDelta(t, s.MostPush, made.Most, 1e-12*want.Peak.Load.Size())
			}
		}
	}
}
