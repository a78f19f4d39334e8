package report

import (
	"bytes"
	"fmt"
	"html"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/report/paper"
	"tiploop/report/paper/papertest"
	"tiploop/report/table"
)

// optionWithCut is an option of which the movement under a load and the depth of a cut were drawn.
func optionWithCut(name string, um float64) answer.Result {
	return answer.Result{Name: name, Tip: &answer.Tip{}, MassKg: 3,
		Loads: []answer.LoadResult{{Name: "side cut", TipUm: &[3]float64{um, 0, 0}}},
		Cuts:  []answer.CutResult{{Name: "slot", Typical: answer.CutLevel{DeepestMM: new(1.25)}}},
		Sure: &answer.Sure{
			Movements: []answer.MovementRange{{Load: "side cut", SizeUm: answer.Range{Low: 11, Median: 14, High: 22}}},
			Depths:    []answer.DepthRange{{Cut: "slot", DepthMM: answer.Range{Low: 0.8, Median: 1.2, High: 1.9}}},
		}}
}

// What has a range has its two digits in the table of options, as it has where the range stands; a place and a mass keep
// their own.
func TestOptionsAreComparedInTheDigitsOfTheirRanges(t *testing.T) {
	one, two := optionWithCut("one", 14.2), optionWithCut("two", 36.04)
	along := answer.Travel{Path: "bed", Load: "side cut", ToleranceUm: 20, AtMM: []float64{0, 150}, WithinMM: &[2]float64{0, 98.7},
		TipUm: make([][3]float64, 2)}
	one.Travel = []answer.Travel{along}
	one.Sure.Stretches = []answer.StretchRange{{Path: "bed", Load: "side cut", StretchMM: answer.Range{Low: 80, High: 120}}}
	cells := func(options ...answer.Result) (cells []string) {
		var page table.Blocks
		require.NoError(t, WriteCompareTables(&page, answer.Answer{Options: options}, "options"))
		for _, row := range page.List[0].Cells {
			cells = append(cells, strings.Join(row, " | "))
		}
		return cells
	}
	require.Subset(t, cells(one, two), []string{"tip under “side cut”, µm | 14 | 36", "mass, kg | 3.00 | 3.00",
		"deepest “slot” within its tolerance, mm | 1.2 | 1.2", "bed within 20 µm under “side cut”, mm | 98.7 | –"})
	one.Sure, two.Sure = nil, nil
	require.Subset(t, cells(one, two), []string{"tip under “side cut”, µm | 14.2 | 36.0",
		"deepest “slot” within its tolerance, mm | 1.25 | 1.25"})
}

// Side by side stand the movement under each load and how deep each cut may be, with their ranges.
func TestComparePictureShowsLoadsCutsAndRanges(t *testing.T) {
	p, err := ComparePicture(answer.Answer{Machine: "m", Options: []answer.Result{optionWithCut("one", 14), optionWithCut("two", 15)}})
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, p.Encode(&b, paper.SVG))
	for _, words := range []string{"Movement of the tool tip under each load", "“side cut”", "14 (11 to 22)", "15 (11 to 22)",
		"Depth of cut within its tolerance", "“slot”", "1.2 (0.80 to 1.9)", "nine of ten such machines lie within"} {
		require.Contains(t, b.String(), words)
	}
}

// Of twelve loads the six worst have bars, and the title says so; nine options have a row each, no two alike in the key.
func TestComparePictureOfMany(t *testing.T) {
	var options []answer.Result
	for n := range 9 {
		r := answer.Result{Name: fmt.Sprintf("option %d", n), Tip: &answer.Tip{}}
		for k := range 12 {
			r.Loads = append(r.Loads, answer.LoadResult{Name: fmt.Sprintf("load %d", k), TipUm: &[3]float64{float64(10 + k), 0, 0}})
			r.Cuts = append(r.Cuts, answer.CutResult{Name: fmt.Sprintf("cut %d", k),
				Typical: answer.CutLevel{DeepestMM: new(1 + float64(k))}})
		}
		options = append(options, r)
	}
	p, err := ComparePicture(answer.Answer{Machine: "m", Options: options})
	require.NoError(t, err)
	svg := html.UnescapeString(string(papertest.Encoded(t, p, paper.SVG)))
	for _, words := range []string{"under the 6 worst of 12 loads: shorter", ">“load 6”<", ">“load 11”<", ">option 8<",
		"tolerance, the 6 tightest of 12 cuts: longer", ">“cut 5”<"} {
		require.Contains(t, svg, words)
	}
	for _, words := range []string{">“load 5”<", ">“cut 6”<"} {
		require.NotContains(t, svg, words)
	}
	papertest.NothingClipped(t, "nine", p)
}
