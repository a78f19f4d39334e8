package structure

import (
	"context"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"tiploop/testdata/models"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/drive"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile"
	"tiploop/testdata/checks"
)

func crossAt(t testing.TB, px, py, pz float64) *machine.Machine {
	t.Helper()
	doc, err := modelfile.Parse("m.yaml", fmt.Appendf(nil, models.CrossTable, px, py, pz))
	require.NoError(t, err)
	m, err := doc.Machine("")
	require.NoError(t, err)
	return m
}

// axisNumbers are all those of a result that the position of the axes may change.
func axisNumbers(r *answer.Result) (list []float64) {
	for _, l := range r.Loads {
		list = append(list, l.TipUm[0], l.TipUm[1], l.TipUm[2])
		for _, name := range slices.Sorted(maps.Keys(l.PointsUm)) {
			v := l.PointsUm[name]
			list = append(list, v[:]...)
		}
	}
	for _, s := range r.Shares {
		list = append(list, s.Percent)
	}
	for _, row := range r.Travel {
		for i, v := range row.TipUm {
			list = append(append(list, row.AtMM[i]), v[:]...)
		}
	}
	for _, c := range r.Carriages {
		list = append(append(list, c.AtMM[:]...), c.PullN, c.SideN, c.RollNmm, c.PitchNmm, c.YawNmm)
	}
	for _, d := range r.Drives {
		list = append(list, d.ForceN, d.StiffNPerUm)
	}
	return append(list, r.Tip.StiffnessNPerUm.Softest)
}

func solveMachine(t testing.TB, by Builder, m *machine.Machine) *answer.Result {
	t.Helper()
	model, err := by.Build(context.Background(), m)
	require.NoError(t, err)
	r, err := model.solveStanding(FullTravel)
	require.NoError(t, err)
	return r
}

// sameAnswer is how near two ways of drawing one machine must come, over the size of the largest number of its kind.
const sameAnswer = 1e-9

func requireSame(t testing.TB, want, got *answer.Result) {
	t.Helper()
	a, b := axisNumbers(want), axisNumbers(got)
	require.Len(t, b, len(a))
	for i := range a {
		if !(math.Abs(a[i]-b[i]) <= sameAnswer*math.Max(100, math.Abs(a[i]))) {
			t.Fatalf("number %d: %.15g drawn by hand, %.15g moved there", i, a[i], b[i])
		}
	}
	require.Equal(t, want.AtMM, got.AtMM)
}

// The moved machine is the same machine drawn at that position by hand.
func TestMovedIsDrawnThere(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 1))
	// eighths add up exactly
	draw := func(lo, hi float64) float64 { return math.Round((lo+random.Float64()*(hi-lo))*8) / 8 }
	places := 4
	if thorough() {
		places = 8
	}
	for range places {
		at := map[string]float64{"x": draw(-30, 30), "y": draw(-40, 40), "z": draw(-50, 20)}
		byHand := crossAt(t, at["x"], at["y"], at["z"])
		moved, err := crossAt(t, draw(-30, 30), draw(-40, 40), draw(-50, 20)).At(at)
		require.NoError(t, err)
		for i := range moved.Axes {
			moved.Axes[i].Drawn = byHand.Axes[i].Drawn // where the file draws it differs
		}
		require.Equal(t, holesOf(t, byHand), holesOf(t, moved))
		for i, j := range byHand.Joints {
			moved.Joints[i].Screws, moved.Joints[i].Moved = j.Screws, j.Moved // and how the same holes are told
		}
		require.Equal(t, byHand, moved)
		requireSame(t, solveMachine(t, Builder{Detail: Section}, byHand), solveMachine(t, Builder{Detail: Section}, moved))
	}
}

// holesOf are the places of all screws.
func holesOf(t *testing.T, m *machine.Machine) (places [][][3]float64) {
	model, err := buildBeams(m)
	require.NoError(t, err)
	for _, j := range model.Inventory().Joints {
		places = append(places, j.PlacesMM)
	}
	return places
}

