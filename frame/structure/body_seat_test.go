package structure

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/beam"
	"tiploop/frame/joint"
)

// pressedColumn is a column of steel that is held at one end and pressed in the middle of the other by a stiff pad of
// the given sizes.
const pressedColumn = `machine: pressed column
materials: {rigid: {E: 1e8 MPa, nu: 0.3, density: 2700}}
parts:
  column: {plate: {from: [-20, -30, 0], to: [20, 30, 300]}, material: steel}
  pad:    {plate: {from: [-%[1]g, -%[2]g, 300], to: [%[1]g, %[2]g, 340]}, material: rigid}
joints: [{between: [column, pad], bonded: true}]
grounds: [{part: column, face: bottom, fixed: true}]
points: {top: {part: pad, at: [0, 0, 340]}, foot: {part: column, at: [0, 0, 150]}}
loads: {press: {at: top, force: [0, 0, -24 kN]}}
`

// A pad presses on the end of a column. By statics the column yields F·l/(E·A) between two of its sections; from the pad
// down to a depth of its greater side, 60 mm, the force has a column of its own that spreads (joint.Zone, held against
// Boussinesq there), and from there on the whole section. Whatever the member has of that depth must not count twice.
// How far the force has spread and what it squeezes is the mesh's own matter at detail "solid".
func TestPadOnTheEndOfAColumn(t *testing.T) {
	steel, _ := beam.LookupMaterial("steel")
	const force, depth, section = 24e3, 60.0, 40 * 60.0
	for _, tt := range []struct {
		name         string
		halfX, halfY float64
		solid        float64 // what the mesh may say otherwise
	}{
		{"all of it", 20, 30, 0.02},
		{"the middle of one side", 8, 30, 0.05},
		{"the middle of the other", 20, 9, 0.08},
		{"the middle", 7, 9, 0.05},
	} {
		t.Run(tt.name, func(t *testing.T) {
			text := fmt.Sprintf(pressedColumn, tt.halfX, tt.halfY)
			shorter := func(m *Model) float64 {
				r, err := m.Solve(TipOnly)
				require.NoError(t, err)
				return (r.Loads[0].PointsUm["foot"][2] - r.Loads[0].PointsUm["top"][2]) / micro
			}
			zone := joint.Zone{A: 2 * tt.halfX, B: 2 * tt.halfY,
				RoomAMinus: 20 - tt.halfX, RoomAPlus: 20 - tt.halfX, RoomBMinus: 30 - tt.halfY, RoomBPlus: 30 - tt.halfY}
			spread := zone.ColumnDepth(depth, steel.Nu) / (zone.A * zone.B)
			want := force / steel.E * (spread + (150-depth)/section)
			got := shorter(buildText(t, text))
			near(t, want, got, 5e-3, "squeezed, beside a pad that gives a little")
			near(t, shorter(solidModel(t, text, 2)), got, tt.solid, "a mesh of the same")
		})
	}
}
