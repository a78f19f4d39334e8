package structure

import (
	"context"
	"fmt"
	"math"
	"testing"

	"tiploop/testdata/models"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame/constant"
	"tiploop/frame/guide"
	"tiploop/frame/machine"
)

// shafts carry a block on two unsupported round rails, drawn as bars: each is a beam on two supports that bends under
// its bush, so the middle of the travel is the softest place.
const shafts = `machine: free shafts
materials:
  rigid: {E: 1e8 MPa, nu: 0.3, density: 2700}
parts:
  left:  {plate: {from: [-260, -100, 0], to: [-200, 100, 100]}, material: rigid}
  right: {plate: {from: [200, -100, 0], to: [260, 100, 100]}, material: rigid}
  block: {plate: {from: [-30, -80, 50], to: [30, 80, 90]}, material: rigid}
  front: {bar: {from: [-260, -60, 60], to: [260, -60, 60]}, section: {round: 16}, material: steel}
  back:  {bar: {from: [-260, 60, 60], to: [260, 60, 60]}, section: {round: 16}, material: steel}
joints:
  - {between: [left, front], bonded: true}
  - {between: [left, back], bonded: true}
  - {between: [right, front], bonded: true}
  - {between: [right, back], bonded: true}
grounds:
  - {part: left, face: bottom, fixed: true}
  - {part: right, face: bottom, fixed: true}
axes:
  x:
    along: x
    carries: [block]
    travel: [-150, 150]
    guides:
      - {stiffness: {press: 1e7, pitch: 1e3, yaw: 1e8}, on: front, part: block, carriages: [0]}
      - {stiffness: {press: 1e7, pitch: 1e3, yaw: 1e8}, on: back, part: block, carriages: [0]}
    drive: {stiffness: 1e5, part: block, on: left, at: [0, 0, 60]}
points: {middle: {part: block, at: [0, 0, 90]}}
loads: {down: {at: middle, force: [0, 0, -200]}}
`

// Roark's Formulas for Stress and Strain, beam held at both ends: δ = F·a³·b³/(3·E·I·L³), with the shear of a
// round bar added, 100 N on each shaft. The shafts' holes give as well, as if each shaft were up to 10 mm, 0.6 of its
// diameter, longer at either end.
func TestShaftBendsWhereItSpansFreely(t *testing.T) {
	m := readMachine(t, shafts)
	steel, _ := beam.LookupMaterial("steel")
	section, err := beam.Round{Diameter: 16}.Section(steel.Nu)
	require.NoError(t, err)
	for _, q := range []float64{-150, 0, 80} {
		moved, err := m.At(map[string]float64{"x": q})
		require.NoError(t, err)
		r := solveMachine(t, Builder{Detail: Section}, moved)
		bent := func(longer float64) float64 {
			a, b := 200+longer+q, 200+longer-q
			return 100*math.Pow(a*b/(a+b), 3)/(3*steel.E*section.Iy) + 100*a*b/(a+b)/(steel.G()*section.Az)
		}
		got := -r.Loads[0].PointsUm["middle"][2] / constant.UmPerMM
		require.Greater(t, got, bent(0), "at %g", q)
		require.Less(t, got, bent(10), "at %g", q)
		require.InDelta(t, -100, r.Carriages[0].PullN, 1e-6)
	}
}

const dovetail = `machine: slide
materials:
  rigid: {E: 1e8 MPa, nu: 0.3, density: 2700}
parts:
  bed:   {plate: {from: [-200, -50, 0], to: [200, 50, 60]}, material: %[1]s}
  table: {plate: {from: [-60, -50, 60], to: [60, 50, 100]}, material: %[1]s}
  gib:   {plate: {from: [-60, 50, 20], to: [60, 60, 100]}, material: %[1]s}
joints: [{between: [table, gib], bonded: true}]
grounds: [{part: bed, face: bottom, fixed: true}]
axes:
  x:
    along: x
    carries: [table]
    travel: [-%[2]g, %[2]g]
    guides:
      - {slide: {}, between: [bed, table]}
      - {slide: {backing: gib}, between: [bed, gib]}
    drive: {stiffness: 20 N/um, part: table, on: bed, at: [0, 0, 60]}
points: {middle: {part: table, at: [0, 0, 80]}}
loads:
  down:  {at: middle, force: [0, 0, -500]}
  pitch: {at: middle, moment: [0, 1e5, 0]}
  along: {at: middle, force: [200, 0, 0]}
`

// A slide is its face's stiffness per area all over: k·A against the press, k·A·L²/12 against pitching
// (guide.Spread); along the travel it gives way to the drive alone.
func TestSlideIsSpreadContact(t *testing.T) {
	r := solveText(t, fmt.Sprintf(dovetail, "rigid", 100.))
	per, err := guide.Slide{Width: 100, Length: 120}.PerArea()
	require.NoError(t, err)
	face := guide.Spread(per.Typical, 120, 100)
	near(t, 500/face.Normal*constant.UmPerMM, -r.Loads[0].PointsUm["middle"][2], 5e-3, "press")
	near(t, 1e5/face.Along, r.Loads[1].PointsRad["middle"][1], 5e-3, "pitch")
	near(t, 200/20., r.Loads[2].PointsUm["middle"][0], 1e-2, "along the travel only the drive holds")
}

