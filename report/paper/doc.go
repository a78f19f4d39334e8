// Package paper is what pictures are drawn on and with: sheets with title, key and caution, colours, lettering, shapes
// and ticks, and the files that pictures become.
//
// A Sheet is what all pictures have in common; the room between its head and its foot belongs to who draws. A Picture
// is a size and a function that paints it; Save writes it as SVG, PNG or PDF by the name's extension. WriteFileWhole
// writes any file whole or not at all.
//
// Conventions: measures on paper are in points of 1/72 inch (vg.Length); x is right, y up. A picture is Width wide and
// as high as it needs. Series are told apart by colour and, for grey print, by dashes, markers or hatches, in the order
// of SeriesColour. The same picture gives the same bytes on every run.
//
// A picture is measured before it is painted, for its height must be known:
//
//	s := paper.Sheet{Title: "Bed", Subtitle: "lengths in mm"}
//	height := s.HeadHeight(paper.Width) + room + s.FootHeight()
//	picture := &paper.Picture{Width: paper.Width, Height: height, Paint: func(c draw.Canvas) {
//		inside := s.Draw(c)
//		paper.FillBox(inside, inside.Rectangle, paper.Wash, draw.LineStyle{})
//	}}
//	return picture.Save("bed.svg")
//
// A PDF can only show the letters of Windows code page 1252; any other letter becomes a question mark there. SVG and
// PNG have no such limit, save for letters the Liberation Sans font lacks.
//
// It knows nothing of machines and answers, and draws neither curves nor views: package report and package drawing do.
package paper
