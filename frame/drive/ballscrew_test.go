package drive_test

import (
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/constant"
	"tiploop/frame/drive"
)

// complete fails unless every number of a table row is set and every word is there; fields named in
// zero may be nothing.
func complete(t *testing.T, key string, row any, zero map[string]bool) {
	t.Helper()
	v := reflect.ValueOf(row)
	for i := range v.NumField() {
		name := v.Type().Field(i).Name
		switch x := v.Field(i).Interface().(type) {
		case constant.Band:
			require.True(t, x.Low > 0 || zero[name], "%s %s", key, name)
			require.LessOrEqual(t, x.Low, x.Typical, "%s %s", key, name)
			require.LessOrEqual(t, x.Typical, x.High, "%s %s", key, name)
		case float64:
			require.Positive(t, x, "%s %s", key, name)
		case string:
			require.NotEmpty(t, x, "%s %s", key, name)
		default:
			t.Fatalf("%s: no rule for %s", key, name)
		}
	}
}

func TestBallScrewsComplete(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range drive.BallScrews() {
		require.False(t, seen[s.Key])
		seen[s.Key] = true
		complete(t, s.Key, s, nil)
		require.Equal(t, s.Key, keyOf(s.Diameter, s.Lead), "named by diameter and lead")
		require.Less(t, s.Root.High, s.Diameter)
		require.Less(t, s.Dynamic.Typical, s.Static.Typical)
		got, ok := drive.LookupBallScrew(s.Key)
		require.True(t, ok)
		require.Equal(t, s, got)
	}
	for _, key := range []string{"1204", "1605", "1610", "2005"} {
		require.True(t, seen[key])
	}
	_, ok := drive.LookupBallScrew("1606")
	require.False(t, ok)
}

func keyOf(diameter, lead float64) string {
	two := func(v float64) string { return string(rune('0'+int(v)/10)) + string(rune('0'+int(v)%10)) }
	return two(diameter) + two(lead)
}

func TestNuts(t *testing.T) {
	s, _ := drive.LookupBallScrew("1605")
	const source = "catalogue K of 310 N/µm, in service 0.35, 0.6, 0.9 of it; stiffness grows as the cube root of " +
		"the preload (ball-screw maker's page on rigidity)"
	at := s.NutAt(0.05)
	checkRows(t, []sourcedRow{
		{"low", source, at.Low, 0.35 * 310e3, roundOff},
		{"typical", source, at.Typical, 0.6 * 310e3, roundOff},
		{"high", source, at.High, 0.9 * 310e3, roundOff},
		{"eight times the preload", source, s.NutAt(0.2).Typical, 2 * s.NutAt(0.025).Typical, roundOff},
	})
	fit := func(f drive.NutFit, load float64) constant.Band {
		k, err := s.Nut(f, load)
		require.NoError(t, err)
		return k
	}
	const (
		fits  = "preload of 0.04, 0.05, 0.06 C_a as the table has it, by hand from 0.35, 0.6, 0.9 of 310 N/µm at 0.05"
		loose = "ISO 3408-4 (from memory): one row of balls alone, half of a preload as large as the load; " +
			"C_a 14, 10.5, 8 kN, by hand"
	)
	double, play := fit(drive.DoubleNut, 0), fit(drive.PlayNut, 525)
	checkRows(t, []sourcedRow{
		{"double nut, low", fits, double.Low, 0.35 * 310e3 * math.Cbrt(0.8), roundOff},
		{"double nut", fits, double.Typical, 186e3, roundOff},
		{"double nut, high", fits, double.High, 0.9 * 310e3 * math.Cbrt(1.2), roundOff},
		{"with play, low", loose, play.Low, 0.35 * 310e3 * math.Cbrt(0.75) / 2, roundOff},
		{"with play", loose, play.Typical, 93e3, roundOff},
		{"with play, high", loose, play.High, 0.9 * 310e3 * math.Cbrt(1.3125) / 2, roundOff},
	})
	before := 0.0
	for _, f := range drive.NutFits() {
		k, err := s.Nut(f, 300)
		require.NoError(t, err)
		require.LessOrEqual(t, k.Low, k.Typical)
		require.LessOrEqual(t, k.Typical, k.High)
		require.Greater(t, k.Typical, before, "tighter is stiffer")
		before = k.Typical
		require.Equal(t, f.PreloadShare().High == 0, f.Play().High > 0, "play or preload")
		got, ok := drive.LookupNutFit(f.String())
		require.True(t, ok)
		require.Equal(t, f, got)
	}
	for _, load := range []float64{0, math.NaN(), 5000} {
		_, err := s.Nut(drive.PlayNut, load)
		require.Error(t, err)
	}
	_, ok := drive.LookupNutFit("tight")
	require.False(t, ok)
	// A load of 0.3 C_a on the weakest make of the size is the last that is answered.
	_, err := s.Nut(drive.PlayNut, 0.3*8000)
	require.NoError(t, err)
	_, err = s.Nut(drive.PlayNut, 0.3001*8000)
	require.Error(t, err)
	require.NotPanics(t, func() { s.NutAt(0.3) })
	require.Panics(t, func() { s.NutAt(0) })
	require.Panics(t, func() { s.NutAt(0.31) })
	require.Panics(t, func() { _ = drive.NutFit(-1).String() })
}

