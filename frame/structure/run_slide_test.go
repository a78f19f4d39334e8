package structure

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// wideSlide is a wide table that slides on a wide bed: both are strips, unless the ground holds the bed all over.
const wideSlide = `machine: wide slide
parts:
  bed:   {plate: {from: [-150, -200, -20], to: [150, 200, 20]}, material: steel}
  table: {plate: {from: [-150, -120, 20], to: [150, 120, 60]}, material: aluminium-5083}
  gib:   {plate: {from: [150, -120, 5], to: [162, 120, 60]}, material: steel}
joints: [{between: [table, gib], bonded: true}]
axes:
  y:
    along: y
    carries: [table]
    travel: [-30, 31]
    guides:
      - {slide: {}, between: [bed, table]}
      - {slide: {backing: gib}, between: [bed, gib]}
    drive: {stiffness: 20 N/um, part: table, on: bed, at: [0, 0, 20]}
tool: {part: table, at: [0, 0, 60]}
work: {part: bed, at: [-20, 190, 20]}
loads:
  cut: {tip: [10, 20, 30]}
  warm: {temperature: {part: table, rise: 5}}
grounds: [{part: bed, face: bottom, `

// A machine cut at an axis that stands where it is drawn has the nodes and the springs of the whole machine.
func TestCutMachineIsTheWholeOne(t *testing.T) {
	for _, ground := range []string{"fixed: true}]",
		"feet: [[-140, -190], [140, -190], [-140, 190], [140, 190]], stiffness: 40 N/um}]"} {
		m := readMachine(t, wideSlide+ground)
		model, err := buildBeams(m)
		require.NoError(t, err)
		axis := &runningAxis{axis: &m.Axes[0], at: []float64{m.Axes[0].At}}
		run, err := beams().run(context.Background(), m, []*runningAxis{axis})
		require.NoError(t, err)
		for i, b := range model.bodies {
			if s, ok := b.kind.(*stripKind); ok { // members are exact under division
				require.Equal(t, s.stations, run.model.bodies[i].kind.(*stripKind).stations, "%s: %s", ground, b.part.Name)
			}
		}
		var whole []link
		for _, l := range model.links {
			if l.stiffness > 0 && (l.source == "guide y: slide 1" || l.source == "guide y: slide 2" || l.source == "drive y") {
				whole = append(whole, l)
			}
		}
		require.Len(t, axis.links[0], len(whole))
		for i, l := range axis.links[0] {
			require.Equal(t, whole[i].spot.at, l.spot.at)
			require.Equal(t, whole[i].direction, l.direction)
			require.Equal(t, whole[i].stiffness, l.stiffness)
		}
	}
}

// While a face runs along a strip its nodes stand as near to one another as under a face that stands still, but not at
// the same places: the strip has other steps, which are felt by up to 1.7 %.
func TestWideSlideIsTheMachineMoved(t *testing.T) {
	t.Parallel()
	requireRuns(t, readMachine(t, wideSlide+"feet: [[-140, -190], [140, -190], [-140, 190], [140, 190]], stiffness: 40 "+
		"N/um}]"), beams(), 2, 0.02, []string{"y"})
}

// Without work under the tool there is no answer, and no more than an error, of a mesh too.
func TestToolNowhereOverTheWork(t *testing.T) {
	t.Parallel()
	text := wideSlide + "fixed: true}]\ntravel: {away: {axis: y, from: 20, to: 31, loads: [cut]}}\n"
	text = strings.NewReplacer("at: [0, 0, 60]}", "at: [0, 119, 60]}", "travel: [-30, 31]", "travel: [-30, 101]",
		"from: 20, to: 31", "from: 90, to: 101", ", at: [-20, 190, 20]", "").Replace(text)
	for _, detail := range []Detail{Section, Solid} {
		m, by := readMachine(t, text), &Builder{Detail: detail}
		model, err := by.Build(context.Background(), m)
		require.NoError(t, err)
		_, err = model.Solve(FullTravel)
		require.EqualError(t, err, "path away: the tool is nowhere over the work")
	}
}
