package machine

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A thin screw that is asked to turn faster than it may whirl, and pushed harder than it may buckle, is warned of with the
// formula and its numbers: 60·λ²/(2π·L²)·√(EI/(ρA)) with λ = 3.9266 and n·π²·E·I/L² with n = 2.0457 (Timoshenko & Gere),
// over the longest free length in the travel.
func TestScrewWarnings(t *testing.T) {
	text := strings.Replace(sledge, "screw: 1605", "screw: Tr8x8", 1)
	text = strings.Replace(text, "travel: [-80, 80]", "travel: [-80, 80]\n    rapid: 5 m/s", 1)
	text += "points: {p: {part: table, at: [0, 0, 60]}}\nloads: {crash: {at: p, force: [20 kN, 0, 0]}, touch: {at: p, force: [1, 0, 0]}}\n"
	m := buildText(t, text)
	r, err := m.Solve(TipOnly)
	require.NoError(t, err)
	shaft := m.machine.Axes[0].Drives[0].Screw.Shaft
	const longest = 260.0 // the nut at x = −80, the driven end at 180
	inertia, area := math.Pi*math.Pow(shaft.Root, 4)/64, math.Pi*shaft.Root*shaft.Root/4
	whirl := 60 * 3.9266 * 3.9266 / (2 * math.Pi * longest * longest) * math.Sqrt(screwE*inertia/(screwDensity*area))
	buckling := 2.0457 * math.Pi * math.Pi * screwE * inertia / (longest * longest)
	near(t, whirl, *r.Drives[0].WhirlRPM, 1e-4, "whirling")
	near(t, buckling, *r.Drives[0].BucklingN, 1e-4, "buckling")
	require.InEpsilon(t, -20e3, r.Drives[0].ForceN, 1e-6)
	require.InEpsilon(t, -1, r.Drives[1].ForceN, 1e-6)
	notes := strings.Join(r.Notes, "\n")
	require.Contains(t, notes, "axis x: its rapid move of 300 m/min turns the screw at 37500 rpm; over 260 mm it whirls at")
	require.Contains(t, notes, "axis x: crash pushes its screw with 20000 N, more than half of the")
}

// Ratings follow the size: a carriage at a tenth of its rating lives a thousand times the rated 50 km (ISO 14728-1), a screw
// pushed with its whole rating a million turns (ISO 3408-5).
func TestLivesOfRatings(t *testing.T) {
	text := sledge + "points: {p: {part: table, at: [0, 0, 48]}}\nloads: {push: {at: p, force: [0, 0, -4600]}, pull: {at: p, force: [3 kN, 0, 0]}, nothing: {at: p, force: [0, 0, 0]}}\n"
	r := solveText(t, text)
	for _, c := range r.Carriages[:4] {
		require.NotNil(t, c.EquivalentN)
		require.InEpsilon(t, 50*math.Pow(*c.DynamicN / *c.EquivalentN, 3), *c.LifeKm, 1e-9)
		require.Less(t, c.PullN, 0.0, "pressed onto its rail")
	}
	require.InEpsilon(t, 1e6*math.Pow(*r.Drives[1].DynamicN/3000, 3)*5/1e6, *r.Drives[1].LifeKm, 1e-6)
	require.Nil(t, r.Carriages[len(r.Carriages)-1].LifeKm, "nothing wears under no load")
	require.Nil(t, r.Drives[2].LifeKm)
}
