package phrase

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
)

// A value that is drawn outside of its range is said to be, one at an end of it is not.
func TestDrawnOutside(t *testing.T) {
	leg := answer.SweptValue{Name: "leg", Unit: "mm", At: []float64{40, 90, 140}}
	rows := answer.SweptValue{Name: "rows", At: []float64{1, 2, 3}, Drawn: 4}
	for at, words := range map[float64]string{
		40: "", 60: "", 140: "", 140 + 1e-12: "", 39.5: "As drawn leg is 39.5 mm, outside of what is tried here.",
		150: "As drawn leg is 150 mm, outside of what is tried here.",
	} {
		leg.Drawn = at
		require.Equal(t, words, DrawnOutside(answer.Sweep{Values: []answer.SweptValue{leg}}), "%g", at)
	}
	leg.Drawn = 150
	require.Equal(t, "As drawn leg is 150 mm and rows is 4, outside of what is tried here.",
		DrawnOutside(answer.Sweep{Values: []answer.SweptValue{leg, rows}}))
}

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
