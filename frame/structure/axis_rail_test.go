package structure

import (
	"context"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame"
	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/guide"
	"tiploop/frame/machine"
	"tiploop/testdata/checks"
)

// hungSlide is a slide of thin plate on two rails that reaches far below its carriages; %[1]s are more parts, %[2]s
// joints, %[3]s and %[4]s what the two rails are on, %[5]s more loads.
const hungSlide = `machine: hung slide
parts:
  back:  {plate: {from: [-80, 100, 0], to: [80, 130, 320]}, material: aluminium-5083}
  slide: {plate: {from: [-45, 57, 0], to: [45, 72, 280]}, material: aluminium-5083}
%[1]s
joints: [%[2]s]
grounds: [{part: back, face: back, fixed: true}]
axes:
  z:
    along: z
    carries: [slide]
    travel: [-20, 20]
    guides:
      - {rail: profile-15, %[3]s, part: back, carriages: [155, 225]}
      - {rail: profile-15, %[4]s, part: back, carriages: [155, 225]}
    drive: {stiffness: 30 N/um, part: slide, on: back, at: [0, 86, 200]}
points:
  nose: {part: slide, at: [0, 57, 15], patch: [10, 10]}
loads:
  back:   {at: nose, force: [0, 40, 0]}
  aside:  {at: nose, force: [40, 0, 0]}
  twist:  {at: nose, moment: [0, 0, 1000]}
%[5]s`

func hungRails(more string) string {
	return fmt.Sprintf(hungSlide, "", "", "on: slide, from: [-30, 72, 0], to: [-30, 72, 280]",
		"on: slide, from: [30, 72, 0], to: [30, 72, 280]", more)
}

// hungBars is the same with each rail drawn as a bar of its profile, screwed at the same places with the same torque.
func hungBars(t *testing.T, more string) string {
	c, ok := guide.LookupCarriage("profile-15")
	require.True(t, ok)
	section, err := c.RailSection(0.3)
	require.NoError(t, err)
	const w, n, h = 7.5, 3.75, 15.0
	outline := [][2]float64{{-w, 0}, {w, 0}, {w, .25 * h}, {n, .4 * h}, {n, .6 * h}, {w, .78 * h}, {w, h}, {-w, h},
		{-w, .78 * h}, {-n, .6 * h}, {-n, .4 * h}, {-w, .25 * h}}
	var corners, parts, joints []string
	for _, p := range outline {
		corners = append(corners, fmt.Sprintf("[%g, %g]", p[0], p[1]))
	}
	places, err := c.Rail.ScrewPlaces(280)
	require.NoError(t, err)
	for _, side := range []struct {
		name string
		x    float64
	}{{"left", -30}, {"right", 30}} {
		parts = append(parts, fmt.Sprintf("  %[1]s: {bar: {from: [%[2]g, %.12[3]g, 0], to: [%[2]g, %.12[3]g, 280]}, up: "+
			"[0, 1, 0], section: {polygon: {outer: [%[4]s]}}, material: steel-hardened}", side.name, side.x,
			72+section.CentroidZ, strings.Join(corners, ", ")))
		var at []string
		for _, z := range places {
			at = append(at, fmt.Sprintf("[%g, %g]", side.x, z))
		}
		joints = append(joints, fmt.Sprintf("{between: [%s, slide], drilled: %[1]s, surface: milled, screws: {size: M4, "+
			"head: sunk, torque: 2.06 N m, at: [%s]}}", side.name, strings.Join(at, ", ")))
	}
	return fmt.Sprintf(hungSlide, strings.Join(parts, "\n"), strings.Join(joints, ", "), "on: left", "on: right", more)
}

