package chance_test

import (
	"flag"
	"math"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"tiploop/frame/chance"
	"tiploop/frame/constant"
	"tiploop/testdata/checks"
)

// The bounds that the tests keep are rewritten with -update; testdata/checks reads the flag.
var _ = flag.Bool("update", false, "rewrite the worst errors of the checks")

func TestMain(m *testing.M) { os.Exit(checks.Main(m.Run, "chance")) }

// Sampled points of a check are held to their own error, the share at which drawing stops.
const (
	many    = 4096
	sampled = 0.03
)

// between is an unknown with the median that its ends have.
func between(low, high float64) chance.Unknown {
	return chance.Unknown{Key: "it", Band: constant.Between(low, math.Sqrt(low*high), high)}
}

// drawn is an answer over the draws of some unknowns.
func drawn(unknowns []chance.Unknown, n int, answer func(v []float64) float64) []float64 {
	draws := chance.Draw(len(unknowns), n)
	out, v := make([]float64, n), make([]float64, len(unknowns))
	for i := range out {
		for k, u := range unknowns {
			v[k] = u.At(draws.Normal(i, k))
		}
		out[i] = answer(v)
	}
	return out
}

func requireRange(t *testing.T, c checks.Case, key string, got chance.Range, rel float64) {
	t.Helper()
	want := c.WantList(t, key)
	for k, v := range []float64{got.Low, got.Median, got.High} {
		c.NearTo(t, key, v, want[k], rel)
	}
}

func series(v []float64) float64 {
	sum := 0.0
	for _, k := range v {
		sum += 1 / k
	}
	return 1 / sum
}

func TestChecks(t *testing.T) {
	checks.RunKind(t, "range", map[string]func(t *testing.T, c checks.Case){
		"range-log-normal":      logNormal,
		"range-product-and-sum": productAndSum,
		"range-series-springs":  seriesSprings,
		"range-shares-ishigami": ishigami,
		"range-shares-g":        productFunction,
		"range-a-beats-b":       aBeatsB,
		"range-coverage":        coverage,
		"range-weakest-screw":   weakestScrew,
	})
}

func logNormal(t *testing.T, c checks.Case) {
	u := between(c.In(t, "low_5_percent"), c.In(t, "high_95_percent"))
	c.Near(t, "median", u.At(0), c.Tolerance)
	c.Near(t, "sigma_of_log", math.Log(u.Factor(1)), c.Tolerance)
	for k, p := range []float64{0.25, 0.75} {
		c.NearTo(t, "quartiles", u.At(chance.Normal(p)), c.WantList(t, "quartiles")[k], c.Tolerance)
	}
	uneven := chance.Unknown{Key: "uneven", Band: constant.Between(c.In(t, "uneven_low_5_percent"),
		c.In(t, "uneven_typical"), c.In(t, "uneven_high_95_percent"))}
	// Moments by the midpoint rule over the normal's own probability, and by drawing.
	for _, v := range []struct {
		mean, deviation string
		u               chance.Unknown
	}{{"mean", "standard_deviation", u}, {"uneven_mean", "uneven_standard_deviation", uneven}} {
		const n = 200_000
		sum, squares := 0.0, 0.0
		for i := range n {
			x := v.u.At(chance.Normal((float64(i) + 0.5) / n))
			sum, squares = sum+x/n, squares+x*x/n
		}
		c.Near(t, v.mean, sum, 1e-5)
		c.Near(t, v.deviation, math.Sqrt(squares-sum*sum), 1e-4)
		mean := stat.Mean(drawn([]chance.Unknown{v.u}, many, func(x []float64) float64 { return x[0] }), nil)
		require.InEpsilon(t, c.Want(t, v.mean), mean, 0.005)
	}
}

func productAndSum(t *testing.T, c checks.Case) {
	a, b := c.Ins(t, "first_5_and_95_percent"), c.Ins(t, "second_5_and_95_percent")
	both := []chance.Unknown{between(a[0], a[1]), between(b[0], b[1])}
	requireRange(t, c, "product_points", chance.RangeOf(drawn(both, many, func(v []float64) float64 {
		return v[0] * v[1]
	})), sampled)
	sum := drawn(both, many, func(v []float64) float64 { return v[0] + v[1] })
	requireRange(t, c, "sum_points", chance.RangeOf(sum), sampled)
	c.Near(t, "sum_mean", stat.Mean(sum, nil), sampled)
	require.Less(t, chance.Settled(sum), sampled)
}

func seriesSprings(t *testing.T, c checks.Case) {
	low, high := c.Ins(t, "stiffness_5_percent_N_per_um"), c.Ins(t, "stiffness_95_percent_N_per_um")
	var springs []chance.Unknown
	var medians []float64
	for k := range low {
		springs = append(springs, between(low[k], high[k]))
		medians = append(medians, springs[k].At(0))
	}
	requireRange(t, c, "independent_points_N_per_um", chance.RangeOf(drawn(springs, many, series)), sampled)
	draws := chance.Draw(1, many)
	one := make([]float64, many)
	for i := range one {
		v := make([]float64, len(springs))
		for k, s := range springs {
			v[k] = s.At(draws.Normal(i, 0))
		}
		one[i] = series(v)
	}
	requireRange(t, c, "same_draw_points_N_per_um", chance.RangeOf(one), sampled)
	c.Near(t, "all_at_median_N_per_um", series(medians), c.Tolerance)
}

