package structure

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"tiploop/frame/joint"
	"tiploop/frame/machine"
)

// jointed is a base and an arm that stands or lies on it, to be joined in different ways.
type jointed struct {
	model  string // JOINED stands for how
	screws string // size and surface
	torque float64
	places [][2]float64
}

// drawJointed draws two plates and places for screws on the face they share.
func drawJointed(t *rapid.T) (j jointed) {
	whole := func(lo, hi float64, name string) float64 {
		return float64(rapid.IntRange(int(lo), int(hi)).Draw(t, name))
	}
	one := func(name string, of ...string) string { return rapid.SampledFrom(of).Draw(t, name) }
	material := func(name string) string { return one(name, "aluminium-5083", "steel", "cast-iron-gjl-250") }
	screw, known := joint.LookupScrew(one("size", "M4", "M5", "M6", "M8"))
	if !known {
		panic("structure: not a screw's size")
	}
	j.torque = whole(10, 40, "torque") / 640 * math.Pow(screw.D, 3) // half to twice what one of class 8.8 is meant to take
	j.screws = fmt.Sprintf("surface: %s, screws: {class: 12.9, size: %s", one("surface", "ground", "milled",
		"sawn"), screw.Size)

	a, b := whole(60, 150, "half length of base"), whole(40, 120, "half width of base")
	under := whole(9, 40, "thickness of base")
	wide, deep, high := whole(15, a, "half width of arm"), whole(10, 30, "half depth of arm"), whole(60, 250, "height")
	if rapid.Bool().Draw(t, "lies") {
		deep, high = whole(15, b, "half length of arm"), whole(6, 30, "thickness of arm")
	}
	x, y := whole(wide-a, a-wide, "aside"), whole(deep-b, b-deep, "off")
	ground := "fixed: true"
	if rapid.Bool().Draw(t, "feet") {
		ground = fmt.Sprintf("feet: [[%g, %g], [%g, %g], [%g, %g], [%g, %g]], stiffness: 100 N/um",
			10-a, 10-b, a-10, 10-b, 10-a, b-10, a-10, b-10)
	}
	for i := range rapid.IntRange(3, 8).Draw(t, "screws") {
		at := [2]float64{x + whole(screw.D-wide, wide-screw.D, fmt.Sprint("x", i)),
			y + whole(screw.D-deep, deep-screw.D, fmt.Sprint("y", i))}
		free := true
		for _, other := range j.places {
			free = free && math.Hypot(at[0]-other[0], at[1]-other[1]) >= screw.HeadDiameter
		}
		if free {
			j.places = append(j.places, at)
		}
	}
	j.model = fmt.Sprintf(`
machine: jointed
parts:
  base: {plate: {from: [%g, %g, 0], to: [%g, %g, %g]}, material: %s}
  arm: {plate: {from: [%g, %g, %g], to: [%g, %g, %g]}, material: %s}
joints: [{between: [base, arm], JOINED}]
grounds: [{part: base, face: bottom, %s}]
points: {tip: {part: arm, at: [%g, %g, %g]}}
loads: {x: {at: tip, force: [1000, 0, 0]}, y: {at: tip, force: [0, 1000, 0]}, z: {at: tip, force: [0, 0, 1000]}}
`, -a, -b, a, b, under, material("base"), x-wide, y-deep, under, x+wide, y+deep, under+high, material("arm"), ground,
		x+wide*whole(-100, 100, "tip x")/100, y+deep*whole(-100, 100, "tip y")/100, under+high)
	return j
}

// joined is the machine with the first so many of the screws and so much of the torque.
func (j jointed) joined(screws int, torque float64) string {
	var at []string
	for _, p := range j.places[:screws] {
		at = append(at, fmt.Sprintf("[%g, %g]", p[0], p[1]))
	}
	return j.by(fmt.Sprintf("%s, torque: %.4f N m, at: [%s]}", j.screws, torque*j.torque, strings.Join(at, ", ")))
}

func (j jointed) by(how string) string { return strings.Replace(j.model, "JOINED", how, 1) }

