package structure

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/beam"
	"tiploop/frame/constant"
	"tiploop/frame/joint"
)

// A stiff round pin in a block, pushed along its axis and turned about it. The give of the joint alone is told by its
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
	along := force / (r.Loads[0].PointsUm["end"][2] / constant.UmPerMM * share["push"])
	about := moment / (r.Loads[1].PointsRad["end"][2] * share["spin"])
	// A stiff cylinder that slides along in a wide one, held at R, shears it by F/(2π·G·ρ·L): k = 2π·G·L/ln(R/r);
	// one that turns in endless metal is held by 4π·G·r²·L (both by integrating the stress of a balance of forces).
	metal, _ := beam.LookupMaterial("aluminium-5083")
	near(t, 2*math.Pi*metal.G()*length/math.Log(60/radius), along, 0.25, "along; the block is square and held below")
	near(t, 4*math.Pi*metal.G()*radius*radius*length, about, 5e-3, "about; the pin itself gives a little")
}

// pinned is a pin all through a block that is held below, pushed evenly along its length.
const pinned = `machine: pin
materials: {rigid: {E: 1e8 MPa, nu: 0.33, density: 2700}}
parts:
  block: {plate: {from: [-60, -40, 0], to: [60, 40, 50]}, material: %s}
  pin:   {bar: {from: [0, 0, 0], to: [0, 0, 50]}, section: {round: 12}, material: %s}
joints: [{between: [block, pin], bonded: true}]
grounds: [{part: block, face: bottom, fixed: true}]
points: {middle: {part: pin, at: [0, 0, 25]}}
loads:
  aside: {along: pin, from: 0, to: 50, load: [100, 0, 0]}
  out:   {along: pin, from: 0, to: 50, load: [0, 0, 100]}
`

// What a pin that is pushed evenly gives in its hole: pressed, half a width of its own metal on either side,
// F·(d/2)/(2·L·d·E) = F/(4·L·E); of the block's, two zones of L·d that spread as far as the nearer side (joint.Zone,
// held against Boussinesq there), side by side: half of one's give (statics). Along, its wall stays behind the mean of its
// section by F/(8π·G·L), the shear stress growing evenly from the middle to F/(2π·r·L), and the block's metal shears
// by F/(2π·G·L)·ln(R/r) as far as R = r + L, from where on it is the block as a whole. That, and the ways that an
// evenly loaded pin bends, have shares of the energy of their own; but for how far the pin tilts in a block that is sheared.
func TestPinGivesInItsHole(t *testing.T) {
	const width, length, force, depth = 12.0, 50.0, 5000.0, 40.0
	metal, _ := beam.LookupMaterial("aluminium-5083")
	gives := func(block, pin string) (aside, out float64) {
		r := solveText(t, fmt.Sprintf(pinned, block, pin))
		var of [2]float64
		for _, s := range r.Shares {
			for i, load := range []string{"aside", "out"} {
				if s.Source == "joint block/pin" && s.Load == load {
					of[i] = s.Percent / 100
				}
			}
		}
		return r.Loads[0].PointsUm["middle"][0] / constant.UmPerMM * of[0],
			r.Loads[1].PointsUm["middle"][2] / constant.UmPerMM * of[1]
	}
	aside, out := gives("rigid", "aluminium-5083")
	near(t, force/(4*length*metal.E), aside, 0.15, "the pin's own metal, pressed; it bends between its springs")
	near(t, force/(8*math.Pi*length*metal.G()), out, 0.15, "and sheared; it stretches between its springs")
	zone := joint.Zone{A: length, B: width, RoomBMinus: math.Inf(1), RoomBPlus: math.Inf(1)}
	aside, out = gives("aluminium-5083", "rigid")
	near(t, force*zone.ColumnDepth(depth, metal.Nu)/(2*length*width*metal.E), aside, 1e-2, "the block's, pressed")
	sheared := math.Log((width/2+length)/(width/2)) / (2 * math.Pi * length * metal.G())
	near(t, force*sheared, out, 2e-3, "and sheared")
}

// What a shim is comes from its numbers: a material of the file's own that is called paper is as stiff as the same
// material by another name. The built-in paper takes its stiffness from the pressure, whatever its E.
func TestPaperOfTheFilesOwn(t *testing.T) {
	tip := func(own, shim string) [3]float64 {
		r := solveText(t, `machine: m
materials: {`+own+`}
parts:
  base: {plate: {from: [0, 0, 0], to: [200, 100, 20]}, material: steel}
  post: {plate: {from: [0, 0, 20], to: [30, 100, 200]}, material: steel}
joints:
  - between: [base, post]
    screws: {size: M6, grid: [1, 2], torque: 9 N m}
    shim: {material: `+shim+`, thickness: 0.5 mm}
grounds: [{part: base, face: bottom, fixed: true}]
points: {top: {part: post, at: [15, 50, 200]}}
loads: {aside: [{at: top, force: [100, 0, 0]}]}
`)
		return r.Loads[0].PointsUm["top"]
	}
	const stiff = "{E: 210 GPa, nu: 0.3, density: 7850 kg/m3, expansion: 12e-6 /K}"
	foil := tip("foil: "+stiff, "foil")
	require.Equal(t, foil, tip("paper: "+stiff, "paper"))
	require.Greater(t, tip("foil: "+stiff, "paper")[0], 1.02*foil[0], "and the built-in paper is softer")
}
