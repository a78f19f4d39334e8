package svgpath

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// areaOf is what a closed line of corners encloses, without its sign (the shoelace formula).
func areaOf(loop [][2]float64) float64 {
	a := 0.0
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		a += (p[0]*q[1] - q[0]*p[1]) / 2
	}
	return math.Abs(a)
}

// flat reads a path that must be right.
func flat(t require.TestingT, text string, tolerance float64) []Loop {
	path, err := Parse(text)
	require.NoError(t, err, text)
	loops, err := path.Flatten(tolerance, 100_000)
	require.NoError(t, err, text)
	return loops
}

// TestAreas: what paths enclose, by closed forms.
func TestAreas(t *testing.T) {
	for _, tt := range []struct {
		name, source, path string
		want               float64
	}{
		{"square", "width times height", "M 0 0 H 40 V 40 H 0 Z", 1600},
		{"square, closely written", "SVG 2, 9.3.9: a sign or a second point ends a number", "m-.5.5l40-0 0 40-40 0z", 1600},
		{"further places of a move are lines", "SVG 2, 9.3.3", "M0,0 40,0 40,40 0,40z", 1600},
		{"circle of two half arcs", "π·r²", "M -20 0 A 20 20 0 0 1 20 0 A 20 20 0 0 1 -20 0 Z", math.Pi * 400},
		{"turned ellipse", "π·a·b", "M 0 0 a 30 10 27 1 0 20 5 a 30 10 27 0 0 -20 -5 z", math.Pi * 300},
		{"flags without blanks", "SVG 2, 9.3.9", "M0 0a20 20 0 0110 10 20 20 0 01-10-10z", 2 * segmentOf(20, math.Hypot(10, 10))},
		{"radii too small grow", "SVG 2, 9.5.1: to the half circle over the chord", "M -20 0 A 1 1 0 0 1 20 0 Z", math.Pi * 200},
		{"parabola", "Archimedes: 2/3 of the chord times the height, half the control point's", "M 0 0 Q 30 40 60 0 Z", 800},
		{"parabola and its mirror", "the same twice", "M 0 0 Q 30 40 60 0 T 120 0 V 0 H 0 Z", 0},
		{"cubic", "controls square above the ends: ∫y·dx = 18·h·w·∫t²(1 − t)²·dt = 3/5·h·w",
			"M 0 0 C 0 40 60 40 60 0 Z", 0.6 * 40 * 60},
		{"smooth cubic", "the same upside down beside it, which takes it away", "M 0 0 C 0 40 60 40 60 0 S 120 -40 120 0 Z", 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.source)
			loops := flat(t, tt.path, 1e-5)
			require.Len(t, loops, 1)
			require.True(t, loops[0].Closed)
			require.InDelta(t, tt.want, areaOf(loops[0].Corners), 2e-3, tt.source)
		})
	}
}

// segmentOf is the area between a chord and its circle: r²/2·(θ − sin θ).
func segmentOf(r, chord float64) float64 {
	angle := 2 * math.Asin(chord/2/r)
	return r * r / 2 * (angle - math.Sin(angle))
}

// TestTolerance: chords of a circle lie within the tolerance of it, and use it.
func TestTolerance(t *testing.T) {
	for _, tolerance := range []float64{1, 0.1, 0.01, 1e-4} {
		corners := flat(t, "M -20 0 A 20 20 0 1 1 0 20 A 20 20 0 0 1 -20 0 Z", tolerance)[0].Corners
		worst := 0.0
		for i, p := range corners {
			require.InDelta(t, 20, math.Hypot(p[0], p[1]), 1e-9)
			q := corners[(i+1)%len(corners)]
			worst = max(worst, 20-math.Hypot(p[0]+q[0], p[1]+q[1])/2)
		}
		require.LessOrEqual(t, worst, tolerance)
		require.Greater(t, worst, tolerance/5)
	}
}

// TestBezierTolerance: the curve's own places lie within the tolerance of its chords.
func TestBezierTolerance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := make(bezier, rapid.IntRange(3, 4).Draw(t, "points"))
		for i := range b {
			b[i] = point{rapid.Float64Range(-100, 100).Draw(t, "x"), rapid.Float64Range(-100, 100).Draw(t, "y")}
		}
		const tolerance = 0.05
		n := b.chords(tolerance)
		for i := range n {
			from, to := b.at(float64(i)/float64(n)), b.at(float64(i+1)/float64(n))
			for _, s := range []float64{0.25, 0.5, 0.75} {
				p := b.at((float64(i) + s) / float64(n))
				between := point{from[0]*(1-s) + to[0]*s, from[1]*(1-s) + to[1]*s}
				require.LessOrEqual(t, math.Hypot(p[0]-between[0], p[1]-between[1]), tolerance*(1+1e-9))
			}
		}
	})
}

