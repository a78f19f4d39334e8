package structure

import (
	"fmt"
	"math"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
)

// bracketText is a table whose nut sits on a bracket: on its front at y = 0 or its back at y = 18.
const bracketText = `machine: m
parts:
  base:    {plate: {from: [-130, -240, 0], to: [130, 240, 20]}, material: aluminium-5083}
  left:    {plate: {from: [-105, -190, 20], to: [-70, 190, 65]}, material: aluminium-5083}
  right:   {plate: {from: [70, -190, 20], to: [105, 190, 65]}, material: aluminium-5083}
  table:   {plate: {from: [-120, -85, 93], to: [120, 85, 111]}, material: aluminium-5083}
  bracket: {plate: {from: [-30, 0, 33], to: [30, 18, 93]}, material: aluminium-5083}
  mount:   {plate: {from: [-45, %[1]g, 20], to: [45, %[2]g, 100]}, material: aluminium-5083}
joints:
  - {between: [base, left], bonded: true}
  - {between: [base, right], bonded: true}
  - {between: [base, mount], bonded: true}
  - {between: [table, bracket], bonded: true}
grounds: [{part: base, face: bottom, fixed: true}]
axes:
  y:
    along: y
    carries: [table]
    travel: [-70, 70]
    guides:
      - {rail: profile-15, on: left, part: table,  from: [-87, -180, 65], to: [-87, 180, 65], carriages: [-50, 50]}
      - {rail: profile-15, on: right, part: table, from: [87, -180, 65],  to: [87, 180, 65],  carriages: [-50, 50]}
    drive:
      screw: %[3]s
      from: [0, %[4]g, 60]
      to: [0, %[5]g, 60]
      nut: {part: bracket, %[6]s}
      bearing: {part: mount}
      motor: %[7]s
loads: {push: {gravity: true}}
`

// drivenFromFront is that table driven from its front end, drivenFromBack with the other end's mount and nut.
func drivenFromFront(screw, nut, motor string) string {
	return fmt.Sprintf(bracketText, -220., -200., screw, -200., 190., nut, motor)
}

var drivenFromBack = fmt.Sprintf(bracketText, 200., 220., "1605", 200., -190., "at: 18", "frame-23")

// heldBy are the holes for one thing, and why it is open.
func heldBy(inv answer.Inventory, of string) (list []answer.HoleLine, why string) {
	for _, h := range inv.HoleList {
		if h.For == of {
			list = append(list, h)
		}
	}
	for _, o := range inv.HolesOpen {
		if o.For == of {
			why = o.Why
		}
	}
	return list, why
}

// A drive by hand: the nut of DIN 69051-5 for 16 mm on the bracket's front, body 28 with 1 mm to spare, six M5 round it;
// a bearing of bore 12 with body 36 and four M4 on 44; a motor of frame 23, 47.14 mm square, M5 (all from memory). The
// bracket's corner is (-30, 0, 33), the mount's (-45, -220, 20).
func TestHolesOfADriveByHand(t *testing.T) {
	inv := inventoryOf(t, readMachine(t, drivenFromFront("1605", "at: 0", "frame-23")))
	nut, why := heldBy(inv, "nut of y")
	require.Empty(t, why)
	require.Len(t, nut, 7)
	var bore answer.HoleLine
	var places [][2]float64
	for _, h := range nut {
		require.Equal(t, [3]any{"bracket", "front", true}, [3]any{h.Part, h.Face, h.Typical})
		require.Empty(t, h.NotYet)
		if h.Kind == answer.BoredHole {
			bore = h
			continue
		}
		require.Equal(t, [4]any{"tapped", "M5", 4.2, 10.}, [4]any{h.Kind, h.Screw, h.DrillMM, h.ThreadMM})
		require.InDelta(t, 14.2, h.DepthMM, 1e-9) // two diameters and DIN 76-1, of 18 mm: blind
		places = append(places, [2]float64{math.Round(100 * h.XMM), math.Round(100 * h.YMM)})
	}
	require.Equal(t, []any{29., 18., "back", 30., 27., ""},
		[]any{bore.DrillMM, bore.DepthMM, bore.OutOn, bore.XMM, bore.YMM, bore.Screw})
	require.ElementsMatch(t, [][2]float64{{1355, 1750}, {4645, 1750}, {1100, 2700}, {4900, 2700}, {1355, 3650}, {4645, 3650}}, places)

	bearing, why := heldBy(inv, "bearing of y")
	require.Empty(t, why)
	require.Len(t, bearing, 5)
	for _, h := range bearing {
		require.Equal(t, [2]any{"mount", "back"}, [2]any{h.Part, h.Face})
		off := math.Hypot(h.XMM-45, h.YMM-40)
		require.InDelta(t, map[bool]float64{true: 0, false: 22}[h.Kind == answer.BoredHole], off, 1e-9)
	}
	motor, why := heldBy(inv, "motor of y")
	require.Empty(t, why)
	require.Len(t, motor, 4) // in line with its screw, it needs no bore of its own
	for _, h := range motor {
		require.Equal(t, [4]any{"mount", "front", "tapped", "M5"}, [4]any{h.Part, h.Face, h.Kind, h.Screw})
		require.InDelta(t, 23.57, math.Abs(h.XMM-45), 0.01)
		require.InDelta(t, 23.57, math.Abs(h.YMM-40), 0.01)
	}
	require.Equal(t, 2, inv.Holes.Bored)
	countsAreSums(t, inv)
	for _, h := range inv.HoleList {
		require.GreaterOrEqual(t, h.EdgeMM, h.DrillMM/2, "%s %d is drilled into air", h.Part, h.Number)
	}
}

