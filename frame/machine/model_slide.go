package machine

import (
	"fmt"
	"math"

	"tiploop/frame/guide"
)

// makeSlide spreads a lubricated contact over the face that two parts share.
func (m *Model) makeSlide(a *FeedAxis, g *madeGuide) *Fault {
	w := g.guide
	fail := func(hint, format string, args ...any) *Fault {
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
	if t.normal != Z {
		s.Facing = guide.UprightFace
	}
	per, err := s.PerArea()
	if err != nil {
		return fail("", "%v", err)
	}
	film, source := give{normal: 1 / per.Typical, p: math.Inf(1), q: math.Inf(1)}, a.guideSource(w)
	for _, b := range []*body{g.on, g.part} {
		if !b.meshed {
			film.normal += b.seat(t, thinner(g.on, g.part, t.normal)).normal
		}
	}
	if g.on.meshed || g.part.meshed {
		m.slideMeshed(g, film.normal, source)
		return nil
	}
	m.spread(g.on, g.part, t, film, source)
	return nil
}

// slideMeshed is a sliding face under a meshed part, felt over fields as a bed is.
func (m *Model) slideMeshed(g *madeGuide, film float64, source string) {
	t := g.slide
	p, q := t.normal.others()
	step := padStep * thinner(g.on, g.part, t.normal)
	np, nq := min(mostFields, cells(t.size(p), step)), min(mostFields, cells(t.size(q), step))
	for i := range np {
		for k := range nq {
			field := t
			lo, hi := t.at(float64(i)/float64(np), float64(k)/float64(nq)), t.at(float64(i+1)/float64(np), float64(k+1)/float64(nq))
			field.lo, field.hi = array(lo), array(hi)
			where, stiffness := rectSpot(field.at(0.5, 0.5), field), field.area()/film
			m.link(link{a: g.on, b: g.part, spot: where, direction: t.normal.unit(), stiffness: stiffness, source: source})
			for _, about := range [][2]Axis{{p, q}, {q, p}} {
				across := field.size(about[1])
				m.link(link{a: g.on, b: g.part, spot: where, direction: about[0].unit(), turning: true, stiffness: stiffness * across * across / 12, source: source})
			}
		}
	}
}
