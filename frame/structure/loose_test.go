package structure

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/testdata/models"
)

// Parts that touch without a joint are told, by every answer, once each; those joined are not.
func TestTouchingWithoutJoint(t *testing.T) {
	const text = `machine: m
parts:
  base: {plate: {from: [0, 0, 0], to: [200, 200, 20]}, material: steel}
  left: {plate: {from: [0, 0, 20], to: [20, 200, 120]}, material: steel}
  back: {plate: {from: [20, 0, 20], to: [200, 20, 120]}, material: steel}
joints:
  - {between: [base, left], bonded: true}
  - {between: [base, back], bonded: true}
  %s
grounds: [{part: base, face: bottom, fixed: true}]
loads: {push: {at: [100, 10, 120], part: back, force: [0, 10, 0]}}
`
	const note = "left and back touch over 20 x 100 mm at [20, 10, 70] and nothing joins them: they are taken to slide and " +
		"part there. Join them under joints:, or leave a gap."
	apart, joined := fmt.Sprintf(text, ""), fmt.Sprintf(text, "- {between: [left, back], bonded: true}")
	require.Equal(t, []string{note}, buildText(t, apart).unjoined())
	require.Contains(t, solveText(t, apart).Notes, note)
	require.Contains(t, buildText(t, apart).Inventory().Notes, note)
	require.Empty(t, buildText(t, joined).unjoined())
}

// A movement of millimetres is no answer of sums for small ones.
func TestLargeMovementIsNoted(t *testing.T) {
	push := func(force string) *answer.Result {
		return solveText(t, `machine: m
parts:
  arm: {bar: {from: [0, 0, 0], to: [0, 0, 300]}, section: {round: 10}, material: steel}
  bed: {plate: {from: [50, 0, 0], to: [90, 40, 10]}, material: steel}
grounds: [{part: arm, at: [0, 0, 0], hold: [x, y, z, rx, ry, rz]}, {part: bed, face: bottom, fixed: true}]
tool: {part: arm, at: [0, 0, 300]}
work: {part: bed, at: [70, 20, 10]}
loads: {push: {tip: [`+force+`, 0, 0]}}
`)
	}
	require.Contains(t, strings.Join(push("100 N").Notes, " "), "load push: the tip moves 8.9")
	require.NotContains(t, strings.Join(push("1 N").Notes, " "), "the tip moves")
}

