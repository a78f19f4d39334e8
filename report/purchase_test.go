package report

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/machine"
)

// buy is an option with nothing but what is bought and paid. Its numbers are invented.
func buy(softest, within, kg float64, operations int) machine.Result {
	return machine.Result{
		Name: "b", MassKg: kg, Holes: machine.Holes{Operations: operations},
		Tip:    &machine.Tip{StiffnessNPerUm: machine.Stiffness{X: softest, Y: softest, Z: softest, Softest: softest}},
		Travel: []machine.Travel{{Path: "bed", Load: "push", ToleranceUm: 20, WithinMM: &[2]float64{0, within}}},
	}
}

func TestVerdict(t *testing.T) {
	first := buy(10, 200, 50, 100)
	for _, tt := range []struct {
		name string
		r    machine.Result
		want string
	}{
		{"identical", buy(10, 200, 50, 100), "no better, no worse, and costs the same"},
		{"within rounding", buy(10.01, 200.1, 50.0001, 100), "no better, no worse, and costs the same"},
		{"as good, cheaper", buy(10, 200, 49, 100), "as good and cheaper; the better buy"},
		{"as good, dearer", buy(10, 200, 50, 122), "no better and dearer; not worth it"},
		{"better, cheaper", buy(11, 210, 49, 100), "better in stiffness and travel and cheaper; the better buy in everything"},
		{"better, same cost", buy(11, 200, 50, 100), "better in stiffness at the same mass and drilling; cost does not decide"},
		{"worse, dearer", buy(9, 200, 51, 100), "worse in stiffness and dearer; not worth it"},
		{"worse, same cost", buy(10, 150, 50, 100), "worse in travel at the same mass and drilling; cost does not decide, so not worth it"},
		{"better, dearer", buy(12, 200, 51, 122), "better in stiffness, 1.00 kg more and 22 drilling operations more"},
		{"worse, cheaper", buy(9, 200, 49.5, 100), "worse in stiffness, 0.500 kg less and no more drilling"},
		{"mixed", buy(9, 240, 51, 101), "better in travel, worse in stiffness, 1.00 kg more and 1 drilling operation more"},
		{"lighter, more to drill", buy(11, 200, 49, 122), "better in stiffness, 1.00 kg less and 22 drilling operations more"},
		{"as good, lighter, more to drill", buy(10, 200, 49, 122), "1.00 kg less and 22 drilling operations more"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			require.Contains(t, verdict(first, tt.r, measuresOf([]machine.Result{first, tt.r})), tt.want)
		})
	}
}

func TestRatioInWords(t *testing.T) {
	require.Equal(t, "12.0 % softer", ratioInWords(10, 8.8, "stiffer", "softer", "as stiff"))
	require.Equal(t, "10.0 % stiffer", ratioInWords(10, 11, "stiffer", "softer", "as stiff"))
	require.Equal(t, "3.00 times as stiff", ratioInWords(10, 30, "stiffer", "softer", "as stiff"))
	require.Equal(t, "0.100 times as stiff", ratioInWords(10, 1, "stiffer", "softer", "as stiff"))
	require.Equal(t, "more than none", ratioInWords(0, 1, "more", "less", "as far"))
}

func TestPurchaseRates(t *testing.T) {
	require.Equal(t, "0.500", ratio(1, 2))
	require.Equal(t, absent, ratio(-1, 2))
	require.Equal(t, absent, ratio(1, 0))
	require.Equal(t, absent, ratio(1, -2))
}

func TestLargestKeepsOrder(t *testing.T) {
	var shares []machine.Share
	for i, p := range []float64{5, 40, 1, 30, 2, 20, 2} {
		shares = append(shares, machine.Share{Source: string(rune('a' + i)), Percent: p})
	}
	kept, rest, n := largest(shares, 3)
	require.Equal(t, []machine.Share{shares[1], shares[3], shares[5]}, kept)
	require.Equal(t, 4, n)
	require.InDelta(t, 10, rest, 1e-12)
	kept, _, n = largest(shares, 6)
	require.Len(t, kept, 7)
	require.Zero(t, n)
}