// gives is how far the tip moves along each of the three forces.
func gives(t require.TestingT, by Builder, text string) (um [3]float64) {
	m, err := machineOf(text, "")
	require.NoError(t, err)
	model, err := by.Build(context.Background(), m)
	require.NoError(t, err)
	r, err := model.Solve(TipOnly)
	require.NoError(t, err)
	for k := range um {
		um[k] = r.Loads[k].PointsUm["tip"][k]
	}
	return um
}

// By how much the tip may move farther after all. A zone acts as one piece in its middle, so that a force on the arm
// near by meets all of it where a bond is felt place by place, and less of it when another screw moves the middle: of
// 1,500 draws the most was 0.26 µm of one more screw, and of a bond 0.57 once, under 1000 N beside a screw of a thin
// arm on ground faces, and 0.06 else. Bonded faces feel one another's pressure, which zones of screws do not: 1.4 % of
// an upright that six screws hold on ground faces. On a mesh the elements follow the zones: 60 draws showed 0.05 %.
const (
	softerNearBy = 0.8 // µm
	softerByMesh = 5e-3
	softerByBond = 0.03
)

// One more screw, more torque, and bonding never let the tip move farther along a force.
func checkNeverSofter(t require.TestingT, by Builder, j jointed, most float64) {
	some := len(j.places) - 1
	was := gives(t, by, j.joined(some, 1))
	for _, change := range []struct {
		what, text string
		most       float64
	}{
		{"one more screw", j.joined(some+1, 1), most},
		{"more torque", j.joined(some, 1.3), most},
		{"bonded", j.by("bonded: true"), softerByBond},
	} {
		for k, um := range gives(t, by, change.text) {
			if !(um <= was[k]*(1+change.most)+softerNearBy) {
				t.Errorf("%s: the tip moves %g µm along force %d instead of %g, of\n%s", change.what, um, k, was[k],
					j.joined(some+1, 1))
			}
		}
	}
}

func TestJointNeverSofter(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		j := drawJointed(t)
		if len(j.places) < 2 {
			t.Skip("one screw")
		}
		checkNeverSofter(t, Builder{Detail: Section}, j, 0)
	})
}

func TestJointNeverSofterSolid(t *testing.T) {
	t.Parallel()
	draws := 4
	if thorough() {
		draws = 40
	}
	for i := range draws {
		if j := rapid.Custom(drawJointed).Example(i); len(j.places) >= 2 {
			checkNeverSofter(t, Builder{Detail: Solid, Mesh: 2}, j, softerByMesh)
		}
	}
}

// Two screws whose zones share a face along the line between them: each presses in the middle of what it has, away from
// its hole. By hand: the zone is the ring less the segment of its outer disc beyond the line.
func TestScrewsPressInTheMiddleOfTheirZones(t *testing.T) {
	m := buildText(t, `
machine: two screws
parts:
  lower: {plate: {from: [-50, -30, 0], to: [50, 30, 20]}, material: steel}
  upper: {plate: {from: [-50, -30, 20], to: [50, 30, 32]}, material: steel}
joints: [{between: [lower, upper], drilled: upper, screws: {size: M5, at: [[-6, 0], [6, 0]]}}]
grounds: [{part: lower, face: bottom, fixed: true}]
`)
	screw := m.joints[0].screws[1]
	segment := func(r float64) (area, first float64) { // beyond a line at 6 mm
		return r*r*math.Acos(6/r) - 6*math.Sqrt(r*r-36), 2. / 3 * math.Pow(r*r-36, 1.5)
	}
	outer := screw.pinch.ZoneOuter
	require.Greater(t, outer, 6.0)
	require.Less(t, screw.pinch.ZoneInner, 6.0)
	area, first := segment(outer)
	middle := first / (math.Pi*(outer*outer-math.Pow(screw.pinch.ZoneInner, 2)) - area)
	pressing := (screw.pinch.Normal - screw.pinch.ScrewAxial) / screw.pinch.Normal
	at := m.links[screw.normal].spot.at
	require.InDelta(t, 6+pressing*middle, at.X, 1e-9)
	require.InDelta(t, 0, at.Y, 1e-9)
	require.Equal(t, r3.Vec{X: 6, Z: 20}, screw.at, "its hole")
}

