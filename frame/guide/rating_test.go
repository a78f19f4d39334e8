package guide_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/constant"
	"tiploop/frame/guide"
)

func rating(t testing.TB, key string) guide.Rating {
	c, ok := guide.LookupCarriage(key)
	if !ok {
		t.Fatalf("no carriage %s", key)
	}
	_, typical, _ := c.Ratings()
	return typical
}

func TestLife(t *testing.T) {
	r := guide.Rating{Dynamic: 10e3, Static: 20e3, Roll: 1, Pitch: 1, Yaw: 1, Pull: 1, Side: 1}
	km, err := r.LifeKm(1000)
	require.NoError(t, err)
	safety, err := r.StaticSafety(1000)
	require.NoError(t, err)
	same := guide.Rating{Dynamic: guide.From100Km(10e3), Static: 1, Pitch: 1, Yaw: 1, Pull: 1, Side: 1}
	longer, err := same.LifeKm(1000)
	require.NoError(t, err)
	checkRows(t, []sourcedRow{
		{"a tenth of C", "ISO 14728-1, L = (C/P)³ · 50 km (from memory), by hand", km, 50e3, roundOff},
		{"C for 100 km", "ISO 14728-1, L = (C/P)³ · 100 km (from memory), by hand", longer, 100e3, roundOff},
		{"C50 over C100", "makers' conversion factor 1.26 (from memory)", guide.From100Km(1), 1.26, 1e-3},
		{"static safety", "ISO 14728-2, C0/P0 (from memory), by hand", safety, 20, roundOff},
		{"without load, the preload", "both rows carry it", guide.WithPreload(0, 300), 300, roundOff},
		{"at half of 2√2 preloads", "makers' formula (1 + 1/2)^(3/2) (from memory), by hand",
			guide.WithPreload(100*math.Sqrt2, 100), 183.711731, 1e-8},
		{"at 2.8 preloads", "linear-guide maker's page on rigidity: preload gone at 2.8 times",
			guide.WithPreload(2.8*300, 300), 2.8 * 300, 0.01},
	})
	for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1), 5001} {
		_, err := r.LifeKm(bad)
		require.Error(t, err, bad)
	}
	_, err = r.LifeKm(1e-300)
	require.ErrorContains(t, err, "life")
	_, err = r.StaticSafety(0)
	require.Error(t, err)
	_, err = guide.Rating{}.LifeKm(1)
	require.Error(t, err)
}

func TestRatingsOfEverySize(t *testing.T) {
	for _, c := range guide.Carriages() {
		low, typical, high := c.Ratings()
		for _, r := range []guide.Rating{low, typical, high} {
			require.NoError(t, r.Check())
			require.Equal(t, c.Kind == guide.OpenBush, r.Roll == 0)
			p, err := r.Equivalent(guide.Load{Vertical: -100})
			require.NoError(t, err)
			require.InEpsilon(t, 100, p, roundOff, "press alone is itself")
		}
		number := func(key string, l constant.Level) float64 {
			e, ok := constant.Lookup(guide.Constants(), key)
			require.True(t, ok, key)
			return e.Band.At(l)
		}
		for l, r := range map[constant.Level]guide.Rating{constant.Low: low, constant.Typical: typical,
			constant.High: high} {
			roll, pitch, yaw := guide.Rows{
				Length: c.Body * number("loaded_share", l), Lever: c.Rail.Width * number("row_lever", l),
			}.StaticMoments(c.Static.At(l))
			want := guide.Rating{Dynamic: c.Dynamic.At(l), Static: c.Static.At(l), Roll: roll, Pitch: pitch, Yaw: yaw,
				Pull: 1, Side: 1}
			if c.Kind == guide.OpenBush {
				want.Roll, want.Pull, want.Side = 0, number("round_rating_pull", l), number("round_rating_side", l)
			}
			require.Equal(t, want, r, "%s %v", c.Key, l)
		}
		require.Less(t, low.Dynamic, typical.Dynamic)
		require.Less(t, typical.Dynamic, high.Dynamic)
	}
}

