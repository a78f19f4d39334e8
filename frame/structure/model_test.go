package structure

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"tiploop/testdata/models"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/answer"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile"
)

func machineOf(text, option string) (*machine.Machine, error) {
	doc, err := modelfile.Parse("m.yaml", []byte(text))
	if err != nil {
		return nil, err
	}
	return doc.Machine(option)
}

func readMachine(t testing.TB, text string) *machine.Machine {
	t.Helper()
	m, err := machineOf(text, "")
	require.NoError(t, err)
	return m
}

// beams builds at detail "section", which most rules of this package are those of.
func beams() *Builder { return &Builder{Detail: Section} }

func buildBeams(m *machine.Machine) (*Model, error) { return beams().Build(context.Background(), m) }

func buildText(t *testing.T, text string) *Model {
	t.Helper()
	m, err := buildBeams(readMachine(t, text))
	require.NoError(t, err)
	return m
}

func solveText(t *testing.T, text string) *answer.Result {
	t.Helper()
	r, err := buildText(t, text).Solve(FullTravel)
	require.NoError(t, err)
	return r
}

func near(t *testing.T, want, got, rel float64, what string) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s: got %g, want %g, off by %.2g", what, got, want, got/want-1)
	}
}

// A stiff block held by four screws to a fixed one: the screws' own springs are all that gives. Moments about the two
// axes of the face are resisted by the screws' distances and by the tilt of each zone (parallel axis theorem).
func TestScrewsInParallel(t *testing.T) {
	// Blocks of E = 1e8 MPa, the most a model may say, still give a little.
	const blocksOwn = 0.015
	const text = `machine: two blocks
materials:
  rigid: {E: 1e8 MPa, nu: 0.33, density: 2700}
parts:
  lower: {plate: {from: [0, 0, 0], to: [100, 60, 20]}, material: rigid}
  upper: {plate: {from: [0, 0, 20], to: [100, 60, 40]}, material: rigid}
joints:
  - {between: [lower, upper], screws: {size: M6, grid: [2, 2]}, drilled: upper}
grounds: [{part: lower, face: bottom, fixed: true}]
points: {middle: {part: upper, at: [50, 30, 30]}}
loads:
  pull:  {at: middle, force: [0, 0, 1000]}
  shear: {at: middle, force: [1000, 0, 0]}
  roll:  {at: middle, moment: [1e5, 0, 0]}
`
	m := buildText(t, text)
	r, err := m.Solve(TipOnly)
	require.NoError(t, err)
	require.Len(t, m.joints[0].screws, 4)
	spot := m.joints[0].screws[0].pinch
	near(t, 1000/(4*spot.Normal)*1000, r.Loads[0].PointsUm["middle"][2], blocksOwn, "four springs in parallel")

	// Screws stand 1.5 d = 9 mm from the sides: 42 mm apart across x. Moment about x: Σ k·y² of the screws in their
	// holes, y = ±21 mm, and of what they press on in its middle, and the zone's own second moment by its springs; shear
	// springs at the face stand 10 mm below the point and do not count here.
	zone := joint.PressureZone(joint.Rect2{Max: [2]float64{100, 60}}, [][2]float64{{9, 9}, {9, 51}, {91, 9}, {91, 51}}, 0,
		spot.ZoneInner, spot.ZoneOuter)
	_, _, yy := zone.Central()
	arm := 21 - zone.Centroid()[1]
	about := spot.ScrewAxial*21*21 + (spot.Normal-spot.ScrewAxial)*arm*arm + spot.Tilt*yy/zone.Area
	near(t, 1e5/(4*about), r.Loads[2].PointsRad["middle"][0], blocksOwn, "tilting")
	near(t, 1000, 4*r.Screws[0].TensionN, 1e-6, "each screw takes a quarter of the pull")
	near(t, 1000, 4*r.Screws[1].ShearN, 1e-6, "and of the shear")
}

