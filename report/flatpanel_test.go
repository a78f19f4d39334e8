package report

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
)

// followedBy is an option whose tip moves by that much at each place of a path.
func followedBy(name string, um ...float64) answer.Result {
	t := answer.Travel{Path: "bed", Load: "cut"}
	for i, v := range um {
		t.AtMM, t.TipUm = append(t.AtMM, float64(10*i)), append(t.TipUm, [3]float64{v, 0, 0})
	}
	return answer.Result{Name: name, Travel: []answer.Travel{t}}
}

// What is about the same all along is told in words with its value; one curve with a shape makes a chart of all.
func TestFlatCurves(t *testing.T) {
	of := func(options ...answer.Result) *flatPanel {
		a := answer.Answer{Options: options}
		return travelPanels(a)[0].level(optionNames(a))
	}
	l := of(followedBy("one", 200, 202, 201), followedBy("two", 50, 50, 50))
	require.NotNil(t, l)
	require.Equal(t, []flatCurve{{0, "one", 201}, {1, "two", 50}}, l.curves)
	require.Nil(t, of(followedBy("one", 200, 202, 201), followedBy("two", 50, 60, 50)))
}

// Of many loads the worst are drawn, in the order in which they came.
func TestWorstLoads(t *testing.T) {
	move := func(name string, um float64) answer.LoadResult {
		return answer.LoadResult{Name: name, TipUm: &[3]float64{0, um, 0}}
	}
	options := []answer.Result{{Loads: []answer.LoadResult{move("a", 1), move("b", 9), move("c", 3), move("d", 2)}},
		{Loads: []answer.LoadResult{move("a", 5)}}}
	require.Equal(t, []string{"a", "b"}, worstLoads(options, []string{"a", "b", "c", "d"}, 2))
	require.Equal(t, []string{"a", "b", "c", "d"}, worstLoads(options, []string{"a", "b", "c", "d"}, 9))
	require.Empty(t, worstOf(2, 2))
	require.Equal(t, ". The 2 worst of 4 loads", worstOf(2, 4))
}
