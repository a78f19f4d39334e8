package guide_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/guide"
	"tiploop/testdata/checks"
)

// Life and static safety of a ball carriage, with a preload and without.
func TestChecksOfGuides(t *testing.T) {
	checks.RunKind(t, "guide", map[string]func(t *testing.T, c checks.Case){
		"guide-life-and-safety": func(t *testing.T, c checks.Case) {
			r := guide.Rating{Dynamic: c.In(t, "dynamic_rating_50_km_N"), Static: c.In(t, "static_rating_N"),
				Roll: c.In(t, "static_moment_rating_N_mm"), Pitch: 1, Yaw: 1, Pull: 1, Side: 1}
			cubes, shares := 0.0, c.Ins(t, "share_of_travel")
			for i, load := range c.Ins(t, "load_N") {
				cubes += shares[i] * load * load * load
			}
			life, err := r.LifeKm(math.Cbrt(cubes))
			require.NoError(t, err)
			c.Near(t, "life_km", life, checks.Printed)
			// Of each load the share of its own life that it uses up adds up to the whole (Palmgren and Miner).
			used := 0.0
			for i, load := range c.Ins(t, "load_N") {
				alone, err := r.LifeKm(load)
				require.NoError(t, err)
				used += shares[i] / alone
			}
			c.Near(t, "life_km", 1/used, checks.Printed)
			c.NearTo(t, "dynamic rating", guide.From100Km(c.Want(t, "dynamic_rating_100_km_N")), r.Dynamic, checks.Printed)
			p, err := r.Equivalent(guide.Load{Vertical: -c.In(t, "largest_load_N"), Roll: c.In(t, "moment_with_it_N_mm")})
			require.NoError(t, err)
			c.Near(t, "static_equivalent_load_N", p, checks.Printed)
			safety, err := r.StaticSafety(p)
			require.NoError(t, err)
			c.Near(t, "static_safety", safety, checks.Printed)
		},
		"guide-preloaded-life": func(t *testing.T, c checks.Case) {
			r := guide.Rating{Dynamic: c.In(t, "dynamic_rating_50_km_N"), Static: 1, Pitch: 1, Yaw: 1, Pull: 1, Side: 1}
			rule, exact := c.WantList(t, "loaded_rows_by_rule_N"), c.WantList(t, "loaded_rows_N")
			over, lives := c.WantList(t, "rule_over_exact"), c.WantList(t, "life_by_rule_km")
			for i, load := range c.Ins(t, "load_N") {
				got := guide.WithPreload(load, c.In(t, "preload_N"))
				c.NearTo(t, "loaded rows", got, rule[i], checks.Printed)
				c.NearTo(t, "rule over rows of balls", got/exact[i], over[i], checks.Printed)
				life, err := r.LifeKm(got)
				require.NoError(t, err)
				c.NearTo(t, "life", life, lives[i], checks.Printed)
			}
		},
	})
}
