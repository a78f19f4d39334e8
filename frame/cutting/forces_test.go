package cutting_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/cutting"
	"tiploop/testdata/checks"
)

func kinds(list []cutting.Caution) (k []cutting.CautionKind) {
	for _, c := range list {
		k = append(k, c.Kind)
	}
	return k
}

// Work rises with the material's numbers, for any cut with chips below 1 mm.
func TestSpreadIsOrdered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawMilling(t)
		m.FeedPerToothMM = math.Min(m.FeedPerToothMM, 0.3)
		m.Mill.OffsetMM = 0
		material := rapid.SampledFrom(cutting.Materials()).Draw(t, "material")
		s, err := m.Spread(material)
		require.NoError(t, err)
		finite(t, s)
		for _, v := range []func(cutting.Forces) float64{
			func(f cutting.Forces) float64 { return f.MeanPowerW },
			func(f cutting.Forces) float64 { return f.Most.Torque },
			func(f cutting.Forces) float64 { return f.Mean.Torque },
		} {
			require.Less(t, v(s.Low), v(s.Typical))
			require.Less(t, v(s.Typical), v(s.High))
		}
	})
}

func TestCautions(t *testing.T) {
	brass, _ := cutting.LookupMaterial("brass-cz120")
	for _, tt := range []struct {
		name  string
		spoil func(*cutting.Milling)
		want  []cutting.CautionKind
	}{
		{"none", func(*cutting.Milling) {}, nil},
		{"wide", func(m *cutting.Milling) { m.RadialDepthMM = 7 }, []cutting.CautionKind{cutting.WideCut}},
		{"rubbing", func(m *cutting.Milling) { m.FeedPerToothMM = 0.003 },
			[]cutting.CautionKind{cutting.Rubbing, cutting.ThinChip, cutting.FeedLow}},
		{"blunt", func(m *cutting.Milling) { m.Mill.EdgeRadiusMM = 0.03 }, []cutting.CautionKind{cutting.Rubbing}},
		{"thick", func(m *cutting.Milling) { m.FeedPerToothMM, m.Mode = 0.5, cutting.Slot },
			[]cutting.CautionKind{cutting.ThickChip, cutting.TightPath, cutting.FeedHigh}},
		{"slow", func(m *cutting.Milling) { m.SpeedRPM = 100 }, []cutting.CautionKind{cutting.SpeedLow}},
		{"fast", func(m *cutting.Milling) { m.SpeedRPM = 30000 }, []cutting.CautionKind{cutting.SpeedHigh}},
		{"weak", func(m *cutting.Milling) { m.Spindle = cutting.Spindle{PowerW: 10, TorqueNmm: 5} },
			[]cutting.CautionKind{cutting.PowerAbove, cutting.TorqueAbove}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			m := side()
			tt.spoil(&m)
			s, err := m.Spread(brass)
			require.NoError(t, err)
			require.Equal(t, tt.want, kinds(s.Cautions))
			for _, c := range s.Cautions {
				require.NotEqual(t, c.Value, c.Limit)
				require.Contains(t, c.String(), c.Unit)
			}
		})
	}
	require.Panics(t, func() { _ = cutting.CautionKind(99).String() })

	// A cut wider than the cutter costs what a slot does.
	wide, slot := side(), side()
	wide.RadialDepthMM, slot.Mode = 7, cutting.Slot
	law := cutting.Law{Kt: 700, Kr: 200}
	require.Equal(t, forces(t, slot, law).Mean, forces(t, wide, law).Mean)
	require.Len(t, forces(t, wide, law).Surfaces, 3)
}

// A law whose range of chips nobody has stated is held against none.
func TestNoCautionWithoutRange(t *testing.T) {
	require.Empty(t, forces(t, side(), cutting.Law{Kt: 700}).Cautions)
	fromNothing := cutting.Law{Kt: 700, ChipMM: cutting.Span{Least: 0, Most: 1}}
	require.Empty(t, forces(t, side(), fromNothing).Cautions, "a law may hold from nothing on")
	// Ends of ranges are inside them.
	chip := side().MostChipMM()
	require.Empty(t, forces(t, side(), cutting.Law{Kt: 700, ChipMM: cutting.Span{Least: chip, Most: chip}}).Cautions)
	brass, _ := cutting.LookupMaterial("brass-cz120")
	m := side()
	m.Mill.DiameterMM, m.RadialDepthMM, m.SpeedRPM = 1, 0.2, 40000
	for _, feed := range []float64{brass.FeedShare.Least, brass.FeedShare.Most} {
		m.FeedPerToothMM = feed
		s, err := m.Spread(brass)
		require.NoError(t, err)
		for _, c := range s.Cautions {
			require.NotContains(t, []cutting.CautionKind{cutting.FeedLow, cutting.FeedHigh}, c.Kind)
		}
	}
}

