package structure

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"tiploop/testdata/models"

	"github.com/stretchr/testify/require"

	"tiploop/frame/machine"
)

// fixedSledge stands on all of its face, its table so thick that it hardly bows between its rails.
var fixedSledge = strings.NewReplacer("to: [60, 60, 68]", "to: [60, 60, 118]", "from: [-30, -30, 68], to: [30, 30, 108]",
	"from: [-30, -30, 118], to: [30, 30, 158]").Replace(
	regexp.MustCompile(`feet: .*N/um`).ReplaceAllString(models.Sledge, "fixed: true"))

// A thin screw that is asked to turn faster than it may whirl, and pushed harder than it may buckle, is warned of with
// the formula and its numbers: 60·λ²/(2π·L²)·√(EI/(ρA)) with λ = 3.9266 and n·π²·E·I/L² with n =
// 2.0457 (Timoshenko & Gere), over the longest free length in the travel.
func TestScrewWarnings(t *testing.T) {
	text := strings.Replace(fixedSledge, "screw: 1605", "screw: Tr8x8", 1)
	text = strings.Replace(text, "travel: [-80, 80]", "travel: [-80, 80]\n    rapid: 5 m/s", 1)
	text += "points: {p: {part: table, at: [0, 0, 60]}}\nloads: {crash: {at: p, force: [20 kN, 0, 0]}, touch: {at: p, " +
		"force: [1, 0, 0]}}\n"
	m := buildText(t, text)
	r, err := m.Solve(TipOnly)
	require.NoError(t, err)
	shaft := m.machine.Axes[0].Drives[0].Screw.Shaft
	const longest = 260.0 // the nut at x = −80, the driven end at 180
	inertia, area := math.Pi*math.Pow(shaft.Root, 4)/64, math.Pi*shaft.Root*shaft.Root/4
	whirl := 60 * 3.9266 * 3.9266 / (2 * math.Pi * longest * longest) *
		math.Sqrt(machine.ScrewE*inertia/(machine.ScrewDensity*area))
	buckling := 2.0457 * math.Pi * math.Pi * machine.ScrewE * inertia / (longest * longest)
	near(t, whirl, *r.Drives[0].WhirlRPM, 1e-4, "whirling")
	near(t, buckling, *r.Drives[0].BucklingN, 1e-4, "buckling")
	require.InEpsilon(t, -20e3, r.Drives[0].ForceN, 1e-6)
	require.InEpsilon(t, -1, r.Drives[1].ForceN, 1e-6)
	notes := strings.Join(r.Notes, "\n")
	require.Contains(t, notes, "axis x: its rapid move of 300 m/min turns the screw at 37500 rpm; over 260 mm it whirls "+
		"at")
	require.Contains(t, notes, "axis x: crash pushes its screw with 20000 N, more than half of the")
}

