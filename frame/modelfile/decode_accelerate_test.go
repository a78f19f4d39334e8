package modelfile

import (
	"strings"
	"testing"

	"tiploop/testdata/models"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/machine"
)

func sledgeLoaded(load string) string { return models.Sledge + "loads:\n  l: " + load + "\n" }

func TestAccelerateFaults(t *testing.T) {
	testFaults(t, []faultCase{
		{"unknown axis", sledgeLoaded("{accelerate: {y: 2 m/s2}}"), `
m.yaml:20:20: axis "y" is not known
	one of: x`},
		{"no axes at all", poleLoaded("{accelerate: {x: 2 m/s2}}"), `
m.yaml:6:20: axis "x" is not known
	the model names none`},
		{"no axis", sledgeLoaded("{accelerate: {}}"), `
m.yaml:20:19: accelerate names no axis
	write accelerate: {x: 2 m/s2}`},
		{"nothing", sledgeLoaded("{accelerate: }"), `
m.yaml:20:18: accelerate names no axis
	write accelerate: {x: 2 m/s2}`},
		{"no mapping", sledgeLoaded("{accelerate: 2 m/s2}"), `
m.yaml:20:19: accelerate must be a mapping, not a single value`},
		{"zero", sledgeLoaded("{accelerate: {x: 0}}"), `
m.yaml:20:23: an acceleration of zero moves nothing
	write how fast the axis gains speed, 2 m/s2, or leave it out`},
		{"meant in m/s2", sledgeLoaded("{accelerate: {x: -2}}"), `
m.yaml:20:23: an acceleration of -2 mm/s2 is next to none
	a plain number is in mm/s2; write 2 m/s2`},
		{"speed", sledgeLoaded("{accelerate: {x: 2 m/s}}"), `
m.yaml:20:23: a feed rate (2 m/s) where an acceleration belongs`},
		{"unknown unit", sledgeLoaded("{accelerate: {x: 2 gs}}"), `
m.yaml:20:25: unit "gs" is not known
	did you mean g?`},
		{"grams of a value", strings.Replace(sledgeLoaded("{accelerate: {x: gain}}"), "parts:", "values: {gain: 0.2 g}\nparts:", 1), `
m.yaml:21:23: a mass (gain) where an acceleration belongs
	g means free fall behind a single number, 0.2 g, and else the gram: write 2 m/s2`},
		{"list", sledgeLoaded("{accelerate: {x: [2 m/s2, 0, 0]}}"), `
m.yaml:20:23: a number must be a single value, not a list`},
		{"misspelt", sledgeLoaded("{acelerate: {x: 2 m/s2}}"), `
m.yaml:20:7: key "acelerate" is not known in load "l"
	did you mean accelerate? accelerate takes: by name of an axis: acceleration in mm/s2`},
	})
}

func TestAccelerate(t *testing.T) {
	m := readMachine(t, models.Sledge+`loads:
  meters: {accelerate: {x: 2 m/s2}}
  plain: {accelerate: {x: -500}}
  falls: {accelerate: {x: 0.2 g}}
  fall and weight: {gravity: true, accelerate: {x: -1g}}
  twice: [{accelerate: {x: 1 m/s2}}, {accelerate: {x: 4*2 mm/s*12.5/1 s}}]
`)
	var kinds []machine.ActionKind
	var by []float64
	for _, l := range m.Loads {
		for _, a := range l.Actions {
			kinds = append(kinds, a.Kind)
			require.NotZero(t, a.Pos)
			if a.Kind == machine.Accelerating {
				by = append(by, a.Force.X)
				require.Equal(t, r3.Vec{X: a.Force.X}, a.Force)
			}
		}
	}
	require.Equal(t, []machine.ActionKind{machine.Accelerating, machine.Accelerating, machine.Accelerating, machine.Weight,
		machine.Accelerating, machine.Accelerating, machine.Accelerating}, kinds)
	require.InEpsilonSlice(t, []float64{2000, -500, 1961.33, -9806.65, 1000, 100}, by, 1e-15)
}

// An axis that is left out takes its acceleration with it, and a load that does nothing else goes, too.
func TestAccelerateLeftOut(t *testing.T) {
	text := strings.Replace(models.Sledge, "    along: x", "    if: sliding\n    along: x", 1)
	text = strings.Replace(text, "parts:", "values: {sliding: false}\nparts:", 1)
	m := readMachine(t, strings.Replace(text, "positions: {left: {x: -80}}\n", "",
		1)+"loads: {start: {accelerate: {x: 0}}, both: {gravity: true, accelerate: {x: 2 m/s2}}}\n")
	require.Len(t, m.Loads, 1)
	require.Len(t, m.Loads[0].Actions, 1)
	require.Equal(t, machine.Weight, m.Loads[0].Actions[0].Kind)
}
