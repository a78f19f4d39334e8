package solid_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/solid"
)

func TestLinesOfAPlainPart(t *testing.T) {
	require.Equal(t, []float64{0, 20, 40}, solid.Lines([]float64{0, 40}, nil, 2, 20))
	require.Equal(t, []float64{0, 40}, solid.Lines([]float64{40, 0}, nil, 2, 100), "in any order")
	require.Equal(t, []float64{0, 10, 30, 40}, solid.Lines([]float64{0, 10, 30, 40}, nil, 2, 25), "hard lines stay")
	require.Equal(t, []float64{0, 40}, solid.Lines([]float64{0, 1e-5, 40 - 1e-5, 40}, nil, 2, 100),
		"rounding makes no cells, and the ends are the part's")
	require.InDeltaSlice(t, []float64{0, 5, 10, 15, 20}, solid.Lines([]float64{0, 20}, []solid.Want{{0, 20, 5}}, 2, 20),
		1e-12)
}

// Away from a place cells grow by the factor: from 0, where the size is h, lines at h·(rⁿ−1)/ln r.
func TestLinesGrowByTheFactor(t *testing.T) {
	const h, cells = 1.5, 6
	end := h * (math.Pow(2, cells) - 1) / math.Ln2
	lines := solid.Lines([]float64{0, end}, []solid.Want{{0, 0, h}}, 2, 2*end)
	require.Len(t, lines, cells+1)
	for n, x := range lines {
		require.InDelta(t, h*(math.Pow(2, float64(n))-1)/math.Ln2, x, 1e-9)
	}
}

// wish is the cell size wished at a place.
func wish(x float64, wants []solid.Want, growth, largest float64) float64 {
	h := largest
	for _, w := range wants {
		h = math.Min(h, w.Size+math.Log(growth)*math.Max(0, math.Max(w.From-x, x-w.To)))
	}
	return h
}

// Whatever is asked for: lines ascend, hard lines are among them, every cell is as small as is wished somewhere in it,
// each gap has the least number of cells that the wishes allow, and cells in a gap grow by no more than the factor.
func TestLinesKeepWishes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		place := rapid.Float64Range(-20, 120)
		hard := append(rapid.SliceOfN(rapid.Map(rapid.IntRange(1, 99), func(i int) float64 { return float64(i) }), 0,
			4).Draw(t, "hard"), 0, 100)
		growth, largest := rapid.SampledFrom([]float64{1, 1.3, 2}).Draw(t, "growth"), rapid.Float64Range(5, 200).Draw(t,
			"largest")
		var wants []solid.Want
		for range rapid.IntRange(0, 4).Draw(t, "wants") {
			a, b := place.Draw(t, "from"), place.Draw(t, "to")
			wants = append(wants, solid.Want{From: math.Min(a, b), To: math.Max(a, b), Size: rapid.Float64Range(.5, 50).Draw(t,
				"size")})
		}
		lines := solid.Lines(hard, wants, growth, largest)
		require.True(t, slices.IsSorted(lines))
		require.Equal(t, 0., lines[0])
		require.Equal(t, 100., lines[len(lines)-1])
		slices.Sort(hard)
		hard = slices.Compact(hard)
		for _, x := range hard {
			require.Contains(t, lines, x)
		}
		const parts = 400 // of a cell or a gap, to find the largest wish and to count cells
		for i := 1; i < len(lines); i++ {
			cell, most := lines[i]-lines[i-1], 0.
			for k := range parts + 1 {
				most = math.Max(most, wish(lines[i-1]+cell*float64(k)/parts, wants, growth, largest))
			}
			require.LessOrEqual(t, cell, most*(1+1e-6))
			if i > 1 && !slices.Contains(hard, lines[i-1]) {
				last := lines[i-1] - lines[i-2]
				require.LessOrEqual(t, math.Max(cell/last, last/cell), growth*(1+1e-6))
			}
		}
		for i := 1; i < len(hard); i++ {
			from, width, cells := hard[i-1], hard[i]-hard[i-1], 0.
			for k := range 50 * parts {
				cells += width / (50 * parts) / wish(from+width*(float64(k)+.5)/(50*parts), wants, growth, largest)
			}
			got := slices.Index(lines, hard[i]) - slices.Index(lines, hard[i-1])
			require.LessOrEqual(t, float64(got-1), cells+1e-3, "no cell too many")
			require.GreaterOrEqual(t, float64(got), cells-1e-3)
		}
	})
}

func TestLinesRefuse(t *testing.T) {
	for name, f := range map[string]func(){
		"one line":         func() { solid.Lines([]float64{1}, nil, 2, 1) },
		"one place":        func() { solid.Lines([]float64{1, 1}, nil, 2, 1) },
		"shrinking":        func() { solid.Lines([]float64{0, 1}, nil, .5, 1) },
		"no largest":       func() { solid.Lines([]float64{0, 1}, nil, 2, 0) },
		"a want of size 0": func() { solid.Lines([]float64{0, 1}, []solid.Want{{0, 1, 0}}, 2, 1) },
		"a want backwards": func() { solid.Lines([]float64{0, 1}, []solid.Want{{1, 0, 1}}, 2, 1) },
		"not a number":     func() { solid.Lines([]float64{0, math.NaN()}, nil, 2, 1) },
	} {
		require.Panics(t, f, name)
	}
}

// Between two wishes the size grows from both at the slope s = ln 2 up to p = (a + b + s·w)/2 where the cones meet,
// and ∫ dx/h is (ln(p/a) + ln(p/b))/s: so many cells, rounded up, and lines at equal shares of it, x = a·(exp(s·n)
// − 1)/s from the one side and alike from the other (by hand from the linear size).
func TestLinesBetweenTwoWishes(t *testing.T) {
	const a, b, width = 1., 8., 100.
	s := math.Ln2
	p := (a + b + s*width) / 2
	up, down := math.Log(p/a)/s, math.Log(p/b)/s
	n := math.Ceil(up + down)
	require.Equal(t, 8., n)
	want := []float64{0}
	for k := 1.; k < n; k++ {
		share := (up + down) * k / n
		if share <= up {
			want = append(want, a*math.Expm1(s*share)/s)
		} else {
			want = append(want, width-b*math.Expm1(s*(up+down-share))/s)
		}
	}
	want = append(want, width)
	wishes := []solid.Want{{From: 0, To: 0, Size: a}, {From: width, To: width, Size: b}}
	require.InDeltaSlice(t, want, solid.Lines([]float64{0, width}, wishes, 2, 1000), 1e-10)
	// Below a cap the size stays there: with c the cap, (ln(c/a) + ln(c/b))/s + (width of the rest)/c.
	const c = 20.
	rest := width - (c-a)/s - (c-b)/s
	cells := (math.Log(c/a)+math.Log(c/b))/s + rest/c
	lines := solid.Lines([]float64{0, width}, wishes, 2, c)
	require.Len(t, lines, int(math.Ceil(cells))+1)
	require.InDelta(t, a*math.Expm1(s*cells/math.Ceil(cells))/s, lines[1], 1e-10)
}