// Nothing is ever minus zero, which would be printed as such.
func TestNoMinusZero(t *testing.T) {
	for _, deg := range []float64{-180, -90, 0, 90, 180, 360} {
		m := side()
		m.Mode, m.FeedDeg = cutting.Slot, deg
		for _, s := range forces(t, m, cutting.Law{Kt: 700}).Surfaces {
			for _, v := range append(s.Normal[:], s.LeastPush, s.MostPush, s.MeanPush) {
				require.False(t, v == 0 && math.Signbit(v), "%v at %g", s.Side, deg)
			}
		}
	}
	c, err := cutting.NewCut(side(), cutting.Law{Kt: 700})
	require.NoError(t, err)
	span := c.Revolution().Span(func(cutting.Load) float64 { return math.Copysign(0, -1) })
	require.False(t, math.Signbit(span.Least) || math.Signbit(span.Most))
}

// The push on a wall is that of the moments in which a tooth stands on it somewhere along its height: a fine scan of
// these finds nothing beyond the extremes, and comes near both.
func TestWallsAgainstScan(t *testing.T) {
	const steps = 1500
	law := cutting.Law{Kt: 700, Kr: 250, Ka: 100, Kte: 9, Kre: 6, M: 0.25}
	for _, mode := range []cutting.Mode{cutting.Up, cutting.Down, cutting.Slot} {
		for _, helix := range []float64{8, 30, 45} {
			for _, flutes := range []int{1, 2, 3} {
				m := side()
				m.Mode, m.Mill.HelixDeg, m.Mill.Flutes, m.RadialDepthMM = mode, helix, flutes, 2.5
				m.AxialDepthMM = 0.7 * math.Pi * 6 / (float64(flutes) * math.Tan(helix*math.Pi/180))
				m.AxialDepthMM = math.Min(m.AxialDepthMM, 12)
				c, err := cutting.NewCut(m, law)
				require.NoError(t, err)
				size := c.Forces().Peak.Load.Size()
				for _, s := range c.Forces().Surfaces {
					from := map[cutting.Side]float64{cutting.LeftWall: 0, cutting.RightWall: 180}
					start, isWall := from[s.Side]
					if !isWall {
						continue
					}
					most, least := math.Inf(-1), math.Inf(1)
					for i := range steps {
						at := start + m.Mill.LagDeg(m.AxialDepthMM)*(float64(i)+0.5)/steps
						l := c.At(at)
						push := l.X*s.Normal[0] + l.Y*s.Normal[1]
						most, least = math.Max(most, push), math.Min(least, push)
					}
					step := 8 * size / steps // what a scan misses beside a jump
					what := fmt.Sprintf("%v, helix %g, %d flutes, %v", mode, helix, flutes, s.Side)
					require.True(t, most <= s.MostPush+exact*size && s.MostPush <= most+step, "%s: most", what)
					require.True(t, least >= s.LeastPush-exact*size && s.LeastPush >= least-step, "%s: least", what)
				}
			}
		}
	}
}

