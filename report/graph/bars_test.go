package graph

import (
	"image/color"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/recorder"

	"tiploop/report/paper"
)

// drawnBars are the boxes filled for the first series and the texts of a chart, in the order in which they are drawn.
type drawnBars struct {
	bars  []vg.Rectangle
	texts map[string]vg.Point // the middle of a text along its line, and where it stands
}

// drawn paints a chart and reads back what a reader sees.
func drawn(b Bars) (d drawnBars) {
	p := b.Picture()
	var c recorder.Canvas
	p.Paint(draw.NewCanvas(&c, p.Width, p.Height))
	d.texts = map[string]vg.Point{}
	var ink color.Color
	for _, a := range c.Actions {
		switch a := a.(type) {
		case *recorder.SetColor:
			ink = a.Color
		case *recorder.Fill:
			if ink == paper.SeriesColour(0) {
				d.bars = append(d.bars, vg.Rectangle{Min: a.Path[0].Pos, Max: a.Path[2].Pos})
			}
		case *recorder.FillString:
			sty := paper.Lettering(a.Size, paper.Ink)
			d.texts[a.String] = vg.Point{X: a.Point.X + sty.Width(a.String)/2, Y: a.Point.Y}
		}
	}
	return d
}

// TestBarsAreToScale: a bar ends where its value stands on the scale below it, the scale is even, and rows stand below
// the title and above the scale, one below the other.
func TestBarsAreToScale(t *testing.T) {
	const tolerance = 1e-6 // points: rounding
	for _, tt := range []struct {
		name   string
		values []float64
		least  float64
		ticks  []string
	}{
		{"of one sign", []float64{20, 35, 3.5}, 0, []string{"0", "10", "20", "30"}},
		{"of both signs", []float64{-10, 35}, 0, []string{"−10", "0", "10", "20", "30"}},
		{"a scale given", []float64{20, 35}, 80, []string{"0", "10", "20", "40", "60", "80"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			panel := Panel{Title: "what it is", Axis: "mass in kg", Least: tt.least}
			for i, v := range tt.values {
				panel.Rows = append(panel.Rows, Row{"row " + strconv.Itoa(i), []Bar{{Value: v}}})
			}
			d := drawn(Bars{Sheet: paper.Sheet{Title: "a chart"}, Series: []string{"one"},
				Panels: []Panel{panel}})
			at := func(label string) vg.Length {
				require.Contains(t, d.texts, label)
				return d.texts[label].X
			}
			perUnit := float64(at("20")-at("0")) / 20
			require.Greater(t, perUnit, 2.0, "the scale takes up the paper")
			for _, label := range tt.ticks {
				v, err := strconv.ParseFloat(strings.Replace(label, "−", "-", 1), 64)
				require.NoError(t, err)
				require.InDelta(t, perUnit*v, float64(at(label)-at("0")), tolerance, label)
			}
			require.Len(t, d.bars, len(tt.values))
			above := d.texts["what it is"].Y
			for i, box := range d.bars {
				ends := []float64{float64(box.Min.X-at("0")) / perUnit, float64(box.Max.X-at("0")) / perUnit}
				require.InDeltaSlice(t, []float64{min(0, tt.values[i]), max(0, tt.values[i])}, ends, tolerance)
				require.Less(t, box.Max.Y, above, "below what comes before")
				require.Less(t, d.texts["0"].Y, box.Min.Y, "above the scale")
				require.InDelta(t, float64(d.texts["row "+strconv.Itoa(i)].Y), float64(box.Min.Y+box.Max.Y)/2,
					float64(paper.LabelSize), "beside its label")
				above = box.Min.Y
			}
			require.Less(t, d.texts["mass in kg"].Y, d.texts["0"].Y)
			require.InDelta(t, float64(at("0")+at("20")), float64(at("10"))*2, tolerance)
		})
	}
}

// A scale of nothing still has a length, and one that is given reaches as far as it says.
func TestSpanOfBars(t *testing.T) {
	of := func(least float64, values ...float64) [2]float64 {
		p := Panel{Least: least}
		for _, v := range values {
			p.Rows = append(p.Rows, Row{"", []Bar{{Value: v}}})
		}
		lo, hi := p.span()
		return [2]float64{lo, hi}
	}
	require.Equal(t, [2]float64{0, 1}, of(0))
	require.Equal(t, [2]float64{0, 1}, of(0, 0, 1e-9))
	require.Equal(t, [2]float64{-3, 5}, of(0, 5, -3))
	require.Equal(t, [2]float64{0, 9}, of(9, 5))
	require.Equal(t, [2]float64{0, 12}, of(9, 12))
}
