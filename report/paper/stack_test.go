package paper

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// stacked are blocks of a height, each with its number; one that is higher than a sheet breaks in two.
func stacked(count int, height vg.Length) Stack {
	return Stack{Sheet{Title: "stack"}, func(room vg.Length) (blocks []Block) {
		for i := range count {
			pieces := 1
			if height > room {
				pieces = 2
			}
			for k := range pieces {
				blocks = append(blocks, Block{height / vg.Length(pieces), func(c draw.Canvas) {
					WriteLines(c, Lettering(LabelSize, Ink), []string{fmt.Sprintf("block %d.%d", i, k)}, vg.Point{X: c.Min.X, Y: c.Max.Y})
				}})
			}
		}
		return blocks
	}}
}

// A stack is one picture on a screen. In a PDF it is on as many pages of A4 as leave it its size, each under the title;
// what is a little too high for one page is on one all the same.
func TestStackOnPages(t *testing.T) {
	for _, tt := range []struct {
		count, pages int
		height       vg.Length
	}{{1, 1, 100}, {5, 1, 200}, {6, 1, 200}, {9, 2, 200}, {9, 5, 500}, {1, 2, 1700}} {
		p := stacked(tt.count, tt.height).Picture()
		require.Equal(t, stacked(tt.count, tt.height).HeadHeight(Width)+Sheet{}.FootHeight()+vg.Length(tt.count)*tt.height, p.Height)
		var b bytes.Buffer
		require.NoError(t, p.Encode(&b, PDF))
		require.Equal(t, tt.pages, len(regexp.MustCompile(`/Type /Page\b[^s]`).FindAllString(b.String(), -1)), "%d of %g", tt.count,
			tt.height)
		if tt.pages == 1 {
			continue
		}
		var text strings.Builder
		for i, page := range p.pages {
			_, room := page.page()
			require.GreaterOrEqual(t, float64(min(room.X/page.Width, room.Y/page.Height)), float64(roomShort/Width)-1e-9,
				"as wide as the page")
			var svg bytes.Buffer
			require.NoError(t, page.Encode(&svg, SVG))
			require.Contains(t, svg.String(), fmt.Sprintf(">page %d of %d<", i+1, tt.pages))
			require.Contains(t, svg.String(), ">stack<")
			text.Write(svg.Bytes())
		}
		for i := range tt.count {
			require.Equal(t, 1, strings.Count(text.String(), fmt.Sprintf(">block %d.0<", i)))
		}
	}
}
