package solid

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
)

// Body is a part and the places where others feel it.
type Body struct {
	Part  Part
	Zones []Zone   // where forces are spread and movements are means
	Held  []Region // regions of faces that move as one rigid piece each: welded to ground or to something rigid

	// Watched are zones to be read (Reduced.ReadBeside) that join nothing: the mesh is as fine there as at Zones.
	Watched []Zone

	place *placement // of the body in the world whose shape this is, for what is said of it; nil of a body itself
}

// Part is one block or one gusset: exactly one of the two is set.
type Part struct {
	Name   string
	Made   beam.Material
	Block  *Block
	Gusset *Gusset
}

// Block is an axis-parallel box between two opposite corners, From below To in every direction, or what is sawn from it.
type Block struct {
	From, To r3.Vec
	Sawn     *Sawn // nil: all of it
}

// Gusset is a right triangle with legs along two world axes, extruded along the third. Legs and thickness start at the
// corner of the right angle and may point in negative directions.
type Gusset struct {
	Corner    r3.Vec
	Legs      [2]r3.Vec
	Thickness r3.Vec
}

// Zone is a flat area of a part's face, or of a plane inside the part: a convex polygon, or the ring that it cuts out
// of two circles round At.
//
// A zone has six freedoms, in this order: its mean movement along x, y, z (mm) and its mean rotation about x, y, z
// (rad, right-handed), carried rigidly from the middle of the area to At. The forces that do work on them are evenly
// and linearly spread over the area. What hangs over the part's edge does not count: means are over metal.
type Zone struct {
	At           r3.Vec
	Normal       int          // axis square to the zone
	Polygon      [][2]float64 // anticlockwise, along the other two axes in ascending order; its plane is At's
	Inner, Outer float64      // radii round At, mm; Outer 0: no outer circle
	Aligned      bool         // cells end at the polygon's bounding box; else they are only as small as the zone asks
	Lone         bool         // no other zone beside it: it gives as it would on cells much smaller than itself
}

// Region is the part of a face that lies in a rectangle, Lo and Hi equal along Normal. Its nodes follow one rigid
// motion of six freedoms: movement of At along x, y, z (mm) and rotation about x, y, z (rad). A node of two regions
// follows the first.
type Region struct {
	Normal int
	Lo, Hi [3]float64
	At     r3.Vec
}

// ZoneError says that zones cannot be used: there is no metal under one, or the mesh cannot tell two apart.
type ZoneError struct {
	Zones []int // indices into Body.Zones
	What  string
	Alike bool // that the mesh cannot tell them apart, from one another or from others
}

func (e *ZoneError) Error() string { return e.What }

// sameShare tells places in a part apart: as shares of its size, nearer ones are one place.
const sameShare = 1e-9

// Box returns the corners of the part's bounding box.
func (p *Part) Box() (lo, hi [3]float64) {
	if p.Block != nil {
		return components(p.Block.From), components(p.Block.To)
	}
	lo = components(p.Gusset.Corner)
	hi = lo
	for _, v := range []r3.Vec{p.Gusset.Legs[0], p.Gusset.Legs[1], p.Gusset.Thickness} {
		for k, d := range components(v) {
			lo[k] += min(d, 0)
			hi[k] += max(d, 0)
		}
	}
	return lo, hi
}

// sawn is what the part is sawn to, nil of a whole block and of a gusset.
func (p *Part) sawn() *Sawn {
	if p.Block == nil {
		return nil
	}
	return p.Block.Sawn
}

// thickness is the least extent of the part's bounding box.
func (p *Part) thickness() float64 {
	lo, hi := p.Box()
	return min(hi[0]-lo[0], hi[1]-lo[1], hi[2]-lo[2])
}

// longest is the largest extent of the part's bounding box.
func (p *Part) longest() float64 {
	lo, hi := p.Box()
	return max(hi[0]-lo[0], hi[1]-lo[1], hi[2]-lo[2])
}

// axisOf is the one axis that v is parallel to, or -1.
func axisOf(v r3.Vec) int {
	axis := -1
	for k, d := range components(v) {
		if d != 0 {
			if axis >= 0 {
				return -1
			}
			axis = k
		}
	}
	return axis
}

