package paper

import (
	"fmt"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Block is a piece of a picture that stays together on a page.
type Block struct {
	Height vg.Length
	Paint  func(c draw.Canvas) // on a canvas of that height, within the margins
}

// Stack is a picture of blocks below one another under a sheet's head. On a screen it is as high as they are; a PDF of it
// has as many pages as are needed for its letters to be read, each under the same head.
type Stack struct {
	Sheet
	// Blocks are those of a sheet with that room for them: what is higher may be broken into several.
	Blocks func(room vg.Length) []Block
}

// endless is the room on a sheet that is as high as what is on it.
const endless = vg.Length(1e9)

// mostShrunk is by how much smaller than on several pages a picture may be drawn to go on a single one.
const mostShrunk = 0.85

// Picture lays the stack out.
func (s Stack) Picture() *Picture {
	p := s.sheet(s.Blocks(endless), 0)
	high := roomLong / (roomShort / Width) // a page, as high as what is drawn on it to its whole width
	if p.Height <= high/mostShrunk {
		return p
	}
	room := high - s.HeadHeight(Width) - s.FootHeight()
	var pages [][]Block
	used := endless
	for _, b := range s.Blocks(room) {
		if used+b.Height > room {
			pages, used = append(pages, nil), 0
		}
		pages[len(pages)-1] = append(pages[len(pages)-1], b)
		used += b.Height
	}
	for i, blocks := range pages {
		on := s
		if len(pages) > 1 {
			on.page = fmt.Sprintf("page %d of %d", i+1, len(pages))
		}
		p.pages = append(p.pages, on.sheet(blocks, high))
	}
	return p
}

// sheet is a picture with some of the blocks, at least so high.
func (s Stack) sheet(blocks []Block, least vg.Length) *Picture {
	height := s.HeadHeight(Width) + s.FootHeight()
	for _, b := range blocks {
		height += b.Height
	}
	return &Picture{Width: Width, Height: max(height, least), Paint: func(c draw.Canvas) {
		room := s.Draw(c)
		top := room.Max.Y
		for _, b := range blocks {
			b.Paint(draw.Canvas{Canvas: room.Canvas, Rectangle: vg.Rectangle{
				Min: vg.Point{X: room.Min.X, Y: top - b.Height}, Max: vg.Point{X: room.Max.X, Y: top}}})
			top -= b.Height
		}
	}}
}