// The places of a grid: a screw's edge distance in, evenly spread, x before y before z.
func TestScrewPlaces(t *testing.T) {
	m := buildText(t, models.ClockPlateMill)
	for _, j := range m.joints {
		if j.name != "base/upright" {
			continue
		}
		require.Len(t, j.screws, 4)
		for i, x := range []float64{-66, -22, 22, 66} {
			require.Equal(t, r3.Vec{X: x, Y: 300, Z: 40}, j.screws[i].at)
		}
		require.Equal(t, "base", j.drilled.part.Name, "40 mm of base against 340 mm of upright")
		return
	}
	t.Fatal("no joint base/upright")
}

func TestGeometryFaults(t *testing.T) {
	const two = `machine: two plates
parts:
  base: {plate: {from: [0, 0, 0], to: [100, 50, 10]}, material: steel}
  post: {plate: {from: [0, 0, %s], to: [10, 50, 90]}, material: steel}
joints:
  - {between: [base, post], %s}
grounds: [{part: base, face: bottom, fixed: true}]
`
	for _, c := range []struct{ name, text, want string }{
		{"gap", fmt.Sprintf(two, "12.5", "bonded: true"),
			"m.yaml:6:5: base and post do not touch: they are apart by 2.5 mm along z (top of base at 10 mm, bottom of post " +
				"at 12.5 mm)\n\tmove one of them, or take the joint out"},
		{"overlap", fmt.Sprintf(two, "5", "bonded: true"),
			"m.yaml:4:3: base and post run into each other: they share 10 x 50 x 5 mm (x, y, z)\n\tmoving one of them by 5 mm " +
				"along z would part them"},
		{"too many screws", fmt.Sprintf(two, "10", "screws: {size: M5, grid: [1, 6]}"),
			"m.yaml:6:37: joint base/post: 6 M5 screws in a row along y need 57.5 mm, and the faces share 50 mm\n\tuse fewer " +
				"or smaller screws along y"},
		{"screw too large", fmt.Sprintf(two, "10", "screws: {size: M6, grid: [1, 1]}"),
			"m.yaml:6:37: joint base/post: one M6 screw needs along x 12 mm, and the faces share 10 mm\n\tuse a smaller screw"},
		{"shim thicker than its part", fmt.Sprintf(two, "10", "screws: {size: M4, grid: [1, 2]}, shim: {material: steel, "+
			"thickness: 12}"), "m.yaml:6:5: joint base/post: the shim is 12 mm thick and base only 10 mm\n\ta shim of that " +
			"size is a part of its own, or its unit is missing"},
		{"held twice", strings.Replace(fmt.Sprintf(two, "10", "bonded: true"), "grounds: [", "grounds: [{part: base, face: "+
			"bottom, fixed: true}, ", 1), "m.yaml:7:52: base is held the same way a second time\n\tthe first time is on line " +
			"7; take one of them out"},
		{"screw off the face", fmt.Sprintf(two, "10", "screws: {size: M4, at: [[5, 60]]}"),
			"m.yaml:6:37: joint base/post: the M4 screw at x = 5 mm, y = 60 mm is too near the edge of the face or off " +
				"it\n\tthe faces share 0 mm to 50 mm along y; keep 4 mm from the edge"},
		{"heads collide", fmt.Sprintf(two, "10", "screws: {size: M4, at: [[5, 10], [5, 15]]}"),
			"m.yaml:6:37: joint base/post: two M4 screws stand 5 mm apart and their heads are 7 mm wide\n\tuse fewer or " +
				"smaller screws"},
		{"loose", strings.Replace(fmt.Sprintf(two, "10", "bonded: true"),
			"joints:\n  - {between: [base, post], bonded: true}\n", "", 1),
			"m.yaml:4:3: part post is loose: no joint or ground connects it to the ground, so it can move every way\n\tit " +
				"touches base; join it to its neighbours under joints:, or ground it"},
		{"no grounds", "machine: m\nparts:\n  base: {plate: {from: [0, 0, 0], to: [100, 50, 10]}, material: steel}\n",
			"m.yaml: nothing holds the machine: it has no grounds\n\tadd grounds: to the model"},
		{"a mechanism", "machine: m\nparts:\n  pole: {bar: {from: [0, 0, 0], to: [0, 0, 100]}, section: {round: 10}, " +
			"material: steel}\ngrounds:\n  - {part: pole, hold: [x, y, z, rx, ry], at: [0, 0, 0]}\n",
			"m.yaml:3:3: part pole is loose: it can turn about z without resistance\n\thold that movement with a joint or a " +
				"ground"},
		{"a slider", "machine: m\nparts:\n  base: {plate: {from: [0, 0, 0], to: [100, 50, 10]}, material: " +
			"steel}\ngrounds:\n  - {part: base, face: bottom, bed: 0.5 N/mm3}\n  - {part: base, hold: [x, rz], at: [0, 0, 0]}\n",
			"m.yaml:3:3: part base is loose: it can slide along y without resistance\n\thold that movement with a joint or a " +
				"ground"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := buildBeams(readMachine(t, c.text))
			require.EqualError(t, err, c.want)
		})
	}
}

