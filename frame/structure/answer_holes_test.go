package structure

import (
	"context"
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile"
)

// inventoryOf is that of a model, by the beam model.
func inventoryOf(t *testing.T, m *machine.Machine) answer.Inventory {
	t.Helper()
	model, err := (&Builder{Detail: Section}).Build(context.Background(), m)
	require.NoError(t, err)
	return model.Inventory()
}

// holePlace is where a hole is in the machine, from its place on its face and the part's datum corner alone.
func holePlace(t *testing.T, inv answer.Inventory, h answer.HoleLine) [3]float64 {
	t.Helper()
	for _, p := range inv.Parts {
		if p.Name != h.Part {
			continue
		}
		at := p.DatumMM
		n := map[string]int{"left": 0, "right": 0, "front": 1, "back": 1, "bottom": 2, "top": 2}[h.Face]
		axes := map[int][2]int{0: {1, 2}, 1: {0, 2}, 2: {0, 1}}[n]
		for i, v := range []float64{h.XMM, h.YMM} {
			k := axes[i]
			at[k] += v
			if math.Abs(at[k]-h.AtMM[k]) > 1e-9 { // from a gusset's corner the other way
				at[k] -= 2 * v
			}
		}
		at[n] = h.AtMM[n]
		return at
	}
	t.Fatalf("hole of no part: %s", h.Part)
	return [3]float64{}
}

// Every screw of every joint of the examples is one hole through the one part and one tapped in the other, at the
// screw's place, however that is read: as it stands in the machine or from the part's corner. What is over is of rails
// and carriages. The sums are those of the list.
func TestHolesAreThoseOfTheScrews(t *testing.T) {
	files, err := filepath.Glob("../../examples/*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, path := range files {
		doc, err := modelfile.Read(path)
		require.NoError(t, err)
		m, err := doc.Machine("")
		require.NoError(t, err)
		inv := inventoryOf(t, m)
		left := map[string]int{}
		key := func(part string, at [3]float64, of, kind string) string {
			for k := range at {
				at[k] = math.Round(at[k]*1e6)/1e6 + 0
			}
			return fmt.Sprint(part, at, of, strings.TrimPrefix(kind, "counterbored "))
		}
		numbers := map[string]int{}
		for _, h := range inv.HoleList {
			numbers[h.Part]++
			require.Equal(t, numbers[h.Part], h.Number, "%s: %s", path, h.Part)
			at := holePlace(t, inv, h)
			for k := range at {
				require.InDelta(t, h.AtMM[k], at[k], 1e-9, "%s: %s %d", path, h.Part, h.Number)
			}
			if strings.HasPrefix(h.For, "joint ") {
				left[key(h.Part, at, h.For, h.Kind)]++
				require.False(t, h.Typical)
			} else {
				require.True(t, h.Typical, h.For)
			}
			require.Positive(t, h.EdgeMM)
		}
		screws := 0
		for _, j := range inv.Joints {
			for _, at := range j.PlacesMM {
				screws++
				for _, k := range []string{key(j.ThroughIn, at, "joint "+j.Name, "through"),
					key(j.TappedIn, at, "joint "+j.Name, "tapped")} {
					require.Equal(t, 1, left[k], "%s: %s", path, k)
					delete(left, k)
				}
			}
		}
		require.Empty(t, left, path)
		countsAreSums(t, inv)
		require.GreaterOrEqual(t, inv.Holes.Through+inv.Holes.Tapped, 2*screws)
	}
}

// countsAreSums holds counts and work of holes against the list of them.
func countsAreSums(t *testing.T, inv answer.Inventory) {
	t.Helper()
	sum := answer.Holes{}
	for _, h := range inv.HoleList {
		kind := map[string]joint.HoleKind{"tapped": joint.Tapped, "bored": joint.Bored, "through": joint.Clearance,
			"counterbored through": joint.Counterbored}[h.Kind]
		operations, minutes := joint.HoleWork(kind)
		sum.Operations += operations
		sum.Minutes += minutes.Typical
		switch kind {
		case joint.Tapped:
			sum.Tapped++
		case joint.Bored:
			sum.Bored++
		default:
			sum.Through++
		}
	}
	require.InDelta(t, sum.Minutes, inv.Holes.Minutes, 1e-9)
	sum.Minutes = inv.Holes.Minutes
	require.Equal(t, sum, inv.Holes)
}

