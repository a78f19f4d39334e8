package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/testdata/checks"
)

// solvedAs is what a command says of a model as JSON.
func solvedAs(t *testing.T, model, command string, more ...string) map[string]any {
	t.Helper()
	path := filepath.Join(t.TempDir(), "m.yaml")
	require.NoError(t, os.WriteFile(path, []byte(model), 0o600))
	var v map[string]any
	require.NoError(t, json.Unmarshal(outputOf(t, append([]string{command, path, "--json"}, more...)...), &v))
	return v
}

// number is a number of such an answer.
func number(t *testing.T, v any, path string) float64 {
	t.Helper()
	f, ok := pick(t, v, path).(float64)
	require.True(t, ok, path)
	return f
}

// oneRing is an arm on one M6 with the ring of the check values: 5 + t tan 30° = 13 mm round a hole of 6.6. What the
// screw carries is plain statics.
func oneRing(t *testing.T, c checks.Case, loads string) map[string]any {
	t.Helper()
	require.Equal(t, []float64{13, 3.3}, []float64{c.In(t, "outer_radius_mm"), c.In(t, "inner_radius_mm")})
	return solvedAs(t, `machine: one ring
parts:
  base: {plate: {from: [-60, -60, -40], to: [60, 60, 0]}, material: aluminium-5083}
  arm: {plate: {from: [-30, -30, 0], to: [100, 30, 8*sqrt(3)]}, material: aluminium-5083}
joints:
  - {between: [base, arm], screws: {size: M6, at: [[0, 0]]}, drilled: arm, surface: milled}
grounds:
  - {part: base, face: bottom, fixed: true}
points:
  end: {part: arm, at: [80, 0, 0]}
  over: {part: arm, at: [0, 0, 0]}
loads:
`+loads, "tip", "--detail", "section")
}

// used is a share of slip or opening as it would be with the preload of the check value.
func used(t *testing.T, answer map[string]any, load, what string, preload float64) float64 {
	t.Helper()
	at := "options/0/screws/load=" + load + "/"
	return number(t, answer, at+what) / 100 * number(t, answer, at+"least_preload_n") / preload
}

const lowFriction = 0.15 // aluminium on aluminium

func TestSlipOfARing(t *testing.T) {
	torsion := checks.Find(t, "slip-ring-torsion")
	require.Equal(t, lowFriction, torsion.In(t, "friction"))
	got := oneRing(t, torsion, fmt.Sprintf("  twist: {at: end, moment: [0, 0, %.9g]}\n",
		torsion.Want(t, "full_slip_torque_N_mm")))
	torsion.NearTo(t, "slip", used(t, got, "twist", "slip_percent", torsion.In(t, "clamp_force_N")), 1, 1e-6)
	require.InDelta(t, 0.3, number(t, got, "options/0/screws/0/shift_mm"), 1e-12)
	require.Nil(t, pick(t, got, "options/0/screws/0/turn_rad"), "it turns all round")

	opening := checks.Find(t, "slip-ring-opening")
	got = oneRing(t, opening, fmt.Sprintf(
		"  tilt: {at: end, moment: [0, %.9g, 0]}\n  lift: {at: end, moment: [%.9g, 0, 0]}\n",
		opening.Want(t, "edge_opens_at_N_mm"), opening.Ins(t, "moment_N_mm")[0]))
	opening.NearTo(t, "open", used(t, got, "tilt", "open_percent", opening.In(t, "clamp_force_N")), 1, 1e-6)
	least := opening.WantList(t, "least_edge_pressure_MPa")[0]
	opening.NearTo(t, "half open", used(t, got, "lift", "open_percent", opening.In(t, "clamp_force_N")),
		1-least/opening.Want(t, "mean_pressure_MPa"), 1e-6)

	both := checks.Find(t, "slip-ring-force-and-torque")
	for i, torque := range both.WantList(t, "torque_at_slip_N_mm") {
		got = oneRing(t, both, fmt.Sprintf("  push: [{at: over, force: [%.9g, 0, 0]}, {at: over, moment: [0, 0, %.9g]}]\n",
			both.Ins(t, "force_N")[i], torque))
		both.NearTo(t, "slip", used(t, got, "push", "slip_percent", both.In(t, "clamp_force_N")), 1, both.Tolerance)
	}
}