// Own weight: the grounds carry mass times standard gravity (9.80665 m/s², ISO 80000-3).
func TestWeight(t *testing.T) {
	r := solveText(t, models.ClockPlateMill)
	for _, l := range r.Loads {
		if l.Name == "own weight" {
			near(t, r.MassKg*9.80665, l.ReactionN[2], 1e-9, "reaction")
			require.InDelta(t, 0, l.ReactionN[0], 1e-6)
			require.InDelta(t, 0, l.ReactionN[1], 1e-6)
		}
	}
}

// The sample is symmetric about the plane x = 0 and so is its answer.
func TestSymmetricMachine(t *testing.T) {
	r := solveText(t, models.ClockPlateMill)
	c := r.Tip.ComplianceUmPerN
	for _, k := range []int{1, 2} {
		require.InDelta(t, 0, c[0][k], 1e-9)
		require.InDelta(t, c[1][2], c[2][1], 1e-12)
	}
	for _, l := range r.Loads {
		require.InDelta(t, 0, l.TipUm[0], 1e-7, l.Name)
	}
}

// What the load cases say of the tip, the compliance and the path say too: three ways to the same numbers.
func TestTipThreeWays(t *testing.T) {
	r := solveText(t, strings.Replace(models.ClockPlateMill, "from: -bed_length/2 + 10 mm, to: bed_length/2 - 10 mm",
		"from: -10, to: bed_length/2 - 10 mm", 1))
	c := r.Tip.ComplianceUmPerN
	for k := range 3 {
		require.InDelta(t, 100*c[k][1], r.Loads[0].TipUm[k], 1e-7, "side push and compliance")
		require.InDelta(t, -100*c[k][2], r.Loads[1].TipUm[k], 1e-7, "down push and compliance")
		require.Equal(t, -10.0, r.Travel[0].AtMM[0], "the path begins under the tool")
		require.InDelta(t, r.Loads[0].TipUm[k], r.Travel[0].TipUm[0][k], 1e-7, "side push and path")
	}
	near(t, 1/c[1][1], r.Tip.StiffnessNPerUm.Y, 1e-12, "stiffness")
	require.LessOrEqual(t, r.Tip.StiffnessNPerUm.Softest, math.Min(r.Tip.StiffnessNPerUm.Y, r.Tip.StiffnessNPerUm.Z))
}

