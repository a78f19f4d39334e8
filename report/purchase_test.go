package report

import (
	"bytes"
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

func TestVerdict(t *testing.T) {
	first := buy(10, 200, 50, 100)
	for _, tt := range []struct {
		name string
		r    answer.Result
		want string
	}{
		{"identical", buy(10, 200, 50, 100), "no better, no worse, and costs the same"},
		{"within rounding", buy(10.01, 200.1, 50.0001, 100), "no better, no worse, and costs the same"},
		{"as good, cheaper", buy(10, 200, 49, 100), "as good and cheaper; the better buy"},
		{"as good, dearer", buy(10, 200, 50, 122), "no better and dearer; not worth it"},
		{"better, cheaper", buy(11, 210, 49, 100), "better in stiffness and travel and cheaper; the better buy " +
			"in everything"},
		{"better, same cost", buy(11, 200, 50, 100), "better in stiffness at the same mass and drilling; cost " +
			"does not decide"},
		{"worse, dearer", buy(9, 200, 51, 100), "worse in stiffness and dearer; not worth it"},
		{"worse, same cost", buy(10, 150, 50, 100), "worse in travel at the same mass and drilling; cost does not " +
			"decide, so not worth it"},
		{"better, dearer", buy(12, 200, 51, 122), "better in stiffness, 1.00 kg more and 22 drilling operations more"},
		{"worse, cheaper", buy(9, 200, 49.5, 100), "worse in stiffness, 0.500 kg less and no more drilling"},
		{"mixed", buy(9, 240, 51, 101), "better in travel, worse in stiffness, 1.00 kg more and 1 drilling " +
			"operation more"},
		{"lighter, more to drill", buy(11, 200, 49, 122), "better in stiffness, 1.00 kg less and 22 drilling " +
			"operations more"},
		{"as good, lighter, more to drill", buy(10, 200, 49, 122), "1.00 kg less and 22 drilling operations more"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			require.Contains(t, verdict(first, tt.r, measuresOf([]answer.Result{first, tt.r})), tt.want)
		})
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

func TestPurchaseRates(t *testing.T) {
	require.Equal(t, "0.500", ratio(1, 2))
	require.Equal(t, absent, ratio(-1, 2))
	require.Equal(t, absent, ratio(1, 0))
	require.Equal(t, absent, ratio(1, -2))
}

// TestBestBuy: the best buy is that with the most gain for each unit paid, not with the most gain, nor the most of both
// together; what costs nothing of a unit is no buy for it, and of two that are alike within half a percent the first
// counts.
func TestBestBuy(t *testing.T) {
	first := buy(10, 200, 50, 100)
	named := func(name string, r answer.Result) answer.Result { r.Name = name; return r }
	for _, tt := range []struct {
		name    string
		options []answer.Result
		want    []string
	}{
		{"most for each", []answer.Result{named("small", buy(12, 200, 51, 110)),
			named("large", buy(13, 200, 53, 104))}, []string{"Most stiffness for each added kilogram: small, " +
			"2.00 N/µm.", "Most stiffness for each added drilling operation: large, 0.750 N/µm."}},
		{"the later one", []answer.Result{named("large", buy(13, 200, 53, 100)),
			named("small", buy(12, 200, 51, 100))}, []string{"Most stiffness for each added kilogram: small, " +
			"2.00 N/µm."}},
		{"alike", []answer.Result{named("a", buy(12, 200, 51, 100)), named("b", buy(12.009, 200, 51, 100))},
			[]string{"Most stiffness for each added kilogram: a, 2.00 N/µm."}},
		{"more than alike", []answer.Result{named("a", buy(12, 200, 51, 100)), named("b", buy(12.011, 200, 51, 100))},
			[]string{"Most stiffness for each added kilogram: b, 2.01 N/µm."}},
		{"of no mass", []answer.Result{named("free", buy(15, 200, 50, 100)), named("light", buy(15, 200, 49, 100))},
			nil},
		{"no gain", []answer.Result{named("heavy", buy(10, 200, 60, 130)), named("worse", buy(9, 200, 60, 130))}, nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := written(t, func(b *bytes.Buffer) error {
				p := newPage(b)
				p.bestBuy(append([]answer.Result{first}, tt.options...), measures[0])
				return p.Close()
			})
			var lines []string
			for line := range strings.Lines(string(got)) {
				lines = append(lines, strings.TrimPrefix(strings.TrimSpace(line), "- "))
			}
			require.Equal(t, tt.want, lines)
		})
	}
}
