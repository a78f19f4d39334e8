package drive_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/constant"
	"tiploop/frame/drive"
	"tiploop/testdata/checks"
)

func TestBeltAgainstTrade(t *testing.T) {
	specific := func(pitch, width float64, cord drive.Cord) constant.Band {
		b, err := drive.Belt{Pitch: pitch, Width: width, Cord: cord}.Specific()
		require.NoError(t, err)
		return b
	}
	const source = "order of belt makers' data (from memory): N per unit strain at the widths that are common"
	checkRows(t, []sourcedRow{
		{"2 mm, 6 wide, low", source, specific(2, 6, drive.GlassCord).Low, 15e3, roundOff},
		{"2 mm, 6 wide, high", source, specific(2, 6, drive.GlassCord).High, 40e3, roundOff},
		{"3 mm, 9 wide, low", source, specific(3, 9, drive.GlassCord).Low, 50e3, roundOff},
		{"3 mm, 9 wide, high", source, specific(3, 9, drive.GlassCord).High, 120e3, roundOff},
		{"5 mm, 15 wide, high", source, specific(5, 15, drive.GlassCord).High, 300e3, roundOff},
		{"steel cord", source, specific(5, 15, drive.SteelCord).High, 1200e3, roundOff},
	})
	_, err := drive.Belt{Pitch: 4, Width: 6}.Specific()
	require.ErrorContains(t, err, "4 mm pitch")
	_, err = drive.Belt{Pitch: 2}.Specific()
	require.Error(t, err)
	require.Panics(t, func() { _, _ = drive.Belt{Pitch: 2, Width: 6, Cord: 5}.Specific() })
	require.Panics(t, func() { _ = drive.Cord(5).String() })
	require.Equal(t, "glass steel", drive.GlassCord.String()+" "+drive.SteelCord.String())
	for _, p := range drive.Pitches() {
		require.Positive(t, specific(p, 1, drive.GlassCord).Low)
	}
}

// The trade's example: 3 mm belt 9 wide, spans of 80 mm, radius 10 mm, teeth left out, 200 N·m/rad.
func TestReductionAgainstExample(t *testing.T) {
	r := drive.Reduction{Belt: drive.Belt{Pitch: 3, Width: 9}, Driver: 21, Driven: 21, Centres: 80}
	require.NoError(t, r.Check())
	k, err := r.AtDriven()
	require.NoError(t, err)
	first, second := r.InMesh()
	mesh := r.Belt.Mesh(first).Typical
	radius := r.Belt.PitchRadius(21)
	spansAlone := radius * radius / (radius*radius/k.Typical - 2/mesh)
	checkRows(t, []sourcedRow{
		{"both spans", "r² · 2 c/L = 200 N·m/rad at r 10 mm, by hand; 21 teeth have 10.03 mm", spansAlone, 200e3, 0.01},
		{"span of equal pulleys", "as long as the pulleys are apart", r.Span(), 80, roundOff},
		{"mesh of equal pulleys", "half the teeth", first, 10.5, roundOff},
		{"the other", "half the teeth", second, 10.5, roundOff},
		{"pitch radius", "circumference of 21 · 3 mm", radius, 63 / (2 * math.Pi), roundOff},
		{"motor through 1 : 2", "K i²", drive.Reduction{Belt: r.Belt, Driver: 20, Driven: 40,
			Centres: 80}.AtDrivenOfMotor(100), 400, roundOff},
	})
}