// A machine of one material, warmed all over and free to grow, grows like a photograph: the gap between two spots by
// α·ΔT times their distance, without a force anywhere (elementary).
func TestWarmMachineGrowsFreely(t *testing.T) {
	text := strings.NewReplacer("material: steel", "material: aluminium-5083", "material: carbide",
		"material: aluminium-5083",
		"own weight:   {gravity: true}", "own weight:   {temperature: 10 K}", "at: [0, -10, 95]", "at: [3, -10, 95]",
		"work: {part: bed}", "work: {part: bed, at: [-80, 70, 90]}",
		"from: [0, -10, 360], to: [0, -10, 130]", "from: [3, -10, 360], to: [3, -10, 130]",
		"face: bottom, feet: [[-240, -200], [240, -200], [-240, 300], [240, 300]], stiffness: 40 N/um",
		"hold: [x, y, z, rx, ry, rz], at: [0, 0, 20]").Replace(models.ClockPlateMill)
	m := readMachine(t, text)
	r := solveText(t, text)
	growth := m.Parts[0].Material.Expansion * 10 * 1000
	tip := r.Loads[3].TipUm
	for k, d := range [3]float64{3 + 80, -10 - 70, 95 - 90} {
		require.InDelta(t, growth*d, tip[k], 1e-6*growth*100, machine.Axis(k))
	}
	end := r.Loads[3].PointsUm["bed end"]
	for k, d := range [3]float64{0, 130, 90 - 20} {
		require.InDelta(t, growth*d, end[k], 1e-6*growth*100, machine.Axis(k))
	}
	for _, s := range r.Screws {
		if s.Load == "own weight" {
			require.InDelta(t, 0, s.TensionN, 1e-3, s.Joint)
			require.InDelta(t, 0, s.ShearN, 1e-3, s.Joint)
		}
	}
}

// A stiff plate on an elastic pad sinks by the pressure over the pad's modulus (elementary), and tilts by the moment
// over modulus times the second moment of the face.
func TestPad(t *testing.T) {
	r := solveText(t, `machine: plate on a pad
materials: {rigid: {E: 1e8 MPa, nu: 0.33, density: 2700}}
parts:
  plate: {plate: {from: [0, 0, 0], to: [300, 100, 40]}, material: rigid}
grounds:
  - {part: plate, face: bottom, bed: 0.5 N/mm3}
  - {part: plate, hold: [x, y, rz], at: [150, 50, 20]}
points: {middle: {part: plate, at: [150, 50, 20]}}
loads:
  push: {at: middle, force: [0, 0, -600]}
  tilt: {at: middle, moment: [0, 1e5, 0]}
`)
	near(t, -600/(0.5*300*100)*1000, r.Loads[0].PointsUm["middle"][2], 1e-4, "sinks")
	near(t, 1e5/(0.5*100*300*300*300/12), r.Loads[1].PointsRad["middle"][1], 1e-4, "tilts")
}

// All feet moved alike carry the machine along: no force, and every point moves so (rigid-body motion).
func TestSettledAlike(t *testing.T) {
	text := strings.NewReplacer("- {part: base, face: bottom, feet", "- {part: base, name: feet, face: bottom, feet",
		"own weight:   {gravity: true}", "own weight:   {settle: {feet: [0.1, -0.2, 0.3]}}").Replace(models.ClockPlateMill)
	r := solveText(t, text)
	l := r.Loads[3]
	for k, by := range [3]float64{100, -200, 300} {
		require.InDelta(t, by, l.PointsUm["bed end"][k], 1e-6)
		require.InDelta(t, 0, l.TipUm[k], 1e-6)
		require.InDelta(t, 0, l.ReactionN[k], 1e-3)
	}
}