// requireShares holds shares to what 4096 draws leave open, as a share of the whole.
func requireShares(t *testing.T, c checks.Case, got []chance.Culprit) {
	const open = 0.02
	first, total := c.WantList(t, "first_order"), c.WantList(t, "total")
	for k, g := range got {
		require.InDelta(t, first[k], g.First, open, "first order of %d", k)
		require.InDelta(t, total[k], g.Total, open, "total of %d", k)
	}
}

func ishigami(t *testing.T, c checks.Case) {
	a, b := c.In(t, "a"), c.In(t, "b")
	from, to := c.In(t, "each_uniform_from"), c.In(t, "each_uniform_to")
	requireShares(t, c, chance.Culprits(3, many, func(unit []float64) float64 {
		var x [3]float64
		for k := range x {
			x[k] = from + (to-from)*unit[k]
		}
		return math.Sin(x[0]) + a*math.Pow(math.Sin(x[1]), 2) + b*math.Pow(x[2], 4)*math.Sin(x[0])
	}))
}

func productFunction(t *testing.T, c checks.Case) {
	a := c.Ins(t, "a")
	requireShares(t, c, chance.Culprits(len(a), many, func(unit []float64) float64 {
		product := 1.0
		for k, v := range unit {
			product *= (math.Abs(4*v-2) + a[k]) / (1 + a[k])
		}
		return product
	}))
}

func aBeatsB(t *testing.T, c checks.Case) {
	unknown := func(key string) chance.Unknown { v := c.Ins(t, key); return between(v[0], v[1]) }
	shared := unknown("shared_5_and_95_percent_N_per_um")
	ownA, ownB := unknown("own_of_A_5_and_95_percent_N_per_um"), unknown("own_of_B_5_and_95_percent_N_per_um")
	chain := func(k, l int) func(v []float64) float64 {
		return func(v []float64) float64 { return series([]float64{v[k], v[l]}) }
	}
	all := []chance.Unknown{shared, ownA, ownB, shared}
	a := drawn(all, many, chain(0, 1))
	once, apart := chance.Beats(a, drawn(all, many, chain(0, 2))), chance.Beats(a, drawn(all, many, chain(3, 2)))
	c.Near(t, "A_stiffer_shared_drawn_once", once.Greater, 0.01)
	c.Near(t, "A_stiffer_all_drawn_apart", apart.Greater, 0.02)
	requireRange(t, c, "whole_A_over_whole_B_points_5_50_95", *once.Ratio, sampled)
	require.Equal(t, chance.Probably, once.Sureness())
	require.Equal(t, chance.NoDifference, apart.Sureness())
	require.Equal(t, chance.TheSame, chance.Beats(a, slices.Clone(a)).Sureness())
}

// What a count of machines within their ranges says, and what it would be if the ranges were wrong: the bounds that a
// test of coverage has to know.
func coverage(t *testing.T, c checks.Case) {
	n, inside, claimed := c.In(t, "machines"), c.In(t, "truth_inside"), c.In(t, "claimed")
	c.Near(t, "coverage", inside/n, c.Tolerance)
	c.Near(t, "chance_of_so_few_if_claim_true", distuv.Binomial{N: n, P: claimed}.CDF(inside), c.Tolerance)
	ends := c.WantList(t, "coverage_90_percent_interval")
	c.NearTo(t, "low end", distuv.Beta{Alpha: inside, Beta: n - inside + 1}.Quantile(0.05), ends[0], c.Tolerance)
	c.NearTo(t, "high end", distuv.Beta{Alpha: inside + 1, Beta: n - inside}.Quantile(0.95), ends[1], c.Tolerance)
	// The same by drawing truths and asking whether the range of an unknown holds them.
	sigma := c.In(t, "claimed_sigma_of_log")
	const z95 = 1.6448536269514722
	r := chance.RangeOf(drawn([]chance.Unknown{between(math.Exp(-z95*sigma), math.Exp(z95*sigma))}, many,
		func(v []float64) float64 { return v[0] }))
	covered := func(median, spread float64) float64 {
		count := 0
		draws := chance.Draw(1, many)
		for i := range many {
			if x := math.Exp(median + spread*draws.Normal(i, 0)); r.Low <= x && x <= r.High {
				count++
			}
		}
		return float64(count) / many
	}
	c.Near(t, "coverage_if_spread_too_small", covered(0, sigma*c.In(t, "true_sigma_over_claimed")), 0.01)
	c.Near(t, "coverage_if_median_off", covered(c.In(t, "true_median_high_by_log"), sigma), 0.01)
	require.InDelta(t, claimed, covered(0, sigma), 0.002)
}

func weakestScrew(t *testing.T, c checks.Case) {
	low := c.In(t, "preload_over_meant_5_percent")
	var screws []chance.Unknown
	for range int(c.In(t, "screws")) {
		screws = append(screws, between(low, c.In(t, "preload_over_meant_95_percent")))
	}
	weakest := drawn(screws, many, func(v []float64) float64 { return slices.Min(v) })
	requireRange(t, c, "weakest_points_5_50_95", chance.RangeOf(weakest), sampled)
	below := 0.0
	for _, w := range weakest {
		if w < low {
			below += 1.0 / many
		}
	}
	c.Near(t, "chance_that_any_is_below_low", below, 0.05)
	mean := drawn(screws, many, func(v []float64) float64 { return stat.Mean(v, nil) })
	c.Near(t, "mean_of_all", stat.Mean(mean, nil), sampled)
	r, want := chance.RangeOf(mean), c.WantList(t, "mean_of_six_points_5_95")
	c.NearTo(t, "mean of six, 5 %", r.Low, want[0], sampled)
	c.NearTo(t, "mean of six, 95 %", r.High, want[1], sampled)
}
