package workshop

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"

	"tiploop/frame/answer"
	"tiploop/frame/joint"
	"tiploop/report/number"
	"tiploop/report/paper"
)

// The room round a face at full size, and its letters, mm.
const (
	fullMargin  = 22.0
	fullHead    = 12.0 // above, for two lines of words
	fullWarning = 6.0  // and for a warning
	fullFoot    = 14.0 // below, for the check line
	fullLetters = 3.5
	fullWidest  = 120.0 // least width for the words
)

// fullSize draws a face in mm at its own size: outline, holes with their middles and numbers, the corner that they are
// measured from, and a line of 50 mm to check the print with.
func (f *face) fullSize(title string, inv answer.Inventory) []byte {
	width := math.Max(f.size[0], fullWidest) + 2*fullMargin
	head := fullHead
	if slices.ContainsFunc(f.marks, func(m mark) bool { return held(m.HoleLine) }) {
		head += fullWarning
	}
	height := f.size[1] + 2*fullMargin + head + fullFoot
	var b bytes.Buffer
	say := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	words := func(x, y, size float64, anchor, words string) {
		say(`<text x="%s" y="%s" font-size="%s" text-anchor="%s">%s</text>`, mm(x), mm(y), mm(size), anchor, escaped(words))
	}
	say(`<?xml version="1.0" encoding="UTF-8"?>`)
	say(`<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %s %s"`, mm(width), mm(height),
		mm(width), mm(height))
	say(`  font-family="Liberation Sans,Arial,Helvetica,sans-serif" fill="#202020" stroke-linecap="butt">`)
	say(`<rect width="%s" height="%s" fill="#ffffff"/>`, mm(width), mm(height))
	words(fullMargin, 7, fullLetters*1.3, "start", title+": "+strings.ToLower(f.caption())+", at 1:1")
	under := short(inv.Machine, longestName)
	if inv.Option != "" {
		under += ", option: " + short(inv.Option, longestName)
	}
	if len(f.marks) > 0 {
		under += ". The dot is where x and y start."
	}
	words(fullMargin, 12.5, fullLetters, "start", under)

	if head > fullHead {
		say(`<text id="not-yet" x="%s" y="18.5" font-size="%s" font-weight="bold" fill="#D55E00">%s</text>`, mm(fullMargin),
			mm(fullLetters*1.2), "Do not drill yet what is marked "+notYetSign+" (why: on the sheet)")
	}

	left, bottom := fullMargin, head+fullMargin+f.size[1]
	at := func(x, y float64) (float64, float64) { // from the face's datum
		right, up := f.at(x, y)
		return left + right, bottom - up
	}
	var path []string
	for _, loop := range f.outlines() {
		for i, c := range loop {
			path = append(path, fmt.Sprintf("%s%s %s", map[bool]string{true: "M", false: "L"}[i == 0], mm(left+c[0]), mm(bottom-c[1])))
		}
		path[len(path)-1] += " Z"
	}
	say(`<path id="outline" d="%s" fill="none" stroke="#202020" stroke-width="0.35"/>`, strings.Join(path, " "))
	f.fullSides(words, left, bottom)
	say(`<g fill="none" stroke="#202020">`)
	for _, m := range f.marks {
		x, y := at(m.XMM, m.YMM)
		say(`<circle id="hole-%d" cx="%s" cy="%s" r="%s" stroke-width="0.25"/>`, m.Number, mm(x), mm(y), mm(m.DrillMM/2))
		reach := m.DrillMM/2 + 2
		if screw, ok := joint.LookupScrew(m.Screw); ok && m.Kind == answer.TappedHole {
			say(`<circle cx="%s" cy="%s" r="%s" stroke-width="0.13" stroke-dasharray="1 0.6"/>`, mm(x), mm(y), mm(screw.D/2))
		}
		if m.sunkHere {
			say(`<circle cx="%s" cy="%s" r="%s" stroke-width="0.18"/>`, mm(x), mm(y), mm(m.SinkMM/2))
			reach = m.SinkMM/2 + 2
		}
		say(`<path d="M%s %s H%s M%s %s V%s" stroke-width="0.13"/>`, mm(x-reach), mm(y), mm(x+reach), mm(x), mm(y-reach),
			mm(y+reach))
	}
	say(`</g>`)
	for _, l := range f.fullLabels() {
		across := func(v vg.Length) string { return mm(left + float64(v)/perMM) }
		down := func(v vg.Length) float64 { return bottom - float64(v)/perMM }
		if l.from != l.to {
			say(`<path d="M%s %s L%s %s" fill="none" stroke="#202020" stroke-width="0.18"/>`, across(l.from.X), mm(down(l.from.Y)),
				across(l.to.X), mm(down(l.to.Y)))
		}
		say(`<text x="%s" y="%s" font-size="%s" text-anchor="middle">%s</text>`, across(paper.MiddleOf(l.box).X),
			mm(down(l.box.Min.Y)), mm(fullLetters), l.words)
	}
	if len(f.marks) > 0 {
		x, y := at(0, 0)
		say(`<circle id="datum" cx="%s" cy="%s" r="1.2" fill="#D55E00"/>`, mm(x), mm(y))
	}
	y := height - 6
	say(`<path id="check" d="M%s %s H%s M%s %s V%s M%s %s V%s" fill="none" stroke="#202020" stroke-width="0.25"/>`, mm(left),
		mm(y), mm(left+checkMM), mm(left), mm(y-1.5), mm(y+1.5), mm(left+checkMM), mm(y-1.5), mm(y+1.5))
	words(left+checkMM+3, y+1.2, fullLetters, "start", "50 mm: measure it before you trust the print")
	say(`</svg>`)
	return b.Bytes()
}

