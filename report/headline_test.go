package report

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/report/verdict"
)

// machineOf is an option with a load that moves the tip and its own weight, and a path with a tolerance.
func machineOf(name string, kg, pushUm, weightUm, toMM float64) answer.Result {
	tip := func(load string, um float64) answer.LoadResult {
		return answer.LoadResult{Name: load, OnTip: load == "push", TipUm: &[3]float64{um, 0, 0}, TipSizeUm: &um}
	}
	return answer.Result{Name: name, MassKg: kg, Loads: []answer.LoadResult{tip("push", pushUm), tip("own weight", weightUm)},
		Travel: []answer.Travel{{Path: "across the table", Load: "push", ToleranceUm: 60, WithinMM: &[2]float64{0, toMM},
			AtMM: []float64{0, toMM}, TipUm: [][3]float64{{pushUm, 0, 0}, {pushUm, 0, 0}}}}}
}

func decided(options ...answer.Result) answer.Answer {
	a := answer.Answer{Options: options}
	a.Verdict = verdict.Of(a)
	return a
}

// A headline names the largest difference that matters and what it costs: not own weight, 2 µm beside 38, nor how long a
// path is that keeps its tolerance from end to end.
func TestHeadlineNamesADifference(t *testing.T) {
	a := decided(machineOf("plain", 10, 40, 2.1, 200), machineOf("ribbed", 11.5, 30, 0.7, 330), machineOf("thick", 14, 39, 2, 200))
	says, sure := Headline(a)
	require.Equal(t, "Build “ribbed”: tip under “push” 30 instead of 39 µm as with “thick”, for 2.5 kg less.", says)
	require.Contains(t, sure, "It typically keeps 60 µm all along “across the table”, 330 mm, under “push”.")
	require.Equal(t, "tip under “push”: 30 to 40 µm", MostDifferent(a))

	alike := decided(machineOf("one", 10, 40, 2, 200), machineOf("two", 10, 40, 2, 200))
	says, _ = Headline(alike)
	require.Contains(t, says, "There is no real difference between the options.")
}

// Where misfits alone differ they decide, with what they use up: a verdict is no leave to build what binds.
func TestHeadlineByMisfits(t *testing.T) {
	packed := func(name string, um, pullN float64) answer.Result {
		r, preload := machineOf(name, 10, 40, 2, 200), 100.0
		r.Misfits = &answer.Misfits{Together: &answer.Misfit{Moved: answer.LoadResult{TipUm: &[3]float64{um, 0, 0}},
			Carriages: []answer.CarriageLoad{{Axis: "y", Guide: "rail", PullN: pullN, PreloadN: &preload}}}}
		return r
	}
	a := decided(packed("as screwed down", 107, 205), packed("packed", 38.6, 128))
	require.Equal(t, 1, Picked(a))
	says, _ := Headline(a)
	require.Equal(t, "Build “packed”: tip 38.6 instead of 107 µm out of place by misfits; they use up 128 instead of 205 % of "+
		"preload, too much in both.", says)
	require.Equal(t, "what misfits do", MostDifferent(a))
}

// In how many draws all of a path keeps its tolerance.
func TestHeadlineSaysHowOftenAllIsKept(t *testing.T) {
	r := machineOf("mill", 10, 40, 2, 200)
	r.Sure = &answer.Sure{Stretches: []answer.StretchRange{{Path: "across the table", Load: "push",
		StretchMM: answer.Range{Low: 150, High: 200}}},
		Columns: []answer.Column{{Quantity: answer.StretchKey("across the table", "push"), Values: []float64{200, 150, 180, 200}}}}
	_, sure := Headline(answer.Answer{Options: []answer.Result{r}})
	require.Equal(t, "Nine of ten such machines keep it over 150 to 200 mm. In 50 of 100 all of it is kept.", sure)
}
