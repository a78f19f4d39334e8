package structure

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/constant"
)

// Depths that are drawn against the depth looked for anew, on machines softer and stiffer by anything, at cuts whose depth
// jumps: within the step of the curve, but for machines a hundredth from a jump.
func TestDrawnDepthsFollowJumps(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	jumps := 0
	for n := range 4 {
		option, i := []string{"as on the chart", "thick arm"}[n/2], n%2
		m, _ := solvedExample(t, "cut-that-goes-wrong", option, TipOnly)
		c := madeCut{&m.machine.Cuts[i]}
		response := c.response(m.compliance(m.tool.gauge))
		line, err := c.depthLine(response, m.machine.Tool)
		require.NoError(t, err)
		off := 0
		const machines = 60
		for range machines {
			log := (2*rng.Float64() - 1) * depthDoubles * math.Ln2
			want, _, err := c.deepest(response.times(math.Exp(log)), constant.Typical, m.machine.Tool)
			require.NoError(t, err)
			if got := line.Predict(log); math.Abs(got-want) > 0.05*want {
				off++
			}
		}
		require.LessOrEqual(t, off, 3, c.Name)
		for k := range 80 { // of the curve itself
			at := (float64(k)/40 - 1) * depthDoubles * math.Ln2
			if a, b := line.Predict(at), line.Predict(at+0.04); a > 1.5*b {
				jumps++
			}
		}
	}
	require.Positive(t, jumps, "a cut whose depth jumps")
}