func TestWithin(t *testing.T) {
	at := []float64{0, 10, 20, 30, 40}
	line := func(y ...float64) (tip [][3]float64) {
		for _, v := range y {
			tip = append(tip, [3]float64{0, v, 0})
		}
		return tip
	}
	for _, c := range []struct {
		name      string
		tip       [][3]float64
		tolerance float64
		want      *[2]float64
		gaps      []float64
	}{
		{"all of it", line(1, 2, 3, 2, 1), 4, &[2]float64{0, 40}, nil},
		{"none of it", line(5, 6, 7, 6, 5), 4, nil, nil},
		{"no tolerance", line(1, 1, 1, 1, 1), 0, nil, nil},
		{"the middle, ends interpolated", line(8, 4, 1, 3, 7), 5, &[2]float64{7.5, 35}, nil},
		{"only the stretch round the least", line(1, 9, 0.5, 9, 1), 5, &[2]float64{20 - 10*4.5/8.5, 20 + 10*4.5/8.5}, nil},
		{"up to a gap", line(1, 2, 3, 2, 1), 4, &[2]float64{0, 20}, []float64{25}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := within(at, c.tip, c.tolerance, c.gaps)
			if c.want == nil {
				require.Nil(t, got)
				return
			}
			require.NotNil(t, got)
			require.InDeltaSlice(t, c.want[:], got[:], 1e-12)
		})
	}
}

// A handbook's cantilever beside the solved one: the tool's stub and a single bar.
func TestByHand(t *testing.T) {
	r := solveText(t, models.ClockPlateMill)
	require.NotEmpty(t, r.Hand)
	near(t, r.Hand[0].HandUm, r.Hand[0].SolvedUm, 1e-9, r.Hand[0].What)
	r = solveText(t, `machine: pole
parts: {pole: {bar: {from: [0, 0, 0], to: [0, 0, 400]}, section: {A: 400, Iy: 13333, Iz: 13333, J: 20000}, material: steel}}
grounds: [{part: pole, hold: [x, y, z, rx, ry, rz], at: [0, 0, 0]}]
points: {top: {part: pole, at: [0, 0, 400]}}
loads: {push: {at: top, force: [0, 100, 0]}}
`)
	require.Len(t, r.Hand, 1)
	near(t, r.Hand[0].HandUm, r.Hand[0].SolvedUm, 1e-9, r.Hand[0].What)
	// Held at its far end, and pushed at 300 mm from there.
	r = solveText(t, `machine: pole
parts: {pole: {bar: {from: [0, 0, 0], to: [0, 0, 400]}, section: {A: 400, Iy: 13333, Iz: 13333, J: 20000}, material: steel}}
grounds: [{part: pole, hold: [x, y, z, rx, ry, rz], at: [0, 0, 400]}]
points: {low: {part: pole, at: [0, 0, 100]}}
loads: {push: {at: low, force: [0, 100, 0]}}
`)
	require.Len(t, r.Hand, 1)
	near(t, r.Hand[0].HandUm, r.Hand[0].SolvedUm, 1e-9, r.Hand[0].What)
}

// Places of a path by counting: ten millimetres apart or less, both ends among them, 21 to 201 of them.
func TestPathSpots(t *testing.T) {
	for _, tt := range []struct {
		length float64
		want   int
	}{{50, 21}, {200, 21}, {201, 22}, {310, 32}, {315, 33}, {2000, 201}, {5000, 201}} {
		spots := pathSpots(&machine.Path{From: -20, To: -20 + tt.length})
		require.Len(t, spots, tt.want, "%g mm", tt.length)
		require.Equal(t, -20.0, spots[0])
		require.InDelta(t, -20+tt.length, spots[tt.want-1], 1e-9)
	}
}

// The same for a cutter in a wide plate, off its middle and at its lower face: the tip stands where the photograph has
// it.
func TestWarmHolder(t *testing.T) {
	text := `machine: wide holder
parts:
  holder: {plate: {from: [0, 0, 100], to: [240, 300, 112]}, material: steel}
  table: {plate: {from: [0, 0, 0], to: [300, 300, 40]}, material: steel}
grounds:
  - {part: holder, hold: [x, y, z, rx, ry, rz], at: [120, 150, 106]}
  - {part: table, hold: [x, y, z, rx, ry, rz], at: [150, 140, 20]}
tool: {part: holder, at: [233, 37, 70], stickout: 30, diameter: 8, material: steel}
work: {part: table}
loads: {warm: {temperature: 10 K}}
`
	growth := readMachine(t, text).Parts[0].Material.Expansion * 10 * 1000
	tip := solveText(t, text).Loads[0].TipUm
	// Each side grows from where it is held; the two hold places stay as far apart as they are.
	for k, d := range [3]float64{(233 - 120) - (233 - 150), (37 - 150) - (37 - 140), (70 - 106) - (40 - 20)} {
		require.InDelta(t, growth*d, tip[k], 1e-6*growth*100, machine.Axis(k))
	}
}

