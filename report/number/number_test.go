package number

import (
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestSignificant(t *testing.T) {
	for _, tt := range []struct {
		v    float64
		want string
	}{
		{0, "0"}, {math.Copysign(0, -1), "0"}, {-1e-9, "0"}, {1e-6, "1.00e-6"}, {0.00012345, "0.000123"},
		{0.001, "0.00100"},
		{-0.0456, "-0.0456"}, {0.9996, "1.00"}, {1, "1.00"}, {9.996, "10.0"}, {12.345, "12.3"}, {99.96, "100"},
		{123.4, "123"},
		{5000, "5000"}, {12345, "12300"}, {-12345, "-12300"}, {9.994e6, "9990000"}, {9.996e6, "10000000"},
		{1e7, "1.00e7"}, {1.004e7, "1.00e7"}, {1.234e8, "1.23e8"},
	} {
		require.Equal(t, tt.want, Significant(tt.v), "%g", tt.v)
	}
}

// Three digits are within half a unit of the third: at worst 0.005 of 1.00.
func TestSignificantIsNear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := math.Copysign(math.Pow(10, rapid.Float64Range(-5.9, 12).Draw(t, "power")),
			rapid.Float64Range(-1, 1).Draw(t, "sign"))
		s := Significant(v)
		back, err := strconv.ParseFloat(s, 64)
		require.NoError(t, err)
		if e := math.Abs(back-v) / math.Abs(v); !(e <= 0.005*(1+1e-9)) {
			t.Fatalf("%g was written %s, off by %g", v, s, e)
		}
	})
}

func TestSmallNumbers(t *testing.T) {
	require.Equal(t, [3]string{"0", "-12.3", "0"}, Components([3]float64{1e-5, -12.345, math.Copysign(0, -1)}))
	require.Equal(t, [3]string{"1.00", "2.00e-5", "0"}, Components([3]float64{1, 2e-5, 5e-6}))
	require.Equal(t, 3.0, WithoutRounding(3, 3), "only what is smaller than the least is nothing")
	require.Equal(t, 0.0, WithoutRounding(-2.9, 3))
	require.Equal(t, 33.3333333, RoundedPercent(100.0/3))
	require.Equal(t, 0.0, RoundedPercent(9e-8), "a share of a thousand-millionth is what rounding left over")
	require.Equal(t, 2e-7, RoundedPercent(2.04e-7))
	require.Equal(t, "0", Length(-0.001))
	require.Equal(t, "-37.5", Length(-37.5))
	require.Equal(t, "120.12", Length(120.1234))
	require.Equal(t, "<0.1", Percent(0.049))
	require.Equal(t, "0.1", Percent(0.05))
	require.Equal(t, "0.0", Percent(-0.01))
	require.Equal(t, "33.3", Percent(100.0/3))
	require.Equal(t, "0", Full(math.Copysign(0, -1)))
	require.Equal(t, "29.8771", Full(29.877119999999998))
	require.Equal(t, "20", Given(20))
	require.Equal(t, "0.5", Given(0.5))
}

// load is a stand-in for a part of an answer.
type load struct {
	Points map[string][3]float64
	Work   *float64
}

func TestCheckFiniteNamesTheValue(t *testing.T) {
	work := 2.5
	a := struct{ Loads []load }{[]load{{map[string][3]float64{"a": {1}, "b": {2}}, &work}}}
	require.NoError(t, CheckFinite(a))
	a.Loads[0].Points["b"] = [3]float64{0, 0, math.NaN()}
	a.Loads[0].Points["a"] = [3]float64{0, math.Inf(1), 0}
	require.EqualError(t, CheckFinite(a), "report: Loads[0].Points[a][1] is +Inf, not a number that can be shown")
	delete(a.Loads[0].Points, "a")
	delete(a.Loads[0].Points, "b")
	work = math.Inf(-1)
	require.EqualError(t, CheckFinite(a), "report: Loads[0].Work is -Inf, not a number that can be shown")
}

func TestAlong(t *testing.T) {
	for mm, want := range map[float64]string{
		-144.27: "-144", 99.96: "100", 87.55: "87.6", 0.04: "0", -0.04: "0", 19.449: "19.4", 107: "107", 231.82: "232",
		100.5: "101",
	} {
		require.Equal(t, want, Along(mm), mm)
	}
}

func TestExceeds(t *testing.T) {
	require.True(t, Exceeds(2, 1))
	require.True(t, Exceeds(0, -1))
	require.False(t, Exceeds(1, 1+1e-15))
	require.False(t, Exceeds(1+1e-15, 1))
	require.False(t, Exceeds(0, 0))
	require.True(t, Exceeds(1000+2e-6, 1000))
	require.False(t, Exceeds(1000+5e-7, 1000))
	require.False(t, Exceeds(-1000, -1000-5e-7), "the sizes count, not the signs")
}
