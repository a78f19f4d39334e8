package report

import (
	"image/color"
	"math"
	"strconv"
	"strings"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// The colours come from the palette of M. Okabe and K. Ito, "Color Universal Design" (2008), whose eight colours
// remain distinct to colour-blind readers; its yellow is left out, being lost on white paper. Grey print is served by
// hatches, dashes and markers, which differ from one series to the next as well.
var (
	blue       = color.NRGBA{0x00, 0x72, 0xB2, 0xFF}
	orange     = color.NRGBA{0xE6, 0x9F, 0x00, 0xFF}
	green      = color.NRGBA{0x00, 0x9E, 0x73, 0xFF}
	vermillion = color.NRGBA{0xD5, 0x5E, 0x00, 0xFF}
	sky        = color.NRGBA{0x56, 0xB4, 0xE9, 0xFF}
	purple     = color.NRGBA{0xCC, 0x79, 0xA7, 0xFF}
	ink        = color.NRGBA{0x20, 0x20, 0x20, 0xFF}
	faintInk   = color.NRGBA{0x59, 0x59, 0x59, 0xFF}
	rule       = color.NRGBA{0xD9, 0xD9, 0xD9, 0xFF}
	wash       = color.NRGBA{0xED, 0xF3, 0xEE, 0xFF} // the band within a tolerance
	paper      = color.NRGBA{0xFF, 0xFF, 0xFF, 0xFF}
)

// seriesColours, seriesDashes and seriesMarkers tell options apart, in this order, over again after the sixth.
var (
	seriesColours = []color.NRGBA{blue, orange, green, vermillion, sky, purple}
	seriesDashes  = [][]vg.Length{nil, {7, 3}, {2, 2}, {9, 3, 2, 3}, {4, 2}, {12, 3, 2, 3, 2, 3}}
	seriesMarkers = []draw.GlyphDrawer{
		draw.CircleGlyph{}, draw.BoxGlyph{}, draw.PyramidGlyph{}, diamond, arrowhead, hourglass,
	}
)

// outlineGlyph is a filled marker, its corners given in radii from its middle.
type outlineGlyph [][2]float64

// The markers that the plotting library lacks as filled ones.
var (
	diamond   = outlineGlyph{{0, 1.3}, {1.3, 0}, {0, -1.3}, {-1.3, 0}}
	arrowhead = outlineGlyph{{-1.2, 1}, {1.2, 1}, {0, -1.2}}
	hourglass = outlineGlyph{{-1.1, 1.1}, {1.1, 1.1}, {-1.1, -1.1}, {1.1, -1.1}}
)

// DrawGlyph draws the marker in the style's colour.
func (g outlineGlyph) DrawGlyph(c *draw.Canvas, sty draw.GlyphStyle, at vg.Point) {
	var corners []vg.Point
	for _, p := range g {
		corners = append(corners, vg.Point{X: at.X + vg.Length(p[0])*sty.Radius, Y: at.Y + vg.Length(p[1])*sty.Radius})
	}
	c.FillPolygon(sty.Color, corners)
}

// The sizes of letters, in points: at the picture's own width the least of them is 12 pixels high.
const (
	titleSize = vg.Length(15)
	panelSize = vg.Length(11.5)
	labelSize = vg.Length(10)
	smallSize = vg.Length(9)
)

// The measures of every picture, in points.
const (
	margin   = vg.Length(16)
	gap      = vg.Length(8)
	leading  = 1.25 // line height over letter size
	hairline = vg.Length(0.5)
	thinLine = vg.Length(0.8)
	fullLine = vg.Length(1.6)
)

// lettering gives the style of plain text, standing on its lower left corner.
func lettering(size vg.Length, c color.Color) text.Style {
	return text.Style{
		Color: c, Font: font.Font{Typeface: "Liberation", Variant: "Sans", Size: size},
		XAlign: draw.XLeft, YAlign: draw.YBottom, Handler: text.Plain{Fonts: font.DefaultCache},
	}
}

// boldLettering is lettering in bold.
func boldLettering(size vg.Length, c color.Color) text.Style {
	s := lettering(size, c)
	s.Font.Weight = xfont.WeightBold
	return s
}

// fitted breaks s into lines no wider than width, between words where it can and within a word where it must; a number
// keeps its unit.
func fitted(sty text.Style, s string, width vg.Length) []string {
	var lines []string
	current := ""
	for _, word := range unbroken(s) {
		if current != "" && sty.Width(current+" "+word) <= width {
			current += " " + word
			continue
		}
		if current != "" {
			lines = append(lines, current)
		}
		for sty.Width(word) > width {
			cut := longestFit(sty, word, width)
			lines = append(lines, word[:cut])
			word = word[cut:]
		}
		current = word
	}
	return append(lines, current)
}

// longestFit is where to cut a word that is wider than width: behind its last joint that fits, or its last letter.
func longestFit(sty text.Style, word string, width vg.Length) int {
	atLetter, atJoint := 0, 0
	for i, r := range word {
		end := i + len(string(r))
		if sty.Width(word[:end]) > width && atLetter > 0 {
			break
		}
		atLetter = end
		if strings.ContainsRune("_-/.", r) {
			atJoint = end
		}
	}
	if atJoint > 0 {
		return atJoint
	}
	return atLetter
}

// textHeight is the height of n lines.
func textHeight(sty text.Style, n int) vg.Length { return vg.Length(n) * sty.Font.Size * leading }

// writeLines writes lines downward from the top left corner at, and gives the height they took.
func writeLines(c draw.Canvas, sty text.Style, lines []string, at vg.Point) vg.Length {
	sty.YAlign = draw.YCenter
	step := textHeight(sty, 1)
	for i, l := range lines {
		c.FillText(sty, vg.Point{X: at.X, Y: at.Y - step*(vg.Length(i)+0.5)}, l)
	}
	return textHeight(sty, len(lines))
}

// fillBox fills a rectangle and draws its outline.
func fillBox(c draw.Canvas, r vg.Rectangle, fill color.Color, edge draw.LineStyle) {
	corners := cornersOf(r)
	c.FillPolygon(fill, corners)
	c.StrokeLines(edge, append(corners, r.Min))
}

// cornersOf gives the corners of a rectangle, round it from the lower left one.
func cornersOf(r vg.Rectangle) []vg.Point {
	return []vg.Point{r.Min, {X: r.Max.X, Y: r.Min.Y}, r.Max, {X: r.Min.X, Y: r.Max.Y}}
}

// hatchSpacing is the distance between two lines of a hatch, in points.
const hatchSpacing = vg.Length(4.5)

// hatchDirections are the directions of the lines that tell the bars of options apart, in turns of a full circle.
var hatchDirections = [][]float64{nil, {1.0 / 8}, {3.0 / 8}, {1.0 / 8, 3.0 / 8}, {0}, {0.25}}

// fillSeries fills a rectangle in the manner of series i: plain or with white lines, outlined.
func fillSeries(c draw.Canvas, r vg.Rectangle, i int) {
	k := seriesColours[i%len(seriesColours)]
	corners := cornersOf(r)
	c.FillPolygon(k, corners)
	for _, turn := range hatchDirections[i%len(hatchDirections)] {
		hatch(c, r, turn, draw.LineStyle{Color: paper, Width: vg.Length(1.1)})
	}
	c.StrokeLines(draw.LineStyle{Color: ink, Width: hairline}, append(corners, r.Min))
}

// hatch draws parallel lines within a rectangle, at turn of a full circle from the horizontal.
func hatch(c draw.Canvas, r vg.Rectangle, turn float64, sty draw.LineStyle) {
	sin, cos := math.Sincos(2 * math.Pi * turn)
	centre := vg.Point{X: (r.Min.X + r.Max.X) / 2, Y: (r.Min.Y + r.Max.Y) / 2}
	reach := vg.Length(math.Hypot(float64(r.Max.X-r.Min.X), float64(r.Max.Y-r.Min.Y))) / 2
	inside := draw.Canvas{Canvas: c.Canvas, Rectangle: r}
	n := math.Floor(float64(reach / hatchSpacing))
	for k := -n; k <= n; k++ {
		off := vg.Length(k) * hatchSpacing
		x, y := centre.X-off*vg.Length(sin), centre.Y+off*vg.Length(cos)
		line := []vg.Point{
			{X: x - reach*vg.Length(cos), Y: y - reach*vg.Length(sin)},
			{X: x + reach*vg.Length(cos), Y: y + reach*vg.Length(sin)},
		}
		c.StrokeLines(sty, inside.ClipLinesXY(line)...)
	}
}

// tick is a mark on an axis.
type tick struct {
	at    float64
	label string
}

// niceTicks gives about n round values from lo to hi, in steps of 1, 2 or 5 times a power of ten.
func niceTicks(lo, hi float64, n int) []tick {
	raw := (hi - lo) / float64(n)
	power := math.Floor(math.Log10(raw))
	step := math.Pow(10, power)
	for _, factor := range []float64{1, 2, 5, 10} {
		if factor*math.Pow(10, power) >= raw*(1-noiseInVector) {
			step = factor * math.Pow(10, power)
			break
		}
	}
	decimals := int(max(0, -math.Floor(math.Log10(step)+noiseInVector)))
	var ticks []tick
	for i := math.Ceil(lo/step - noiseInVector); i*step <= hi+step*noiseInVector; i++ {
		label := strconv.FormatFloat(i*step, 'f', decimals, 64)
		if i == 0 {
			label = "0"
		}
		ticks = append(ticks, tick{i * step, withMinus(label)})
	}
	return ticks
}

// withMinus gives a number a minus sign of full width, for letters on a picture.
func withMinus(number string) string { return strings.Replace(number, "-", "−", 1) }
