package structure

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/machine"
	"tiploop/frame/outline"
)

// box is a block with its edges along the axes.
type box struct{ lo, hi [3]float64 }

func (b box) size(k machine.Axis) float64   { return b.hi[k] - b.lo[k] }
func (b box) middle(k machine.Axis) float64 { return (b.lo[k] + b.hi[k]) / 2 }

// sideArea is that of a side that looks along an axis, mm².
func (b box) sideArea(normal machine.Axis) float64 {
	p, q := normal.Others()
	return b.size(p) * b.size(q)
}

func array(v r3.Vec) [3]float64  { return [3]float64{v.X, v.Y, v.Z} }
func vector(a [3]float64) r3.Vec { return r3.Vec{X: a[0], Y: a[1], Z: a[2]} }

// touch is where two parts meet.
type touch struct {
	kind   touchKind
	normal machine.Axis // onFace: the axis the face looks along; along: the axis nearest to the bar
	aBelow bool         // onFace: the first part lies on the side of the smaller coordinate
	box                 // onFace: flat, lo = hi along normal; along and atPoint: the ends of what is shared
	inside func(r3.Vec) bool
	shapes []outline.Shape // onFace: the outlines that the rectangle reaches beyond; nil: it is all metal
}

type touchKind int

const (
	onFace  touchKind = iota // two faces on one another
	along                    // a bar's centre line runs through the other part, from lo to hi
	atPoint                  // two bars meet, or a bar's end stands on a part
)

// from and to are the corners of what is shared, whatever its kind.
func (t touch) from() r3.Vec { return vector(t.lo) }
func (t touch) to() r3.Vec   { return vector(t.hi) }

// area of a face contact, mm².
func (t touch) area() float64 {
	if t.shapes == nil {
		return t.sideArea(t.normal)
	}
	return areaOf(t.metal())
}

// findTouch finds where two parts meet, or says why they do not.
func findTouch(a, b *body) (touch, error) {
	switch {
	case a.slender() && b.slender():
		return barsTouch(a, b)
	case a.slender():
		return barTouches(a, b)
	case b.slender():
		t, err := barTouches(b, a)
		t.aBelow = !t.aBelow
		return t, err
	}
	return blocksTouch(a, b)
}

// blocksTouch finds the common face of two plates or gussets.
func blocksTouch(a, b *body) (touch, error) {
	if depth, ok := overlap(a, b); ok {
		return touch{}, fmt.Errorf("%s and %s run into each other: they share %s", a.part.Name, b.part.Name, sizes(depth))
	}
	var found []touch
	for _, fa := range a.faces() {
		for _, fb := range b.faces() {
			if fa.normal != fb.normal || fa.far == fb.far ||
				math.Abs(fa.box.lo[fa.normal]-fb.box.lo[fa.normal]) > machine.Touching {
				continue
			}
			if t, ok := commonFace(fa, fb); ok {
				found = append(found, t)
			}
		}
	}
	if len(found) > 0 {
		sort.SliceStable(found, func(i, j int) bool { return found[i].area() > found[j].area() })
		return found[0], nil
	}
	return touch{}, apart(a, b)
}

// facet is one flat face of a block: the box is flat along normal.
type facet struct {
	box
	normal machine.Axis
	far    bool // the metal lies on the side of the smaller coordinate
	inside func(r3.Vec) bool
	shapes []outline.Shape // what there is of it, of a plate of any outline; nil: all
	edge   bool            // of a plate of any outline: there may be others level with it
}

// commonFace is the rectangle two faces share; a sliver narrower than the touching distance is an edge.
func commonFace(a, b facet) (touch, bool) {
	t := touch{kind: onFace, normal: a.normal, aBelow: a.far, inside: a.inside}
	if b.inside != nil {
		t.inside = b.inside
	}
	t.lo[a.normal], t.hi[a.normal] = a.lo[a.normal], a.lo[a.normal]
	p, q := a.normal.Others()
	for _, k := range []machine.Axis{p, q} {
		t.lo[k], t.hi[k] = math.Max(a.lo[k], b.lo[k]), math.Min(a.hi[k], b.hi[k])
		if t.hi[k]-t.lo[k] <= machine.Touching {
			return touch{}, false
		}
	}
	return t.onMetal(slices.Concat(a.shapes, b.shapes))
}

// overlap is how deep two blocks stand in each other. The metal counts, not the box round it.
func overlap(a, b *body) (depth [3]float64, ok bool) { return overlapWithin(a, b, box{}) }