// A rail on its screws is a steel bar on the same screws, at both details. The bar's screws clamp 11 mm of its 15, a
// rail's the 9.5 under their counterbore, and a bar's carriages act at the middle of its section.
func TestRailIsAScrewedBar(t *testing.T) {
	for _, by := range []Builder{{Detail: Section}, {Detail: Solid}} {
		rail, bar := solveMachine(t, by, readMachine(t, hungRails(""))), solveMachine(t, by, readMachine(t, hungBars(t, "")))
		for i, k := range []int{1, 0} {
			near(t, bar.Loads[i].PointsUm["nose"][k], rail.Loads[i].PointsUm["nose"][k], 0.02,
				fmt.Sprintf("%s, %s", by.Detail, rail.Loads[i].Name))
		}
		near(t, bar.Loads[2].PointsRad["nose"][2], rail.Loads[2].PointsRad["nose"][2], 0.02, by.Detail.String()+", twist")
		for i, load := range []string{"back", "aside", "twist"} {
			share := func(r *answer.Result) (percent float64) {
				for _, s := range r.Shares {
					if s.Load == load && s.Source == "part slide" {
						percent = s.Percent
					}
				}
				return percent
			}
			require.InDelta(t, share(bar), share(rail), 1, "%s: what gives under load %d", by.Detail, i)
		}
	}
}

// A share is minus what the logarithm of the movement changes by with that of the stiffness of its source, of the rails
// with their screws, and their carriages with theirs, as of all else; and all of them together are the whole.
func TestSharesOfRailsAreSlopes(t *testing.T) {
	const step = 1e-3
	for _, by := range []Builder{{Detail: Section}, {Detail: Solid}} {
		scaled := func(source string, factor float64) (um float64, shares map[string]float64) {
			m, err := by.draw(completed(t, hungRails("")))
			require.NoError(t, err)
			for i := range m.links {
				if m.links[i].source == source {
					m.links[i].stiffness *= factor
				}
			}
			for _, r := range m.rails {
				if r.body.source() == source {
					r.body.part.Material.E *= factor
				}
			}
			require.NoError(t, m.reduceSolids(context.Background(), &by))
			require.NoError(t, m.fillFrame())
			m.system, err = m.frame.Factor()
			require.NoError(t, err)
			r, err := m.Solve(TipOnly)
			require.NoError(t, err)
			shares = map[string]float64{}
			for _, s := range r.Shares {
				if s.Load == "back" {
					shares[s.Source] += s.Percent
				}
			}
			return r.Loads[0].PointsUm["nose"][1], shares
		}
		_, shares := scaled("", 1)
		sum := 0.0
		for _, percent := range shares {
			sum += percent
		}
		require.InDelta(t, 100, sum, 1e-6)
		for _, source := range []string{"guide z: rail 1", "guide z: rail 2"} {
			require.Greater(t, shares[source], 5.0)
			more, _ := scaled(source, 1+step)
			less, _ := scaled(source, 1/(1+step))
			slope := math.Log(more/less) / (2 * math.Log(1+step))
			require.InDelta(t, -100*slope, shares[source], 1e-3, "%s, %s", by.Detail, source)
		}
	}
}

// completed is a machine read and completed, as Build does it.
func completed(t *testing.T, text string) *machine.Machine {
	t.Helper()
	m, err := readMachine(t, text).Complete()
	require.NoError(t, err)
	return m
}

// layered is a steel rail on a bar of aluminium, of the sizes of the checks of a warmed rail; one carriage and a spring
// along it hold the table without any force in what is warmed.
const layered = `machine: rail on a plate
materials: {plate: {E: 70000, nu: 0.3, density: 2700, expansion: 23.5e-6}}
parts:
  plate: {bar: {from: [-200, 0, -10], to: [200, 0, -10]}, up: [0, 0, 1], section: {rect: [120, 20]}, material: plate}
  table: {plate: {from: [-40, -30, 28], to: [40, 30, 48]}, material: plate}
grounds: [{part: plate, at: [-200, 0, -10], hold: [x, y, z, rx, ry, rz]}]
axes:
  x:
    along: x
    carries: [table]
    travel: [-50, 50]
    guides: [{rail: profile-15, on: plate, part: table, from: [-200, 0, 0], to: [200, 0, 0], carriages: [0]}]
    drive: {stiffness: 30 N/um, part: table, on: plate, at: [0, 0, 28]}
points: {end: {part: table, at: [0, 0, 48]}}
loads: {push: {at: end, force: [0, 0, -1]}}
`