func (p *Part) check() error {
	if (p.Block == nil) == (p.Gusset == nil) {
		return fmt.Errorf("part %q must be either a block or a gusset", p.Name)
	}
	if err := p.Made.Check(); err != nil {
		return fmt.Errorf("part %q: %w", p.Name, err)
	}
	if !(p.Made.Nu < 0.5) {
		return fmt.Errorf("part %q: Poisson's ratio %g leaves no room to squeeze, must be below 0.5", p.Name, p.Made.Nu)
	}
	if g := p.Gusset; g != nil {
		a, b, c := axisOf(g.Legs[0]), axisOf(g.Legs[1]), axisOf(g.Thickness)
		if a < 0 || b < 0 || c < 0 || a == b || b == c || c == a {
			return fmt.Errorf("part %q: the legs and the thickness of a gusset must lie along the three axes, one each", p.Name)
		}
	}
	lo, hi := p.Box()
	for k := range lo {
		if d := hi[k] - lo[k]; !(d > 0) || math.IsInf(d, 0) || math.IsInf(lo[k], 0) {
			return fmt.Errorf("part %q is %g mm along %c, must be more than 0", p.Name, d, "xyz"[k])
		}
	}
	return p.checkSawn()
}

// checkSawn: a shape fills the block's box; that its loops are in order is the caller's to see to.
func (p *Part) checkSawn() error {
	s := p.sawn()
	if s == nil {
		return nil
	}
	if s.Normal < 0 || s.Normal > 2 || len(s.Area) == 0 || !(s.Area.Area() > 0) {
		return fmt.Errorf("part %q is sawn to no area square to an axis", p.Name)
	}
	u, v := across(s.Normal)
	lo, hi := p.Box()
	from, to := s.Area.Bounds()
	near := sameShare * p.longest()
	for i, k := range []int{u, v} {
		if math.Abs(from[i]-lo[k]) > near || math.Abs(to[i]-hi[k]) > near {
			return fmt.Errorf("part %q is sawn to %g to %g mm along %c, and its block is %g to %g", p.Name, from[i], to[i],
				"xyz"[k], lo[k], hi[k])
		}
	}
	return nil
}

// check returns the first thing wrong with the body's data.
func (b *Body) check() error {
	if len(b.Zones)+len(b.Held) == 0 {
		return fmt.Errorf("a body that is felt nowhere")
	}
	if err := b.Part.check(); err != nil {
		return err
	}
	for i, z := range b.Zones {
		if z.Normal < 0 || z.Normal > 2 {
			return &ZoneError{Zones: []int{i}, What: fmt.Sprintf("zone %d must be square to an axis", i)}
		}
		if !polygon(z.Polygon).convex() || !(z.Inner >= 0) || !(z.Outer == 0 || z.Outer > z.Inner) || math.IsInf(z.Outer, 0) {
			const what = "must be a convex polygon, anticlockwise, with radii 0 <= inner < outer"
			return &ZoneError{Zones: []int{i}, What: b.zoneName(i) + " " + what}
		}
	}
	for i, z := range b.Watched {
		if z.Normal < 0 || z.Normal > 2 || !polygon(z.Polygon).convex() {
			return fmt.Errorf("watched zone %d must be a convex polygon square to an axis", i)
		}
	}
	for i, h := range b.Held {
		if h.Normal < 0 || h.Normal > 2 || !flat(h.Normal, h.Lo, h.Hi) {
			return fmt.Errorf("held region %d must be a rectangle square to an axis", i)
		}
	}
	return nil
}

// flat reports whether lo and hi span a rectangle square to the axis.
func flat(normal int, lo, hi [3]float64) bool {
	for k := range lo {
		if k == normal && lo[k] != hi[k] || k != normal && !(lo[k] < hi[k]) {
			return false
		}
	}
	return true
}

func (b *Body) zoneName(i int) string { return b.nameOf(&b.Zones[i]) }

func (b *Body) nameOf(z *Zone) string {
	at := z.At
	if b.place != nil {
		at = b.place.outward(at)
	}
	return fmt.Sprintf("the zone at (%.4g, %.4g, %.4g) on part %q", at.X, at.Y, at.Z, b.Part.Name)
}

func components(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

func vector(c [3]float64) r3.Vec { return r3.Vec{X: c[0], Y: c[1], Z: c[2]} }

// across returns the two axes square to an axis, ascending.
func across(axis int) (p, q int) {
	switch axis {
	case 0:
		return 1, 2
	case 1:
		return 0, 2
	default:
		return 0, 1
	}
}
