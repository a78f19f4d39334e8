package yielding

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/constant"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile"
)

// goesWrong is the example whose cuts go too deep, as its options are and with their compliances, as its beams have them.
var goesWrong = map[string][][]float64{
	"as on the chart": {{2.374e-3, 0, 0, 0, -4.716e-5, 2.97e-6}, {0, 2.136e-3, -5.492e-4, 4.85e-5, 0, 0},
		{0, -5.492e-4, 1.203e-3, -7.28e-6, 0, 0}},
	"thick arm": {{1.802e-3, 0, 0, 0, -4.376e-5, 2.51e-6}, {0, 1.452e-3, -1.207e-4, 4.384e-5, 0, 0},
		{0, -1.207e-4, 8.456e-4, -4.38e-6, 0, 0}},
}

func exampleMachine(t *testing.T, option string) *machine.Machine {
	t.Helper()
	text, err := os.ReadFile("../../examples/cut-that-goes-wrong.yaml")
	require.NoError(t, err)
	doc, err := modelfile.Parse("cut-that-goes-wrong.yaml", text)
	require.NoError(t, err)
	m, err := doc.Machine(option)
	require.NoError(t, err)
	return m
}

// Depths over how much softer a machine is against the depth looked for anew, on machines softer and stiffer by anything,
// at cuts whose depth jumps: within the step of the curve, but for machines a hundredth from a jump.
func TestDepthsFollowJumps(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	jumps := 0
	for n := range 4 {
		option, i := []string{"as on the chart", "thick arm"}[n/2], n%2
		m := exampleMachine(t, option)
		c := newCut(m, i, goesWrong[option])
		depth, err := Depths(m, i, goesWrong[option])
		require.NoError(t, err)
		off := 0
		const machines = 60
		for range machines {
			softer := math.Exp((2*rng.Float64() - 1) * depthDoubles * math.Ln2)
			want, _, err := c.softer(softer).deepest(constant.Typical)
			require.NoError(t, err)
			if got := depth(softer); math.Abs(got-want) > 0.05*want {
				off++
			}
		}
		require.LessOrEqual(t, off, 3, c.Name)
		for k := range 80 { // of the curve itself
			at := (float64(k)/40 - 1) * depthDoubles * math.Ln2
			if a, b := depth(math.Exp(at)), depth(math.Exp(at+0.04)); a > 1.5*b {
				jumps++
			}
		}
	}
	require.Positive(t, jumps, "a cut whose depth jumps")
}
