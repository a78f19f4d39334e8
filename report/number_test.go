package report

import (
	"bytes"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestSignificant(t *testing.T) {
	for _, tt := range []struct {
		v    float64
		want string
	}{
		{0, "0"}, {math.Copysign(0, -1), "0"}, {-1e-9, "0"}, {1e-6, "1.00e-6"}, {0.00012345, "0.000123"}, {0.001, "0.00100"},
		{-0.0456, "-0.0456"}, {0.9996, "1.00"}, {1, "1.00"}, {9.996, "10.0"}, {12.345, "12.3"}, {99.96, "100"}, {123.4, "123"},
		{5000, "5000"}, {12345, "12300"}, {-12345, "-12300"}, {9.996e6, "10000000"}, {1.234e8, "1.23e8"},
	} {
		require.Equal(t, tt.want, significant(tt.v), "%g", tt.v)
	}
}

// Three digits are within half a unit of the third: at worst 0.005 of 1.00.
func TestSignificantIsNear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := math.Copysign(math.Pow(10, rapid.Float64Range(-5.9, 12).Draw(t, "power")), rapid.Float64Range(-1, 1).Draw(t, "sign"))
		s := significant(v)
		back, err := strconv.ParseFloat(s, 64)
		require.NoError(t, err)
		if e := math.Abs(back-v) / math.Abs(v); !(e <= 0.005*(1+1e-9)) {
			t.Fatalf("%g was written %s, off by %g", v, s, e)
		}
	})
}

func TestSmallNumbers(t *testing.T) {
	require.Equal(t, [3]string{"0", "-12.3", "0"}, components([3]float64{1e-5, -12.345, math.Copysign(0, -1)}))
	require.Equal(t, "0", length(-0.001))
	require.Equal(t, "-37.5", length(-37.5))
	require.Equal(t, "120.12", length(120.1234))
	require.Equal(t, "<0.1", percent(0.049))
	require.Equal(t, "0.1", percent(0.05))
	require.Equal(t, "0.0", percent(-0.01))
	require.Equal(t, "33.3", percent(100.0/3))
	require.Equal(t, "0", full(math.Copysign(0, -1)))
	require.Equal(t, "29.87712", full(29.877119999999998))
	require.Equal(t, "20", given(20))
	require.Equal(t, "0.5", given(0.5))
}

func TestCheckFiniteNamesTheValue(t *testing.T) {
	a := sampleAnswer(sampleOption("as drawn", 1, 4, 130))
	require.NoError(t, checkFinite(a))
	a.Options[0].Loads[0].PointsUm["b"] = [3]float64{0, 0, math.NaN()}
	a.Options[0].Loads[0].PointsUm["a"] = [3]float64{0, math.Inf(1), 0}
	require.EqualError(t, checkFinite(a), "report: Options[0].Loads[0].PointsUm[a][1] is +Inf, not a number that can be shown")
}

func TestDirections(t *testing.T) {
	for _, tt := range []struct {
		d         [3]float64
		line, way string
	}{
		{[3]float64{0, 0, -2}, "up–down (z)", "down (−z)"},
		{[3]float64{-3, 0.1, 0}, "left–right (x)", "left (−x)"},
		{[3]float64{0, 1, 1}, "between towards/away from you (y) and up–down (z)", "between away from you (+y) and up (+z)"},
		{[3]float64{1, -2, 0}, "mostly towards/away from you (y), partly left–right (x)", "mostly towards you (−y), partly right (+x)"},
		{[3]float64{1, 1, 1}, "mostly left–right (x), partly towards/away from you (y) and up–down (z)", "mostly right (+x), partly away from you (+y) and up (+z)"},
		{[3]float64{}, "nowhere", "nowhere"},
	} {
		require.Equal(t, tt.line, lineInWords(tt.d), tt.d)
		require.Equal(t, tt.way, wayInWords(tt.d), tt.d)
	}
}

func TestNiceTicks(t *testing.T) {
	labels := func(lo, hi float64) string {
		var s []string
		for _, tick := range niceTicks(lo, hi, 5) {
			s = append(s, tick.label)
		}
		return strings.Join(s, " ")
	}
	require.Equal(t, "0 0.001 0.002 0.003 0.004", labels(0, 0.0045))
	require.Equal(t, "0 1000 2000 3000 4000 5000", labels(0, 5000))
	require.Equal(t, "−100 0 100", labels(-180, 180))
	require.Equal(t, "0 0.2 0.4 0.6 0.8 1.0", labels(0, 1))
}

func TestWriteJSON(t *testing.T) {
	a := sampleAnswer(sampleOption("as drawn", 1, 1, 130))
	a.Options[0].Travel = nil
	a.Options[0].Notes = []string{"a [\n1,\n2] and <b> & µ"}
	golden(t, "answer.json", written(t, func(b *bytes.Buffer) error { return WriteJSON(b, a) }))
	numbers := []float64{math.Copysign(0, -1), -0.5, 1e-7, -1e-7, 1e21, 3}
	require.Equal(t, "[0, -0.5, 1e-7, -1e-7, 1e+21, 3]\n", string(written(t, func(b *bytes.Buffer) error { return WriteJSON(b, numbers) })))
	require.Equal(t, "{\n  \"a\": [0, 0],\n  \"b\": []\n}\n", string(written(t, func(b *bytes.Buffer) error {
		return WriteJSON(b, map[string][]float64{"b": {}, "a": {math.Copysign(0, -1), 0}})
	})))
	require.Equal(t, `"a -0, \"-0\" and [-0]"`+"\n", string(written(t, func(b *bytes.Buffer) error { return WriteJSON(b, `a -0, "-0" and [-0]`) })))
	var b bytes.Buffer
	require.Error(t, WriteJSON(&b, map[string]any{"f": func() {}}))
	require.Empty(t, b.String())
}

func TestAlong(t *testing.T) {
	for mm, want := range map[float64]string{
		-144.27: "-144", 99.96: "100", 87.55: "87.6", 0.04: "0", -0.04: "0", 19.449: "19.4", 107: "107", 231.82: "232", 100.5: "101",
	} {
		require.Equal(t, want, along(mm), mm)
	}
}

func TestExceeds(t *testing.T) {
	require.True(t, exceeds(2, 1))
	require.True(t, exceeds(0, -1))
	require.False(t, exceeds(1, 1+1e-15))
	require.False(t, exceeds(1+1e-15, 1))
	require.False(t, exceeds(0, 0))
}

func TestCautions(t *testing.T) {
	all := cautions()
	require.Len(t, all, 6)
	require.Contains(t, all[0], "not a certified calculation")
	for _, c := range all {
		require.True(t, strings.HasSuffix(c, "."), c)
	}
}
