package structure

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/guide"
	"tiploop/frame/machine"
	"tiploop/testdata/checks"
)

// hungSlide is a slide of thin plate on two rails that reaches far below its carriages; %[1]s are more parts, %[2]s joints,
// %[3]s and %[4]s what the two rails are on, %[5]s more loads.
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
			"torque: 2.06 N m, at: [%s]}}", side.name, strings.Join(at, ", ")))
	}
	return fmt.Sprintf(hungSlide, strings.Join(parts, "\n"), strings.Join(joints, ", "), "on: left", "on: right", more)
}

// A rail on its screws is a steel bar on the same screws, at both details. The bar's screws clamp 11 mm of its 15, a
// rail's the 9.5 under their counterbore, and a bar's carriages act at the middle of its section.
func TestRailIsAScrewedBar(t *testing.T) {
	for _, by := range []Builder{{}, {Detail: Solid}} {
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
	for _, by := range []Builder{{}, {Detail: Solid}} {
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
	m, err := new(Builder).draw(completed(t, layered))
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

// A steel rail bows the aluminium under it: in the limit of screws that let nothing slip as two bonded layers do, and as
// much as the screws hold otherwise.
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