// A belt of 3 mm, 9 wide, from 20 to 40 teeth over 100 mm, by trigonometry of the crossing at the smaller pulley.
func TestReductionByTrigonometry(t *testing.T) {
	r := drive.Reduction{Belt: drive.Belt{Pitch: 3, Width: 9}, Driver: 20, Driven: 40, Centres: 100}
	small, large := 60/(2*math.Pi), 120/(2*math.Pi)
	lean := math.Asin((large - small) / 100)
	span := 100 * math.Cos(lean)
	first, second := r.InMesh()
	k, err := r.AtDriven()
	require.NoError(t, err)
	const (
		wrap  = "angle of wrap π ∓ 2β over that of a tooth"
		chain = "spans 80 kN/9 mm side by side, eight teeth of 40 N/(mm mm) each in a row (belt makers' orders, from " +
			"memory)"
	)
	mesh := 40. * 9 * 8
	checkRows(t, []sourcedRow{
		{"span", "side of a right-angled triangle", r.Span(), span, roundOff},
		{"on the driver", wrap, first, (math.Pi - 2*lean) * small / 3, roundOff},
		{"on the driven", wrap, second, (math.Pi + 2*lean) * large / 3, roundOff},
		{"ratio", "40 to 20", r.Ratio(), 2, roundOff},
		{"at the driven shaft", chain, k.Typical, large * large / (span/(2*80e3) + 2/mesh), roundOff},
	})
	few := r.Belt.Mesh(3)
	checkRows(t, []sourcedRow{
		{"three teeth carry as three", "40 N/(mm mm) by 9 mm", few.Typical, 40 * 9 * 3, roundOff},
		{"many as twelve at most", "belt makers' limits (from memory), 80 N/(mm mm)", r.Belt.Mesh(30).High, 80 * 9 * 12,
			roundOff},
		{"many as six at least", "belt makers' limits (from memory), 20 N/(mm mm)", r.Belt.Mesh(30).Low, 20 * 9 * 6,
			roundOff},
	})
	touching := r
	touching.Centres = r.Belt.PitchRadius(60)
	require.NoError(t, touching.Check(), "pulleys may touch")
}

// Span and wrap of unequal pulleys against a belt laid out by trigonometry: its length is the sum of
// spans and arcs, which the usual approximation gives too.
func TestReductionGeometry(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drive.Reduction{
			Belt: drive.Belt{Pitch: rapid.SampledFrom(drive.Pitches()).Draw(t, "pitch"),
				Width: logBetween(t, "width", 4, 30)},
			Driver: rapid.IntRange(10, 40).Draw(t, "driver"), Driven: rapid.IntRange(10, 80).Draw(t, "driven"),
		}
		r1, r2 := r.Belt.PitchRadius(float64(r.Driver)), r.Belt.PitchRadius(float64(r.Driven))
		r.Centres = (r1 + r2) * rapid.Float64Range(2, 10).Draw(t, "apart")
		a, b := r.InMesh()
		length := 2*r.Span() + r.Belt.Pitch*(a+b)
		// 2C + π(r1+r2) + (r2-r1)²/C, the belt makers' approximation, good to the fourth power of (r2-r1)/C.
		q := (r2 - r1) / r.Centres
		approx := 2*r.Centres + math.Pi*(r1+r2) + q*q*r.Centres
		require.InDelta(t, approx, length, r.Centres*q*q*q*q/5+1e-9*length)
		require.InDelta(t, float64(r.Driver+r.Driven)/2,
			(a/float64(r.Driver)+b/float64(r.Driven))*float64(r.Driver+r.Driven)/2,
			1e-9*float64(r.Driver+r.Driven), "both arcs make a full turn")
		k, err := r.AtDriven()
		require.NoError(t, err)
		require.Less(t, k.Low, k.Typical)
		require.Less(t, k.Typical, k.High)
		wider := r
		wider.Belt.Width *= 2
		k2, err := wider.AtDriven()
		require.NoError(t, err)
		require.InEpsilon(t, 2*k.Typical, k2.Typical, 1e-9)
	})
}

func TestBeltAxis(t *testing.T) {
	belt := drive.Belt{Pitch: 3, Width: 9}
	many := 1 << 20 // teeth: a mesh counts no more than belt_teeth_carrying of them
	closed := drive.BeltAxis{Belt: belt, Path: drive.ClosedPath, Length: 800, Teeth: many}
	open := drive.BeltAxis{Belt: belt, Path: drive.OpenPath, Length: 800, Teeth: many}
	alone := func(a drive.BeltAxis, at float64) float64 {
		k, err := a.Stiffness(at)
		require.NoError(t, err)
		return 1 / (1/k.Typical - 1/belt.Mesh(float64(many)).Typical)
	}
	c, err := belt.Specific()
	require.NoError(t, err)
	const source = "two spans side by side, c/L each, elementary"
	checkRows(t, []sourcedRow{
		{"closed", source, alone(closed, 200), c.Typical * (1.0/200 + 1.0/1400), 1e-9},
		{"open", source, alone(open, 200), c.Typical * (1.0/200 + 1.0/600), 1e-9},
	})
	// Ten teeth on a motor of 20 N·m/rad: half of them in mesh, the radius 30 mm/2π.
	turned := drive.BeltAxis{Belt: belt, Path: drive.ClosedPath, Length: 800, Teeth: 10, Motor: 20e3}
	k, err := turned.Stiffness(200)
	require.NoError(t, err)
	radius := 30 / (2 * math.Pi)
	spans := 80e3/200 + 80e3/1400.
	checkRows(t, []sourcedRow{
		{"behind a motor", "spans, five teeth of 40 N/(mm mm) and K/r² in a row, by hand", k.Typical,
			1 / (1/spans + 1/(40.*9*5) + radius*radius/20e3), roundOff},
	})
}

func TestBeltAxisProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := drive.BeltAxis{
			Belt: drive.Belt{Pitch: rapid.SampledFrom(drive.Pitches()).Draw(t, "pitch"),
				Width: logBetween(t, "width", 4, 30)},
			Path:   drive.OpenPath,
			Length: logBetween(t, "length", 50, 3000), Teeth: rapid.IntRange(12, 40).Draw(t, "teeth"),
		}
		at := a.Length * rapid.Float64Range(0.02, 0.98).Draw(t, "share")
		k, err := a.Stiffness(at)
		require.NoError(t, err)
		mirrored, err := a.Stiffness(a.Length - at)
		require.NoError(t, err)
		if e := checks.Rel(mirrored.Typical, k.Typical); !(e <= 1e-9) {
			t.Fatalf("an open belt has no first end: off by %g", e)
		}
		middle, err := a.Stiffness(a.Length / 2)
		require.NoError(t, err)
		require.LessOrEqual(t, middle.Typical, k.Typical*(1+roundOff), "softest in the middle")
		held := a
		held.Motor = logBetween(t, "motor", 1e3, 1e6)
		softer, err := held.Stiffness(at)
		require.NoError(t, err)
		require.Less(t, softer.Typical, k.Typical)
		require.LessOrEqual(t, softer.Low, softer.Typical)
		require.LessOrEqual(t, softer.Typical, softer.High)
		closed := a
		closed.Path = drive.ClosedPath
		round, err := closed.Stiffness(at)
		require.NoError(t, err)
		require.LessOrEqual(t, round.Typical, k.Typical, "the way round is longer")
	})
}

func TestBeltRefusesNonsense(t *testing.T) {
	belt := drive.Belt{Pitch: 2, Width: 6}
	for _, r := range []drive.Reduction{
		{}, {Belt: belt}, {Belt: belt, Driver: 20, Driven: 20}, {Belt: belt, Driver: 20, Driven: 20, Centres: 12},
		{Belt: belt, Driver: -20, Driven: 60, Centres: 100},
	} {
		_, err := r.AtDriven()
		require.Error(t, err)
		require.Panics(t, func() { r.AtDrivenOfMotor(1) })
	}
	for _, a := range []drive.BeltAxis{{}, {Belt: belt, Length: 100}, {Belt: belt, Teeth: 20},
		{Belt: belt, Teeth: 20, Length: 100, Motor: -1}} {
		_, err := a.Stiffness(50)
		require.Error(t, err)
	}
	// A sprocket of one tooth is none that is sold, but one that turns; none is nothing.
	require.NoError(t, drive.BeltAxis{Belt: belt, Teeth: 1, Length: 100}.Check())
	require.NoError(t, drive.Reduction{Belt: belt, Driver: 1, Driven: 1, Centres: 100}.Check())
	for _, r := range []drive.Reduction{
		{Belt: belt, Driver: 0, Driven: 20, Centres: 100}, {Belt: belt, Driver: 20, Driven: 0, Centres: 100},
	} {
		require.Error(t, r.Check())
	}
	good := drive.BeltAxis{Belt: belt, Teeth: 20, Length: 100}
	for _, at := range []float64{0, 100, math.NaN()} {
		_, err := good.Stiffness(at)
		require.Error(t, err)
	}
	good.Path = 5
	require.Panics(t, func() { _ = good.Check() })
	require.Panics(t, func() { belt.Mesh(0) })
	require.Panics(t, func() { belt.PitchRadius(0) })
}
