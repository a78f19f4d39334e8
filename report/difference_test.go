package report

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
)

// buy is an option with nothing but what is bought and paid. Its numbers are invented.
func buy(softest, within, kg float64, operations int) answer.Result {
	return answer.Result{
		Name: "b", MassKg: kg, Holes: answer.Holes{Operations: operations},
		Tip:    &answer.Tip{StiffnessNPerUm: answer.Stiffness{X: softest, Y: softest, Z: softest, Softest: softest}},
		Travel: []answer.Travel{{Path: "bed", Load: "push", ToleranceUm: 20, WithinMM: &[2]float64{0, within}}},
	}
}

func TestRatioInWords(t *testing.T) {
	for _, tt := range []struct {
		a, b float64
		want string
	}{
		{10, 8.8, "12.0 % softer"}, {10, 11, "10.0 % stiffer"}, {10, 19.9, "99.0 % stiffer"},
		{10, 20, "2.0 times as stiff"}, {10, 23.4, "2.3 times as stiff"}, {1, 123, "123 times as stiff"},
		{10, 5, "50.0 % softer"}, {2.09, 0.911, "less than half as stiff"}, {10, 3.2, "less than a third as stiff"},
		{10, 2.4, "less than a quarter as stiff"}, {10, 0.5, "less than a tenth as stiff"},
		{10, 0, "less than a tenth as stiff"},
		{0, 1, "stiffer than none"},
	} {
		words, coarse := ratioInWords(tt.a, tt.b, "stiffer", "softer", "stiff")
		require.Equal(t, tt.want, words)
		require.Equal(t, strings.Contains(words, " as "), coarse, words)
	}
}

func TestGreatChangesNameTheirValues(t *testing.T) {
	first, r := buy(2.09, 200, 50, 100), buy(2.09, 200, 50, 100)
	r.Tip.StiffnessNPerUm.Z, r.Tip.StiffnessNPerUm.Y = 0.911, 2.4
	c := compared(first, r)
	require.Equal(t, []string{"the tip is less than half as stiff up–down (z): 0.911 against 2.09 N/µm"}, c.costs)
	require.Equal(t, []string{"the tip is 14.8 % stiffer towards/away from you (y)"}, c.gains)
	require.Equal(t, "stiffness of the tip left–right (x) and where it is softest", c.same[0])
	c = compared(first, buy(4.8, 200, 50, 100))
	require.Equal(t, []string{"the tip is 2.3 times as stiff in every direction: 4.80 against 2.09 N/µm where " +
		"it is softest"}, c.gains)
	for i, um := range []float64{3, 7} {
		o := []*answer.Result{&first, &r}[i]
		o.Loads = []answer.LoadResult{{Name: "press", PointsUm: map[string][3]float64{"tip": {0, 0, um}}}}
	}
	require.Contains(t, compared(first, r).costs, "point tip moves 2.3 times as far under “press”: 7.00 against 3.00 µm")
}
