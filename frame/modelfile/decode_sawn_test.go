package modelfile

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/outline"
)

// sawnPlate is a model of one plate, 200 x 100 and 10 thick, square to an axis, with that outline. It is written without
// quotes, so that the places of faults are those of the path.
func sawnPlate(across byte, path string) string {
	to := map[byte]string{'x': "[10, 200, 100]", 'y': "[200, 10, 100]", 'z': "[200, 100, 10]"}[across]
	return fmt.Sprintf("machine: m\nparts:\n  p:\n    plate:\n      from: [0, 0, 0]\n      to: %s\n      outline: %s\n    material: steel\n",
		to, path)
}

// A path lies as one sees the plate from the front, the top or the right: its left upper end is the plate's, whichever
// place on its sheet it has.
func TestSawnPlacing(t *testing.T) {
	for _, across := range []byte("xyz") {
		for _, path := range []string{"M 0 0 H 200 V 40 H 60 V 100 H 0 Z", "M 35 -17 h 200 v 40 h -140 v 60 h -60 z"} {
			plate := readMachine(t, sawnPlate(across, path)).Parts[0].Plate
			shape := plate.Outline
			require.InDelta(t, 200*40+60*60, shape.Area(), 1e-9)
			require.Positive(t, shape.Room(outline.Point{150, 80}), "above: the arm")
			require.Positive(t, shape.Room(outline.Point{30, 20}), "below: the leg")
			require.Negative(t, shape.Room(outline.Point{150, 20}))
			require.Len(t, shape[0], 6)
		}
	}
}

// What is the whole block has no outline; one that differs by less than a drawing's digits fits.
func TestSawnWhole(t *testing.T) {
	require.Nil(t, readMachine(t, sawnPlate('z', "M 0 0 H 200 V 100 H 0 Z")).Parts[0].Plate.Outline)
	plate := readMachine(t, sawnPlate('z', "M 0 0 H 199.996 V 50 L 100 100 H 0 Z")).Parts[0].Plate
	_, hi := plate.Outline.Bounds()
	require.Equal(t, outline.Point{200, 100}, hi)
}

// The example's options have different outlines, of a value that is a path.
func TestSawnByValue(t *testing.T) {
	model := "values:\n  cut: M 0,0 H 200 V 40 L 60,100 H 0 Z\noptions:\n  plain: {cut: M 0 0 H 200 V 100 H 0 Z}\n" + sawnPlate('z', "cut")
	m, err := machineOf(model, "")
	require.NoError(t, err)
	require.InDelta(t, 200*40+60*(200+60)/2, m.Parts[0].Plate.Outline.Area(), 1e-9)
	m, err = machineOf(model, "plain")
	require.NoError(t, err)
	require.Nil(t, m.Parts[0].Plate.Outline)
}

// A web of just the least width is one, also where rounding leaves a hair less of it.
func TestSawnLeastWeb(t *testing.T) {
	path := "M 0 0 H 200 V 100 H 0 Z M 0.5 0.5 H 199.5 V 50 H 0.5 Z M 0.6 50.5 H 199.4 V 99.4 H 0.6 Z"
	for _, across := range []byte("xyz") {
		require.Len(t, readMachine(t, sawnPlate(across, path)).Parts[0].Plate.Outline, 3)
	}
	thick := strings.Replace(sawnPlate('z', "M 0 0 H 200 V 100 H 0 Z M 0.6 0.6 H 199.4 V 99.4 H 0.6 Z"), "100, 10]", "100, 30]", 1)
	require.Len(t, readMachine(t, thick).Parts[0].Plate.Outline, 2)
}

