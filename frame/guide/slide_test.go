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
	const source = "Ito, Modular Design for Machine Tools, 2008, table 6-7, turned into N, mm by hand and rounded to " +
		"two digits"
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
		{"50 mm wide, the last of its class", source, perArea(50), 163, 0.01},
	})

	const effects = "Ito, table 6-7: the approach under load, of upright faces and with local bending, over that of " +
		"the table"
	plain, err := guide.Slide{Width: 80, Length: 100}.PerArea()
	require.NoError(t, err)
	over := func(s guide.Slide) (low, typical, high float64) {
		s.Width, s.Length = 80, 100
		k, err := s.PerArea()
		require.NoError(t, err)
		return plain.Low / k.Low, plain.Typical / k.Typical, plain.High / k.High
	}
	loadedLow, loaded, loadedHigh := over(guide.Slide{Pressure: 0.31})
	uprightLow, upright, uprightHigh := over(guide.Slide{Facing: guide.UprightFace})
	bendingLow, bending, bendingHigh := over(guide.Slide{Backing: guide.Bending})
	_, gib, _ := over(guide.Slide{Backing: guide.Gib})
	_, unloaded, _ := over(guide.Slide{Pressure: 0.3})
	checkRows(t, []sourcedRow{
		{"beyond 0.3 MPa", effects + ": 45 % less", loaded, 0.55, 0.02},
		{"beyond 0.3 MPa, least", effects + ": 40 % less", loadedLow, 0.6, 0.01},
		{"beyond 0.3 MPa, most", effects + ": 50 % less", loadedHigh, 0.5, 0.01},
		{"up to 0.3 MPa", effects + ": as it is", unloaded, 1, roundOff},
		{"upright", effects + ": 35 % more", upright, 1.35, 0.01},
		{"upright, most", effects + ": 40 % more", uprightLow, 1.4, 0.01},
		{"upright, least", effects + ": 30 % more", uprightHigh, 1.3, 0.01},
		{"bending", effects + ": 60 % more", bending, 1.6, 0.01},
		{"bending, most", effects + ": 70 % more", bendingLow, 1.7, 0.01},
		{"bending, least", effects + ": 50 % more", bendingHigh, 1.5, 0.01},
		{"behind a gib", "half as stiff, common practice", gib, 2, roundOff},
	})
	narrow, err := guide.Slide{Width: 40, Length: 100}.PerArea()
	require.NoError(t, err)
	const ends = "Ito, table 6-7 (0.5 to 0.7 µm·cm²/kgf up to 50 mm) and p. 225 (0.63 to 1.6, 2.5 to 1 between " +
		"guideways of one " +
		"batch), by hand"
	checkRows(t, []sourcedRow{
		{"40 mm wide, soft", ends, narrow.Low, 98.0665 / 0.7 * 0.63, roundOff},
		{"40 mm wide, stiff", ends, narrow.High, 98.0665 / 0.5 * 1.6, roundOff},
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
		{}, {Width: 10}, {Width: 401, Length: 1}, {Width: math.NaN(), Length: 1}, {Width: 10, Length: math.Inf(1)},
		{Width: 10, Length: 10, Pressure: -1},
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