// perMM is how many points of a sheet stand for a mm at full size where numbers are placed: so many that their letters
// have the sheet's size.
const perMM = float64(paper.SmallSize) / fullLetters

// fullLabels are the numbers of the holes, in points from the lower left corner of the face.
func (f *face) fullLabels() (labels []label) {
	on := func(right, up float64) vg.Point {
		return vg.Point{X: vg.Length(right * perMM), Y: vg.Length(up * perMM)}
	}
	clear := clutter{room: grown(vg.Rectangle{Max: on(f.size[0], f.size[1])}, fullMargin*vg.Length(perMM))}
	for _, corners := range f.outlines() {
		for i, c := range corners {
			next := corners[(i+1)%len(corners)]
			clear.edges = append(clear.edges, [2]vg.Point{on(c[0], c[1]), on(next[0], next[1])})
		}
	}
	for _, m := range f.marks {
		reach := m.DrillMM / 2
		if screw, ok := joint.LookupScrew(m.Screw); ok && m.Kind == answer.TappedHole {
			reach = screw.D / 2
		}
		if m.sunkHere {
			reach = m.SinkMM / 2
		}
		clear.rings = append(clear.rings, ring{on(f.at(m.XMM, m.YMM)), vg.Length(reach * perMM)})
	}
	for i, m := range f.marks {
		labels = append(labels, clear.place(i, m.numbered()))
	}
	return labels
}

// fullSides names the sides of a face at full size.
func (f *face) fullSides(words func(x, y, size float64, anchor, words string), left, bottom float64) {
	x, y := left+f.size[0]/2, bottom-f.size[1]/2
	for _, s := range []struct {
		words, anchor string
		x, y          float64
	}{
		{f.edges.top, "middle", x, bottom - f.size[1] - 2},
		{f.edges.bottom, "middle", x, bottom + 4.5},
		{f.edges.left, "end", left - 1.5, y + 1},
		{f.edges.right, "start", left + f.size[0] + 1.5, y + 1},
	} {
		if s.words != "" {
			words(s.x, s.y, fullLetters, s.anchor, s.words)
		}
	}
}

// mm writes a length for SVG, to the thousandth.
func mm(v float64) string { return number.Given(math.Round(v*1000)/1000 + 0) } // no "-0"

// escaped is text as XML takes it.
func escaped(s string) string {
	var b bytes.Buffer
	_ = xml.EscapeText(&b, []byte(s)) // a buffer takes everything
	return b.String()
}