// A straight tooth on the wall has no chip left, only its edge forces: Kre over the depth holds it off, whichever way
// it cuts. With a helix, what still cuts above or below adds to that.
func TestSurfaces(t *testing.T) {
	law := cutting.Law{Kt: 767, Kte: 27.7, Kr: 169, Kre: 26.6, Ka: 222, Kae: 0.7}
	for _, tt := range []struct {
		mode  cutting.Mode
		sides []cutting.Side
	}{
		{cutting.Up, []cutting.Side{cutting.LeftWall, cutting.Floor}},
		{cutting.Down, []cutting.Side{cutting.RightWall, cutting.Floor}},
		{cutting.Slot, []cutting.Side{cutting.LeftWall, cutting.RightWall, cutting.Floor}},
		{cutting.Centred, []cutting.Side{cutting.Floor}},
	} {
		m := side()
		m.Mode, m.Mill.HelixDeg, m.Mill.Flutes = tt.mode, 0, 1
		f := forces(t, m, law)
		require.Len(t, f.Surfaces, len(tt.sides))
		for i, s := range f.Surfaces {
			require.Equal(t, tt.sides[i], s.Side)
			require.NotEmpty(t, s.Side.String())
			if s.Side == cutting.Floor {
				checks.CloseTo(t, "floor", s.LeastPush, f.Least.Z, 1e-12)
				checks.CloseTo(t, "floor", s.MeanPush, f.Mean.Z, 1e-12)
				continue
			}
			checks.CloseTo(t, "wall", s.LeastPush, law.Kre*m.AxialDepthMM, 1e-6)
			checks.CloseTo(t, "wall", s.MostPush, law.Kre*m.AxialDepthMM, 1e-6)
		}
	}
	// Down milling pushes the tool off the wall, up milling draws it in once tangential force outweighs radial.
	m := side()
	m.AxialDepthMM = 4
	require.Greater(t, forces(t, m, law).Surfaces[0].MostPush, law.Kre*m.AxialDepthMM)
	m.Mode = cutting.Up
	law = cutting.Law{Kt: 750, Kte: 10, Kr: 150, Kre: 5}
	require.Less(t, forces(t, m, law).Surfaces[0].LeastPush, 0.0)
	require.Panics(t, func() { _ = cutting.Side(9).String() })

	// By hand: seen along the wall from its foot to its top, the push is that of the rotation at which each height is
	// made.
	c, err := cutting.NewCut(m, law)
	require.NoError(t, err)
	most, least := math.Inf(-1), math.Inf(1)
	for i := range 2001 {
		push := -c.At(1e-7 + m.Mill.LagDeg(m.AxialDepthMM)*float64(i)/2000).Y
		most, least = math.Max(most, push), math.Min(least, push)
	}
	s := c.Forces().Surfaces[0]
	require.InDelta(t, most, s.MostPush, 1e-3*most)
	require.InDelta(t, least, s.LeastPush, 1e-3*most)
}