// Four screws and a load beside them: the rings carry some of the moment by spinning, so the shear is a little less
// than that of screws that only shear. M12, and the load by as much less as they hold less than the M16 of the
// textbook.
func TestSlipOfAGroup(t *testing.T) {
	c := checks.Find(t, "slip-group-textbook")
	model := func(load float64) string {
		return fmt.Sprintf(`machine: textbook
materials:
  rigid: {E: 1e8 MPa, nu: 0.33, density: 2700}
parts:
  wall: {plate: {from: [-200, -200, -60], to: [200, 200, 0]}, material: rigid}
  channel: {plate: {from: [-100, -100, 0], to: [500, 100, 20]}, material: rigid}
joints:
  - {between: [wall, channel], screws: {size: M12, at: [[75, 60], [75, -60], [-75, -60], [-75, 60]]}, drilled: channel}
grounds:
  - {part: wall, face: bottom, fixed: true}
points:
  end: {part: channel, at: [425, 0, 0]}
loads:
  down: {at: end, force: [0, %g, 0]}
`, -load)
	}
	least := number(t, solvedAs(t, model(1), "tip", "--detail", "section"), "options/0/screws/0/least_preload_n")
	const steelFriction = 0.10
	load := c.In(t, "load_down_N") * steelFriction * least / (c.In(t, "friction") * c.In(t, "preload_each_N"))
	got := solvedAs(t, model(load), "tip", "--detail", "section")
	share := number(t, got, "options/0/screws/0/slip_percent") / 100
	want := c.WantList(t, "share_of_slip_each")[0]
	require.InDelta(t, want, share, 0.03*want)
	play := 2 * math.Asin(0.75/2/math.Hypot(75, 60)) // M12 in 13.5 mm
	load *= 1.3
	got = solvedAs(t, model(load), "tip", "--detail", "section")
	require.InEpsilon(t, 0.75, number(t, got, "options/0/screws/0/shift_mm"), 1e-9)
	require.InEpsilon(t, play, number(t, got, "options/0/screws/0/turn_rad"), 1e-9)
}

// A row of two M5 under a moment across it, so thick that both rings cover the whole face but for the holes; a row saw
// nothing of a moment before.
func TestOpeningOfARow(t *testing.T) {
	c := checks.Find(t, "slip-row-opening")
	model := func(moment float64) string {
		return fmt.Sprintf(`machine: row
parts:
  base: {plate: {from: [-100, -100, -40], to: [100, 100, 0]}, material: aluminium-5083}
  block: {plate: {from: [-20, -50, 0], to: [20, 50, 60]}, material: aluminium-5083}
joints:
  - {between: [base, block], screws: {size: M5, at: [[0, -25], [0, 25]]}, drilled: block, surface: milled}
grounds:
  - {part: base, face: bottom, fixed: true}
points:
  top: {part: block, at: [0, 0, 60]}
loads:
  tilt: {at: top, moment: [0, %g, 0]}
`, moment)
	}
	opens := c.Want(t, "edge_opens_at_N_mm") / c.In(t, "clamp_force_N")
	least := number(t, solvedAs(t, model(1), "tip", "--detail", "section"), "options/0/screws/0/least_preload_n")
	got := solvedAs(t, model(opens*2*least), "tip", "--detail", "section")
	require.InDelta(t, 100, number(t, got, "options/0/screws/0/open_percent"), 2)
}

func TestHolesOfTheSeries(t *testing.T) {
	c := checks.Find(t, "hole-clearance-series")
	model := func(size, hole, places string) map[string]any {
		return solvedAs(t, fmt.Sprintf(`machine: holes
parts:
  base: {plate: {from: [-100, -100, -40], to: [100, 100, 0]}, material: steel}
  top: {plate: {from: [-100, -100, 0], to: [100, 100, 20]}, material: steel}
joints:
  - {between: [base, top], screws: {size: %s, at: %s%s}, drilled: top}
grounds:
  - {part: base, face: bottom, fixed: true}
`, size, places, hole), "show")
	}
	for i, size := range c.Inputs["size"].([]any) {
		for hole, series := range map[string]string{"": "medium", ", hole: fine": "fine", ", hole: coarse": "coarse",
			fmt.Sprintf(", hole: %g mm", c.WantList(t, "medium_mm")[i]): "medium"} {
			got := model(size.(string), hole, "[[0, 0], [40, 40]]")
			c.NearTo(t, "hole", number(t, got, "joints/0/hole_mm"), c.WantList(t, series+"_mm")[i], c.Tolerance)
			c.NearTo(t, "shift", number(t, got, "joints/0/shift_mm"), c.WantList(t, "shift_each_way_"+series+"_mm")[i],
				c.Tolerance)
		}
	}
	turns := checks.Find(t, "hole-shift-and-turn")
	for places, key := range map[string]string{
		"[[-40, -25], [40, -25], [-40, 25], [40, 25]]": "turn_each_way_rectangle_rad",
		"[[0, 0], [70, 0], [0, 40]]":                   "turn_each_way_uneven_rad",
	} {
		got := model("M6", "", places)
		turns.Near(t, "shift_each_way_mm", number(t, got, "joints/0/shift_mm"), turns.Tolerance)
		turns.Near(t, key, number(t, got, "joints/0/turn_rad"), turns.Tolerance)
	}
}