func TestMovedIsDrawnThereSolid(t *testing.T) {
	if testing.Short() {
		t.Skip("meshes ten parts twice")
	}
	moved, err := crossAt(t, 0, 0, 0).At(map[string]float64{"x": 12.5, "y": -20, "z": -30})
	require.NoError(t, err)
	by := Builder{Detail: Solid, Mesh: 2}
	requireSame(t, solveMachine(t, by, crossAt(t, 12.5, -20, -30)), solveMachine(t, by, moved))
}

// Section and solid detail of a machine on guides differ by what they differ for its plates.
func TestGuidesAtBothDetails(t *testing.T) {
	m := crossAt(t, 0, 0, 0)
	section, meshed := solveMachine(t, Builder{Detail: Section}, m), solveMachine(t, Builder{Detail: Solid, Mesh: 2}, m)
	ratio := section.Tip.StiffnessNPerUm.Softest / meshed.Tip.StiffnessNPerUm.Softest
	require.Greater(t, ratio, 0.6)
	require.Less(t, ratio, 1.5)
}

// A position is worn by all that moves along, and by nothing else.
func TestStackedAxesMoveAlong(t *testing.T) {
	m := crossAt(t, 0, 0, 0)
	var names [][]string
	for _, a := range m.Axes {
		var list []string
		for _, p := range a.Moves {
			list = append(list, m.Parts[p].Name)
		}
		names = append(names, list)
	}
	require.Equal(t, [][]string{
		{"saddle", "table", "fence", "mount_x"}, {"table", "fence"}, {"quill", "arm", "gusset", "spindle"},
	}, names)
}

// stiffTable is a table on four carriages that give forces alone, between blocks of the stiffest material a model may
// name.
const stiffTable = `machine: stiff blocks
materials:
  rigid: {E: 1e8 MPa, nu: 0.3, density: 2700}
parts:
  base:  {plate: {from: [-400, -150, 0], to: [400, 150, 100]}, material: rigid}
  table: {plate: {from: [-100, -100, 130], to: [100, 100, 230]}, material: rigid}
  near:  {plate: {from: [-400, -50, 100], to: [-350, 50, 230]}, material: rigid}
  far:   {plate: {from: [350, -50, 100], to: [400, 50, 230]}, material: rigid}
joints: [{between: [base, near], bonded: true}, {between: [base, far], bonded: true}]
grounds: [{part: base, face: bottom, fixed: true}]
axes:
  table:
    along: x
    carries: [table]
    travel: [-200, 200]
    guides:
%s
    drive: %s
points: {middle: {part: table, at: [%g, %g, 180]}}
loads:
  up:    {at: middle, force: [0, 0, %g]}
  pitch: {at: middle, moment: [0, 1e6, 0]}
  roll:  {at: middle, moment: [1e6, 0, 0]}
  along: {at: middle, force: [1000, 0, 0]}
`

// stiffBlocks is what blocks of E = 1e8 MPa, the most a model may say, still give, as a share.
const stiffBlocks = 2e-3

func stiffRail(y, k, roll float64, places string) string {
	more := ""
	if roll > 0 {
		more = fmt.Sprintf(", roll: %g", roll)
	}
	return fmt.Sprintf("      - {stiffness: {press: %g%s}, on: base, part: table, from: [-390, %g, 100], to: [390, %g, "+
		"100], carriages: %s}\n", k, more, y, y, places)
}

