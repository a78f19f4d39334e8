package guide_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/constant"
	"tiploop/frame/guide"
)

func TestSlideAgainstTable(t *testing.T) {
	const source = "Ito, Modular Design for Machine Tools, 2008, table 6-7, turned into N, mm by hand and rounded to two digits"
	perArea := func(width float64) float64 {
		k, err := guide.Slide{Width: width, Length: 100}.PerArea()
		require.NoError(t, err)
		return k.Typical
	}
	checkRows(t, []sourcedRow{
		{"40 mm wide", source, perArea(40), 163, 0.01},
		{"80 mm wide", source, perArea(80), 98, 0.01},
		{"150 mm wide", source, perArea(150), 44, 0.02},
		{"250 mm wide", source, perArea(250), 31, 0.02},
		{"400 mm wide", source, perArea(400), 24.5, 0.01},
	})
}

func TestSlideProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := guide.Slide{
			Width: rapid.Float64Range(1, 400).Draw(t, "width"), Length: logBetween(t, "length", 1, 1000),
			Facing:  rapid.SampledFrom([]guide.Facing{guide.LevelFace, guide.UprightFace}).Draw(t, "facing"),
			Backing: rapid.SampledFrom([]guide.Backing{guide.Stout, guide.Bending, guide.Gib}).Draw(t, "backing"),
		}
		k, err := s.PerArea()
		require.NoError(t, err)
		require.Positive(t, k.Low)
		require.LessOrEqual(t, k.Low, k.Typical)
		require.LessOrEqual(t, k.Typical, k.High)
		better := []guide.Slide{s, s, s, s}
		better[0].Width /= 2
		better[1].Facing = guide.LevelFace
		better[2].Backing = guide.Stout
		better[3].Pressure = 1
		for _, b := range better {
			stiffer, err := b.PerArea()
			require.NoError(t, err)
			require.GreaterOrEqual(t, stiffer.Typical, k.Typical)
		}
	})
}

// Spread is what many small springs over the face make.
func TestSpreadAgainstSprings(t *testing.T) {
	const n = 400
	const perArea, length, width = 100.0, 120.0, 40.0
	var k, along, across float64
	for i := range n {
		for j := range n {
			x, y := length*((float64(i)+0.5)/n-0.5), width*((float64(j)+0.5)/n-0.5)
			s := perArea * length * width / (n * n)
			k += s
			along += s * x * x
			across += s * y * y
		}
	}
	got := guide.Spread(perArea, length, width)
	const source = "sum over small springs, short of the integral as 1/n²"
	checkRows(t, []sourcedRow{
		{"normal", source, got.Normal, k, 1e-9},
		{"along", source, got.Along, along, 1e-5},
		{"across", source, got.Across, across, 1e-5},
	})
}

func TestSlideRefusesNonsense(t *testing.T) {
	for _, s := range []guide.Slide{
		{}, {Width: 10}, {Width: 401, Length: 1}, {Width: math.NaN(), Length: 1}, {Width: 10, Length: math.Inf(1)}, {Width: 10, Length: 10, Pressure: -1},
	} {
		_, err := s.PerArea()
		require.Error(t, err)
	}
	require.Panics(t, func() { _, _ = guide.Slide{Width: 1, Length: 1, Facing: 7}.PerArea() })
	require.Panics(t, func() { _, _ = guide.Slide{Width: 1, Length: 1, Backing: 7}.PerArea() })
	require.Panics(t, func() { guide.Spread(0, 1, 1) })
	pressure, ok := constant.Lookup(guide.Constants(), "gib_pressure")
	require.True(t, ok)
	require.Less(t, pressure.Band.High, 0.3, "a snug gib stays below the knee")
}