// overlapWithin is overlap of two blocks of which the second moves by some way within ways: depth is then of the box
// that it sweeps, and ok tells whether they meet anywhere.
func overlapWithin(a, b *body, ways box) (depth [3]float64, ok bool) {
	for k := range depth {
		depth[k] = math.Min(a.fills.hi[k], b.fills.hi[k]+ways.hi[k]) - math.Max(a.fills.lo[k], b.fills.lo[k]+ways.lo[k])
		if depth[k] <= machine.Touching {
			return depth, false
		}
	}
	return depth, a.meets(b, ways)
}

// swept is what a box fills on its way from one movement to another.
func (b box) swept(from, to [3]float64) box {
	for k := range from {
		b.lo[k] += from[k]
		b.hi[k] += to[k]
	}
	return b
}

// shares tells whether two boxes have room in common, more than touching.
func (b box) shares(o box) bool {
	for k := range b.lo {
		if math.Min(b.hi[k], o.hi[k])-math.Max(b.lo[k], o.lo[k]) <= machine.Touching {
			return false
		}
	}
	return true
}

func negative(a [3]float64) [3]float64 { return [3]float64{-a[0], -a[1], -a[2]} }

// apart says how far two blocks are from each other, and between which faces.
func apart(a, b *body) error {
	var gaps []string
	for k := machine.X; k <= machine.Z; k++ {
		below, above := a, b
		if a.fills.middle(k) > b.fills.middle(k) {
			below, above = b, a
		}
		if gap := above.fills.lo[k] - below.fills.hi[k]; gap > machine.Touching {
			gaps = append(gaps, fmt.Sprintf("%s along %s (%s of %s at %s, %s of %s at %s)",
				machine.MM(gap), k, machine.FaceOf(k, true), below.part.Name, machine.MM(below.fills.hi[k]), machine.FaceOf(k, false),
				above.part.Name, machine.MM(above.fills.lo[k])))
		}
	}
	if gaps == nil {
		return fmt.Errorf("%s and %s do not touch on a face: they meet at most along an edge", a.part.Name, b.part.Name)
	}
	return fmt.Errorf("%s and %s do not touch: they are apart by %s", a.part.Name, b.part.Name,
		strings.Join(gaps, " and "))
}

func sizes(d [3]float64) string {
	return fmt.Sprintf("%.4g x %.4g x %.4g mm (x, y, z)", d[0], d[1], d[2])
}

// barTouches finds where a bar meets a plate or gusset: along the length its centre line shares with it; or, for a bar
// along an axis, the face its section stands on; or the point where its end stands on the other part.
func barTouches(bar, other *body) (touch, error) {
	if t, ok := sharedLength(bar, other); ok {
		return t, nil
	}
	if bar.hasBox {
		var best touch
		for _, fb := range other.faces() {
			for _, far := range []bool{false, true} {
				fa := facet{box: bar.fills, normal: fb.normal, far: far}
				if far {
					fa.lo[fa.normal] = fa.hi[fa.normal]
				} else {
					fa.hi[fa.normal] = fa.lo[fa.normal]
				}
				if fa.far == fb.far || math.Abs(fa.lo[fa.normal]-fb.lo[fa.normal]) > machine.Touching {
					continue
				}
				if t, ok := commonFace(fa, fb); ok && t.area() > best.area() {
					best = t
				}
			}
		}
		if best.area() > 0 {
			return best, nil
		}
	}
	for _, end := range []r3.Vec{bar.from, bar.to} {
		if other.off(end) <= machine.Touching {
			p := array(end)
			return touch{kind: atPoint, box: box{p, p}}, nil
		}
	}
	gap := math.Inf(1)
	for i := range 101 {
		at := r3.Add(bar.from, r3.Scale(float64(i)/100, r3.Sub(bar.to, bar.from)))
		gap = math.Min(gap, other.off(at))
	}
	return touch{}, fmt.Errorf("%s and %s do not touch: the bar's centre line passes %s from the nearest face of %s",
		bar.part.Name, other.part.Name, machine.MM(gap), other.part.Name)
}

// distance is how far a spot is from the box of a part; zero inside.
func (b *body) distance(at r3.Vec) float64 { return b.fills.distance(at) }

func (b box) distance(at r3.Vec) float64 {
	sum := 0.0
	for k, p := range array(at) {
		d := math.Max(0, math.Max(b.lo[k]-p, p-b.hi[k]))
		sum += d * d
	}
	return math.Sqrt(sum)
}

