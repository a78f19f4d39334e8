package workshop

import (
	"fmt"
	"strconv"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tiploop/frame/answer"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
	"tiploop/report/paper"
	"tiploop/report/phrase"
)

// notYetSign stands behind the number of a hole that is not to be drilled yet.
const notYetSign = "!"

// met names pairs of holes that run into each other, some of them.
func (s *sheet) met() string {
	var pairs []string
	for _, h := range s.holes {
		for _, n := range h.Meets {
			if n > h.Number {
				pairs = append(pairs, fmt.Sprintf("%d and %d", h.Number, n))
			}
		}
	}
	const most = 8
	if n := len(pairs) - most; n > 0 {
		pairs = append(pairs[:most], phrase.Count(n, "more pair"))
	}
	return strings.Join(pairs, ", ")
}

// threadless names tapped holes with less thread than a diameter.
func (s *sheet) threadless() string {
	return numbers(s.holes, hasShortThread)
}

// mates names holes with nothing wrong but that another one of their screw cannot be.
func (s *sheet) mates() string {
	return numbers(s.holes, func(h answer.HoleLine) bool { return h.NotYet != "" && len(h.Meets) == 0 && !hasShortThread(h) })
}

// hasShortThread tells whether a tapped hole has less thread than a diameter.
func hasShortThread(h answer.HoleLine) bool {
	screw, ok := joint.LookupScrew(h.Screw)
	return ok && h.Kind == answer.TappedHole && h.DepthMM > 0 && h.ThreadMM < screw.D-machine.Touching
}

// mostNumbers is how many holes are named in a row.
const mostNumbers = 24

// numbers are those of the holes that are so, "" when none is: "1, 2 and 5".
func numbers(holes []answer.HoleLine, are func(answer.HoleLine) bool) string {
	var list []string
	for _, h := range holes {
		if are(h) {
			list = append(list, strconv.Itoa(h.Number))
		}
	}
	if n := len(list) - mostNumbers; n > 0 {
		list = append(list[:mostNumbers], fmt.Sprintf("%d more", n))
	}
	return phrase.List(list)
}

// Warning is the page to lie on top of the sheets where holes are not to be drilled yet; nil where nothing is known against
// any.
func Warning(inv answer.Inventory, page Page) *paper.Picture {
	byPart := map[string][]answer.HoleLine{}
	for _, h := range inv.HoleList {
		byPart[h.Part] = append(byPart[h.Part], h)
	}
	var lines []string
	for i, p := range inv.Parts {
		if list := numbers(byPart[p.Name], held); list != "" {
			lines = append(lines, title(i+1, p.Name)+": "+list)
		}
	}
	if lines == nil {
		return nil
	}
	lines = append([]string{"Holes that run into each other or have too little metal for a thread, and the other holes of the " +
		"same screws and flanges. Move the screws in the model, then write the sheets again. Part by part, as " +
		"marked " + notYetSign + " on the sheets:", ""}, lines...)
	subtitle := short(inv.Machine, longestName)
	if inv.Option != "" {
		subtitle += ", option: " + short(inv.Option, longestName)
	}
	return &paper.Picture{Width: page.Width, Height: page.Height, Paint: func(c draw.Canvas) {
		room := paper.Sheet{Title: "Do not drill these holes yet", Subtitle: subtitle}.Draw(c)
		sty := paper.Lettering(paper.LabelSize, paper.Ink)
		at := room.Max.Y
		for i, l := range lines {
			words := paper.Fitted(sty, l, room.Max.X-room.Min.X)
			if at-paper.TextHeight(sty, len(words)+1) < room.Min.Y {
				paper.WriteLines(room, sty, []string{fmt.Sprintf("… and %s", phrase.Count(len(lines)-i, "more part"))},
					vg.Point{X: room.Min.X, Y: at})
				return
			}
			at -= paper.WriteLines(room, sty, words, vg.Point{X: room.Min.X, Y: at})
		}
	}}
}

// held tells whether a hole is not to be drilled yet.
func held(h answer.HoleLine) bool { return h.NotYet != "" }
