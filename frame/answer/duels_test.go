package answer_test

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/frame/chance"
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
	require.Equal(t, []float64{25, 0, 75}, []float64{list[1].WinsPercent, list[1].LossesPercent, list[1].TiesPercent})
	require.Equal(t, answer.NoDifference, list[1].Verdict)
	require.Nil(t, list[1].Ratio, "nothing in one draw")
	form, err := json.Marshal(list[1])
	require.NoError(t, err)
	require.Contains(t, string(form), `"ratio":null`)

	same := answer.Duels([]answer.Result{one, one})
	require.Equal(t, answer.TheSame, same[0].Verdict)
	require.Equal(t, 50.0, same[0].BetterPercent)
	worse := answer.Duels([]answer.Result{one, drawn("worse", []float64{0.5, 1, 2, 3}, []float64{5, 4, 3, 0})})
	require.Equal(t, answer.Worse, worse[0].Verdict)
	require.Equal(t, 25.0, worse[1].BetterPercent)
	require.Equal(t, []float64{25, 75, 0}, []float64{worse[1].WinsPercent, worse[1].LossesPercent, worse[1].TiesPercent})
	require.Equal(t, answer.NoDifference, worse[1].Verdict)
	shorter := answer.Duels([]answer.Result{one, drawn("short", []float64{9}, []float64{1})})
	require.Equal(t, answer.Better, shorter[1].Verdict, "as many draws as both have")
}

// What moves two options alike has no share in which is the better one, however much of the spread of each comes from
// it: of x = exp(a·u + b·v) over y = exp(a·u + c·w) the variance is b² + c² of independent u, v, w.
func TestOrderTurnsOnWhatDiffers(t *testing.T) {
	drawn := func(name, own string, of func(u, v, w float64) float64) answer.Result {
		s := &answer.Sure{Columns: []answer.Column{{Quantity: "movement cut"}}, Unknowns: []answer.DrawnUnknown{
			{Key: "common", What: "common"}, {Key: own, What: own, Settle: "measure " + own}}}
		draws := chance.Draw(3, 1024)
		for i := range draws.Len() {
			u, v, w := draws.Normal(i, 0), draws.Normal(i, 1), draws.Normal(i, 2)
			s.Columns[0].Values = append(s.Columns[0].Values, of(u, v, w))
			s.Unknowns[0].Logs = append(s.Unknowns[0].Logs, u)
			s.Unknowns[1].Logs = append(s.Unknowns[1].Logs, map[string]float64{"v": v, "w": w}[own])
		}
		return answer.Result{Name: name, Sure: s}
	}
	x := drawn("x", "v", func(u, v, _ float64) float64 { return math.Exp(2*u + 0.3*v) })
	y := drawn("y", "w", func(u, _, w float64) float64 { return math.Exp(2*u + 0.1*w) })
	turns := answer.Turns(&x, &y, "movement cut")
	require.Len(t, turns, 2)
	require.Equal(t, "v", turns[0].What)
	require.Equal(t, "measure v", turns[0].Settle)
	require.InDelta(t, 90, turns[0].Percent, 1)
	require.Equal(t, "w", turns[1].What)
	require.InDelta(t, 10, turns[1].Percent, 1)
	require.Empty(t, answer.Turns(&x, &x, "movement cut"), "nothing")
	require.Empty(t, answer.Turns(&x, &y, "stiffness x"), "not drawn")
}
