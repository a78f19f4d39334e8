package structure

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/beam"
	"tiploop/frame/constant"
)

// A bar bonded along a meshed plate makes one beam with it: of one metal, I of both parts about their common middle by
// the parallel axis theorem, and F·l³/(3·E·I) (any handbook). Shear and the plate's root add a little.
func TestBarLyingOnAMeshedPlate(t *testing.T) {
	m := solidModel(t, `machine: stiffened plate
parts:
  plate: {plate: {from: [0, -20, 0], to: [300, 20, 10]}, material: steel}
  bar:   {bar: {from: [0, 0, 20], to: [300, 0, 20]}, section: {rect: [20, 20]}, material: steel}
joints: [{between: [plate, bar], bonded: true}]
grounds: [{part: plate, face: left, fixed: true}, {part: bar, at: [0, 0, 20], hold: [x, y, z, rx, ry, rz]}]
points: {end: {part: plate, at: [290, 0, 10], patch: [20, 20]}}
loads: {down: {at: end, force: [0, 0, -100]}}
`, 1)
	r, err := m.Solve(TipOnly)
	require.NoError(t, err)
	steel, _ := beam.LookupMaterial("steel")
	const plate, bar, l = 40 * 10.0, 20 * 20.0, 290.0
	const middle = (plate*5 + bar*20) / (plate + bar)
	const second = 40*10*10*10/12. + plate*(middle-5)*(middle-5) + 20*20*20*20/12. + bar*(20-middle)*(20-middle)
	near(t, -100*l*l*l/(3*steel.E*second)*constant.UmPerMM, r.Loads[0].PointsUm["end"][2], 0.03, "as one beam")
}
