package report

import (
	"bytes"
	"html"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/report/paper"
	"tiploop/report/paper/papertest"
	"tiploop/report/screen"
)

// drawnPlane is a plane over which the tip moves by 1 µm a mm of x, nine machines in ten by 0.8 to 1.25 times as far, with
// a tolerance of 10 µm: typically it is reached at 10 mm, by the softest at 8, by the stiffest at 12.5.
func drawnPlane() answer.Answer {
	m := answer.Map{Name: "x, y", Axes: [2]string{"x", "y"}, AtMM: [2][]float64{{4, 8, 12, 16}, {0, 10}}, ToleranceUm: 10,
		Softest: answer.MapPosition{AtMM: [2]float64{16, 0}, Value: 2},
		Loads:   []answer.MapLoad{{Load: "cut", Worst: answer.MapPosition{AtMM: [2]float64{16, 0}, Value: 16}, WithinPercent: new(50.)}}}
	for _, x := range m.AtMM[0] {
		m.SoftestNPerUm = append(m.SoftestNPerUm, []*float64{new(32 / x), new(32 / x)})
		m.Loads[0].TipUm = append(m.Loads[0].TipUm, []*[3]float64{{x, 0, 0}, {x, 0, 0}})
	}
	return answer.Answer{Machine: "m", Options: []answer.Result{{Name: "as drawn", Maps: []answer.Map{m}, Sure: &answer.Sure{
		Over: []answer.OverRange{{Map: "x, y", Times90: [2]float64{0.8, 1.25}, Worst90: [2]float64{1.6, 2.5}},
			{Map: "x, y", Load: "cut", Times90: [2]float64{0.8, 1.25}, Worst90: [2]float64{12.8, 20}, WithinPercent90: &[2]float64{25, 75}}},
	}}}}
}

func TestPlaneShowsItsRange(t *testing.T) {
	a := drawnPlane()
	s := movementChart(a.Options[0], a.Options[0].Maps[0], "cut").spread
	require.InDelta(t, 8, s.From, 1e-9)
	require.InDelta(t, 12.5, s.To, 1e-9)
	require.True(t, s.Anywhere())
	p, err := TravelPicture(a)
	require.NoError(t, err)
	papertest.NothingClipped(t, "plane", p)
	svg := html.UnescapeString(string(papertest.Encoded(t, p, paper.SVG)))
	for _, words := range []string{">Within 10 µm at 50 % of the positions (25 to 75 %)<", ">most: 16 µm (13 to 20)<",
		">least: 2.0 N/µm (1.6 to 2.5)<", "nine of ten such machines reach the tolerance in here",
		"drawn with the axes where they stand"} {
		require.Contains(t, svg, words)
	}
	var text bytes.Buffer
	require.NoError(t, WriteTravel(&text, a, "maps"))
	for _, words := range []string{"16.0 µm (13 to 20)", "2.00 N/µm (1.6 to 2.5)", "(25 to 75 %)", "In brackets: nine of ten"} {
		require.Contains(t, text.String(), words)
	}
	for _, row := range readRows(t, func(b *bytes.Buffer) error { return WriteTravelCSV(b, a) }) {
		of := map[string]answer.Range{"4": {Low: 3.2, High: 5},
			"8": {Low: 6.4, High: 10}, "12": {Low: 9.6, High: 15}, "16": {Low: 12.8, High: 20}}
		requireEnds(t, row, "tip_size_um", of[row["axis_x_mm"]])
	}
	a.Options[0].Sure = nil
	p, err = TravelPicture(a)
	require.NoError(t, err)
	require.NotContains(t, string(papertest.Encoded(t, p, paper.SVG)), "nine of ten")
}

// TestStiffnessOfAPlaneIsDrawnOnce: two paths over one plane move the tip by what each has, and are equally stiff.
func TestStiffnessOfAPlaneIsDrawnOnce(t *testing.T) {
	a := drawnPlane()
	again := a.Options[0].Maps[0]
	again.Name, again.ToleranceUm = "reach", 20
	a.Options[0].Maps = append(a.Options[0].Maps, again)
	other := again
	other.Name, other.Axes = "x, z", [2]string{"x", "z"}
	a.Options[0].Maps = append(a.Options[0].Maps, other)
	p, err := TravelPicture(a)
	require.NoError(t, err)
	svg := string(papertest.Encoded(t, p, paper.SVG))
	require.Equal(t, 3, strings.Count(svg, ": movement of the tip under"))
	require.Equal(t, 2, strings.Count(svg, ": stiffness of the tip in its softest direction"))
	require.NotContains(t, svg, "path reach: stiffness")
}

// TestHalfAPercentIsRoundedAsOnTheScreen: an eighth of the positions is 13 % wherever it is told.
func TestHalfAPercentIsRoundedAsOnTheScreen(t *testing.T) {
	a := drawnPlane()
	a.Options[0].Maps[0].Loads[0].WithinPercent = new(12.5)
	a.Options[0].Sure.Over[1].WithinPercent90 = &[2]float64{2.5, 62.5}
	require.Equal(t, "Within 10 µm at 13 % of the positions (3 to 63 %)",
		keptWithRange(a.Options[0].Maps[0], 12.5, &a.Options[0].Sure.Over[1]))
	var b bytes.Buffer
	require.NoError(t, screen.Travel(&b, a, nil))
	require.Contains(t, strings.Join(strings.Fields(b.String()), " "), "within 10 µm on 13 % (3 to 63) of it")
}