// cornerText is a column on a base, its screws where they are said to be.
const cornerText = `machine: m
parts:
  base:   {plate: {from: [-100, -50, 0], to: [60, 70, 20]}, material: aluminium-5083}
  column: {plate: {from: [%g, 10, 20], to: [%g, 40, 200]}, material: aluminium-5083}
joints:
  - {between: [base, column], screws: {size: M6, at: [[%g, 25], [%g, 25]], head: %s}, drilled: base}
grounds: [{part: base, face: bottom, feet: [[-50, -40], [50, -40], [-50, 60], [50, 60]], stiffness: 40 N/um}]
loads: {w: {gravity: true}}
`

// A column with its holes by hand: from the base's left front corner (-100, -50), from the column's (-40, 10); ISO 273
// and ISO 2306 for M6, thread two diameters deep, run-out of DIN 76-1 (all from memory).
func TestHolesByHand(t *testing.T) {
	inv := inventoryOf(t, readMachine(t, fmt.Sprintf(cornerText, -40., 0., -30., -10., "proud")))
	require.Len(t, inv.HoleList, 4)
	through, tapped := inv.HoleList[0], inv.HoleList[2]
	require.Equal(t, answer.HoleLine{Part: "base", Number: 1, Face: "top", OutOn: "bottom", XMM: 70, YMM: 75, EdgeMM: 45,
		AtMM: [3]float64{-30, 25, 20}, Kind: "through", Screw: "M6", DrillMM: 6.6, DepthMM: 20, Meets: []int{},
		For: "joint base/column", Source: joint.ClearanceSource}, through)
	require.Equal(t, answer.HoleLine{Part: "column", Number: 1, Face: "bottom", XMM: 10, YMM: 15, EdgeMM: 10,
		AtMM: [3]float64{-30, 25, 20}, Kind: "tapped", Screw: "M6", DrillMM: 5, DepthMM: 17.1, ThreadMM: 12, Meets: []int{},
		For: "joint base/column", Source: joint.TappingSource}, tapped)
	require.Equal(t, answer.Holes{Through: 2, Tapped: 2, Operations: 20, Minutes: inv.Holes.Minutes}, inv.Holes)

	// A sunk head: the counterbore of DIN 974-1 (from memory), as deep as the head is high, where it comes out.
	inv = inventoryOf(t, readMachine(t, fmt.Sprintf(cornerText, -40., 0., -30., -10., "sunk")))
	sunk := inv.HoleList[0]
	require.Equal(t, "counterbored through", sunk.Kind)
	require.Equal(t, [2]float64{11, 6}, [2]float64{sunk.SinkMM, sunk.SinkDepthMM})
	require.Equal(t, "bottom", sunk.OutOn)
}

// Mirrored left to right, a machine has the same holes at the mirrored places of the same faces.
func TestHolesOfAMirroredMachine(t *testing.T) {
	plain := inventoryOf(t, readMachine(t, fmt.Sprintf(cornerText, -40., 0., -30., -10., "proud")))
	text := strings.ReplaceAll(fmt.Sprintf(cornerText, 0., 40., 30., 10., "proud"), "from: [-100, -50, 0], to: [60,",
		"from: [-60, -50, 0], to: [100,")
	mirrored := inventoryOf(t, readMachine(t, text))
	wide := map[string]float64{"base": 160, "column": 40}
	require.Len(t, mirrored.HoleList, len(plain.HoleList))
	for _, h := range plain.HoleList {
		found := 0
		for _, o := range mirrored.HoleList {
			if o.Part == h.Part && o.Face == h.Face && math.Abs(o.XMM-(wide[h.Part]-h.XMM)) < 1e-9 {
				found++
				require.InDelta(t, h.YMM, o.YMM, 1e-9)
				require.InDelta(t, h.EdgeMM, o.EdgeMM, 1e-9)
				require.Equal(t, [3]any{h.Kind, h.DrillMM, h.DepthMM}, [3]any{o.Kind, o.DrillMM, o.DepthMM})
			}
		}
		require.Equal(t, 1, found, "%s %d", h.Part, h.Number)
	}
}

