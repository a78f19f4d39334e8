package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/frame/guide"
	"tiploop/testdata/checks"
)

// misfitsOf runs a model through the command line and gives what its one option answers.
func misfitsOf(t *testing.T, model string, flags ...string) answer.Result {
	t.Helper()
	path := filepath.Join(t.TempDir(), "model.yaml")
	require.NoError(t, os.WriteFile(path, []byte(model), 0o600))
	out := outputOf(t, append([]string{"tip", path, "--detail", "section", "--json"}, flags...)...)
	var found answer.Answer
	require.NoError(t, json.Unmarshal(out, &found))
	return found.Options[0]
}

// near holds numbers against a list of the table, or one of its numbers: off by its tolerance of the largest.
func near(t *testing.T, c checks.Case, key string, got ...float64) {
	t.Helper()
	want := []float64{}
	if _, listed := c.Expected[key].([]any); listed {
		want = c.WantList(t, key)
	} else {
		want = append(want, c.Want(t, key))
	}
	require.Len(t, got, len(want), key)
	most := 0.0
	for _, w := range want {
		most = math.Max(most, math.Abs(w))
	}
	for i, w := range want {
		c.NearTo(t, fmt.Sprintf("%s, %d, of the largest", key, i), 1+(got[i]-w)/most, 1, c.Tolerance)
	}
}

// rigid is a metal that gives a hundred-thousandth of what is joined to it, at most.
const rigid = "materials:\n  rigid: {E: 1e8 MPa, nu: 0, density: 2700}\n  sheet: {E: %g MPa, nu: 0, density: 2700}\n"

// footModel is a rigid table on feet, one of them high, or low with a shim under it.
func footModel(t *testing.T, c checks.Case, which int, by, more string, sheet float64) string {
	t.Helper()
	xs, ys := c.Ins(t, "support_x_mm"), c.Ins(t, "support_y_mm")
	var b strings.Builder
	fmt.Fprintf(&b, "machine: table\n"+rigid+"parts:\n", sheet)
	b.WriteString("  table: {plate: {from: [-500, -500, 0], to: [800, 700, 1500]}, material: rigid}\n")
	var feet []string
	points := "points:\n"
	for i := range xs {
		feet = append(feet, fmt.Sprintf("[%g, %g]", xs[i], ys[i]))
		points += fmt.Sprintf("  p%d: {part: table, at: [%g, %g, 0]}\n", i, xs[i], ys[i])
	}
	fmt.Fprintf(&b, "grounds:\n  - {name: stand, part: table, face: bottom, feet: [%s], stiffness: %g N/mm}\n",
		strings.Join(feet, ", "), c.In(t, "stiffness_each_N_per_mm"))
	fmt.Fprintf(&b, "misfits:\n  out: {ground: stand, foot: %d, %s}\n%s%s", which, by, points, more)
	return b.String()
}

// feetOf are the forces of the feet up, and how far the table rises over each, mm.
func feetOf(r answer.Result, f answer.Misfit) (force, rise []float64) {
	for i, foot := range f.Feet {
		force = append(force, foot.ForceN[2])
		rise = append(rise, f.Moved.PointsUm[fmt.Sprintf("p%d", i)][2]/1000)
	}
	return force, rise
}

// Published and recomputed values of what misfits lock in, from a model file through the command line.
func TestMisfitChecks(t *testing.T) {
	checks.Run(t, map[string]func(t *testing.T, c checks.Case){
		"misfit-table-four": func(t *testing.T, c checks.Case) {
			r := misfitsOf(t, footModel(t, c, 1, fmt.Sprintf("high: %g", c.In(t, "first_support_high_by_mm")), "", 1))
			force, rise := feetOf(r, r.Misfits.Each[0])
			near(t, c, "compression_each_N", force...)
			near(t, c, "rise_of_table_at_each_mm", rise...)
			turned := r.Misfits.Each[0].Moved.PointsRad["p0"]
			near(t, c, "slope_along_x", -turned[1])
			near(t, c, "slope_along_y", turned[0])
		},
		"misfit-table-six-corner": func(t *testing.T, c checks.Case) {
			high := fmt.Sprintf("high: %g", c.In(t, "high_by_mm"))
			r := misfitsOf(t, footModel(t, c, int(c.In(t, "high_support")), high, "", 1))
			force, rise := feetOf(r, r.Misfits.Each[0])
			near(t, c, "compression_each_N", force...)
			near(t, c, "rise_of_table_at_each_mm", rise...)
		},
		"misfit-shim-four":        checkShims,
		"misfit-rails-taper":      checkTaper,
		"misfit-rails-parallel":   checkParallel,
		"misfit-beam-middle":      checkBeamMiddle,
		"misfit-carriage-on-beam": checkBeamOnCarriages,
		"misfit-nut-beside-screw": checkNut,
	})
}