func TestCarriageChecksThroughModel(t *testing.T) {
	checks.Run(t, map[string]func(t *testing.T, c checks.Case){
		"joint-two-carriages": func(t *testing.T, c checks.Case) {
			k, d := c.In(t, "stiffness_each_N_per_mm"), c.In(t, "spacing_mm")
			r := solveText(t, fmt.Sprintf(stiffTable, stiffRail(0, k, 1e12, fmt.Sprintf("[%g, %g]", -d/2, d/2)),
				"{stiffness: 1e9, part: table, on: base, at: [0, 0, 115]}", 0., 0., 1000.))
			c.Near(t, "vertical_N_per_mm", 1000/(r.Loads[0].PointsUm["middle"][2]/constant.UmPerMM), stiffBlocks)
			c.Near(t, "pitch_N_mm_per_rad", 1e6/r.Loads[1].PointsRad["middle"][1], stiffBlocks)
		},
		"joint-four-carriages": func(t *testing.T, c checks.Case) {
			k, along, across := c.In(t, "stiffness_each_N_per_mm"), c.In(t, "spacing_along_mm"), c.In(t, "rail_distance_mm")
			places := fmt.Sprintf("[%g, %g]", -along/2, along/2)
			rails := stiffRail(-across/2, k, 0, places) + stiffRail(across/2, k, 0, places)
			const drive = "{stiffness: 1e9, part: table, on: base, at: [0, 0, 115]}"
			r := solveText(t, fmt.Sprintf(stiffTable, rails, drive, 0., 0., 1000.))
			c.Near(t, "heave_N_per_mm", 1000/(r.Loads[0].PointsUm["middle"][2]/constant.UmPerMM), stiffBlocks)
			c.Near(t, "pitch_N_mm_per_rad", 1e6/r.Loads[1].PointsRad["middle"][1], stiffBlocks)
			c.Near(t, "roll_N_mm_per_rad", 1e6/r.Loads[2].PointsRad["middle"][0], stiffBlocks)
			load := c.In(t, "load_N")
			r = solveText(t, fmt.Sprintf(stiffTable, rails, drive, c.In(t, "load_x_mm"), c.In(t, "load_y_mm"), load))
			c.Near(t, "deflection_under_load_mm", r.Loads[0].PointsUm["middle"][2]/constant.UmPerMM, stiffBlocks)
			sum := 0.0
			for _, g := range r.Carriages[:4] {
				sum += g.PullN
			}
			require.InEpsilon(t, load, sum, 1e-9, "the carriages carry the load")
		},
		// The trade's chain leaves the shaft's twist out: with a lead of next to nothing it does not count.
		"joint-screw-drive-chain": func(t *testing.T, c checks.Case) {
			at := c.In(t, "nut_at_mm") - 350
			text := fmt.Sprintf("{screw: {root: %g, lead: 0.01}, from: [-350, 0, 180], to: [350, 0, 180], nut: {part: table, "+
				"at: %g, stiffness: %g}, bearing: {part: near, stiffness: %g}}",
				c.In(t, "root_diameter_mm"), at, c.In(t, "nut_N_per_mm"), c.In(t, "bearing_N_per_mm"))
			rails := stiffRail(-80, 1e6, 0, "[-60, 60]") + stiffRail(80, 1e6, 0, "[-60, 60]")
			r := solveText(t, fmt.Sprintf(stiffTable, rails, text, 0., 0., 1000.))
			c.Near(t, "total_N_per_mm", 1000/(r.Loads[3].PointsUm["middle"][0]/constant.UmPerMM), stiffBlocks)
			require.InEpsilon(t, 1000, -r.Drives[3].ForceN, 1e-9)
		},
	})
}

