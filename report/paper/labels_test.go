package paper

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"pgregory.net/rapid"
)

// A label is on the canvas and, where there is any room, covers no curve, no mark and no other label: its box is looked
// through by places on the curves a tenth of a point apart.
func TestLabelsCoverNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := draw.Canvas{Rectangle: vg.Rectangle{Max: vg.Point{X: 400, Y: 250}}}
		l := Labels{Canvas: c}
		x := func(name string) vg.Length { return vg.Length(rapid.Float64Range(0, 400).Draw(t, name)) }
		slope := rapid.Float64Range(-0.3, 0.3).Draw(t, "slope")
		height := vg.Length(rapid.Float64Range(100, 150).Draw(t, "height"))
		line := []vg.Point{{X: 0, Y: height}, {X: 400, Y: height + vg.Length(400*slope)}}
		l.Lines = [][]vg.Point{line}
		size := vg.Point{X: 40, Y: 11}
		var boxes []vg.Rectangle
		for range 3 {
			px := x("mark")
			mark := vg.Point{X: px, Y: height + px*vg.Length(slope)}
			if mark.Y < 40 || mark.Y > 210 {
				continue
			}
			boxes = append(boxes, BoxRound(l.Beside(mark, size), size))
		}
		for i, b := range boxes {
			require.True(t, b.Min.X >= 0 && b.Max.X <= 400 && b.Min.Y >= 0 && b.Max.Y <= 250)
			for _, o := range boxes[:i] {
				require.False(t, Overlap(b, o))
			}
			for s := vg.Length(0); s <= 400; s += 0.1 {
				y := height + s*vg.Length(slope)
				require.False(t, s > b.Min.X && s < b.Max.X && y > b.Min.Y && y < b.Max.Y)
			}
		}
	})
}