func checkShims(t *testing.T, c checks.Case) {
	low := fmt.Sprintf("low: %g", c.In(t, "first_support_low_by_mm"))
	var compression, middle, corner []float64
	for i, thick := range c.Ins(t, "shim_thickness_mm") {
		shims := ""
		if thick > 0 {
			shims = fmt.Sprintf("shims:\n  packing: {ground: stand, foot: 1, material: sheet, thickness: %g, area: %g}\n", thick,
				c.Ins(t, "shim_area_mm2")[i])
		}
		shims += "loads:\n  middle: {at: [150, 100, 1500], part: table, force: [0, 0, -1000]}\n" +
			"  corner: {at: p0, force: [0, 0, -1000]}\n  of the middle: {at: over, force: [0, 0, -1000]}\n"
		model := footModel(t, c, 1, low, shims, c.Ins(t, "shim_E_MPa")[i])
		model = strings.Replace(model, "points:\n", "points:\n  over: {part: table, at: [150, 100, 0]}\n", 1)
		r := misfitsOf(t, model)
		force, _ := feetOf(r, r.Misfits.Each[0])
		require.InDelta(t, force[1], force[3], 1e-3)
		compression = append(compression, force[1])
		middle = append(middle, 1000/-r.Loads[2].PointsUm["over"][2]*1000)
		corner = append(corner, 1000/-r.Loads[1].PointsUm["p0"][2]*1000)
		if thick > 0 {
			require.Len(t, r.Misfits.Shims, 1)
			require.InDelta(t, c.WantList(t, "compression_of_neighbours_N")[0], r.Misfits.Shims[0].WithoutN, 1e-3)
		}
	}
	near(t, c, "compression_of_neighbours_N", compression...)
	near(t, c, "stiffness_under_a_load_in_the_middle_N_per_mm", middle...)
	near(t, c, "stiffness_under_a_load_at_the_shimmed_corner_N_per_mm", corner...)
}

// railModel is a rigid table on two rails along y at x = 0 and apart, each on a rigid bed; that of the second stands on
// a ground of its own.
func railModel(apart, spacing, side, yaw float64, ground, misfit string) string {
	return fmt.Sprintf("machine: rails\n"+rigid+`parts:
  bed:    {plate: {from: [-4000, -4000, -4000], to: [%[2]g, 4000, 0]}, material: rigid}
  second: {plate: {from: [%[2]g, -4000, -4000], to: [4000, 4000, 0]}, material: rigid}
  table:  {plate: {from: [-3000, -3000, 30], to: [3000, 3000, 9000]}, material: rigid}
grounds:
  - {part: bed, at: [0, 0, 0], hold: [x, y, z, rx, ry, rz]}
  - {part: second, at: [%[3]g, 0, 0], %[7]s}
axes:
  y:
    along: y
    carries: [table]
    at: 200
    travel: [60, 340]
    guides:
      - {stiffness: {press: %[5]g, yaw: %[6]g}, on: bed, part: table, from: [0, 0, 0], to: [0, 400, 0],
         carriages: [%[4]s]}
      - {stiffness: {press: %[5]g, yaw: %[6]g}, on: second, part: table, from: [%[3]g, 0, 0],
         to: [%[3]g, 400, 0], carriages: [%[4]s]}
    drive: {stiffness: 30 N/um, part: table, on: bed, at: [0, 200, 30]}
misfits:
  out: {axis: y, rail: 2, %[8]s}
points:
  middle: {part: table, at: [%[9]g, 200, 30]}
`, 1., apart/2, apart, fmt.Sprintf("%g, %g", 200-spacing/2, 200+spacing/2), side, yaw, ground, misfit, apart/2)
}

