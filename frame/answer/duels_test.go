package answer_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
)

func TestDuels(t *testing.T) {
	drawn := func(name string, stiffness, movement []float64) answer.Result {
		return answer.Result{Name: name, Sure: &answer.Sure{Columns: []answer.Column{
			{Quantity: "stiffness x", MoreIsBetter: true, Values: stiffness}, {Quantity: "movement cut", Values: movement}}}}
	}
	one := drawn("one", []float64{1, 2, 3, 4}, []float64{4, 3, 2, 1})
	list := answer.Duels([]answer.Result{one, drawn("two", []float64{2, 3, 4, 5}, []float64{4, 3, 2, 0}), {Name: "three"}})
	require.Len(t, list, 2)
	require.Equal(t, "two", list[0].Option)
	require.Equal(t, "one", list[0].Against)
	require.Equal(t, 100.0, list[0].BetterPercent)
	require.Equal(t, answer.Better, list[0].Verdict)
	require.InDelta(t, 1.42, list[0].Ratio.Median, 0.1)
	require.Equal(t, 62.5, list[1].BetterPercent, "less movement is better, a tie counts half")
	require.Equal(t, answer.NoDifference, list[1].Verdict)
	require.Zero(t, list[1].Ratio)

	same := answer.Duels([]answer.Result{one, one})
	require.Equal(t, answer.TheSame, same[0].Verdict)
	require.Equal(t, 50.0, same[0].BetterPercent)
	worse := answer.Duels([]answer.Result{one, drawn("worse", []float64{0.5, 1, 2, 3}, []float64{5, 4, 3, 0})})
	require.Equal(t, answer.Worse, worse[0].Verdict)
	require.Equal(t, 25.0, worse[1].BetterPercent)
	require.Equal(t, answer.NoDifference, worse[1].Verdict)
	shorter := answer.Duels([]answer.Result{one, drawn("short", []float64{9}, []float64{1})})
	require.Equal(t, answer.Better, shorter[1].Verdict, "as many draws as both have")
}