// A nut on the bracket's other side, and a motor at the other end of the machine, have the same holes seen from there.
func TestHolesOfADriveFromTheOtherSide(t *testing.T) {
	front := inventoryOf(t, readMachine(t, drivenFromFront("1605", "at: 0", "frame-23")))
	back := inventoryOf(t, readMachine(t, drivenFromBack))
	for of, face := range map[string]string{"nut of y": "back", "bearing of y": "front", "motor of y": "back"} {
		a, _ := heldBy(front, of)
		b, why := heldBy(back, of)
		require.Empty(t, why)
		require.Len(t, b, len(a), of)
		for i := range a {
			require.Equal(t, face, b[i].Face, of)
			require.Equal(t, []any{a[i].XMM, a[i].YMM, a[i].Kind, a[i].DrillMM, a[i].DepthMM}, []any{b[i].XMM, b[i].YMM, b[i].Kind,
				b[i].DrillMM, b[i].DepthMM}, of)
		}
	}
}

// triple is a place in a model file.
var triple = regexp.MustCompile(`\[([-\d.]+), ([-\d.]+), ([-\d.]+)\]`)

// turned is the text of a drive along y with its axes turned by so many places: along y, x or z.
func turned(text string, by int) string {
	text = triple.ReplaceAllStringFunc(text, func(s string) string {
		v := triple.FindStringSubmatch(s)[1:]
		return "[" + v[by%3] + ", " + v[(1+by)%3] + ", " + v[(2+by)%3] + "]"
	})
	y, z := (4-by)%3, (5-by)%3
	return strings.NewReplacer("along: y", "along: "+"xyz"[y:y+1], "face: bottom", "face: "+[]string{"left", "front", "bottom"}[z]).
		Replace(text)
}

// Turned so that its screw runs along another axis, and driven from either end, a drive has the same holes: each at its
// distance from the screw's line, on a face square to it, none into air; bearing and motor at the turned places, the
// nut's screws on both sides along the first of the face's axes.
func TestHolesOfATurnedDrive(t *testing.T) {
	for _, text := range []string{drivenFromFront("1605", "at: 0", "frame-23"), drivenFromBack} {
		plain := inventoryOf(t, readMachine(t, text))
		for by := range 3 {
			inv := inventoryOf(t, readMachine(t, turned(text, by)))
			k := (4 - by) % 3 // where y went
			p, q := machine.Axis(k).Others()
			line := [3]float64{0, 0, 60}
			line = [3]float64{line[by%3], line[(1+by)%3], line[(2+by)%3]}
			for _, of := range []string{"nut of y", "bearing of y", "motor of y"} {
				was, _ := heldBy(plain, of)
				is, why := heldBy(inv, of)
				require.Empty(t, why)
				require.Len(t, is, len(was), of)
				var want, got [][3]float64
				var wantOff, gotOff []float64
				for i := range was {
					at := was[i].AtMM
					want = append(want, [3]float64{at[by%3], at[(1+by)%3], at[(2+by)%3]})
					got = append(got, is[i].AtMM)
					wantOff = append(wantOff, math.Round(1e6*math.Hypot(at[0], at[2]-60)))
					x, y := is[i].AtMM[p]-line[p], is[i].AtMM[q]-line[q]
					gotOff = append(gotOff, math.Round(1e6*math.Hypot(x, y)))
					if of == "nut of y" && is[i].Kind == "tapped" {
						require.Greater(t, math.Abs(x), math.Abs(y))
					}
					require.GreaterOrEqual(t, is[i].EdgeMM, is[i].DrillMM/2)
				}
				require.ElementsMatch(t, wantOff, gotOff, of)
				if of != "nut of y" {
					require.ElementsMatch(t, want, got, "%s turned by %d", of, by)
				}
			}
		}
	}
}

