package structure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/machine"
	"tiploop/frame/solid"
)

// Joints and grounds of meshed parts, at detail "solid". What another part does to a meshed one it does over a zone: the
// mesh holds how the force spreads from there, so no seat and no spreading term is added.

// bondMeshed joins two parts of which one at least is meshed.
func (m *Model) bondMeshed(j *madeJoint, source string) {
	bar, other := j.a, j.b
	if other.part.Bar != nil {
		bar, other = other, bar
	}
	switch {
	case bar.part.Bar == nil:
		m.bonds = append(m.bonds, j) // one body: the faces are tied all over
	case j.touch.kind == atPoint:
		at := j.touch.from()
		m.tieAll(j.a, j.b, other.roundSpot(at, other.normalAt(at), bar.footprint(other)), source)
	case j.touch.kind == along:
		m.embedMeshed(j, bar, other, source)
	default:
		m.layMeshed(j, bar, source)
	}
}

// footprint is how wide a bar presses on a meshed part.
func (b *body) footprint(on *body) float64 {
	if w := 2 * b.halfWidth(); w > 0 {
		return w
	}
	return readOver * on.fills.size(on.fills.shortest())
}

// embedMeshed ties a bar to the metal it runs through: at the middle of every stretch about as long as the bar is wide,
// the bar's node goes with the mean movement and rotation of the metal in its section. The metal of the hole is not taken
// out; the bar fills it.
func (m *Model) embedMeshed(j *madeJoint, bar, other *body, source string) {
	from, d := j.touch.from(), r3.Sub(j.touch.to(), j.touch.from())
	width := bar.footprint(other)
	n := cells(r3.Norm(d), width)
	for i := range n {
		at := r3.Add(from, r3.Scale((float64(i)+0.5)/float64(n), d))
		m.tieAll(j.a, j.b, other.roundSpot(at, j.touch.normal, width), source)
	}
}

// layMeshed joins a bar that lies or stands on a meshed part with one of its faces. The bar's own metal between face and
// centre line is its seat.
func (m *Model) layMeshed(j *madeJoint, bar *body, source string) {
	n := 1
	if bar.axis != j.touch.normal && bar.axis != noAxis {
		n = cells(j.touch.size(bar.axis), 2*bar.halfWidth())
	}
	for i := range n {
		t := j.touch
		if n > 1 {
			k := bar.axis
			t.lo[k] = j.touch.lo[k] + j.touch.size(k)*float64(i)/float64(n)
			t.hi[k] = j.touch.lo[k] + j.touch.size(k)*float64(i+1)/float64(n)
		}
		g, where := bar.seat(t, math.Inf(1)), rectSpot(t.at(0.5, 0.5), t)
		p, q := t.normal.Others()
		floor := seatFloor * math.Min(t.size(p), t.size(q)) / bar.part.Material.E
		for _, s := range []struct {
			axis machine.Axis
			give float64
		}{{t.normal, g.normal}, {p, g.p}, {q, g.q}} {
			m.link(link{a: j.a, b: j.b, spot: where, direction: s.axis.Direction(), stiffness: t.area() / math.Max(s.give, floor), source: source})
			m.tie(tie{a: j.a, b: j.b, spot: where, direction: s.axis.Direction(), turning: true, name: source})
		}
	}
}

// heldSpot is a region of a face that moves as one rigid piece.
func heldSpot(t touch) *spot {
	at := t.at(0.5, 0.5)
	return &spot{at: at, held: &solid.Region{Normal: int(t.normal), Lo: t.lo, Hi: t.hi, At: at}}
}

// A bed under a meshed part, or a sliding face, is felt over fields about padStep times as wide as the part is thick, at most mostFields along
// a side; over each the pressure may vary linearly.
const (
	padStep    = 2.0
	mostFields = 6
)

// pressFields joins a meshed part to the ground (b nil), or to another part, by a pressure per movement square to a face,
// N/mm³; thickness is the one that sets how wide the fields are.
func (m *Model) pressFields(a, b *body, t touch, thickness, modulus float64, source string) {
	p, q := t.normal.Others()
	step := padStep * thickness
	np, nq := min(mostFields, cells(t.size(p), step)), min(mostFields, cells(t.size(q), step))
	for i := range np {
		for k := range nq {
			field := t
			lo, hi := t.at(float64(i)/float64(np), float64(k)/float64(nq)), t.at(float64(i+1)/float64(np), float64(k+1)/float64(nq))
			field.lo, field.hi = array(lo), array(hi)
			where, stiffness := rectSpot(field.at(0.5, 0.5), field), modulus*field.area()
			m.link(link{a: a, b: b, spot: where, direction: t.normal.Direction(), stiffness: stiffness, source: source})
			for _, about := range [][2]machine.Axis{{p, q}, {q, p}} {
				across := field.size(about[1])
				m.link(link{a: a, b: b, spot: where, direction: about[0].Direction(), turning: true, stiffness: stiffness * across * across / 12, source: source})
			}
		}
	}
}