func TestSawnFaults(t *testing.T) {
	comb := "M 0 0"
	for i := range 300 {
		comb += fmt.Sprintf(" L %d %d", 200-i/6, i%2*4)
	}
	testFaults(t, []faultCase{
		{"open", sawnPlate('z', "M 0 0 H 200 V 100"), `
m.yaml:7:16: the outline is open: it does not come back to (0, 0)
	end it with Z`},
		{"no path", sawnPlate('z', "none"), `
m.yaml:7:16: 'n' is no command of a path
	there are M L H V C S Q T A Z, and the same in small letters for places from where the pen is`},
		{"a value misspelt", "values: {cheek: M 0 0 H 200 V 100 H 0 Z, thick: 10}\n" + sawnPlate('z', "cheeck"), `
m.yaml:8:16: value "cheeck" is not known
	did you mean cheek? one of: cheek, thick`},
		{"a value that is a number", "values: {thick: 10}\n" + sawnPlate('z', "thick"), `
m.yaml:8:16: the path begins with t
	it begins with M, where it starts: M 0 0`},
		{"empty", sawnPlate('z', `""`), `
m.yaml:7:16: the path is empty
	it begins with M, where it starts: M 0 0`},
		{"only moves", sawnPlate('z', "M 0 0 M 200 100"), `
m.yaml:7:16: the path draws no line
	it only moves: L, H and V draw`},
		{"not a number", sawnPlate('z', "M 0 0 H nan V 100 H 0 Z"), `
m.yaml:7:24: H takes 1 numbers, and 'n' stands behind 0
	at "nan V 100 H 0 Z"`},
		{"a list", sawnPlate('z', "[0, 0]"), `
m.yaml:7:16: outline must be a single value, not a list`},
		{"another size", sawnPlate('z', "M 0 0 H 150 V 100 H 0 Z"), `
m.yaml:7:16: the outline is 150 mm wide and 100 high, and the plate 200 along x and 100 along y
	from and to are the corners of the block that it is sawn from`},
		{"crosses itself", sawnPlate('z', "M 0 0 L 200 100 V 10 L 0 60 Z"), `
m.yaml:7:22: the outline at (200, 100): it crosses or touches itself
	at "L 200 100 V 10 L 0 60 Z"`},
		{"touches itself", sawnPlate('z', "M 0 0 H 200 V 100 H 0 V 60 L 200 50 L 0 40 Z"), `
m.yaml:7:43: the outline at (200, 50): it crosses or touches itself
	at "L 200 50 L 0 40 Z"`},
		{"window across the edge", sawnPlate('z', "M 0 0 H 200 V 100 H 0 Z M 180 40 H 220 V 60 H 180 Z"), `
m.yaml:7:40: the outline at (180, 40): it meets the outline
	at "M 180 40 H 220 V 60 H 180 Z"`},
		{"two pieces", sawnPlate('z', "M 0 0 H 90 V 100 H 0 Z M 110 0 H 200 V 100 H 110 Z"), `
m.yaml:7:39: the outline is in several pieces: another begins here
	at "M 110 0 H 200 V 100 H 110 Z": a plate is one piece, and what lies within is a window`},
		{"the outline twice", sawnPlate('z', "M 0 0 H 200 V 100 H 0 Z M 0 0 H 200 V 100 H 0 Z"), `
m.yaml:7:40: the outline crosses itself or is there twice: another begins here
	at "M 0 0 H 200 V 100 H 0 Z": a plate is one piece, and what lies within is a window`},
		{"each begins in the other", sawnPlate('z', "M 100 50 H 200 V 100 H 0 V 0 Z M 20 60 L 0 0 H 200 L 150 90 Z"), `
m.yaml:7:47: the outline crosses itself or is there twice: another begins here
	at "M 20 60 L 0 0 H 200 L 150 90 Z": a plate is one piece, and what lies within is a window`},
		{"a web too thin", sawnPlate('z', "M 0 0 H 200 V 100 H 0 Z M 20 0.3 H 180 V 60 H 20 Z"), `
m.yaml:7:40: the outline at (20, 0.3): metal or a slot is only 0.3 mm wide here
	at "M 20 0.3 H 180 V 60 H 20 Z": leave 0.5 mm at least`},
		{"a needle", sawnPlate('z', "M 0 0 H 100 L 200 4 L 100 8 V 100 H 0 Z"), `
m.yaml:7:28: the outline at (200, 4): it runs to a point of 4.6 degrees here
	at "L 200 4 L 100 8 V 100 H 0 Z": a point of 5 degrees is the sharpest that can be made`},
		{"too many corners", sawnPlate('z', comb+" Z"), `
m.yaml:7:1622: too many corners: more than 200, with curves as chords
	at "L 167 0 L 167 4 L 167 0 L 167 4 L 166 0 …": draw it with fewer curves`},
		{"no thin side", strings.Replace(sawnPlate('z', "M 0 0 H 200 V 100 H 0 Z"), "10]", "100]", 1), `
m.yaml:7:16: a plate with an outline must be thinner than it is long and wide, or nothing says which way it lies`},
	})
}