// Meshed, the same slide is felt over fields.
func TestSlideMeshed(t *testing.T) {
	m := readMachine(t, fmt.Sprintf(dovetail, "aluminium-5083", 100.))
	section, meshed := solveMachine(t, Builder{Detail: Section}, m), solveMachine(t, Builder{Detail: Solid}, m)
	near(t, section.Loads[0].PointsUm["middle"][2], meshed.Loads[0].PointsUm["middle"][2], 0.25, "press")
	near(t, section.Loads[2].PointsUm["middle"][0], meshed.Loads[2].PointsUm["middle"][0], 0.1, "along")
}

func TestSlideFaults(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"leaves the bed", fmt.Sprintf(dovetail, "steel", 270.),
			"m.yaml:16:9: axis x, slide 1: with axis x at -270 mm: bed and table do not touch: they are apart by 10 mm along " +
				"x (right of table at -210 mm, left of bed at -200 mm)\n\tshorten the travel, or lengthen one of them"},
		{"stays on the bed", fmt.Sprintf(dovetail, "steel", 100.), ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := beams().Build(context.Background(), readMachine(t, c.text))
			if c.want == "" {
				require.NoError(t, err)
				return
			}
			require.EqualError(t, err, c.want)
		})
	}
}

// The carriage's own number, its four screws and the rail on its screws give way in a row; on a thin plate less is
// left, and the trade halves a carriage there (frame/guide's thin_seat, 0.3 to 0.7 or so).
func TestMountedCarriage(t *testing.T) {
	m := buildText(t, models.Sledge)
	c, _ := guide.LookupCarriage("profile-15")
	k, err := c.Stiffness(guide.Light)
	require.NoError(t, err)
	for _, made := range m.axes[0].guides[0].carriages {
		share := made.press / k.Typical.Vertical()
		require.Greater(t, share, 0.3)
		require.Less(t, share, 0.95)
		for _, row := range made.rows {
			require.Zero(t, m.links[row].row.bears[0], "nothing holds a carriage along its rail")
		}
	}
}

// Preload stiffens, a larger size too.
func TestCarriageOrder(t *testing.T) {
	soft := solveText(t, fmt.Sprintf(stiffTableSize, "profile-15, preload: very-light",
		128.)).Loads[0].PointsUm["middle"][2]
	plain := solveText(t, fmt.Sprintf(stiffTableSize, "profile-15", 128.)).Loads[0].PointsUm["middle"][2]
	large := solveText(t, fmt.Sprintf(stiffTableSize, "profile-20", 130.)).Loads[0].PointsUm["middle"][2]
	require.Greater(t, soft, plain)
	require.Greater(t, plain, large)
}

const stiffTableSize = `machine: sizes
parts:
  base:  {plate: {from: [-400, -150, 0], to: [400, 150, 100]}, material: steel}
  table: {plate: {from: [-100, -100, %[2]g], to: [100, 100, 230]}, material: steel}
grounds: [{part: base, face: bottom, fixed: true}]
axes:
  x:
    along: x
    carries: [table]
    travel: [-200, 200]
    guides:
      - {rail: %[1]s, on: base, part: table, from: [-390, -50, 100], to: [390, -50, 100], carriages: [-50, 50]}
      - {rail: %[1]s, on: base, part: table, from: [-390, 50, 100], to: [390, 50, 100], carriages: [-50, 50]}
    drive: {stiffness: 1e5, part: table, on: base, at: [0, 0, 115]}
points: {middle: {part: table, at: [0, 0, 200]}}
loads: {up: {at: middle, force: [0, 0, 1000]}}
`

// The metal under a seat gives the same whichever of the world's axes the rail runs along: a plate and a seat on it
// turned round by a quarter (symmetry).
func TestSeatTurnedRound(t *testing.T) {
	steel, _ := beam.LookupMaterial("steel")
	under := func(x, y float64, across machine.Axis) [6]float64 {
		b, err := newBody(&machine.Part{Material: steel, Plate: &machine.Plate{To: r3.Vec{X: x, Y: y, Z: 30}}})
		require.NoError(t, err)
		t0 := touch{kind: onFace, normal: machine.Z, box: box{lo: [3]float64{20, 20, 30}, hi: [3]float64{50, 35, 30}}}
		if across == machine.X {
			t0.hi = [3]float64{35, 50, 30}
		}
		return b.seatUnder(t0, seating{out: machine.Z, across: across})
	}
	along, turned := under(200, 90, machine.Y), under(90, 200, machine.X)
	for k := range along {
		require.InDelta(t, along[k], turned[k], 1e-12*along[k])
		require.Equal(t, k > 0, along[k] > 0)
	}
}