// warmed is layered with a rail of 15 x 13 and screws of some stiffness along the seat, N/mm, that hold in every other
// way as good as exactly, warmed; it gives what each screw puts on the rail along it, N, and the height of the plate's
// line at each of them, mm.
func warmed(t *testing.T, c checks.Case, along float64) (screws, heights []float64) {
	t.Helper()
	const exactly, still = 1e12, 1e16 // N/mm, N·mm/rad
	m, err := beams().draw(completed(t, layered))
	require.NoError(t, err)
	r := m.rails[0]
	require.Len(t, r.screws.screws, 7)
	wide, high := c.In(t, "rail_width_mm"), c.In(t, "rail_height_mm")
	section, err := beam.Rect{Width: wide, Height: high}.Section(0.3)
	require.NoError(t, err)
	r.body.section, r.body.from.Z, r.body.to.Z = section, high/2, high/2
	require.Equal(t, c.In(t, "rail_E_MPa"), r.body.part.Material.E)
	near(t, c.In(t, "rail_expansion_per_K"), r.body.part.Material.Expansion, 1e-9, "steel")
	for _, s := range r.screws.screws {
		for i := range 6 {
			l := &m.links[s.normal+i]
			switch l.stiffness = exactly; {
			case l.turning:
				l.stiffness = still
			case l.direction.X != 0:
				l.stiffness = along
			}
		}
	}
	require.NoError(t, m.fillFrame())
	m.system, err = m.frame.Factor()
	require.NoError(t, err)
	s, err := m.solve(&machine.Load{Name: "warm", Actions: []machine.Action{{Kind: machine.Warming,
		Rise: c.In(t, "warmed_by_K")}}}, nil)
	require.NoError(t, err)
	for _, screw := range r.screws.screws {
		for i := range 6 {
			if l := m.links[screw.normal+i]; !l.turning && l.direction.X != 0 {
				screws = append(screws, -s.SpringForce(l.spring))
			}
		}
		heights = append(heights, s.Value(m.bodies[0].move(m.frame, &spot{at: r3.Vec{X: screw.at.X, Z: -10}},
			r3.Vec{Z: 1})))
	}
	return screws, heights
}

// A steel rail bows the aluminium under it: in the limit of screws that let nothing slip as two bonded layers do, and
// as much as the screws hold otherwise.
func TestRailBowsWhenWarmed(t *testing.T) {
	bow := func(h []float64) float64 { return (h[0]+h[6])/2 - h[3] }
	checks.Run(t, map[string]func(t *testing.T, c checks.Case){
		"misfit-thermal-rail-bonded": func(t *testing.T, c checks.Case) {
			screws, heights := warmed(t, c, 1e12)
			c.Near(t, "curvature_per_mm", 8*bow(heights)/(360*360), c.Tolerance)
			c.Near(t, "rail_tension_N", screws[6], c.Tolerance)
		},
		"misfit-thermal-rail-screws": func(t *testing.T, c checks.Case) {
			screws, heights := warmed(t, c, c.In(t, "screw_slip_stiffness_each_N_per_mm"))
			for i, want := range c.WantList(t, "screw_force_along_rail_N") {
				require.InDelta(t, want, screws[i], c.Tolerance*600, "screw %d", i+1)
			}
			c.Near(t, "rail_tension_largest_N", screws[4]+screws[5]+screws[6], c.Tolerance)
			c.Near(t, "bow_between_end_screws_um", bow(heights)*constant.UmPerMM, c.Tolerance)
		},
	})
}

// A rail that runs through a part is said with its place and what would part them: as drawn, and where an axis takes
// it.
func TestRailRunsThroughAPart(t *testing.T) {
	with := func(part, joint string) string {
		return strings.Replace(strings.Replace(hungRails(""), "joints: []", "joints: ["+joint+"]", 1),
			"\njoints:", part+"\njoints:", 1)
	}
	const back = "{between: [back, block], bonded: true}"
	for _, c := range []struct{ name, text, want string }{
		{"beside the rails", with("  block: {plate: {from: [-20, 75, 270], to: [20, 100, 320]}, material: steel}", back), ""},
		{"as drawn", with("  block: {plate: {from: [-40, 80, 270], to: [0, 100, 320]}, material: steel}", back),
			"m.yaml:14:9: rail 1 of axis z and block run into each other: they share 15 x 7 x 10 mm (x, y, z), from [-37.5, " +
				"80, 270] to [-22.5, 87, 280]\n\tmoving one of them by 7 mm along y would part them; or end the rail before it"},
		{"at the end of the travel",
			with("  block: {plate: {from: [-40, 80, 290], to: [0, 100, 320]}, material: steel}", back),
			"m.yaml:9:3: with axis z at 20 mm: block and rail 1 of axis z run into each other: they share 15 x 7 x 10 mm (x, " +
				"y, z)\n\tshorten its travel, or move one of them by 10 mm"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := buildBeams(readMachine(t, c.text))
			if c.want == "" {
				require.NoError(t, err)
				return
			}
			require.EqualError(t, err, c.want)
		})
	}
}

