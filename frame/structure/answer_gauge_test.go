package structure

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
	"tiploop/testdata/checks"
)

// onSoftFeet is a stand that hangs on four feet far softer than itself.
const onSoftFeet = `
machine: on soft feet
parts:
  base: {plate: {from: [-150, -120, 0], to: [150, 120, 30]}, material: steel}
  column: {plate: {from: [-60, 60, 30], to: [60, 90, 230]}, material: steel}
  arm: {plate: {from: [-30, -60, 170], to: [30, 60, 200]}, material: steel}
joints: [{between: [base, column], bonded: true}, {between: [column, arm], bonded: true}]
grounds: [{part: base, name: feet, face: bottom, feet: [[-140, -110], [140, -110], [-140, 110], [140, 110]], stiffness: 2 N/um}]
tool: {part: arm, at: [0, -40, 170]}
work: {part: base}
loads:
  own weight: {gravity: true}
  push: {tip: [0, 100, 0]}
  lifted: {settle: {feet: [0, 0, 1]}}
`

// Under its own weight a stand sinks into soft feet by m·g/(4·k), tool and work alike, and leans by its moment about
// them; the tip's movement is a small difference of the two, and is told to be. Under a push of the tip on the work it
// is not; nor when the stand is lifted as one piece, where there is no error.
func TestSmallDifferencesAreTold(t *testing.T) {
	for _, by := range []Builder{{Detail: Section}, {Detail: Solid, Mesh: 3}} {
		r := solveMachine(t, by, readMachine(t, onSoftFeet))
		weight := r.Loads[0]
		require.NotNil(t, weight.Alike)
		tool, work := weight.Alike.ToolUm, weight.Alike.WorkUm
		for k, um := range weight.TipUm {
			require.InDelta(t, tool[k]-work[k], um, 1e-9)
		}
		require.Less(t, 5*norm(*weight.TipUm), norm(work))
		// The work lies under the tool, off the middle of the feet by 40 mm, over which the stand leans: Σk·y² =
		// 4·k·110².
		mass, about := 0.0, 0.0 // kg, kg·mm about the feet's middle
		for _, p := range []struct{ x, y, z, middle float64 }{{300, 240, 30, 0}, {120, 30, 200, 75}, {60, 120, 30, 0}} {
			kg := 7.85e-6 * p.x * p.y * p.z
			mass, about = mass+kg, about+kg*p.middle
		}
		mg := r.MassKg * machine.StandardGravity / 1000
		checks.CloseTo(t, "mass", r.MassKg, mass, 1e-3)
		sinks := mg/(4*2) - mg*about/mass*40/(4*2*110*110)
		checks.CloseTo(t, "work sinks", work[2], -sinks, 0.03) // and the base bends
		require.Nil(t, r.Loads[1].Alike, "a push of the tip on the work")
		require.Nil(t, r.Loads[2].Alike, "lifted as one piece")
		require.Contains(t, r.Notes, "load own weight: tool and work move nearly alike, more than 5 times as far as the tip "+
			"against the work; the error of so small a difference is several times theirs.")
	}
}

// The key comes into the JSON only where there is something to tell.
func TestAlikeInJSON(t *testing.T) {
	text, err := json.Marshal(answer.LoadResult{Alike: &answer.Alike{ToolUm: [3]float64{1, 2, 3}}})
	require.NoError(t, err)
	require.Contains(t, string(text), `"alike":{"tool_um":[1,2,3],"work_um":[0,0,0]}`)
	text, err = json.Marshal(answer.LoadResult{})
	require.NoError(t, err)
	require.NotContains(t, string(text), "alike")
}