// sharedLength clips the bar's centre line against the box of the other part.
func sharedLength(bar, other *body) (touch, bool) {
	from, d := array(bar.from), array(r3.Sub(bar.to, bar.from))
	enter, leave := 0.0, 1.0
	for k := range d {
		lo, hi := other.fills.lo[k]-machine.Touching/2, other.fills.hi[k]+machine.Touching/2
		if d[k] == 0 {
			if from[k] < lo || from[k] > hi {
				return touch{}, false
			}
			continue
		}
		t0, t1 := (lo-from[k])/d[k], (hi-from[k])/d[k]
		enter, leave = math.Max(enter, math.Min(t0, t1)), math.Min(leave, math.Max(t0, t1))
	}
	if (leave-enter)*bar.length <= 2*machine.Touching {
		return touch{}, false
	}
	at := func(t float64) [3]float64 {
		return array(r3.Add(bar.from, r3.Scale(t, r3.Sub(bar.to, bar.from))))
	}
	t := touch{kind: along, box: box{at(enter), at(leave)}}
	if other.off(r3.Scale(0.5, r3.Add(t.from(), t.to()))) > machine.Touching { // through a window, or beside the outline
		return touch{}, false
	}
	// Of a skew bar that runs along two axes alike it is the one that the part is thinner along.
	even := machine.Parallel * bar.length
	for k := machine.X; k <= machine.Z; k++ {
		more := math.Abs(d[k]) - math.Abs(d[t.normal])
		if more > even || more > -even && other.fills.size(k) < other.fills.size(t.normal) {
			t.normal = k
		}
	}
	return t, true
}

// barsTouch finds where two bars meet: where their centre lines pass within reach of their sections. Bars that run side
// by side meet along the length they share; it is given by its two ends.
func barsTouch(a, b *body) (touch, error) {
	reach := a.halfWidth() + b.halfWidth() + machine.Touching
	da, db := a.direction(), b.direction()
	if r3.Norm(r3.Cross(da, db)) < machine.Parallel {
		s0, s1 := r3.Dot(r3.Sub(b.from, a.from), da), r3.Dot(r3.Sub(b.to, a.from), da)
		lo, hi := math.Max(0, math.Min(s0, s1)), math.Min(a.length, math.Max(s0, s1))
		if hi-lo > 2*machine.Touching {
			offset := r3.Sub(b.from, r3.Add(a.from, r3.Scale(s0, da)))
			if gap := r3.Norm(offset); gap > reach {
				return touch{}, barsApart(a, b, gap)
			}
			mid := r3.Scale(0.5, offset)
			t := touch{kind: along}
			t.lo = array(r3.Add(r3.Add(a.from, r3.Scale(lo, da)), mid))
			t.hi = array(r3.Add(r3.Add(a.from, r3.Scale(hi, da)), mid))
			return t, nil
		}
	}
	pa, pb := closest(a, b)
	if gap := r3.Norm(r3.Sub(pa, pb)); gap > reach {
		return touch{}, barsApart(a, b, gap)
	}
	mid := array(r3.Scale(0.5, r3.Add(pa, pb)))
	return touch{kind: atPoint, box: box{mid, mid}}, nil
}

func barsApart(a, b *body, gap float64) error {
	return fmt.Errorf("%s and %s do not touch: their centre lines pass %s from each other, their sections reach %s",
		a.part.Name, b.part.Name, machine.MM(gap), machine.MM(a.halfWidth()+b.halfWidth()))
}

// halfWidth is how far a bar's section reaches from its centre line at most; 0 for plain numbers.
func (b *body) halfWidth() float64 {
	s := b.section
	return math.Max(math.Max(s.YMax, -s.YMin), math.Max(s.ZMax, -s.ZMin))
}

// closest are the points of two bars' centre lines that are nearest to each other (Ericson, Real-Time Collision
// Detection, 2005, section 5.1.9).
func closest(a, b *body) (pa, pb r3.Vec) {
	da, db := r3.Sub(a.to, a.from), r3.Sub(b.to, b.from)
	between := r3.Sub(a.from, b.from)
	aa, bb, ab := r3.Norm2(da), r3.Norm2(db), r3.Dot(da, db)
	ca, cb := r3.Dot(da, between), r3.Dot(db, between)
	clamp := func(t float64) float64 { return math.Max(0, math.Min(1, t)) }
	s := 0.0
	if det := aa*bb - ab*ab; det > machine.Parallel*machine.Parallel*aa*bb {
		s = clamp((ab*cb - ca*bb) / det)
	}
	t := (ab*s + cb) / bb
	if t != clamp(t) {
		t = clamp(t)
		s = clamp((ab*t - ca) / aa)
	}
	return r3.Add(a.from, r3.Scale(s, da)), r3.Add(b.from, r3.Scale(t, db))
}