// Two heads on one rail, each an axis of its own, run on one bar, which weighs once; drawn 20 mm apart along it they
// are two that run into each other.
func TestOneRailOfTwoAxes(t *testing.T) {
	const text = `machine: two heads
parts:
  beam:  {plate: {from: [-300, 0, 0], to: [300, 40, 60]}, material: steel}
  left:  {plate: {from: [-140, 0, 88], to: [-60, 40, 100]}, material: steel}
  right: {plate: {from: [60, 0, 88], to: [140, 40, 100]}, material: steel}
grounds: [{part: beam, face: bottom, fixed: true}]
axes:
  a:
    along: x
    carries: [left]
    travel: [-20, 20]
    guides: [{rail: profile-15, on: beam, part: left, from: [-300, 20, 60], to: [280, 20, 60], carriages: [-100]}]
    drive: {stiffness: 30 N/um, part: left, on: beam, at: [-100, 20, 60]}
  b:
    along: x
    carries: [right]
    travel: [-20, 20]
    guides: [{rail: profile-15, on: beam, part: right, from: [%d, 20, 60], to: [%d, 20, 60], carriages: [100]}]
    drive: {stiffness: 30 N/um, part: right, on: beam, at: [100, 20, 60]}
loads: {weight: {gravity: true}}
`
	for _, ends := range [][2]int{{-300, 280}, {280, -300}} {
		m := buildText(t, fmt.Sprintf(text, ends[0], ends[1]))
		require.Len(t, m.rails, 1)
		require.Len(t, m.rails[0].screws.screws, 10)
		r, err := m.Solve(TipOnly)
		require.NoError(t, err)
		kg := massOf(t, m.machine, "beam", "left", "right") + 2*0.2 + 1.4*0.58 // of size 15: 0.2 kg, 1.4 kg/m
		near(t, kg*9.80665, r.Loads[0].ReactionN[2], 1e-9, "weight")
	}
	_, err := buildBeams(readMachine(t, fmt.Sprintf(text, -280, 300)))
	require.ErrorContains(t, err, "rail 1 of axis b and rail 1 of axis a run into each other: they share 560 x 15 x 15 mm")
}

