package structure

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/beam"
)

// A stiff round pin in a block: what holds it along and about its axis is shear of the same metal on the same skin, so
// its turning is held by that force at the skin's radius, k·r² (statics). The give of the joint alone is told by its
// share of the energy: each load's work is half its force times its way.
func TestPinSpinsInItsHole(t *testing.T) {
	const radius, length, force, moment = 6.0, 50.0, 1e3, 1e5
	r := solveText(t, `machine: pin in a block
materials: {rigid: {E: 1e8 MPa, nu: 0.3, density: 2700}}
parts:
  block: {plate: {from: [-60, -60, 0], to: [60, 60, 50]}, material: aluminium-5083}
  pin:   {bar: {from: [0, 0, 0], to: [0, 0, 90]}, section: {round: 12}, material: rigid}
joints: [{between: [block, pin], bonded: true}]
grounds: [{part: block, face: bottom, fixed: true}]
points: {end: {part: pin, at: [0, 0, 90]}}
loads: {push: {at: end, force: [0, 0, 1000]}, spin: {at: end, moment: [0, 0, 1e5]}}
`)
	share := map[string]float64{}
	for _, s := range r.Shares {
		if s.Source == "joint block/pin" {
			share[s.Load] = s.Percent / 100
		}
	}
	along := force / (r.Loads[0].PointsUm["end"][2] / micro * share["push"])
	about := moment / (r.Loads[1].PointsRad["end"][2] * share["spin"])
	near(t, along*radius*radius, about, 1e-3, "spin; the pin itself gives a little")
	// A stiff cylinder that slides along in a wide one, held at R, shears it by F/(2π·G·ρ·L): k = 2π·G·L/ln(R/r); one that
	// turns in endless metal is held by 4π·G·r²·L (both by integrating the stress of a balance of forces). Turning fades
	// faster than sliding, so that k·r² is on the soft side.
	metal, _ := beam.LookupMaterial("aluminium-5083")
	near(t, 2*math.Pi*metal.G()*length/math.Log(60/radius), along, 0.25, "along; the block is square and held below")
	require.Less(t, about, 4*math.Pi*metal.G()*radius*radius*length)
}
