package yielding

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/constant"
)

// A tip on three springs moves by force over stiffness along each, whatever way the cut goes; one twice as soft moves twice
// as far, is off by twice as much, and its depth is that of Depths.
func TestTipOnThreeSprings(t *testing.T) {
	m := exampleMachine(t, "")
	stiffness := [3]float64{400, 700, 1100} // N/mm
	springs := func(softer float64) [][]float64 {
		c := make([][]float64, 3)
		for k := range c {
			c[k] = make([]float64, 6)
			c[k][k] = softer / stiffness[k]
		}
		return c
	}
	cuts, _, err := Answer(m, springs(1))
	require.NoError(t, err)
	soft, _, err := Answer(m, springs(2))
	require.NoError(t, err)
	require.Len(t, cuts, len(m.Cuts))
	for i, c := range cuts {
		require.Equal(t, m.Cuts[i].Name, c.Name)
		for k := range 3 {
			require.InDelta(t, c.Typical.MeanN[k]/stiffness[k]*constant.UmPerMM, c.Typical.MeanUm[k], 1e-9, c.Name)
		}
		require.InEpsilon(t, 2*c.Typical.MovementUm, soft[i].Typical.MovementUm, 1e-12, c.Name)
		require.InEpsilon(t, 2*c.Typical.NormalUm, soft[i].Typical.NormalUm, 1e-12, c.Name)
		depth, err := Depths(m, i, springs(1))
		require.NoError(t, err)
		require.InEpsilon(t, *c.Typical.DeepestMM, depth(1), 1e-12, c.Name)
		require.InEpsilon(t, *soft[i].Typical.DeepestMM, depth(2), 1e-12, c.Name)
	}
}