// Holes of a table on two rails of size 15: four M4 in a square of 26 mm for each carriage, and M4 every 60 mm for the
// rails (ISO 12090-1, from memory).
func TestHolesOfRailsAndCarriages(t *testing.T) {
	inv := inventoryOf(t, readMachine(t, `machine: m
parts:
  base:  {plate: {from: [-100, -150, 0], to: [100, 150, 20]}, material: aluminium-5083}
  table: {plate: {from: [-80, -60, 48], to: [80, 60, 68]}, material: aluminium-5083}
  post:  {plate: {from: [-15, 130, 20], to: [15, 150, 45]}, material: aluminium-5083}
joints: [{between: [base, post], bonded: true}]
grounds: [{part: base, face: bottom, feet: [[-90, -140], [90, -140], [0, 140]], stiffness: 40 N/um}]
axes:
  y:
    along: y
    carries: [table]
    travel: [-40, 40]
    guides:
      - {rail: profile-15, on: base, part: table, from: [-60, -140, 20], to: [-60, 120, 20], carriages: [-30, 30]}
      - {rail: profile-15, on: base, part: table, from: [60, -140, 20],  to: [60, 120, 20],  carriages: [-30, 30]}
    drive: {screw: 1204, from: [0, 130, 34], to: [0, -100, 34], nut: {part: table, at: 0}, bearing: {part: post}, motor: frame-17}
loads: {w: {gravity: true}}
`))
	byFor := map[string][]answer.HoleLine{}
	for _, h := range inv.HoleList {
		byFor[h.For] = append(byFor[h.For], h)
		require.Equal(t, "M4", h.Screw)
	}
	require.Len(t, byFor, 6)
	square := byFor["carriage 2 on rail 1 of axis y"]
	require.Len(t, square, 4)
	var places [][2]float64
	for _, h := range square {
		require.Equal(t, [2]any{"table", "bottom"}, [2]any{h.Part, h.Face})
		require.Equal(t, "through", h.Kind)
		places = append(places, [2]float64{h.XMM, h.YMM})
	}
	// Its middle is 20 mm from the left edge and 90 from the front edge of the table.
	require.ElementsMatch(t, [][2]float64{{7, 77}, {33, 77}, {7, 103}, {33, 103}}, places)
	rail := byFor["rail 2 of axis y"]
	require.Len(t, rail, 5) // 260 mm: five at 60 leave 10 at each end
	for i, h := range rail {
		require.Equal(t, [2]any{"base", "top"}, [2]any{h.Part, h.Face})
		require.Equal(t, "tapped", h.Kind)
		require.InDelta(t, 160, h.XMM, 1e-9)
		require.InDelta(t, 20+60*float64(i), h.YMM, 1e-9)
		require.Equal(t, [2]float64{3.3, 8}, [2]float64{h.DrillMM, h.ThreadMM})
	}
	var open []string
	for _, o := range inv.HolesOpen {
		open = append(open, o.What)
	}
	require.Equal(t, []string{"feet", "nut", "bearing", "motor"}, open)
	require.Len(t, inv.HolesOpen[0].PlacesMM, 3)
}

// Holes in the edges of a gusset count from its right angle, whichever way its legs go; under them the metal ends at the
// slope, and a thread that it leaves no room for is told.
func TestHolesOfGussets(t *testing.T) {
	const text = `machine: m
parts:
  base: {plate: {from: [-100, -150, 0], to: [100, 150, 20]}, material: aluminium-5083}
  wall: {plate: {from: [-100, 0, 20], to: [100, 20, 150]}, material: aluminium-5083}
  rib:  {gusset: {corner: [-10, %[1]g, 20], legs: [[0, %[2]g, 0], [0, 0, 100]], thickness: [20, 0, 0]}, material: aluminium-5083}
joints:
  - {between: [base, wall], bonded: true}
  - {between: [base, rib], screws: {size: M6, at: [[0, %[3]g], [0, %[4]g]]}}
  - {between: [wall, rib], bonded: true}
grounds: [{part: base, face: bottom, fixed: true}]
loads: {w: {gravity: true}}
`
	for _, way := range []float64{-1, 1} {
		corner := 10 + 10*way
		inv := inventoryOf(t, readMachine(t, fmt.Sprintf(text, corner, way*80, corner+way*30, corner+way*72)))
		var holes []answer.HoleLine
		for _, h := range inv.HoleList {
			if h.Part == "rib" {
				holes = append(holes, h)
			}
		}
		require.Len(t, holes, 2)
		near, far := holes[0], holes[1]
		require.Equal(t, [2]float64{10, 30}, [2]float64{near.XMM, near.YMM})
		require.Equal(t, [2]float64{10, 72}, [2]float64{far.XMM, far.YMM})
		require.Equal(t, "bottom", near.Face)
		require.Equal(t, 12., near.ThreadMM)
		// 100·(1 - (72 + 3)/80) = 6.25 mm of metal, less the drill's point, 1.5, and a skin of 1; the run-out takes 5.1.
		require.InDelta(t, 3.75, far.DepthMM, 0.01)
		require.Zero(t, far.ThreadMM)
		require.Empty(t, far.OutOn)
		require.Contains(t, strings.Join(inv.Notes, "\n"), "rib: 2 (joint base/rib, M6)")
	}
}