// One screw near the side of an arm, whose ring the side cuts, so that it presses beside its hole: what the ring
// carries, by statics and by hand, whichever way the machine lies and whichever part is named first. The screw k_s
// pulls in the hole, the zone k_m presses in its middle, and about that it resists tilting.
func TestRingLoadOfACutZone(t *testing.T) {
	const thick = 14.0
	turn := func(axes [3]int, flip float64, v [3]float64) (out [3]float64) {
		for k, a := range axes {
			out[a] = v[k]
		}
		out[axes[2]] *= flip
		return out
	}
	list := func(v [3]float64) string { return fmt.Sprintf("[%g, %g, %g]", v[0], v[1], v[2]) }
	for _, axes := range [][3]int{{0, 1, 2}, {1, 2, 0}, {2, 0, 1}, {1, 0, 2}} {
		for _, flip := range []float64{1, -1} {
			for _, between := range []string{"[base, arm]", "[arm, base]"} {
				world := func(v [3]float64) [3]float64 { return turn(axes, flip, v) }
				plate := func(from, to [3]float64) string {
					from, to = world(from), world(to)
					for k := range from {
						from[k], to[k] = math.Min(from[k], to[k]), math.Max(from[k], to[k])
					}
					return fmt.Sprintf("{plate: {from: %s, to: %s}, material: steel}", list(from), list(to))
				}
				// A moment is right-handed: it turns with the machine and once more when the machine is mirrored.
				hand := flip
				if axes == ([3]int{1, 0, 2}) {
					hand = -hand
				}
				moment := func(v [3]float64) [3]float64 {
					v = world(v)
					for k := range v {
						v[k] *= hand
					}
					return v
				}
				at := world([3]float64{5, 22, 0})
				normal := machine.Axis(axes[2])
				p, q := normal.Others()
				m := buildText(t, fmt.Sprintf(`machine: cut zone
parts:
  base: %s
  arm: %s
joints: [{between: %s, screws: {size: M6, at: [[%g, %g]]}, drilled: arm}]
grounds: [{part: base, at: %s, hold: [x, y, z, rx, ry, rz]}]
points: {end: {part: arm, at: %s}}
loads:
  push: {at: end, force: %s}
  lift: {at: end, force: %s}
  tilt: {at: end, moment: %s}
`, plate([3]float64{-60, -60, -40}, [3]float64{60, 60, 0}), plate([3]float64{-30, -30, 0}, [3]float64{100, 30, thick}),
					between, at[p], at[q], list(world([3]float64{0, 0, -20})), list(world([3]float64{80, 10, 0})),
					list(world([3]float64{300, 0, 0})), list(world([3]float64{0, 0, 500})),
					list(moment([3]float64{0, 4000, 0}))))
				screw := m.joints[0].screws[0]
				k, zone := screw.pinch, screw.zone.Moments
				local := joint.PressureZone(joint.Rect2{Min: [2]float64{-30, -30}, Max: [2]float64{60, 30}},
					[][2]float64{{5, 22}}, 0, k.ZoneInner, k.ZoneOuter)
				near(t, local.Area, zone.Area, 1e-12, "zone")
				r, err := m.Solve(TipOnly)
				require.NoError(t, err)
				middle := local.Centroid()
				require.Less(t, middle[1], -1.0, "cut by the side")
				xx, _, yy := local.Central()

				push := r.Screws[0]
				near(t, 300, push.ShearN, 1e-6, "shear")
				near(t, 300*math.Abs(10-22-middle[1]), push.TwistNmm, 1e-6, "twist about the middle of the zone")

				// Along x the zone is whole: a moment about y tilts it alone, at no lever.
				tilt := r.Screws[2]
				near(t, 4000, tilt.TiltNmm, 1e-6, "all of the moment is in the ring")
				near(t, 100*4000*k.ZoneOuter/xx/(k.LeastPreload/zone.Area), tilt.OpenPercent, 1e-6, "the ring's edge")

				// A lift at the end: 500 N at 75, -12 from the hole. Screw and zone share it, by hand.
				ks, km, spread := k.ScrewAxial, k.Normal-k.ScrewAxial, k.Tilt/zone.Area
				about := 500.0 * -12 // about the hole along x, lifting grows with y
				// ks·u + km·(u + g·c) = 500, km·(u + g·c)·c + spread·yy·g = about
				c := middle[1]
				det := (ks+km)*(km*c*c+spread*yy) - km*c*km*c
				u := (500*(km*c*c+spread*yy) - km*c*about) / det
				g := ((ks+km)*about - km*c*500) / det
				lift := r.Screws[1]
				near(t, math.Hypot(500*(75-middle[0]), spread*yy*g), lift.TiltNmm, 1e-6, "tilting about both axes")
				pull, gx := km*(u+g*c)/zone.Area, 500*75/xx
				most := 0.0
				for i := range 3600 { // round the rim, as far as the side
					s, co := math.Sincos(float64(i) / 3600 * 2 * math.Pi)
					x, y := k.ZoneOuter*co, math.Min(8, k.ZoneOuter*s)
					most = math.Max(most, pull+gx*x+spread*g*(y-c))
				}
				near(t, 100*most/(k.LeastPreload/zone.Area), lift.OpenPercent, 1e-4, "and where its edge opens")
			}
		}
	}
}

