package structure

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/frame/guide"
	"tiploop/frame/machine"
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
			t.Logf("%s %s: bar %.4g rail %.4g", by.Detail, rail.Loads[i].Name, bar.Loads[i].PointsUm["nose"][k], rail.Loads[i].PointsUm["nose"][k])
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

var _ = math.Pi
var _ machine.Axis