// The contact under a screw of milled faces, whose Ra of 2.3 µm is an rms of 2.9 and not 3: by the log mean as the
// roots of both.
func TestContactUnderAScrew(t *testing.T) {
	c := checks.Find(t, "contact-two-laws")
	got := solvedAs(t, `machine: contact
parts:
  base: {plate: {from: [-100, -100, -40], to: [100, 100, 0]}, material: steel}
  top: {plate: {from: [-100, -100, 0], to: [100, 100, 14]}, material: steel}
joints:
  - {between: [base, top], screws: {size: M6, at: [[0, 0]]}, drilled: top, surface: milled}
grounds:
  - {part: base, face: bottom, fixed: true}
`, "show", "--detail", "solid")
	const sticking = 0.6
	pressure := number(t, got, "joints/0/press_mpa")
	perArea := number(t, got, "joints/0/tangent_n_per_um") / sticking / number(t, got, "joints/0/zone_mm2")
	at10 := c.WantList(t, "log_mean_MPa_per_um")[1]
	require.Equal(t, 10.0, c.Ins(t, "pressure_MPa")[1])
	want := at10 * math.Pow(pressure/10, 0.75) * math.Sqrt(c.Ins(t, "rms_roughness_um")[0]/(1.25*2.3))
	c.NearTo(t, "log mean", perArea, want, 1e-6)
}

// Torques that are a note, and a fault; threads that are too short.
func TestThreadsOfAModel(t *testing.T) {
	c := checks.Find(t, "thread-torque-limits")
	soft := checks.Find(t, "thread-stripping-soft")
	model := func(screws, tapped string, thickness float64) string {
		return fmt.Sprintf(`machine: threads
parts:
  base: {plate: {from: [-50, -50, %g], to: [50, 50, 0]}, material: %s}
  top: {plate: {from: [-50, -50, 0], to: [50, 50, 20]}, material: steel}
joints:
  - {between: [base, top], screws: {%s, grid: [2, 2]}, drilled: top}
grounds:
  - {part: base, face: left, fixed: true}
`, -thickness, tapped, screws)
	}
	notes := func(model string) string {
		return fmt.Sprint(solvedAs(t, model, "show")["notes"])
	}
	for i, size := range c.Inputs["size"].([]any) {
		proof, breaks := c.WantList(t, "torque_to_proof_stress_N_m")[i], c.WantList(t, "torque_to_breaking_N_m")[i]
		for _, torque := range []float64{0.98 * proof, 1.02 * proof} {
			text := notes(model(fmt.Sprintf("size: %s, torque: %g N m", size, torque), "steel", 40))
			if torque < proof {
				require.NotContains(t, text, "past their proof stress")
			} else {
				require.Contains(t, text, "past their proof stress")
			}
		}
		path := filepath.Join(t.TempDir(), "m.yaml")
		require.NoError(t, os.WriteFile(path, []byte(model(fmt.Sprintf("size: %s, torque: %g N m", size, 1.02*breaks),
			"steel", 40)), 0o600))
		code, _, said := called("tip", path)
		require.Equal(t, misused, code)
		require.Contains(t, said, "m.yaml:6:")
		require.Contains(t, said, fmt.Sprintf("breaks %s screws of class 8.8", size))
		require.Contains(t, said, "tighten it less")
		require.NotContains(t, notes(model(fmt.Sprintf("size: %s, class: 12.9, torque: %g N m", size, 1.02*breaks),
			"steel", 40)), "proof")

		needs := 1.25 * soft.WantList(t, "engaged_length_for_screw_to_break_mm")[i]
		require.Contains(t, notes(model("size: "+size.(string), "aluminium-5083", 0.99*needs)), "it may strip")
		require.NotContains(t, notes(model("size: "+size.(string), "aluminium-5083", 1.01*needs)), "it may strip")
		require.NotContains(t, notes(model("size: "+size.(string), "steel", 0.99*needs)), "thread")
	}
	require.Contains(t, notes(model("size: M8", "steel", 1.5)), "less thread than one diameter in the tapped part")
	require.Contains(t, notes(model("size: M8", "steel", 1.5)), "base/top (M8 in 1.5 mm)")
	require.Contains(t, notes(model("size: M6, torque: 9 N m", "aluminium-5083", 10)), "usual 6.9 N m")

	// Into less than two diameters of aluminium, the torque that rails are screwed down with.
	preload := func(tapped string, thickness float64) float64 {
		return number(t, solvedAs(t, model("size: M6", tapped, thickness), "show"), "joints/0/preload_n")
	}
	require.InDelta(t, 6.9/9.0*8750, preload("aluminium-5083", 11), 0.01*8750)
	require.InDelta(t, 8750, preload("aluminium-5083", 12), 0.01*8750)
	require.InDelta(t, 8750, preload("steel", 11), 0.01*8750)
}
