package paper

import (
	"image/color"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// The colours come from the palette of M. Okabe and K. Ito, "Color Universal Design" (2008), whose eight colours
// remain distinct to colour-blind readers; its yellow is left out, being lost on white paper. Grey print is served by
// hatches, dashes and markers, which differ from one series to the next as well.
var (
	Blue       = color.NRGBA{0x00, 0x72, 0xB2, 0xFF}
	Orange     = color.NRGBA{0xE6, 0x9F, 0x00, 0xFF}
	Green      = color.NRGBA{0x00, 0x9E, 0x73, 0xFF}
	Vermillion = color.NRGBA{0xD5, 0x5E, 0x00, 0xFF}
	Sky        = color.NRGBA{0x56, 0xB4, 0xE9, 0xFF}
	Purple     = color.NRGBA{0xCC, 0x79, 0xA7, 0xFF}
	Ink        = color.NRGBA{0x20, 0x20, 0x20, 0xFF}
	FaintInk   = color.NRGBA{0x59, 0x59, 0x59, 0xFF} // remarks and dimensions
	Rule       = color.NRGBA{0xD9, 0xD9, 0xD9, 0xFF} // lines of a grid
	Wash       = color.NRGBA{0xED, 0xF3, 0xEE, 0xFF} // the band within a tolerance
	White      = color.NRGBA{0xFF, 0xFF, 0xFF, 0xFF} // the paper itself
)

// seriesColours, seriesDashes and seriesMarkers tell options apart. After the sixth the colours come over again, each
// with other dashes, another marker and another hatch than before; see again.
var (
	seriesColours = []color.NRGBA{Blue, Orange, Green, Vermillion, Sky, Purple}
	seriesDashes  = [][]vg.Length{nil, {7, 3}, {2, 2}, {9, 3, 2, 3}, {4, 2}, {12, 3, 2, 3, 2, 3}}
	seriesMarkers = []draw.GlyphDrawer{
		draw.CircleGlyph{}, draw.BoxGlyph{}, draw.PyramidGlyph{}, Diamond, arrowhead, hourglass,
	}
)

// SeriesCount is how many series have a colour of their own.
const SeriesCount = 6

// again is the place in a list of SeriesCount signs of the sign of series i: moved on by one for each time that the
// colours come over again, so that 36 series differ.
func again(i int) int { return (i + i/SeriesCount) % SeriesCount }

// SeriesColour is the colour of series i, counted from 0.
func SeriesColour(i int) color.NRGBA { return seriesColours[i%SeriesCount] }

// SeriesDashes are the dashes of series i.
func SeriesDashes(i int) []vg.Length { return seriesDashes[again(i)] }

// SeriesMarker is the marker of series i.
func SeriesMarker(i int) draw.GlyphDrawer { return seriesMarkers[again(i)] }

// Movement is the scale of a movement, from none to the largest: one hue, each step darker than the one before, so that
// it keeps its order in grey print and for colour-blind readers. Dark lines remain seen on all of it.
var Movement = []color.NRGBA{
	{0xF7, 0xF3, 0xE6, 0xFF}, {0xCD, 0xE0, 0xCB, 0xFF}, {0x9C, 0xC9, 0xBE, 0xFF}, {0x6B, 0xAB, 0xB4, 0xFF},
	{0x47, 0x89, 0xA6, 0xFF}, {0x30, 0x66, 0x8F, 0xFF}, {0x24, 0x46, 0x6E, 0xFF},
}