// Where the drawing does not tell, nothing is drilled and the reason says what to write.
func TestHolesOfADriveThatAreNotTold(t *testing.T) {
	for _, c := range []struct{ name, screw, nut, motor, of, why string }{
		{"inside the bracket", "1605", "at: 9", "frame-23", "nut of y", "y = 0 mm or 18 mm, or say its face"},
		{"before it", "1605", "at: -4", "frame-23", "nut of y", "it is 4 mm from the face before it"},
		{"own screw", "{root: 13 mm, lead: 5 mm}", "at: 0, stiffness: 100 N/um", "frame-23", "nut of y", "own numbers"},
		{"too large", "3210", "at: 0", "frame-23", "nut of y", "6 of its 7 holes reach out of the front face of bracket"},
		{"no motor", "1605", "at: 0", "held", "motor of y", "the model does not say which motor"},
		{"its own torque", "1605", "at: 0", "{holding: 1 N m}", "motor of y", "the model does not say which motor"},
		{"too large a motor", "1605", "at: 0", "{size: frame-34, face: left}", "motor of y", "it lies along its shaft"},
	} {
		inv := inventoryOf(t, readMachine(t, drivenFromFront(c.screw, c.nut, c.motor)))
		list, why := heldBy(inv, c.of)
		require.Empty(t, list, c.name)
		require.Contains(t, why, c.why, c.name)
	}
	// Behind 50 mm of metal no motor reaches its screw.
	inv := inventoryOf(t, readMachine(t, fmt.Sprintf(bracketText, -250., -200., "1605", -200., 190., "at: 0", "frame-23")))
	list, why := heldBy(inv, "motor of y")
	require.Empty(t, list)
	require.Contains(t, why, "50 mm of metal are between bearing and motor")

	// A window sawn into the mount beside the bearing takes the metal of its bore and of one screw, not of the motor's.
	plain := drivenFromFront("1605", "at: 0", "frame-23")
	inv = inventoryOf(t, readMachine(t, strings.Replace(plain, "to: [45, -200, 100]}",
		`to: [45, -200, 100], outline: "M 0 0 H 90 V 80 H 0 Z M 60 30 V 50 H 75 V 30 Z"}`, 1)))
	list, why = heldBy(inv, "bearing of y")
	require.Empty(t, list)
	require.Contains(t, why, "2 of its 5 holes reach out of the back face of mount")
	list, _ = heldBy(inv, "motor of y")
	require.Len(t, list, 4)

	// The screw's supported end is drawn on a post.
	inv = inventoryOf(t, readMachine(t, strings.NewReplacer("joints:\n", "  post: {plate: {from: [-20, 190, 20], to: [20, 200, 80]}, "+
		"material: steel}\njoints:\n  - {between: [base, post], bonded: true}\n").Replace(plain)))
	_, why = heldBy(inv, "far bearing of y")
	require.Contains(t, why, "does not say what supports the screw's end")

	// The bracket is not drawn: its own pattern under the table, offsets from the nut's place.
	inv = inventoryOf(t, readMachine(t, strings.Replace(drivenFromFront("1605",
		"at: 0, face: bottom, screws: {size: M5, offsets: [[-20, -12], [20, -12], [-20, 12], [20, 12]], through: true}", "frame-23"),
		"nut: {part: bracket", "nut: {part: table", 1)))
	list, why = heldBy(inv, "nut of y")
	require.Empty(t, why)
	require.Len(t, list, 4)
	for _, h := range list {
		require.Equal(t, []any{"table", "bottom", "through", 5.5, false}, []any{h.Part, h.Face, h.Kind, h.DrillMM, h.Typical})
		require.InDelta(t, 20, math.Abs(h.XMM-120), 1e-9)
		require.InDelta(t, 12, math.Abs(h.YMM-85), 1e-9)
	}
}

// The screws of a motor of frame 17 go through its plate: their heads lie under the flange of the bearing on the other
// side, 52 mm across, and that is told.
func TestMotorHeadsUnderTheBearing(t *testing.T) {
	inv := inventoryOf(t, readMachine(t, drivenFromFront("1204", "at: 0", "frame-17")))
	motor, _ := heldBy(inv, "motor of y")
	require.Len(t, motor, 4)
	notes := strings.Join(inv.Notes, "\n")
	require.Contains(t, notes, fmt.Sprintf("mount: %d (motor of y)", motor[0].Number))
	inv = inventoryOf(t, readMachine(t, drivenFromFront("1204", "at: 0", "frame-23")))
	require.NotContains(t, strings.Join(inv.Notes, "\n"), "motor of y") // tapped: no heads there
}

// What is said of holes is in no spring: the same model moves by the same with and without.
func TestFlangesAreInNoSpring(t *testing.T) {
	text, err := os.ReadFile("../modelfile/testdata/keys/flanges.yaml")
	require.NoError(t, err)
	said := string(text)
	unsaid := strings.NewReplacer(", face: back, bore: 29.5 mm, screws: {size: M5, circle: 38 mm, count: 6}", "",
		", face: front, bore: 37 mm, screws: {size: M4, circle: 44 mm}", "").Replace(said)
	require.NotEqual(t, said, unsaid)
	a, b := solveText(t, said), solveText(t, unsaid)
	require.Equal(t, a.Loads, b.Loads)
	require.Equal(t, a.Holes.Tapped-b.Holes.Tapped, 6) // inside its metal, a nut without a face is not counted
}
