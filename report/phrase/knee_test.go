package phrase

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
)

// TestIdle: a value that moves nothing, not the mass either, draws nothing; one that moves the mass alone does.
func TestIdle(t *testing.T) {
	s := answer.Sweep{Values: []answer.SweptValue{{Name: "leg"}}, Places: []answer.SweptStep{
		{At: []float64{1}, MassKg: 2, Tip: &answer.Tip{}}, {At: []float64{2}, MassKg: 2, Tip: &answer.Tip{}}}}
	require.Equal(t, "All places are the same machine: nothing drawn here uses leg.", Idle(s))
	s.Places[1].MassKg = 2.001
	require.Empty(t, Idle(s))
	s.Places[1].MassKg = 2
	s.Places[1].Tip = &answer.Tip{StiffnessNPerUm: answer.Stiffness{Z: 1}}
	require.Empty(t, Idle(s))
	require.Empty(t, Idle(answer.Sweep{Values: s.Values, Places: s.Places[:1]}))
}