// A cutter in a wide plate goes with the plate's own metal at its root: what the tip moves beyond the root, along the
// cutter, is the cutter's compression F·L/(E·A).
func TestToolInAWidePlate(t *testing.T) {
	r := solveText(t, `machine: wide holder
parts:
  holder: {plate: {from: [0, 0, 100], to: [240, 300, 112]}, material: aluminium-5083}
  table: {plate: {from: [0, 0, 0], to: [300, 300, 40]}, material: steel}
grounds:
  - {part: holder, strip: {from: [0, 280, 100], to: [240, 300, 100]}}
  - {part: table, face: bottom, fixed: true}
tool: {part: holder, at: [233, 37, 70], stickout: 30, diameter: 8, material: carbide}
work: {part: table}
points: {root: {part: holder, at: [233, 37, 100]}, under: {part: table, at: [233, 37, 40]}}
loads: {drill: {tip: [0, 0, 100]}}
`)
	l := r.Loads[0]
	beyond := l.TipUm[2] - (l.PointsUm["root"][2] - l.PointsUm["under"][2])
	near(t, 100*30/(580e3*math.Pi*16)*1000, beyond, 1e-6, "compression of the cutter")
}

func BenchmarkSample(b *testing.B) {
	doc, err := modelfile.Parse("sample", []byte(models.ClockPlateMill))
	require.NoError(b, err)
	b.Run("read", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := modelfile.Parse("sample", []byte(models.ClockPlateMill)); err != nil {
				b.Fatal(err)
			}
		}
	})
	m, err := doc.Machine("")
	require.NoError(b, err)
	b.Run("build", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := buildBeams(m); err != nil {
				b.Fatal(err)
			}
		}
	})
	model, err := buildBeams(m)
	require.NoError(b, err)
	b.Run("factor", func(b *testing.B) {
		b.ReportAllocs()
		b.ReportMetric(float64(model.system.Unknowns()), "unknowns")
		for b.Loop() {
			if _, err := model.frame.Factor(); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("solve", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := model.Solve(FullTravel); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// A plate between a member and a strip grows like any other: held on its lower face it stands the higher by α·ΔT times
// its thickness, and moves out sideways by that times its width.
func TestWarmHalfWidePlateGrowsFreely(t *testing.T) {
	for _, width := range []float64{36, 42, 48} { // over a thickness of 20: 1.8, 2.1 and 2.4
		m := readMachine(t, fmt.Sprintf(`machine: warm
parts: {a: {plate: {from: [0, 0, 0], to: [200, %[1]g, 20]}, material: aluminium-5083}}
grounds: [{part: a, at: [0, %[2]g, 10], hold: [x, y, z, rx, ry, rz]}]
points: {end: {part: a, at: [200, %[1]g, 20]}}
loads: {warm: {temperature: 10 K}}
`, width, width/2))
		model, err := buildBeams(m)
		require.NoError(t, err)
		r, err := model.Solve(TipOnly)
		require.NoError(t, err)
		grown := m.Parts[0].Material.Expansion * 10 * 1000
		for k, way := range [3]float64{200, width / 2, 10} {
			require.InDelta(t, grown*way, r.Loads[0].PointsUm["end"][k], 1e-3*grown*way, "%g wide, %v", width,
				machine.Axis(k))
		}
	}
}
