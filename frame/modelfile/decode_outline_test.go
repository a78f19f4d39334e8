package modelfile

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/beam"
)

// drawn is the section of a bar with that outline.
func drawn(t *testing.T, path string) beam.Section {
	t.Helper()
	doc, err := Parse("m.yaml", []byte(bar(fmt.Sprintf("{outline: %q}", path))))
	require.NoError(t, err)
	m, err := doc.Machine("")
	require.NoError(t, err)
	return m.Parts[0].Bar.Section
}

// A drawn outline has the properties of its closed form, within what its chords leave.
func TestOutlineSections(t *testing.T) {
	circle := func(r float64) string {
		return fmt.Sprintf("M %[1]g 0 A %[2]g %[2]g 0 0 1 %[2]g 0 A %[2]g %[2]g 0 0 1 %[1]g 0 Z", -r, r)
	}
	tube, err := beam.Tube{Width: 60, Height: 40, Wall: 4}.Section(0.3)
	require.NoError(t, err)
	for _, tt := range []struct {
		name, source, path string
		a, iy, iz, j       float64
		tol                float64
	}{
		{"round bar", "Roark: π·r², π·r⁴/4, π·r⁴/2", circle(20), math.Pi * 400, math.Pi * 4e4, math.Pi * 4e4, math.Pi * 8e4, 1e-3},
		{"round tube, its hole drawn the same way round", "Roark: the difference of two circles", circle(20) + circle(10),
			math.Pi * 300, math.Pi * 37500, math.Pi * 37500, math.Pi * 75000, 1.5e-3},
		{"hole first", "the same", circle(10) + circle(20), math.Pi * 300, math.Pi * 37500, math.Pi * 37500, math.Pi * 75000, 1.5e-3},
		{"square tube", "the tube of that size, which is held against Roark", "M0 0h60v40h-60z m4 4h52v32h-52z", tube.A, tube.Iy,
			tube.Iz, tube.J, 1e-9},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := drawn(t, tt.path)
			for _, pair := range [][2]float64{{s.A, tt.a}, {s.Iy, tt.iy}, {s.Iz, tt.iz}, {s.J, tt.j}} {
				require.InEpsilon(t, pair[1], pair[0], tt.tol, tt.source)
			}
		})
	}
}

// What is above in a drawing, whose y runs down, is above in the section.
func TestOutlineUpright(t *testing.T) {
	s := drawn(t, "M 0 0 H 40 V 10 H 25 V 40 H 15 V 10 H 0 Z") // a T as one sees it
	require.Greater(t, -s.ZMin, s.ZMax)                        // the centroid is near the flange
	require.InDelta(t, -(40*10*5+30*10*25)/700.0, s.CentroidZ, 1e-9)
}

func TestOutlineFaults(t *testing.T) {
	testFaults(t, []faultCase{
		{"open", bar(`{outline: "M 0 0 H 10 V 10"}`), `
m.yaml:3:67: the outline is open: it does not come back to (0, 0)
	end it with Z`},
		{"crossing, in place", part("\n    bar: {from: [0, 0, 0], to: [0, 0, 100]}\n    material: steel\n    section:\n" +
			"      outline: M 0 0 H 10 V 10 L 3 -5 Z"), `
m.yaml:7:27: the outline is no section at (10, 10): it crosses or touches itself
	at "V 10 L 3 -5 Z"`},
		{"tiny", bar(`{outline: "M 0 0 H 1e-5 V 1e-5 Z"}`), `
m.yaml:3:67: the outline is too small: 1.41421e-05 mm across
	a path is in mm`},
		{"two pieces", bar(`{outline: "M 0 0 H 10 V 10 Z M 20 0 h 10 v 10 z"}`), `
m.yaml:3:67: the outline is in several pieces: another begins here
	at "M 20 0 h 10 v 10 z": a section is one piece, and what lies within is a hole`},
		{"a piece in a hole", bar(`{outline: "M0 0H30V30H0Z M5 5H25V25H5Z M10 10H20V20H10Z"}`), `
m.yaml:3:67: the outline is in several pieces: another begins here
	at "M10 10H20V20H10Z": a section is one piece, and what lies within is a hole`},
		{"a hole across the edge", bar(`{outline: "M0 0H30V30H0Z M20 20H40V40H20Z"}`), `
m.yaml:3:67: the outline is no section at (20, 20): it meets the outline
	at "M20 20H40V40H20Z"`},
		{"a hole that touches", bar(`{outline: "M0 0H30V30H0Z M10 10H30V20H10Z"}`), `
m.yaml:3:67: the outline is no section at (10, 10): it meets the outline
	at "M10 10H30V20H10Z"`},
		{"a line there and back", bar(`{outline: "M 0 0 H 10 Z"}`), `
m.yaml:3:67: the outline encloses no area here`},
		{"only moves", bar(`{outline: "M 0 0 M 40 20"}`), `
m.yaml:3:67: the path draws no line
	it only moves: L, H and V draw`},
		{"no command", bar(`{outline: "M 0 0 K 10 Z"}`), `
m.yaml:3:67: 'K' is no command of a path
	at "K 10 Z": there are M L H V C S Q T A Z, and the same in small letters for places from where the pen is`},
		{"an empty path", bar(`{outline: ""}`), `
m.yaml:3:67: the path is empty
	it begins with M, where it starts: M 0 0`},
		{"too many corners", bar(`{outline: "M 0 0 A 1 100 0 1 1 0 0.1 A 100 1 0 1 1 0 0 Z"}`), `
m.yaml:3:67: too many corners: more than 200, with curves as chords
	at "A 100 1 0 1 1 0 0 Z": draw it with fewer curves`},
		{"corners in a list", bar(`{outline: [[0, 0], [1, 0], [0, 1]]}`), `
m.yaml:3:67: outline must be a single value, not a list`},
	})
}
