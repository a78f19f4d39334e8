package structure

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/machine"
)

// barTouches finds where a bar meets a plate or gusset: along the length its centre line shares with it; or, for a bar
// along an axis, the face its section stands on; or the point where its end stands on the other part.
func barTouches(bar, other *body) (touch, error) {
	if t, ok := sharedLength(bar, other); ok {
		return t, nil
	}
	if fills, ok := bar.solid(); ok {
		var best touch
		for _, fb := range other.faces() {
			for _, far := range []bool{false, true} {
				fa := facet{box: fills, normal: fb.normal, far: far}
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
		if other.distance(end) <= machine.Touching {
			p := array(end)
			return touch{kind: atPoint, box: box{p, p}}, nil
		}
	}
	gap := math.Inf(1)
	for i := range 101 {
		at := r3.Add(bar.from, r3.Scale(float64(i)/100, r3.Sub(bar.to, bar.from)))
		gap = math.Min(gap, other.distance(at))
	}
	return touch{}, fmt.Errorf("%s and %s do not touch: the bar's centre line passes %s from the nearest face of %s",
		bar.part.Name, other.part.Name, machine.MM(gap), other.part.Name)
}

// distance is how far a spot is from the box of a part; zero inside.
func (b *body) distance(at r3.Vec) float64 {
	sum := 0.0
	for k, p := range array(at) {
		d := math.Max(0, math.Max(b.fills.lo[k]-p, p-b.fills.hi[k]))
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
	for k := range d {
		if math.Abs(d[k]) > math.Abs(d[t.normal]) {
			t.normal = machine.Axis(k)
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