// The stiffness of a screw goes with the place of its nut; held at both ends it is that of both ways side by side, and
// the travel of a belt is that of its spans (closed forms of frame/drive, which its own tests hold against ISO 3408-4).
func TestDriveStiffnessAlongTravel(t *testing.T) {
	size, _ := drive.LookupBallScrew("1605")
	nut, err := size.Nut(drive.SnugNut, 100)
	require.NoError(t, err)
	unit := drive.FixedUnitFor(16).Axial.Typical
	stepper, _ := drive.LookupStepper("frame-23")
	screw := drive.ScrewDrive{
		Shaft: drive.Shaft{Root: size.Root.Typical, E: machine.ScrewE, Nu: machine.ScrewNu, Length: 700,
			Ends: drive.FixedFixed}, Lead: 5,
		Nut: nut.Typical, NearBearing: unit, FarBearing: 70e3, Turning: drive.HoldingStiffness(stepper.Hold.Typical),
	}
	belt := drive.BeltAxis{Belt: drive.Belt{Pitch: 3, Width: 15, Cord: drive.SteelCord}, Length: 700, Teeth: 20,
		Motor: screw.Turning}
	open := belt
	open.Path = drive.OpenPath
	const beltText = "{belt: {pitch: 3, width: 15, cord: steel}, path: %s, teeth: 20, motor: frame-23, from: [-350, 0, " +
		"180], to: [350, 0, 180], clamp: {part: table, at: 0}, pulley: {part: near}, idler: {part: far}}"
	for _, c := range []struct {
		name, text string
		want       func(at float64) (float64, error)
	}{
		{"screw fixed at both ends", "{screw: 1605, ends: fixed-fixed, from: [-350, 0, 180], to: [350, 0, 180], nut: " +
			"{part: table, at: 0}, bearing: {part: near}, far: {part: far, stiffness: 70 N/um}, motor: frame-23}",
			screw.Stiffness},
		{"closed belt", fmt.Sprintf(beltText, "closed"), func(at float64) (float64, error) {
			k,
				err := belt.Stiffness(at)
			return k.Typical, err
		}},
		{"open belt", fmt.Sprintf(beltText, "open"), func(at float64) (float64, error) {
			k,
				err := open.Stiffness(at)
			return k.Typical, err
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := readMachine(t, fmt.Sprintf(stiffTable, stiffRail(-80, 1e6, 0, "[-60, 60]")+stiffRail(80, 1e6, 0, "[-60, 60]"),
				c.text, 0., 0., 1000.))
			for _, q := range []float64{-200, -50, 0, 130, 200} {
				moved, err := m.At(map[string]float64{"table": q})
				require.NoError(t, err)
				r := solveMachine(t, Builder{Detail: Section}, moved)
				want, err := c.want(350 + q)
				require.NoError(t, err)
				near(t, want, 1000/(r.Loads[3].PointsUm["middle"][0]/constant.UmPerMM), stiffBlocks, "stiffness along the travel")
				near(t, want, r.Drives[3].StiffNPerUm*constant.UmPerMM, 1e-9, "as listed")
				near(t, 1000, -r.Drives[3].ForceN, 1e-8, "force of the drive") // stiff blocks of sheets beside it
			}
		})
	}
}

// A bracket that bends is in a row with the screw: the mount plate as a cantilever adds F·h³/(3·E·I), what a
// builder fears of a thin motor mount. Its seat and screws add more, so the drive must be softer than the row of the
// two, not by much.
func TestThinMountBends(t *testing.T) {
	const text = `machine: thin mount
materials:
  rigid: {E: 1e8 MPa, nu: 0.3, density: 2700}
parts:
  base:  {plate: {from: [-400, -150, 0], to: [400, 150, 100]}, material: rigid}
  table: {plate: {from: [-100, -100, 130], to: [100, 100, 230]}, material: rigid}
  mount: {plate: {from: [-%g, -20, 100], to: [-350, 20, 230]}, material: aluminium-5083}
joints: [{between: [base, mount], bonded: true}]
grounds: [{part: base, face: bottom, fixed: true}]
axes:
  table:
    along: x
    carries: [table]
    travel: [-200, 200]
    guides:
      - {stiffness: {press: 1e6}, on: base, part: table, from: [-390, -80, 100], to: [390, -80, 100], carriages: [-60, 60]}
      - {stiffness: {press: 1e6}, on: base, part: table, from: [-390, 80, 100], to: [390, 80, 100], carriages: [-60, 60]}
    drive: {screw: {root: 13, lead: 0.01}, from: [-350, 0, 200], to: [350, 0, 200], nut: {part: table, at: 0, stiffness: 100 N/um}, bearing: {part: mount, stiffness: 90 N/um}}
points: {middle: {part: table, at: [0, 0, 200]}}
loads: {along: {at: middle, force: [1000, 0, 0]}}
`
	for _, thick := range []float64{8, 15} {
		r := solveText(t, fmt.Sprintf(text, 350+thick))
		moved := r.Loads[0].PointsUm["middle"][0]
		chain := 1000 / r.Drives[0].StiffNPerUm
		bent := 1000 * 100 * 100 * 100 / (3 * 70e3 * 40 * thick * thick * thick / 12) * constant.UmPerMM
		require.Greater(t, moved, chain+0.95*bent)
		require.Less(t, moved, chain+1.6*bent)
	}
}