// A head stands on its part unless something is in its way, anywhere in the work space; sunk, it costs one operation
// more, and its ring is narrower.
func TestHeadsStandWhereThereIsRoom(t *testing.T) {
	for _, c := range []struct{ name, screws, more, want, note string }{
		{"room", "", "", "proud", ""},
		{"the file says washer", ", head: washer", "", "washer", ""},
		{"the file says sunk", ", head: sunk", "", "sunk", ""},
		{"a part under it", "", `  shelf: {plate: {from: [-30, -20, -20], to: [20, 20, 0]}, material: steel}
joints: [{between: [shelf, foot], bonded: true}, JOINT]
grounds: [{part: shelf, face: left, fixed: true}]`, "sunk", ""},
		{"a part beside it", "", `  shelf: {plate: {from: [-30, -30, -20], to: [-20, 30, 0]}, material: steel}
joints: [{between: [shelf, foot], bonded: true}, JOINT]
grounds: [{part: shelf, face: left, fixed: true}]`, "proud", ""},
		{"the ground", "", "joints: [JOINT]\ngrounds: [{part: foot, face: bottom, fixed: true}]", "sunk", ""},
		{"feet", "", "joints: [JOINT]\ngrounds: [{part: foot, face: bottom, feet: [[-25, -25], [25, -25], [0, 25]], " +
			"stiffness: 40 N/um}]", "proud", ""},
		{"a strip beside it", "", "joints: [JOINT]\ngrounds: [{part: foot, strip: {from: [-30, -30, 0], to: [-20, " +
			"30, 0]}}]", "proud", ""},
		{"a strip under it", "", "joints: [JOINT]\ngrounds: [{part: foot, strip: {from: [-30, -30, 0], to: [30, " +
			"30, 0]}}]", "sunk", ""},
		{"the work", "", `  hook: {plate: {from: [30, -20, -90], to: [50, 20, 20]}, material: steel}
joints: [{between: [foot, hook], bonded: true}, JOINT]
grounds: [{part: foot, face: left, fixed: true}]
tool: {part: hook, at: [40, 0, -90]}
work: {part: foot, at: [0, 0, 0]}`, "sunk", ""},
		{"the ground under thin metal", "", "joints: [JOINT]\ngrounds: [{part: foot, face: bottom, fixed: true}]", "proud",
			"heads that something stands in the way of"},
	} {
		t.Run(c.name, func(t *testing.T) {
			more := c.more
			if more == "" {
				more = "joints: [JOINT]\ngrounds: [{part: foot, face: left, fixed: true}]"
			}
			thick := 20.0
			if c.note != "" {
				thick = 6
			}
			joined := "{between: [foot, post], screws: {size: M6, grid: [2, 2]" + c.screws + "}, drilled: foot}"
			m := buildText(t, fmt.Sprintf(`machine: heads
parts:
  foot: {plate: {from: [-30, -30, 0], to: [30, 30, %g]}, material: steel}
  post: {plate: {from: [-20, -20, %g], to: [20, 20, 200]}, material: steel}
%s
`, thick, thick, strings.Replace(more, "JOINT", joined, 1)))
			inv := m.Inventory()
			line := inv.Joints[len(inv.Joints)-1]
			require.Equal(t, c.want, line.Head)
			operations, clamped := 10, thick
			if c.want == "sunk" {
				operations, clamped = 11, thick-6
			}
			require.Equal(t, 4*operations, inv.Holes.Operations)
			head := map[string]float64{"proud": 10, "washer": 12, "sunk": 10}[c.want]
			near(t, head/2+clamped/math.Sqrt(3), m.joints[len(m.joints)-1].screws[0].pinch.ZoneOuter, 1e-12, "ring")
			if c.note == "" {
				require.NotContains(t, strings.Join(inv.Notes, "\n"), "heads")
			} else {
				require.Contains(t, strings.Join(inv.Notes, "\n"), c.note)
			}
		})
	}
}