func checkTaper(t *testing.T, c checks.Case) {
	require.Equal(t, c.In(t, "lateral_stiffness_first_rail_N_per_mm"), c.In(t, "lateral_stiffness_second_rail_N_per_mm"))
	spacing, apart := c.In(t, "carriage_spacing_mm"), c.In(t, "rail_distance_mm")
	out := c.In(t, "out_of_parallel_mm")
	require.Equal(t, 400., c.In(t, "over_length_mm"))
	model := railModel(apart, spacing, c.In(t, "lateral_stiffness_first_rail_N_per_mm"),
		c.In(t, "yaw_stiffness_first_rail_N_mm_per_rad"), "hold: [x, y, z, rx, ry, rz]", fmt.Sprintf("aside: [0, %g]", out))
	var side [2][2][]float64
	var yaw [2][]float64
	var shift, turn, drag []float64
	for _, at := range c.Ins(t, "table_middle_at_mm") {
		r := misfitsOf(t, model, "--at", fmt.Sprintf("y=%g", at))
		f := r.Misfits.Each[0]
		for n, l := range f.Carriages {
			// the force on the rail is against that on the table; a carriage's side is along −x here, its yaw about z
			side[n/2][n%2] = append(side[n/2][n%2], -l.SideN)
			if n%2 == 0 {
				yaw[n/2] = append(yaw[n/2], l.YawNmm)
			}
		}
		shift = append(shift, f.Moved.PointsUm["middle"][0]/1000)
		turn = append(turn, -f.Moved.PointsRad["middle"][2])
		d := f.Drag[0]
		i := slices.IndexFunc(d.AtMM, func(v float64) bool { return math.Abs(v-at) < 1e-9 })
		drag = append(drag, d.DragN[i]*c.In(t, "friction")/d.Friction)
		require.Equal(t, guide.Friction().Typical, d.Friction)
		require.Equal(t, 340., d.WorstMM)
	}
	near(t, c, "side_force_first_rail_rear_N", side[0][0]...)
	near(t, c, "side_force_first_rail_front_N", side[0][1]...)
	near(t, c, "side_force_second_rail_rear_N", side[1][0]...)
	near(t, c, "side_force_second_rail_front_N", side[1][1]...)
	near(t, c, "table_shift_mm", shift...)
	near(t, c, "added_drag_N", drag...)
	near(t, c, "table_yaw_rad", turn[0])
	near(t, c, "yaw_moment_each_first_rail_N_mm", -yaw[0][0])
	near(t, c, "yaw_moment_each_second_rail_N_mm", -yaw[1][0])
}

// What stretches between the rails is here what the second bed stands on: a spring in the same row.
func checkParallel(t *testing.T, c checks.Case) {
	misfit := fmt.Sprintf("aside: %g", c.In(t, "too_far_apart_mm"))
	require.Equal(t, 2., c.In(t, "carriages_per_rail"))
	for ground, key := range map[string]string{
		"hold: [x, y, z, rx, ry, rz]": "side_force_each_rigid_table_N",
		fmt.Sprintf("spring: {x: %g, y: 1e11, z: 1e11, rx: 1e17, ry: 1e17, rz: 1e17}",
			c.In(t, "table_stretch_stiffness_N_per_mm")): "side_force_each_table_stretching_N",
	} {
		r := misfitsOf(t, railModel(200, 120, c.In(t, "lateral_stiffness_each_N_per_mm"), 1e6, ground, misfit))
		for _, l := range r.Misfits.Each[0].Carriages {
			near(t, c, key, math.Abs(l.SideN))
		}
	}
}