// By hand, with the typical ratings of a size 15 carriage, C 11.5 and C0 20 kN, and a 1605 screw, C_a 10.5 and C_0a 19
// kN. ISO 14728-1: L10 = 50 km·(C/P)³; -2: C0/P0. ISO 3408-5: L10 = 10⁶ turns·(C_a/F)³, C_0a/F. Where there is
// preload, P is that of the pressed rows, P_pr·(1 + P/(2√2·P_pr))^(3/2), and both sides of a nut wear. A carriage's
// preload is 0.04 C when light, a snug nut's 0.02 C_a.
func TestLivesOfRatings(t *testing.T) {
	const loads = "points: {p: {part: table, at: [0, 0, 48]}}\nloads: {push: {at: p, force: [0, 0, -4000]}, pull: {at: " +
		"p, force: [3 kN, 0, 0]}, nothing: {at: p, force: [0, 0, 0]}}\n"
	plain := strings.ReplaceAll(fixedSledge, "rail: profile-15,", "rail: profile-15, preload: clearance,")
	plain = strings.Replace(plain, "nut: {part: table, at: 0}", "nut: {part: table, at: 0, fit: play}", 1)
	plain = strings.Replace(plain, "travel: [-80, 80]", "travel: [-80, 80]\n    rapid: 50 mm/s", 1)
	for _, c := range []struct {
		text                    string
		carriagePre, nutPre     float64
		carriageLife, screwLife func(p float64) float64 // km
	}{
		{plain + loads, 0, 0,
			func(p float64) float64 { return 50 * math.Pow(11500/p, 3) },
			func(f float64) float64 { return math.Pow(10500/f, 3) * 5 }}, // a million turns of 5 mm are 5 km
		{fixedSledge + loads, 460, 210,
			func(p float64) float64 { return 50 * math.Pow(11500/(460*math.Pow(1+p/(2*math.Sqrt2*460), 1.5)), 3) },
			func(f float64) float64 { return math.Pow(10500/f, 3) * 5 }}, // 3 kN is beyond 2√2·210 N: one side has it all
	} {
		r := solveText(t, c.text)
		for _, got := range r.Carriages[:4] {
			require.Less(t, got.PullN, 0.0, "pressed onto its rail")
			p := *got.EquivalentN
			require.Equal(t, []float64{11500, 20000}, []float64{*got.DynamicN, *got.StaticN})
			near(t, c.carriagePre, *got.PreloadN, 1e-12, "preload")
			near(t, c.carriageLife(p), *got.LifeKm, 1e-9, "life of a carriage")
			near(t, 20000/p, *got.StaticSafety, 1e-9, "static safety of a carriage")
		}
		pull := r.Drives[1]
		near(t, 3000, -pull.ForceN, 1e-6, "force")
		near(t, c.nutPre, *pull.PreloadN, 1e-12, "preload")
		near(t, c.screwLife(3000), *pull.LifeKm, 1e-6, "life of the screw")
		near(t, 19./3, *pull.StaticSafety, 1e-6, "static safety of the screw")
		if c.carriagePre == 0 {
			near(t, *pull.LifeKm*1e6/50/3600, *pull.LifeH, 1e-12, "hours at 50 mm/s")
		} else {
			require.Nil(t, pull.LifeH, "no rapid move is said")
		}
		require.Nil(t, r.Carriages[len(r.Carriages)-1].LifeKm, "nothing is worn by no load")
		require.Nil(t, r.Drives[2].LifeKm)
	}
}

// What is loaded near its ratings is named with its worst load: little static safety, beyond half of C (ISO 14728-1), a
// life below 500 km.
func TestWeakRatingsAreNamed(t *testing.T) {
	text := fixedSledge + "points: {p: {part: table, at: [0, 0, 48]}}\nloads: {lift: {at: p, force: [0, 0, 40 kN]}, " +
		"crash: {at: p, force: [0, 0, -24 kN]}, shove: {at: p, force: [8 kN, 0, 0]}}\n"
	notes := strings.Join(solveText(t, text).Notes, "\n")
	require.Contains(t, notes, "less than 3 times static safety, C0/P0 of ISO 14728-2, of screws C0a/F of ISO 3408-5, "+
		"with typical ratings: x, rail 1 (")
	require.Contains(t, notes, "drive x (2.4 under “shove”)") // 19/8
	require.Contains(t, notes, "x, rail 1 (11")               // a quarter of 40 kN, and more as the table bows
	require.Contains(t, notes, "under “lift”, rated 11500 N)")
	// 5·(10.5/8)³
	require.Contains(t, notes, "a life below 500 km if the load acted all the time, (C/P)³ of ISO 14728-1 and ISO "+
		"3408-5 with typical ratings: drive x (11 km under “shove”)")
	require.NotContains(t, notes, "under “crash”")
	require.NotContains(t,
		strings.Join(solveText(t, fixedSledge+"points: {p: {part: table, at: [0, 0, 48]}}\nloads: {touch: {at: p, force: "+
			"[10, 10, 10]}}\n").Notes, "\n"), "ISO")
}