// What an axis carries over heads, and what is screwed on their part for it, is in their way wherever it stands.
func TestHeadsUnderAnAxis(t *testing.T) {
	text := func(at [2]float64) string {
		return fmt.Sprintf(`machine: heads under an axis
parts:
  base: {plate: {from: [-200, -60, -20], to: [200, 60, 0]}, material: steel}
  rib: {plate: {from: [-200, -20, -60], to: [200, 60, -20]}, material: steel}
  table: {plate: {from: [-110, -50, 24], to: [-10, 50, 44]}, material: steel}
  scraper: {plate: {from: [-70, -10, 2], to: [-50, 10, 24]}, material: steel}
joints:
  - {between: [base, rib], screws: {size: M6, at: [[%g, %g]]}, drilled: base}
  - {between: [table, scraper], bonded: true}
grounds: [{part: rib, face: bottom, fixed: true}]
axes:
  x:
    along: x
    carries: [table]
    travel: [-60, 60]
    at: -60
    guides:
      - {rail: profile-15, on: base, part: table, from: [-190, -40, 0], to: [190, -40, 0], carriages: [-90, -30]}
      - {rail: profile-15, on: base, part: table, from: [-190, 40, 0], to: [190, 40, 0], carriages: [-90, -30]}
    drive: {part: table, on: base, at: [0, 0, 0], stiffness: 20 N/um}
`, at[0], at[1])
	}
	for _, c := range []struct {
		name string
		at   [2]float64
		want string
	}{
		{"between the rails", [2]float64{100, 0}, "proud"},
		{"where the scraper comes by", [2]float64{30, 0}, "sunk"},
		{"under a rail", [2]float64{100, 38}, "sunk"},
	} {
		m := buildText(t, text(c.at))
		require.Equal(t, c.want, m.Inventory().Joints[0].Head, c.name)
	}
}

// Where two screws hold a thin upright, the default mesh is stiff by 2 %, and a third screw's cells take most of that
// off: the tip then moves 1.5 % farther. It is the mesh's own error: at 1 and finer the tip moves less, as it must.
func TestOneMoreScrewByTheMesh(t *testing.T) {
	t.Parallel()
	model := func(more string) string {
		return `machine: upright
parts:
  base: {plate: {from: [-96.5, 0, -12], to: [96.5, 319, 0]}, material: aluminium-5083}
  up: {plate: {from: [-68, 192, 0], to: [68, 204, 177]}, material: aluminium-5083}
  arm: {plate: {from: [-60.5, 26, 86], to: [60.5, 192, 116]}, material: aluminium-5083}
joints:
  - {between: [base, up], screws: {size: M4, at: [[-62, 198], [62, 198]` + more + `]}, surface: sawn}
  - {between: [up, arm], screws: {size: M4, at: [[0, 92], [0, 110]]}, surface: sawn}
grounds: [{part: base, face: front, fixed: true}]
points: {tip: {part: arm, at: [0, 36, 116], patch: [10, 10]}}
loads: {push: {at: tip, force: [100, 0, 0]}}
`
	}
	for mesh, most := range map[float64]float64{0: 0.02, 1: 0} {
		by := &Builder{Detail: Solid, Mesh: mesh}
		was, is := bent(t, model(""), by), bent(t, model(", [-30, 198]"), by)
		if !(is <= was*(1+most)) {
			t.Errorf("mesh %g: the tip moves %+.2f %%", mesh, 100*(is/was-1))
		}
	}
}