func checkBeamMiddle(t *testing.T, c checks.Case) {
	w, h, l := c.In(t, "width_mm"), c.In(t, "height_mm"), c.In(t, "length_mm")
	beam := func(section, ends, middle string) answer.Misfit {
		return misfitsOf(t, fmt.Sprintf(`machine: beam
materials: {metal: {E: %g MPa, nu: %g, density: 2700}}
parts:
  left:  {bar: {from: [0, 0, 0], to: [%g, 0, 0]}, section: %s, material: metal}
  right: {bar: {from: [%g, 0, 0], to: [%g, 0, 0]}, section: %s, material: metal}
joints:
  - {between: [left, right], bonded: true}
grounds:
  - {part: left, at: [0, 0, 0], %s}
  - {name: middle, part: left, at: [%g, 0, 0], %s}
  - {part: right, at: [%g, 0, 0], %s}
  - {part: left, at: [0, 0, 0], hold: [x, y, rx]}
  - {part: right, at: [%[6]g, 0, 0], hold: [y]}
misfits:
  moved: {ground: middle, by: [0, 0, %[14]g]}
`, c.In(t, "E_MPa"), c.In(t, "poisson"), l/2, section, l/2, l, section, ends, l/2, middle, l, ends, 0, c.In(t,
			"middle_moved_by_mm"))).Misfits.Each[0]
	}
	up := func(f answer.Misfit) float64 { return f.Grounds[1].ForceN[2] }
	slender := fmt.Sprintf("{A: %g, Iy: %g, Iz: %g, J: 1e5}", w*h, w*h*h*h/12, h*w*w*w/12)
	shear := w * h * 5 / 6
	sheared := fmt.Sprintf("{A: %g, Iy: %g, Iz: %g, J: 1e5, Ay: %g, Az: %g}", w*h, w*h*h*h/12, h*w*w*w/12, shear, shear)
	simple := beam(slender, "hold: [z]", "hold: [z]")
	near(t, c, "middle_force_simply_supported_N", up(simple))
	near(t, c, "peak_stress_simply_supported_MPa", math.Abs(simple.Moved.Bars[0].ToM[1])/(w*h*h/6))
	near(t, c, "middle_force_ends_clamped_N", up(beam(slender, "hold: [z, ry]", "hold: [z]")))
	near(t, c, "middle_force_simply_supported_with_shear_N", up(beam(sheared, "hold: [z]", "hold: [z]")))
	require.Equal(t, c.In(t, "middle_spring_N_per_mm"), c.In(t, "end_spring_each_N_per_mm"))
	on := fmt.Sprintf("spring: {z: %g}", c.In(t, "middle_spring_N_per_mm"))
	near(t, c, "middle_force_on_springs_N", up(beam(slender, on, on)))
}

func checkBeamOnCarriages(t *testing.T, c checks.Case) {
	at := c.Ins(t, "carriage_at_mm")
	for _, q := range []struct {
		key  string
		bend float64
	}{{"force_each_N", c.In(t, "bending_stiffness_N_mm2")}, {"force_each_if_rigid_N", 1e17}} {
		inertia := q.bend / 1e5
		r := misfitsOf(t, fmt.Sprintf(`machine: table on carriages
materials: {metal: {E: 1e5 MPa, nu: 0.3, density: 2700}, rigid: {E: 1e8 MPa, nu: 0, density: 2700}}
parts:
  bed:   {plate: {from: [-500, -500, -1000], to: [700, 500, 0]}, material: rigid}
  first: {bar: {from: [%[1]g, 0, 30], to: [%[2]g, 0, 30]}, section: {A: 1e9, Iy: %[4]g, Iz: %[4]g, J: 1e12},
           material: metal}
  rest:  {bar: {from: [%[2]g, 0, 30], to: [%[3]g, 0, 30]}, section: {A: 1e9, Iy: %[4]g, Iz: %[4]g, J: 1e12},
           material: metal}
joints:
  - {between: [first, rest], bonded: true}
grounds:
  - {part: bed, face: bottom, fixed: true}
axes:
  x:
    along: x
    carries: [first]
    travel: [-10, 10]
    guides:
      - {stiffness: {press: %[5]g, roll: 1e9}, on: bed, part: first, from: [-50, 0, 0], to: [300, 0, 0],
         carriages: [%[1]g, %[2]g]}
      - {stiffness: {press: %[5]g}, on: bed, part: rest, from: [-50, 0, 0], to: [300, 0, 0], carriages: [%[3]g]}
    drive: {stiffness: 30 N/um, part: first, on: bed, at: [0, 0, 0]}
misfits:
  high: {axis: x, rail: 1, carriage: %[7]g, high: %[6]g}
`, at[0], at[1], at[2], inertia, c.In(t, "stiffness_each_N_per_mm"), c.In(t, "high_by_mm"), c.In(t,
			"high_carriage")))
		f := r.Misfits.Each[0]
		var forces []float64
		for _, l := range f.Carriages {
			forces = append(forces, -l.PullN) // what pulls the carriage off its rail pulls the table up; the rail holds it down
		}
		near(t, c, q.key, forces...)
		if q.key == "force_each_N" {
			// a bar along x sags with a negative moment about y
			near(t, c, "table_bending_moment_at_middle_N_mm", -f.Moved.Bars[0].ToM[1])
		}
	}
}

