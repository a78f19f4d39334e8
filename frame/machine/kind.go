package machine

import (
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/outline"
)

// Kind is what a part is made as: *Plate, *Gusset, *Bar, or another type, for kinds that frame/structure registers in
// kinds. That list is not exported: a kind is added to the program, not by a program that uses it as a library.
type Kind interface {
	// KindName is the kind's name in a model file and in an inventory.
	KindName() string
	// Shifted returns the same elsewhere, by mm along the world's axes. The receiver stays as it is.
	Shifted(by r3.Vec) Kind
}

// Kind returns which of the part's kinds is set; nil when none is.
func (p *Part) Kind() Kind {
	switch {
	case p.Plate != nil:
		return p.Plate
	case p.Gusset != nil:
		return p.Gusset
	case p.Bar != nil:
		return p.Bar
	}
	return p.Other
}

// Shift moves the part; what it was made of is not changed, so that copies of it stay where they are.
func (p *Part) Shift(by r3.Vec) {
	k := p.Kind()
	if k == nil {
		return
	}
	switch moved := k.Shifted(by).(type) {
	case *Plate:
		p.Plate = moved
	case *Gusset:
		p.Gusset = moved
	case *Bar:
		p.Bar = moved
	default:
		p.Other = moved
	}
}

// KindName returns "plate".
func (p *Plate) KindName() string { return "plate" }

// Shifted returns the plate elsewhere.
func (p *Plate) Shifted(by r3.Vec) Kind {
	moved := &Plate{From: r3.Add(p.From, by), To: r3.Add(p.To, by)}
	if p.Outline != nil {
		u, v := p.Across().Others()
		du, dv := Component(by, u), Component(by, v)
		moved.Outline = p.Outline.Mapped(func(c outline.Point) outline.Point { return outline.Point{c[0] + du, c[1] + dv} })
	}
	return moved
}

// Across is the axis of the plate's thickness, its least extent; of equal ones the first.
func (p *Plate) Across() Axis {
	size, best := r3.Sub(p.To, p.From), X
	for k := Y; k <= Z; k++ {
		if Component(size, k) < Component(size, best) {
			best = k
		}
	}
	return best
}

// Thickness is the plate's least extent, mm.
func (p *Plate) Thickness() float64 { return Component(r3.Sub(p.To, p.From), p.Across()) }

// OnPlane is a place of the plate's plane, along the axes of its outline.
func (p *Plate) OnPlane(at r3.Vec) outline.Point {
	u, v := p.Across().Others()
	return outline.Point{Component(at, u), Component(at, v)}
}

// KindName returns "gusset".
func (g *Gusset) KindName() string { return "gusset" }

// Shifted returns the gusset elsewhere.
func (g *Gusset) Shifted(by r3.Vec) Kind {
	moved := *g
	moved.Corner = r3.Add(g.Corner, by)
	return &moved
}

// KindName returns "bar".
func (b *Bar) KindName() string { return "bar" }

// Shifted returns the bar elsewhere.
func (b *Bar) Shifted(by r3.Vec) Kind {
	moved := *b
	moved.From, moved.To = r3.Add(b.From, by), r3.Add(b.To, by)
	return &moved
}

// DatumHigh tells for each axis whether the corner that the part's holes are measured from is on the side of the larger
// coordinate: only a gusset's right-angled corner may be.
func (p *Part) DatumHigh() (high [3]bool) {
	if g := p.Gusset; g != nil {
		for k := X; k <= Z; k++ {
			for _, leg := range g.Legs {
				high[k] = high[k] || Component(leg, k) < 0
			}
		}
	}
	return high
}