// Holes that run into each other are told: two across one another, two from both sides; not those that stay apart.
func TestHolesThatMeet(t *testing.T) {
	const text = `machine: m
parts:
  base:  {plate: {from: [-100, -50, 0], to: [100, 50, 20]}, material: aluminium-5083}
  post:  {plate: {from: [-20, -15, 20], to: [20, 15, 150]}, material: aluminium-5083}
  front: {plate: {from: [-20, -35, 20], to: [20, -15, 60]}, material: aluminium-5083}
joints:
  - {between: [base, post], screws: {size: M6, at: [[-10, 0]]}, drilled: base}
  - {between: [post, front], screws: {size: M6, at: [[%g, %g]]}, drilled: front}
  - {between: [base, front], bonded: true}
grounds: [{part: base, face: bottom, fixed: true}]
loads: {w: {gravity: true}}
`
	for _, c := range []struct {
		name  string
		x, z  float64
		meets bool
	}{
		{"across", -10, 32, true},
		{"above its end", -10, 44, false}, // 17.1 deep, 37.1; the other's lower side at 41
		{"beside", 10, 32, false},
		{"just beside", -3.9, 32, false}, // M6 and M6: 6 mm apart
		{"just touching", -4.1, 32, true},
	} {
		inv := inventoryOf(t, readMachine(t, fmt.Sprintf(text, c.x, c.z)))
		said := strings.Contains(strings.Join(inv.Notes, "\n"), "holes that run into each other")
		require.Equal(t, c.meets, said, c.name)
		met := 0
		for _, h := range inv.HoleList {
			met += len(h.Meets)
		}
		require.Equal(t, c.meets, met == 2, c.name)
	}
}

// The cut list by hand: two plates of one size lie together however they stand, those of another material do not; bars
// are summed along themselves, a skew one too.
func TestCutList(t *testing.T) {
	inv := inventoryOf(t, readMachine(t, `machine: m
parts:
  a: {plate: {from: [0, 0, 0], to: [300, 100, 20]}, material: aluminium-5083}
  b: {plate: {from: [0, 0, 20], to: [20, 100, 320]}, material: aluminium-5083}
  c: {plate: {from: [280, 0, 20], to: [300, 100, 320]}, material: steel}
  g: {gusset: {corner: [20, 0, 20], legs: [[40, 0, 0], [0, 0, 60]], thickness: [0, 15, 0]}, material: aluminium-5083}
  p: {bar: {from: [150, 50, 20], to: [150, 50, 120]}, section: {round: 20}, material: steel}
  q: {bar: {from: [150, 50, 120], to: [180, 50, 160]}, section: {round: 20}, material: steel}
joints:
  - {between: [a, b], bonded: true}
  - {between: [a, c], bonded: true}
  - {between: [a, g], bonded: true}
  - {between: [a, p], bonded: true}
  - {between: [p, q], bonded: true}
grounds: [{part: a, face: bottom, fixed: true}]
loads: {w: {gravity: true}}
`))
	type piece struct {
		kind, section string
		size          [3]float64
		parts         string
	}
	var list []piece
	kg := 0.
	for _, c := range inv.CutList {
		for k := range c.SizeMM {
			c.SizeMM[k] = math.Round(c.SizeMM[k]*1e6) / 1e6
		}
		list = append(list, piece{c.Kind, c.Section, c.SizeMM, strings.Join(c.Parts, " ")})
		kg += float64(len(c.Parts)) * c.MassKg
	}
	require.Equal(t, []piece{
		{"plate", "", [3]float64{300, 100, 20}, "c"},
		{"plate", "", [3]float64{300, 100, 20}, "a b"},
		{"bar", "round 20", [3]float64{100}, "p"},
		{"bar", "round 20", [3]float64{50}, "q"},
		{"gusset", "", [3]float64{60, 40, 15}, "g"},
	}, list)
	require.InDelta(t, inv.MassKg, kg, 1e-9)
	require.Len(t, inv.BarStock, 1)
	require.Equal(t, 2, inv.BarStock[0].Pieces)
	require.InDelta(t, 150, inv.BarStock[0].LengthMM, 1e-9)
	require.InDelta(t, 0.15*math.Pi*100*7.85e-3, inv.BarStock[0].MassKg, 2e-3) // 7.85 g/cm³
}
