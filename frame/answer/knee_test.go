package answer

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// line gives n places from 0 to 10 and a function of them.
func line(n int, f func(x float64) float64) (x, y []float64) {
	for i := range n {
		at := 10 * float64(i) / float64(n-1)
		x, y = append(x, at), append(y, f(at))
	}
	return x, y
}

func TestKneeKinds(t *testing.T) {
	for _, tt := range []struct {
		name   string
		f      func(x float64) float64
		kind   KneeKind
		at     float64
		toward string
	}{
		{"a corner", func(x float64) float64 { return math.Min(x, 4) + 0.01*x }, LevelsOff, 4, "more"},
		{"a corner towards less", func(x float64) float64 { return math.Min(10-x, 4) + 0.01*(10-x) }, LevelsOff, 6, "less"},
		{"a straight line", func(x float64) float64 { return 3 + x }, Steady, 0, "more"},
		{"a straight fall", func(x float64) float64 { return 30 - x }, Steady, 0, "less"},
		{"a gentle bend", func(x float64) float64 { return math.Sqrt(20 + x) }, Steady, 0, "more"},
		{"a bend that goes on rising", func(x float64) float64 { return math.Min(x, 5) + 0.6*math.Max(0, x-5) }, Steady, 0,
			"more"},
		// Nine tenths of 5 + 5c are kept at 5 + (4.5c − 0.5)/c: 6 for c = 1/7, where a step gains c of 5 + c over 6.
		{"a bend before nine tenths", func(x float64) float64 { return math.Min(x, 5) + math.Max(0, x-5)/7 }, LevelsOff, 6,
			"more"},
		{"a bend that keeps nine tenths at 9 only, and gains on", func(x float64) float64 {
			return math.Min(x, 5) + 0.495*math.Max(0, x-5)
		}, Steady, 0, "more"},
		{"a parabola", func(x float64) float64 { return x * x }, Rising, 0, "more"},
		{"a corner in 2.5 %", func(x float64) float64 { return 160 + math.Min(x, 4) }, Unmoved, 0, ""},
		{"a corner in 4 %", func(x float64) float64 { return 100 + math.Min(x, 4) }, LevelsOff, 4, "more"},
		{"nothing", func(x float64) float64 { return 5 + 1e-3*x }, Unmoved, 0, ""},
		{"zero", func(float64) float64 { return 0 }, Unmoved, 0, ""},
		{"a hill", func(x float64) float64 { return 20 - (x-3)*(x-3) }, BestInside, 3, ""},
		{"a valley", func(x float64) float64 { return 20 + (x-7)*(x-7) }, WorstInside, 7, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			x, y := line(11, tt.f)
			k := findKnee(x, y)
			require.Equal(t, tt.kind, k.Kind)
			require.Equal(t, tt.toward, k.Toward)
			if tt.at == 0 {
				require.Nil(t, k.At)
				return
			}
			require.NotNil(t, k.At)
			require.InDelta(t, tt.at, *k.At, 1e-9)
		})
	}
	// Nine tenths of 4 are 3.6, which only the last place keeps: nothing is known of what is beyond.
	require.Equal(t, Steady, findKnee([]float64{0, 1, 2, 3, 4}, []float64{0, 2, 3, 3.5, 4}).Kind)
	// Exactly nine tenths are enough.
	require.Equal(t, 3.0, *findKnee([]float64{0, 1, 3, 5, 9}, []float64{0, 5, 9, 9.5, 10}).At)
	require.Equal(t, TooFew, findKnee([]float64{1, 2, 3}, []float64{1, 5, 5.1}).Kind)
	require.Equal(t, TooFew, findKnee(nil, nil).Kind)
}

// TestKneeOfExponential: y = 1 − e^(−x/a) keeps nine tenths of its gain up to X at x = −a·ln(1 − 0.9·(1 − e^(−X/a))).
func TestKneeOfExponential(t *testing.T) {
	const a, end = 2.0, 10.0
	want := -a * math.Log(1-0.9*(1-math.Exp(-end/a)))
	x, y := line(1001, func(x float64) float64 { return 1 - math.Exp(-x/a) })
	k := findKnee(x, y)
	require.Equal(t, LevelsOff, k.Kind)
	require.InDelta(t, want, *k.At, end/1000)
	require.InDelta(t, (1-math.Exp(-*k.At/a))/(*k.At), k.Before, 1e-12)
	require.InDelta(t, (math.Exp(-*k.At/a)-math.Exp(-end/a))/(end-*k.At), k.Beyond, 1e-12)
}

// TestKneeStaysAsTheRangeGrows: the same curve over ranges four times as long keeps its knee, a·ln 10 from the worse
// end, whichever end that is.
func TestKneeStaysAsTheRangeGrows(t *testing.T) {
	const a, step = 2.0, 0.125 // a power of two leaves no rounding
	for _, end := range []float64{20, 40, 80} {
		var x, y, down []float64
		for at := 0.0; at <= end; at += step {
			x, y = append(x, at), append(y, 1-math.Exp(-at/a))
			down = append(down, 1-math.Exp(-(end-at)/a))
		}
		require.InDelta(t, a*math.Log(10), *findKnee(x, y).At, step, end)
		require.InDelta(t, end-a*math.Log(10), *findKnee(x, down).At, step, end)
	}
}

// TestKneeKeepsItsPlace: other units of the value and of the stiffness move no knee, and turning the value round
// mirrors it.
func TestKneeKeepsItsPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(leastPlaces, 30).Draw(t, "n")
		x, y := make([]float64, n), make([]float64, n)
		for i := range x {
			x[i], y[i] = rapid.Float64Range(0.1, 5).Draw(t, "step"), rapid.Float64Range(0, 5).Draw(t, "gain")
			if i > 0 {
				x[i], y[i] = x[i]+x[i-1], y[i]+y[i-1]
			}
		}
		k := findKnee(x, y)
		bx, by := make([]float64, n), make([]float64, n)
		for i := range x {
			bx[n-1-i], by[n-1-i] = -4*x[i], 8*y[i] // powers of two leave no rounding
		}
		turned := findKnee(bx, by)
		require.Equal(t, k.Kind, turned.Kind)
		if k.At != nil {
			require.Contains(t, x, *k.At)
			require.Equal(t, -4**k.At, *turned.At)
			require.LessOrEqual(t, k.Beyond, k.Before)
		}
	})
}
