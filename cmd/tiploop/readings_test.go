package main

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/testdata/checks"
)

// Two dials on a rigid plate that stands on four feet and is pushed near a corner: rigid body on springs, by another
// program's sums. Metal of 1e8 MPa gives a millionth of what the feet do.
func TestDialsOnAPlateOnFeet(t *testing.T) {
	checks.Run(t, map[string]func(t *testing.T, c checks.Case){"reading-plate-on-feet": func(t *testing.T, c checks.Case) {
		x, y, push, force, dials := c.In(t, "feet_half_distance_x_mm"), c.In(t, "feet_half_distance_y_mm"),
			c.Ins(t, "push_at_mm"), c.Ins(t, "push_N"), c.Ins(t, "dial_at_mm")
		require.Equal(t, []float64{0, 0, 1, 0, 0, 1}, c.Ins(t, "dial_direction"))
		text := fmt.Sprintf(`machine: plate on feet
materials: {rigid: {E: 1e8 MPa, nu: 0.3, density: 2700}}
parts: {plate: {plate: {from: [-250, -150, 0], to: [250, 150, 40]}, material: rigid}}
grounds:
  - {part: plate, face: bottom, feet: [[%[1]g, %[2]g], [-%[1]g, %[2]g], [%[1]g, -%[2]g], [-%[1]g, -%[2]g]],
     stiffness: %[3]g N/mm, side: %[4]g N/mm}
points:
  spot: {part: plate, at: [%[5]g, %[6]g, %[7]g]}
  one: {part: plate, at: [%[8]g, %[9]g, %[10]g]}
  two: {part: plate, at: [%[11]g, %[12]g, %[13]g]}
loads: {push: {at: spot, force: [%[14]g, %[15]g, %[16]g]}}
`, x, y, c.In(t, "foot_vertical_N_per_mm"), c.In(t, "foot_sideways_N_per_mm"), push[0], push[1], push[2], dials[0], dials[1],
			dials[2], dials[3], dials[4], dials[5], force[0], force[1], force[2])
		r := misfitsOf(t, text)
		one, two := r.Loads[0].PointsUm["one"][2], r.Loads[0].PointsUm["two"][2]
		const rigid = 2e-4
		want := c.WantList(t, "dial_um")
		c.NearTo(t, "first dial", one, want[0], rigid)
		c.NearTo(t, "second dial", two, want[1], rigid)
		c.Near(t, "second_less_first_um", two-one, rigid)
		turned := r.Loads[0].PointsRad["one"]
		for k, w := range c.WantList(t, "rotation_rad") {
			require.InDelta(t, w, turned[k], 1e-3*5e-6) // the metal bends a little beside its feet
		}
	}})
}