func TestEquivalent(t *testing.T) {
	r := rating(t, "profile-20")
	at := func(r guide.Rating, f guide.Load) float64 {
		p, err := r.Equivalent(f)
		require.NoError(t, err)
		return p
	}
	bush := rating(t, "round-16")
	checkRows(t, []sourcedRow{
		{"static pitch moment alone", "by definition the moment that uses up C0", at(r, guide.Load{Pitch: r.Pitch}),
			r.Static, roundOff},
		{"static roll moment alone", "by definition", at(r, guide.Load{Roll: -r.Roll}), r.Static, roundOff},
		{"force down and sideways", "makers' sum for four equal rows (from memory)",
			at(r, guide.Load{Vertical: -300, Side: 400}), 700, roundOff},
		{"all three moments", "makers' sum: each its share of C0 (from memory)",
			at(r, guide.Load{Roll: r.Roll / 2, Pitch: -r.Pitch / 4, Yaw: r.Yaw / 8}), 0.875 * r.Static, roundOff},
		{"force and moment", "makers' sum (from memory)", at(r, guide.Load{Vertical: 100, Yaw: -r.Yaw / 2}),
			100 + r.Static/2, roundOff},
		{"a bush pressed sideways", "0.8 of the rating, bush makers' direction diagrams (from memory)",
			at(bush, guide.Load{Side: -80}), 100, roundOff},
		{"a bush pulled off its rail", "half the rating, bush makers' direction diagrams (from memory)",
			at(bush, guide.Load{Vertical: 100}), 200, roundOff},
	})
	_, err := bush.Equivalent(guide.Load{Roll: 1})
	require.ErrorContains(t, err, "turns freely")
	_, err = r.Equivalent(guide.Load{Side: math.NaN()})
	require.Error(t, err)
	_, err = guide.Rating{}.Equivalent(guide.Load{})
	require.Error(t, err)
	require.Panics(t, func() { guide.WithPreload(-1, 1) })
	require.Panics(t, func() { guide.From100Km(0) })
}

func TestEquivalentProperties(t *testing.T) {
	for _, key := range []string{"profile-15", "round-20"} {
		r := rating(t, key)
		rapid.Check(t, func(t *rapid.T) {
			n := rapid.Float64Range(-1e4, 1e4)
			f := guide.Load{Vertical: n.Draw(t, "vertical"), Side: n.Draw(t, "side"), Pitch: n.Draw(t, "pitch"),
				Yaw: n.Draw(t, "yaw")}
			p, err := r.Equivalent(f)
			require.NoError(t, err)
			mirrored, err := r.Equivalent(guide.Load{Vertical: f.Vertical, Side: -f.Side, Pitch: -f.Pitch, Yaw: -f.Yaw})
			require.NoError(t, err)
			require.Equal(t, p, mirrored, "left is as right")
			twice, err := r.Equivalent(guide.Load{Vertical: 2 * f.Vertical, Side: 2 * f.Side, Pitch: 2 * f.Pitch,
				Yaw: 2 * f.Yaw})
			require.NoError(t, err)
			require.InDelta(t, 2*p, twice, roundOff*(1+p))
			require.GreaterOrEqual(t, p*(1+roundOff), math.Hypot(f.Vertical, f.Side),
				"never less than the force itself")
		})
	}
}

func TestWithPreloadProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		preload, load := logBetween(t, "preload", 1, 1e4), logBetween(t, "load", 0.1, 1e5)
		p := guide.WithPreload(load, preload)
		require.GreaterOrEqual(t, p*(1+roundOff), load)
		require.GreaterOrEqual(t, p, preload)
		require.GreaterOrEqual(t, guide.WithPreload(load*1.01, preload), p*(1-roundOff), "grows with the load")
	})
}
