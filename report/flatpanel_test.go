package report

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/report/graph"
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
	of := func(options ...answer.Result) *graph.Words {
		a := answer.Answer{Options: options}
		return travelPanels(a)[0].level(optionNames(a))
	}
	l := of(followedBy("one", 200, 202, 201), followedBy("two", 50, 50, 50))
	require.NotNil(t, l)
	require.Equal(t, []graph.Line{{Series: []int{0}, Words: "201 µm, one"}, {Series: []int{1}, Words: "50.0 µm, two"}}, l.Lines)
	require.Equal(t, []graph.Line{{Words: "201 µm, all options"}},
		of(followedBy("one", 200, 202, 201), followedBy("two", 201, 201, 201)).Lines)
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

// How straight an axis runs has no chart where it is next to nothing beside what its loads move the tip.
func TestNoiseGetsNoPanel(t *testing.T) {
	of := func(x, z, moved float64) []chart {
		straight := func(across string, um float64) answer.Straightness {
			return answer.Straightness{Axis: "y", Across: across, AtMM: []float64{0, 5, 10}, OffUm: []float64{0, um, 0}, Um: um}
		}
		return straightPanels(answer.Answer{Options: []answer.Result{{Straight: []answer.Straightness{straight("x", x),
			straight("z", z)}}}}, "y", moved)
	}
	require.Equal(t, []chart{graph.Words{Title: "Axis y: off the straight line, own weight",
		Note:  "next to nothing beside the 30 µm that a load moves the tip",
		Lines: []graph.Line{{Words: "at most 0.51 µm left–right (x)"}, {Words: "at most 0.20 µm up–down (z)"}}}}, of(0.506, 0.2, 30))
	charts := of(0.506, 2, 30)
	require.Len(t, charts, 2)
	require.Contains(t, charts[0].(axisPanel).title, "up–down (z)")
	require.Len(t, of(0.506, 0.2, 0), 2, "nothing to hold it against")
	require.Empty(t, of(unseen/2, 0, 30))
}
