package structure

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/drive"
	"tiploop/testdata/checks"
)

// The ways of a screw to the frame are the chain of frame/drive, with every number that it has: both fixed ends side
// by side, 1/(k₁ + k₂), in a row with what they have in common.
func TestScrewWaysAreTheChain(t *testing.T) {
	for _, ends := range drive.AllEnds() {
		for _, twisting := range []drive.Twisting{drive.TwistCounts, drive.TwistLeftOut} {
			for _, seat := range []float64{0, 3e5} {
				s := drive.ScrewDrive{
					Shaft: drive.Shaft{Root: 13, E: 206e3, Nu: 0.3, Length: 400, Ends: ends}, Lead: 5,
					Nut: 2e5, NearBearing: 1e5, NearBracket: seat, NutBracket: seat, Turning: 1e5, Twisting: twisting,
				}
				if ends == drive.FixedFixed {
					s.FarBearing, s.FarBracket = 8e4, seat
				}
				want, err := s.Stiffness(150)
				require.NoError(t, err)
				near, far, common := screwWays(s, 150)
				require.InEpsilon(t, want, drive.Series(near+far, common), 1e-12, fmt.Sprint(ends, twisting, seat))
			}
		}
	}
}

// sledBeside is a wide table on four carriages whose nut stands aside from its middle.
const sledBeside = `
machine: sledge
parts:
  base:  {plate: {from: [-300, -60, -80], to: [300, 220, 40]}, material: steel}
  table: {plate: {from: [-120, -60, 68], to: [120, 60, 80]}, material: aluminium-5083}
  wall:  {plate: {from: [240, -60, 40], to: [300, 220, 120]}, material: steel}
joints: [{between: [base, wall], bonded: true}]
grounds: [{part: base, face: bottom, fixed: true}]
axes:
  x:
    along: x
    carries: [table]
    travel: [-20, 20]
    guides:
      - {rail: profile-15, on: base, part: table, from: [-180, -40, 40], to: [180, -40, 40], carriages: [-80, 80]}
      - {rail: profile-15, on: base, part: table, from: [-180, 40, 40], to: [180, 40, 40], carriages: [-80, 80]}
    drive: {screw: 1605, from: [240, %[1]g, 54], to: [-250, %[1]g, 54], nut: {part: table, at: 0}, bearing: {part: wall}}
points: {top: {part: table, at: [0, 0, 80]}}
loads: {push: {at: top, force: [100, 0, 0]}}
`

// A nut beside its table holds it by a rigid arm c: the push turns the table on its carriages by F·c/k, which brings
// its middle F·c²/k on, with the same k at every c (statics).
func TestNutBesideItsTable(t *testing.T) {
	at := func(c float64) float64 {
		return solveText(t, fmt.Sprintf(sledBeside, c)).Loads[0].PointsUm["top"][0]
	}
	near, middle, far := at(80), at(140), at(200)
	checks.CloseTo(t, "turning by the arm", (far-middle)/(200*200-140*140), (middle-near)/(140*140-80*80), 0.05)
}