func TestScrewLife(t *testing.T) {
	life, err := drive.LifeRevolutions(10e3, 1000)
	require.NoError(t, err)
	safety, err := drive.StaticSafety(19e3, 9500)
	require.NoError(t, err)
	mean, err := drive.MeanLoad(drive.Duty{Force: 1000, Turns: 1}, drive.Duty{Force: -500, Turns: 3})
	require.NoError(t, err)
	s, _ := drive.LookupBallScrew("2005")
	checkRows(t, []sourcedRow{
		{"a tenth of C_a", "ISO 3408-5, (C_a/F_m)³ · 10⁶ (from memory), by hand", life, 1e9, roundOff},
		{"travel", "a thousand million turns of 5 mm, by hand", drive.TravelKm(life, 5), 5000, roundOff},
		{"static safety", "ISO 3408-5, C_0a/F (from memory), by hand", safety, 2, roundOff},
		{"mean load", "cube root of (1000³ + 3·500³)/4, by hand", mean, math.Cbrt(1.375e9 / 4), roundOff},
		{"speed limit", "d·n = 70 000 (from memory), by hand", s.SpeedLimitRPM().Typical, 3500, roundOff},
	})
	none, err := drive.MeanLoad(drive.Duty{Turns: 1})
	require.NoError(t, err)
	require.Zero(t, none)
	_, err = drive.LifeRevolutions(10e3, 0)
	require.Error(t, err)
	_, err = drive.LifeRevolutions(10e3, 1e-200)
	require.Error(t, err)
	_, err = drive.StaticSafety(0, 1)
	require.Error(t, err)
	_, err = drive.MeanLoad()
	require.Error(t, err)
	_, err = drive.MeanLoad(drive.Duty{Force: math.NaN(), Turns: 1})
	require.Error(t, err)
	require.Panics(t, func() { drive.TravelKm(0, 1) })
	require.Panics(t, func() { drive.BallScrew{}.SpeedLimitRPM() })
	require.Less(t, drive.BallEfficiency().High, 1.0)
}

func TestMeanLoadProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := drive.Duty{Force: logBetween(t, "a", 1, 1e5), Turns: logBetween(t, "turns a", 1, 1e6)}
		b := drive.Duty{Force: logBetween(t, "b", 1, 1e5), Turns: logBetween(t, "turns b", 1, 1e6)}
		mean, err := drive.MeanLoad(a, b)
		require.NoError(t, err)
		other, err := drive.MeanLoad(b, a)
		require.NoError(t, err)
		require.InEpsilon(t, mean, other, roundOff)
		require.GreaterOrEqual(t, mean, (a.Force*a.Turns+b.Force*b.Turns)/(a.Turns+b.Turns)*(1-roundOff),
			"no less than the plain mean")
		require.LessOrEqual(t, mean, math.Max(a.Force, b.Force)*(1+roundOff))
	})
}
