package structure

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/beam"
	"tiploop/frame/constant"
)

// A bar with free ends on a bed, loaded in the middle: with k per length and λ⁴ = k/(4·E·I) the middle sinks by
// P·λ/(2·k)·(cosh λl + cos λl + 2)/(sinh λl + sin λl), Hetényi, Beams on Elastic Foundation (1946), art. 14.
// The bed is another along each of the world's axes, whichever way the section is turned, and the section twice as
// stiff one way.
func TestBarOnABed(t *testing.T) {
	const l, force, soft, hard = 900.0, 500.0, 2.0, 6.0 // mm, N, N/mm²
	steel, _ := beam.LookupMaterial("steel")
	for _, tt := range []struct {
		up              string
		acrossY, alongZ float64 // second moments that bend along y and along z, mm⁴
	}{
		{"[0, 0, 1]", 40e3, 20e3}, // Iy of the section bends along its height, Iz along its width
		{"[0, 1, 0]", 20e3, 40e3},
	} {
		r := solveText(t, fmt.Sprintf(`machine: bar on a bed
parts:
  rail: {bar: {from: [0, 0, 0], to: [900, 0, 0]}, up: %s, material: steel,
    section: {A: 900, Iy: 20e3, Iz: 40e3, J: 5e4}}
grounds:
  - {part: rail, bed: {y: 2 N/mm2, z: 6 N/mm2}}
  - {part: rail, hold: [x, rx], at: [0, 0, 0]}
points: {middle: {part: rail, at: [450, 0, 0]}}
loads: {aside: {at: middle, force: [0, 500, 0]}, down: {at: middle, force: [0, 0, -500]}}
`, tt.up))
		sinks := func(bed, second float64) float64 {
			lambda := math.Pow(bed/(4*steel.E*second), 0.25)
			a := lambda * l
			return force * lambda / (2 * bed) * (math.Cosh(a) + math.Cos(a) + 2) / (math.Sinh(a) +
				math.Sin(a)) * constant.UmPerMM
		}
		near(t, sinks(soft, tt.acrossY), r.Loads[0].PointsUm["middle"][1], 1e-4, "aside, up "+tt.up)
		near(t, -sinks(hard, tt.alongZ), r.Loads[1].PointsUm["middle"][2], 1e-4, "down, up "+tt.up)
		require.InDelta(t, -force, r.Loads[0].ReactionN[1], 1e-6*force)
	}
}

// A bed presses along the world's axes: a bar has none when it, or its section, lies askew.
func TestBedOfASkewBar(t *testing.T) {
	for _, bar := range []string{
		"{bar: {from: [0, 0, 0], to: [900, 0, 0]}, up: [0, 1, 1], section: {rect: [20, 40]}, material: steel}",
		"{bar: {from: [0, 0, 0], to: [900, 0, 90]}, up: [0, 1, 0], section: {rect: [20, 40]}, material: steel}",
	} {
		_, err := buildBeams(readMachine(t, "machine: m\nparts:\n  rail: "+bar+"\ngrounds: [{part: rail, bed: {z: 6 N/mm2}}]\n"))
		require.ErrorContains(t, err, "the bed of rail: a bed follows the world's axes and the bar does not")
	}
}