// Slips that leave a machine which can be answered are asked about in its notes, each once and by the part or the axis
// that it is of; the sound machine has none of these notes.
func TestSlipsAreNoted(t *testing.T) {
	const sound = `machine: m
parts:
  base:  {plate: {from: [-200, -80, 0], to: [200, 80, 20]}, material: steel}
  table: {plate: {from: [-60, -60, 48], to: [60, 60, 68]}, material: steel}
  over:  {plate: {from: [-20, -90, 110], to: [20, 90, 130]}, material: own}
  pin:   {bar: {from: [-190, 0, 25], to: [-190, 0, 60]}, section: {rect: [10, 10]}, material: steel}
materials: {own: {E: 71 GPa, nu: 0.33, density: 2700 kg/m3, expansion: 23 um/m/K}}
grounds:
  - {part: base, face: bottom, fixed: true}
  - {part: over, face: top, fixed: true}
  - {part: pin, at: [-190, 0, 60], hold: [x, y, z, rx, ry, rz]}
axes:
  x:
    along: x
    carries: [table]
    travel: [-20, 20]
    guides:
      - {rail: profile-15, on: base, part: table, from: [-180, -40, 20], to: [180, -40, 20], carriages: [-59]}
      - {rail: profile-15, on: base, part: table, from: [-180, 40, 20], to: [180, 40, 20], carriages: [59]}
    drive: {stiffness: 25 N/um, part: table, on: base, at: [0, 0, 48]}
tool: {part: over, at: [5, 0, 90], stickout: 20, diameter: 4, material: carbide}
work: {part: table, at: [0, 0, 68], height: 100}
masses: {vise: {mass: 3 kg, part: table, at: [0, 0, 68]}}
`
	for _, tt := range []struct {
		name  string
		edits []string // old, new
		want  string
	}{
		{"rails on one line", []string{"[-180, 40, 20], to: [180, 40, 20]", "[-180, -40, 20], to: [180, -40, 20]"},
			"axis x: all its rails lie on one line, at y = -40 mm, z = 20 mm; only the carriages themselves keep table"},
		{"tip inside a part", []string{"at: [5, 0, 90], stickout: 20", "at: [5, 0, 65], stickout: 45"},
			"tool: its tip is inside table, 3 mm from the nearest face"},
		{"work aside", []string{"work: {part: table, at: [0, 0, 68]", "work: {part: table, at: [-50, 0, 68]"},
			"work: its place on table is 55 mm aside"},
		{"tool and work on one part", []string{"work: {part: table, at: [0, 0, 68]", "work: {part: over, at: [0, 0, 110]"},
			"work: tool and work are both on over"},
		{"mass in grams", []string{"3 kg", "3000000 kg"}, "mass vise weighs 3e+06 kg"},
		{"GPa for MPa", []string{"71 GPa", "71000 GPa"}, "made of a material with an E of 7.1e+04 GPa"},
		{"MPa for GPa", []string{"71 GPa", "71 MPa"}, "made of a material with an E of 0.071 GPa"},
		{"expansion", []string{"23 um/m/K", "0.0023"}, "made of a material with an expansion of 2.3e+03 um/m/K"},
		{"a bar through a plate", []string{"from: [-190, 0, 25]", "from: [-190, 0, -10]"}, "base and pin touch"},
		{"a bar half in a plate", []string{"[-190, 0, 25]", "[-201, 0, -10]", "[-190, 0, 60]", "[-201, 0, 60]"},
			"base and pin run into each other"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			count := func(text string) (n int) {
				for _, note := range buildText(t, text).Inventory().Notes {
					if strings.HasPrefix(note, tt.want) {
						n++
					}
				}
				return n
			}
			require.Zero(t, count(sound))
			text := strings.NewReplacer(tt.edits...).Replace(sound)
			require.Equal(t, 1, count(text), "%q", buildText(t, text).Inventory().Notes)
		})
	}
}

// Slips that leave no machine are faults at their place.
func TestSlipsAreFaults(t *testing.T) {
	const rail = "      - {rail: profile-15, on: base, part: table, from: [-180, 40, 20], to: [180, 40, 20], carriages: " +
		"[-40, 40]}\n"
	const drive = "{screw: 1605, from: [180, 0, 34], to: [-150, 0, 34], nut: {part: table, at: 0}, bearing: {part: wall}}"
	for _, tt := range []struct{ name, old, by, want string }{
		{"a guide twice", rail, rail + rail,
			"m.yaml:17:9: axis x, rail 3: its carriages lie on those of another guide, at line 16"},
		{"rails in each other", rail, rail + strings.NewReplacer("40, 20]", "45, 20]", "[-40, 40]", "[0]").Replace(rail),
			"m.yaml:17:9: rail 3 of axis x and rail 2 of axis x run into each other"},
		{"a drive twice", "drive: " + drive, "drive: [" + drive + ", " + drive + "]",
			"axis x: a drive is where another is, at line 17"},
		{"a thick shim", "{between: [base, wall], bonded: true}]", "{between: [base, wall], screws: {size: M5, grid: [1, " +
			"2]}}]\nshims: {pack: {joint: [base, wall], material: shim-brass, thickness: 30}}",
			"m.yaml:8:9: shim pack is 30 mm thick and base only 20 mm"},
		{"a tool as wide as a house", "positions:", "tool: {part: vice, at: [0, 0, 98], stickout: 20, diameter: 8 m, " +
			"material: carbide}\nwork: {part: base, at: [-100, 0, 20]}\npositions:",
			"no machine of this kind turns a tool of 8000 mm"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			require.Contains(t, models.Sledge, tt.old)
			m, err := machineOf(strings.Replace(models.Sledge, tt.old, tt.by, 1), "")
			if err == nil {
				_, err = buildBeams(m)
			}
			require.ErrorContains(t, err, tt.want)
		})
	}
}
