package structure

import (
	"fmt"
	"math"

	"tiploop/frame/guide"
	"tiploop/frame/machine"
)

// makeSlide spreads a lubricated contact over the face that two parts share.
func (m *Model) makeSlide(a *machine.FeedAxis, g *madeGuide) *machine.Fault {
	w := g.guide
	fail := func(hint, format string, args ...any) *machine.Fault {
		f := m.fault(w.Place, hint, "axis "+a.Name+", "+w.Name+": "+format, args...)
		return &f
	}
	t, err := findTouch(g.on, g.part)
	if err != nil {
		return fail("move one of them, or take the slide out", "%v", err)
	}
	if t.kind != onFace {
		return fail("let two flat faces meet", "%s and %s do not meet on a face", g.on.part.Name, g.part.part.Name)
	}
	if t.normal == a.Along {
		return fail(fmt.Sprintf("a slide's face runs along %s", a.Along), "%s and %s meet on a face that stops the travel", g.on.part.Name, g.part.part.Name)
	}
	g.slide = t
	s := *w.Slide
	s.Length, s.Width = t.size(a.Along), t.size(3-a.Along-t.normal)
	if t.normal != machine.Z {
		s.Facing = guide.UprightFace
	}
	per, err := s.PerArea()
	if err != nil {
		return fail("", "%v", err)
	}
	film, source := give{normal: 1 / per.Typical, p: math.Inf(1), q: math.Inf(1)}, guideSource(a, w)
	for _, b := range []*body{g.on, g.part} {
		if !b.meshed {
			film.normal += b.seat(t, thinner(g.on, g.part, t.normal)).normal
		}
	}
	if g.on.meshed || g.part.meshed {
		m.pressFields(g.on, g.part, t, thinner(g.on, g.part, t.normal), 1/film.normal, source)
		return nil
	}
	m.spread(g.on, g.part, t, film, source)
	return nil
}