func TestBadCutsAreErrors(t *testing.T) {
	law := cutting.Law{Kt: 700}
	for _, tt := range []struct {
		text  string
		spoil func(*cutting.Milling)
	}{
		{"cutter diameter", func(m *cutting.Milling) { m.Mill.DiameterMM = 0 }},
		{"flutes", func(m *cutting.Milling) { m.Mill.Flutes = 0 }},
		{"helix", func(m *cutting.Milling) { m.Mill.HelixDeg = 61 }},
		{"entering angle", func(m *cutting.Milling) { m.Mill.EnteringDeg = 5 }},
		{"offset of", func(m *cutting.Milling) { m.Mill.OffsetMM = -1 }},
		{"direction of the offset", func(m *cutting.Milling) { m.Mill.OffsetDeg = math.NaN() }},
		{"edge radius", func(m *cutting.Milling) { m.Mill.EdgeRadiusMM = 4 }},
		{"mode", func(m *cutting.Milling) { m.Mode = 7 }},
		{"radial depth", func(m *cutting.Milling) { m.RadialDepthMM = 0 }},
		{"axial depth", func(m *cutting.Milling) { m.AxialDepthMM = 61 }},
		{"feed per tooth", func(m *cutting.Milling) { m.FeedPerToothMM = 4 }},
		{"speed", func(m *cutting.Milling) { m.SpeedRPM = math.Inf(1) }},
		{"feed direction", func(m *cutting.Milling) { m.FeedDeg = 361 }},
		{"spindle power", func(m *cutting.Milling) { m.Spindle.PowerW = -1 }},
		{"spindle torque", func(m *cutting.Milling) { m.Spindle.TorqueNmm = -1 }},
		{"efficiency", func(m *cutting.Milling) { m.Spindle.Efficiency = 1.1 }},
	} {
		m := side()
		tt.spoil(&m)
		_, err := m.Forces(law)
		require.ErrorContains(t, err, tt.text)
		brass, _ := cutting.LookupMaterial("brass")
		_, err = m.Spread(brass)
		require.ErrorContains(t, err, tt.text)
		_, _, err = m.HandEstimate(law)
		require.ErrorContains(t, err, tt.text)
	}
	// Bounds belong to what they bound.
	for _, bound := range []func(*cutting.Milling, float64){
		func(m *cutting.Milling, beyond float64) { m.Mill.OffsetMM = 3 * beyond },
		func(m *cutting.Milling, beyond float64) { m.Mill.EdgeRadiusMM = 3 * beyond },
		func(m *cutting.Milling, beyond float64) { m.Mill.HelixDeg = 60 * beyond },
		func(m *cutting.Milling, beyond float64) { m.Mill.EnteringDeg = 90 * beyond },
		func(m *cutting.Milling, beyond float64) { m.Mill.EnteringDeg = 10 / beyond },
		func(m *cutting.Milling, beyond float64) { m.Mill.Flutes = int(32 * beyond * beyond * beyond * beyond) },
		func(m *cutting.Milling, beyond float64) { m.AxialDepthMM = 60 * beyond },
		func(m *cutting.Milling, beyond float64) { m.FeedPerToothMM = 3 * beyond },
		func(m *cutting.Milling, beyond float64) { m.FeedDeg = 360 * beyond },
	} {
		m := side()
		bound(&m, 1)
		require.NoError(t, m.Check())
		bound(&m, 1.009)
		require.Error(t, m.Check())
	}
	for _, l := range []cutting.Law{{}, {Kt: -1}, {Kt: 1, M: 1}, {Kt: 1, M: math.NaN()}, {Kt: 1, Kae: math.Inf(1)},
		{Kt: 1, ChipMM: cutting.Span{Least: 2, Most: 1}}} {
		_, err := side().Forces(l)
		require.ErrorContains(t, err, "force law")
		_, _, err = side().HandEstimate(l)
		require.ErrorContains(t, err, "force law")
	}
	require.Panics(t, func() { law.Orthogonal(-1, 1) })
	require.Panics(t, func() { law.SpecificForce(0) })
	require.Panics(t, func() { cutting.DrivePowerW(1, 1, 0) })
	require.Panics(t, func() { cutting.FeedPerToothMM(0, 1, 1) })
	require.Equal(t, 0.03, cutting.FeedPerToothMM(720, 12000, 2))
	require.Panics(t, func() { _ = cutting.Mode(9).String() })
	ft, fr, fa := law.Orthogonal(0, 5)
	require.Zero(t, ft+fr+fa)
}

func BenchmarkForces(b *testing.B) {
	for _, law := range []cutting.Law{{Kt: 750, Kte: 10, Kr: 225, Kre: 10}, {Kt: 700, Kr: 210, M: 0.27}} {
		for _, offset := range []float64{0, 0.01} {
			b.Run(fmt.Sprintf("m=%g/offset=%g", law.M, offset), func(b *testing.B) {
				b.ReportAllocs()
				m := side()
				m.Mill.OffsetMM = offset
				for b.Loop() {
					forces(b, m, law)
				}
			})
		}
	}
}

func ExampleMilling_Spread() {
	brass, _ := cutting.LookupMaterial("brass-cz120")
	m := cutting.Milling{
		Mill: cutting.Mill{DiameterMM: 6, Flutes: 2, HelixDeg: 30},
		Mode: cutting.Down, RadialDepthMM: 1, AxialDepthMM: 2, FeedPerToothMM: 0.03, SpeedRPM: 12000,
	}
	s, err := m.Spread(brass)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range []cutting.Forces{s.Low, s.Typical, s.High} {
		fmt.Printf("mean %2.0f N, peak %3.0f N across the tool, %2.0f W\n", f.Mean.Across(), f.PeakAcross.Load.Across(),
			f.MeanPowerW)
	}
	wall := s.Typical.Surfaces[0]
	fmt.Printf("%v: held off by %.0f to %.0f N\n", wall.Side, wall.LeastPush, wall.MostPush)
	// Output:
	// mean  6 N, peak  26 N across the tool, 18 W
	// mean 12 N, peak  55 N across the tool, 38 W
	// mean 26 N, peak 116 N across the tool, 81 W
	// right wall: held off by 0 to 28 N
}