// A long rail on a stiff seat, its screws so near to one another that they are a bed, under a push on one of its
// middle screws: an endless beam on an elastic bed, w = F·λ/(2·k) with λ⁴ = k/(4·E·I) (Hetényi, Beams on Elastic
// Foundation, 1946, from memory), both out of the seat and along it. With shear, s = E·I/(G·A), it is F/π·∫(1 +
// s·q²)/(E·I·q⁴ + k·s·q² + k)dq over all waves q, which is Hetényi's for s = 0 and in closed form below.
func TestLongRailIsABeamOnABed(t *testing.T) {
	text := strings.NewReplacer("at: [-200, 0, -10]", "at: [0, 0, -10]", "[-200, 0, -10]", "[-400, 0, -10]",
		"[200, 0, -10]", "[400, 0, -10]", "[-200, 0, 0]",
		"[-400, 0, 0]", "[200, 0, 0]", "[400, 0, 0]", "rail: profile-15,", "rail: profile-15, screw_pitch: 8 mm,",
		"E: 70000", "E: 1e8").Replace(layered)
	m, err := beams().draw(completed(t, text))
	require.NoError(t, err)
	r := m.rails[0]
	require.Len(t, r.screws.screws, 98)
	const each = 4000.0 // N/mm, soft, so that what bends is long
	for _, s := range r.screws.screws {
		for i := range 6 {
			l := &m.links[s.normal+i]
			switch along := math.Abs(l.direction.X) > 0.5; {
			case l.turning && along: // it does not roll
				l.stiffness = 1e9
			case l.turning || along: // a bed of forces square to the rail alone
				l.stiffness = 1
			default:
				l.stiffness = each
			}
		}
	}
	require.NoError(t, m.fillFrame())
	m.system, err = m.frame.Factor()
	require.NoError(t, err)
	for _, c := range []struct {
		direction        r3.Vec
		inertia, sheared float64
	}{{r3.Vec{Z: 1}, r.body.section.Iy, r.body.section.Az}, {r3.Vec{Y: 1}, r.body.section.Iz, r.body.section.Ay}} {
		at := &spot{at: r3.Vec{X: r.screws.screws[48].at.X, Z: r.body.from.Z}}
		form := r.body.move(m.frame, at, c.direction)
		got := m.system.Compliance([]frame.Form{form}, []frame.Form{form})[0][0]
		k, ei := each/8, machine.ScrewE*c.inertia
		s := ei / (r.body.part.Material.G() * c.sheared)
		want := (1/math.Sqrt(k) + s/math.Sqrt(ei)) / (2 * math.Sqrt(k*s+2*math.Sqrt(ei*k)))
		require.Greater(t, want, math.Pow(k/(4*ei), 0.25)/(2*k), "Hetényi")
		near(t, want, got, 0.005, fmt.Sprint(c.direction))
	}
}

// A rail that lies over an edge of its bed is told of, and so are screws of a carriage that its table's metal does not go
// round: profile-15 sits on 15 mm, and the holes in its carriage are 26 mm apart. A seat or a screw just inside is not.
func TestRailOverAnEdge(t *testing.T) {
	data, err := os.ReadFile("../../examples/supports-out-of-line.yaml")
	require.NoError(t, err)
	for _, c := range []struct{ riser, table, want string }{
		{"-105", "-120", ""},
		{"-95", "-104", ""}, // the seat reaches -94.5, the screws -102
		{"-91", "-120", "axis y, rail 1: 3.5 mm of its seat, 15 mm wide, lie beside riser_left."},
		{"-105", "-98", "axis y, rail 1: screws of its carriage at -50 mm are 4 mm beyond the edge of table"},
	} {
		text := strings.Replace(string(data), "from: [-105, -220, 20]", "from: ["+c.riser+", -220, 20]", 1)
		text = strings.Replace(text, "from: [-120, -85, 73]", "from: ["+c.table+", -85, 73]", 1)
		m, err := buildBeams(readMachine(t, text))
		require.NoError(t, err)
		said := strings.Join(m.Inventory().Notes, "\n")
		require.Contains(t, said, c.want)
		require.Equal(t, c.want != "", strings.Contains(said, "axis y, rail 1: "), said)
	}
}

// On a plate with windows the same is told of what lies over them. The rail's seat, 15 mm by 400 mm, lies from 10.5 mm to
// 25.5 mm from the riser's left edge: two windows that take 7.4 mm of its width along 72 mm each are 18 % of it.
func TestRailOverAWindow(t *testing.T) {
	data, err := os.ReadFile("../../examples/supports-out-of-line.yaml")
	require.NoError(t, err)
	for _, c := range []struct{ outline, want string }{
		{"M 0 0 H 35 V 440 H 0 Z M 1 184 H 12 V 256 H 1 Z M 1 99 H 12 V 171 H 1 Z", ""},
		{"M 0 0 H 35 V 440 H 0 Z M 1 184 H 17.9 V 256 H 1 Z M 1 99 H 17.9 V 171 H 1 Z",
			"18 % of its seat lie over a window of riser_left"},
	} {
		plate := "from: [-105, -220, 20], to: [-70, 220, 45]"
		require.Contains(t, string(data), plate)
		text := strings.Replace(string(data), plate, plate+", outline: "+c.outline, 1)
		m, err := buildBeams(readMachine(t, text))
		require.NoError(t, err)
		said := strings.Join(m.Inventory().Notes, "\n")
		require.Contains(t, said, c.want)
		require.Equal(t, c.want != "", strings.Contains(said, "axis y, rail 1: "), said)
	}
}