func checkNut(t *testing.T, c checks.Case) {
	l := c.In(t, "between_bearings_mm")
	for _, q := range []struct {
		key, ends, far string
		bracket        string
	}{
		{"side_force_both_ends_supported_N", "supported-supported", "", ""},
		{"side_force_both_ends_fixed_N", "fixed-fixed", "far: {part: base, stiffness: 1e5}, ", ""},
		{"side_force_fixed_then_supported_N", "fixed-supported", "", ""},
		{"side_force_both_supported_soft_bracket_N", "supported-supported", "", fmt.Sprintf(", side: %g", c.In(t,
			"nut_and_bracket_stiffness_N_per_mm"))},
	} {
		model := fmt.Sprintf("machine: screw\n"+rigid+`parts:
  base:  {plate: {from: [-4000, -4000, -9000], to: [4000, 4000, 30]}, material: rigid}
  table: {plate: {from: [-3000, -3000, 60], to: [3000, 3000, 9000]}, material: rigid}
grounds:
  - {part: base, at: [0, 0, 0], hold: [x, y, z, rx, ry, rz]}
axes:
  y:
    along: y
    carries: [table]
    at: 250
    travel: [50, 400]
    guides:
      - {stiffness: {press: 1e10}, on: base, part: table, from: [-100, -200, 30], to: [-100, 700, 30],
         carriages: [150, 350]}
      - {stiffness: {press: 1e10}, on: base, part: table, from: [100, -200, 30], to: [100, 700, 30],
         carriages: [150, 350]}
    drive:
      screw: {root: %[3]g, lead: 5}
      from: [0, 0, 30]
      to: [0, %[2]g, 30]
      ends: %[4]s
      nut: {part: table, at: 250, stiffness: 1e5%[5]s}
      bearing: {part: base, stiffness: 1e5}
      %[6]s
misfits:
  beside: {axis: y, nut: true, by: [%[7]g, 0, 0]}
`, 1., l, c.In(t, "root_diameter_mm"), q.ends, q.bracket, strings.TrimSuffix(q.far, ", "), c.In(t, "nut_beside_by_mm"))
		var forces, slopes []float64
		for _, at := range c.Ins(t, "nut_at_mm") {
			r := misfitsOf(t, model, "--at", fmt.Sprintf("y=%g", at))
			nuts := r.Misfits.Each[0].Nuts
			// the nut is pulled back to the screw's line; its bearings hold the shaft
			forces = append(forces, -nuts[0].ForceN[0])
			slopes = append(slopes, nuts[0].Slope[0])
			require.InDelta(t, 0, nuts[0].ForceN[0]+nuts[1].ForceN[0]+nuts[2].ForceN[0], 1e-9*math.Abs(nuts[0].ForceN[0]))
		}
		near(t, c, q.key, forces...)
		if q.key == "side_force_both_ends_supported_N" {
			near(t, c, "shaft_slope_at_nut_both_supported_rad", slopes...)
		}
	}
}
