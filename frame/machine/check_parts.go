package machine

import (
	"fmt"
	"math"
	"reflect"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
)

func (c *checker) checkParts() {
	if len(c.m.Parts) == 0 {
		c.fault(FilePos{}, "add a plate, a gusset or a bar", "there are no parts")
	}
	names := c.names("part", len(c.m.Parts))
	for i := range c.m.Parts {
		p := &c.m.Parts[i]
		names.add(p.Pos, i, p.Name)
		what := partName(i, p.Name)
		c.err(p.Pos, what, p.Material.Check())
		if !c.oneOf(p.Pos, what, "plate, gusset and bar", p.Plate != nil, p.Gusset != nil, p.Bar != nil,
			p.Other != nil) {
			continue
		}
		switch {
		case p.Plate != nil:
			sound := true
			for k := X; k <= Z; k++ {
				lo, hi := Component(p.Plate.From, k), Component(p.Plate.To, k)
				switch {
				case !(hi-lo >= LeastSize):
					sound = false
					c.fault(p.Pos, "From is below To in every axis",
						"%s has no thickness along %s: from %g to %g mm", what, k, lo, hi)
				case hi-lo < LeastThickness:
					sound = false
					c.fault(p.Pos, fmt.Sprintf("make it %g mm at least: faces nearer than %g mm are one", LeastThickness,
						Touching), "%s is only %.4g mm thick along %s", what, hi-lo, k)
				}
			}
			if sound && p.Plate.Outline != nil {
				c.err(p.Pos, what, p.Plate.checkOutline())
			}
		case p.Gusset != nil:
			c.checkGusset(p, what)
		case p.Bar != nil:
			c.checkBar(p, what)
		}
	}
}

// partName is how a fault names a part.
func partName(i int, name string) thing { return numbered("part", i, name) }

// checkGusset: its edges take the three axes, one each.
func (c *checker) checkGusset(p *Part, what thing) {
	var taken []Axis
	for i, edge := range []r3.Vec{p.Gusset.Legs[0], p.Gusset.Legs[1], p.Gusset.Thickness} {
		name := [...]string{"its first leg", "its second leg", "its thickness"}[i]
		along, count := RunsAlong(edge)
		switch {
		case count == 0:
			c.fault(p.Pos, "", "%s: %s has no length", what, name)
		case count > 1:
			c.fault(p.Pos, "two of its components must be zero", "%s: %s must run along one axis", what, name)
		case slices.Contains(taken, along):
			c.fault(p.Pos, "the legs and the thickness take one axis each",
				"%s: %s runs along %s like an edge before it", what, name, along)
		default:
			taken = append(taken, along)
		}
	}
}

func (c *checker) checkBar(p *Part, what thing) {
	b := p.Bar
	line := r3.Sub(b.To, b.From)
	if !(r3.Norm(line) >= LeastSize) {
		c.fault(p.Pos, "", "%s has no length: it ends where it begins", what)
		return
	}
	if shape := reflect.ValueOf(b.Shape); b.Shape == nil || shape.Kind() == reflect.Pointer && shape.IsNil() {
		c.fault(p.Pos, "Shape: beam.Round{Diameter: 20}, or another of its kind", "%s has no section", what)
	}
	if b.Section.A != 0 {
		c.err(p.Pos, what, beam.Member{Length: r3.Norm(line), Section: b.Section, Material: p.Material}.Check())
	}
	if b.Up == (r3.Vec{}) {
		return
	}
	c.unit(p.Pos, what, "Up", b.Up)
	if math.Abs(r3.Dot(b.Up, r3.Unit(line))) > unitSlack {
		c.fault(p.Pos, "leave it zero for the direction nearest to z", "%s: Up must be square to the bar", what)
	}
}