// TestRelative: small letters are the same path from where the pen is; after Z it is where the subpath began.
func TestRelative(t *testing.T) {
	big := flat(t, "M10 10H40V30L20 35C15 30 12 20 10 15zM10 10Q0 0 -5 10T-10 20A5 5 0 0 1 10 10", 0.01)
	small := flat(t, "m10 10h30v20l-20 5c-5-5-8-15-10-20zq-10-10-15 0t-5 10a5 5 0 0 1 20-10", 0.01)
	require.Len(t, big, 2)
	require.Len(t, small, 2)
	for i := range big {
		require.Len(t, small[i].Corners, len(big[i].Corners))
		require.Equal(t, big[i].Closed, small[i].Closed)
		for j, p := range big[i].Corners {
			require.InDeltaSlice(t, p[:], small[i].Corners[j][:], 1e-9)
		}
	}
}

// TestOffsets: each corner knows the command that leads to it.
func TestOffsets(t *testing.T) {
	loops := flat(t, "M0 0 L10 0 V10 z M2 2 3 2 3 3z", 1)
	require.Equal(t, []int{0, 5, 11}, loops[0].Offsets)
	require.Equal(t, []int{17, 17, 17}, loops[1].Offsets)
}

// TestOpen: a line that does not come back is not closed.
func TestOpen(t *testing.T) {
	require.False(t, flat(t, "M0 0 H10 V10", 0.1)[0].Closed)
	require.True(t, flat(t, "M0 0 H10 V10 L0 0", 0.1)[0].Closed)
	require.Empty(t, flat(t, "M0 0 M 3 3", 0.1))
}

func TestParseFaults(t *testing.T) {
	for _, tt := range []struct {
		text   string
		offset int
		what   string
	}{
		{"", 0, "the path is empty"},
		{"  ", 0, "the path is empty"},
		{"H 10", 0, "the path begins with H"},
		{"M 0 0 X 3", 6, `'X' is no command of a path`},
		{"M 0 0 10 mm", 9, `M takes 2 numbers, and 'm' stands behind 1`},
		{"M 0 0 L 10", 10, "L takes 2 numbers, and the path ends behind 1"},
		{"M 0 0 C 1 2 3 4 5 Z", 18, `C takes 6 numbers, and 'Z' stands behind 5`},
		{"M 0 0 A 5 5 0 2 0 3 3", 14, `A takes 7 numbers, and '2' stands behind 3`},
		{"M 0 0 L 1e999 0", 8, "1e999 is too large a number"},
		{"M 0 0 L 1e12 0", 6, "a path to 1e+12 is beyond belief"},
		{"M 0 0 L 1,,2", 10, `L takes 2 numbers, and ',' stands behind 1`},
		{"M 0 0 Z 5", 8, `'5' is no command of a path`},
	} {
		_, err := Parse(tt.text)
		var bad *Error
		require.ErrorAs(t, err, &bad, tt.text)
		require.Equal(t, tt.what, bad.What, tt.text)
		require.Equal(t, tt.offset, bad.Offset, tt.text)
	}
}

// TestFlattenBounds: a curve that takes too many corners is refused before they are made.
func TestFlattenBounds(t *testing.T) {
	path, err := Parse("M 0 0 H 1 C 1e9 1e9 -1e9 1e9 0 1 Z")
	require.NoError(t, err)
	_, err = path.Flatten(1e-6, 200)
	var bad *Error
	require.ErrorAs(t, err, &bad)
	require.Equal(t, 10, bad.Offset)
}

// FuzzParse: any text is a path or a placed fault, and no corner is without a place.
func FuzzParse(f *testing.F) {
	f.Add("M-.5.5l40-0 0 40-40 0zq1 2 3 4t5 6c1 2 3 4 5 6s1 2 3 4a20 10 30 0110 10zh3v4H5V6")
	f.Add("M 0 0 A 1e-160 1 0 1 1 40 0 L 40 20 L 0 20 Z")
	f.Add("M 0 0 A 1e-8 1e3 30 1 0 40 0 Z")
	f.Fuzz(func(t *testing.T, text string) {
		path, err := Parse(text)
		if err != nil {
			var bad *Error
			require.ErrorAs(t, err, &bad)
			require.LessOrEqual(t, bad.Offset, len([]rune(text)))
			return
		}
		size := path.Size()
		require.False(t, math.IsNaN(size) || math.IsInf(size, 1) || size < 0)
		if size == 0 {
			return
		}
		loops, _ := path.Flatten(size/100, 1000)
		for _, l := range loops {
			require.Len(t, l.Offsets, len(l.Corners))
			for _, p := range l.Corners {
				require.False(t, math.IsNaN(p[0]+p[1]) || math.IsInf(p[0]+p[1], 0))
			}
		}
	})
}
