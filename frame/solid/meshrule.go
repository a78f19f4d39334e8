package solid

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// Mesh rule
//
// A part's cells lie in rows along the axes, so that each line runs through the whole part. Where lines stand was
// found by measurement against testdata/solid-reference.yaml; TestSolidReference keeps the table of what is left.
// With t the part's thickness (its least extent) and all sizes times Settings.Mesh:
//
//   - Lines end at the edges of ties, held regions and aligned zones: an area that ends inside a cell is read exactly,
//     but the stress that jumps there is not followed. Beside a hard edge cells are small.
//   - An edge that runs inside a face of one of the parts it touches is an inward corner or the end of a bond, where
//     the stress goes as the distance to the power of −1/2 or thereabouts and the energy error with the cell size,
//     whatever the order of the elements. There cells are a tenth (innerShare) of t, or of the area's width if that is
//     less. Where the area ends with the part, the corner is a right angle between free and held, far milder: half of t
//     (outerShare). Normal to the area cells beside it are as small as at its edges.
//   - From there cells grow by a factor of 3 (growth). With 2.5 there are 1.4 times the unknowns for 0.8 times the
//     error; the same unknowns are better spent on a smaller first cell.
//   - An aligned zone (a load patch) wants cells of 0.35 of its lesser width (patchShare) at its edges and of a quarter
//     of it (patchDepth) below: its own give is half a patch deep.
//   - The zone of a screw wants cells of 0.7 of its width in each direction (ringShare), 0.4 below (ringDepth), and no
//     hard lines: a plate has dozens. Of the give of the zone itself, other zones held, that misses 7 % in movement and
//     a quarter in rotation (a ring of 18 mm on a plate of 40), and the metal round a screw is a part of a joint's give
//     only.
//   - No cell is larger than two and a half times t (largestShare), and two at least lie in every direction: a
//     quadratic cell bends, so that the field of a plate far from its edges needs no more.
const (
	innerShare   = 0.1
	outerShare   = 0.5
	growth       = 3
	patchShare   = 0.35
	patchDepth   = 0.25
	ringShare    = 0.7
	ringDepth    = 0.4
	largestShare = 2.5
	leastCells   = 2
)

// Settings of a reduction.
type Settings struct {
	// Mesh multiplies the cell sizes: 0.5 halves them, 2 doubles them; 0 means 1. On the bodies of the mesh rule the
	// default leaves errors of up to 3 % beyond their own doubt, most of them below 2; 0.4 leaves up to 1 %.
	Mesh float64
}

// mesh cuts the body's parts into elements.
func (b *Body) mesh(s Settings) *Mesh {
	factor := s.Mesh
	if factor == 0 {
		factor = 1
	}
	m := &Mesh{}
	for i := range b.Parts {
		p := &b.Parts[i]
		m.Metals = append(m.Metals, p.Made)
		hard, wants, largest := b.wishes(i, factor)
		if p.Block != nil {
			var lines [3][]float64
			for k := range 3 {
				lines[k] = Lines(hard[k], wants[k], growth, largest[k])
			}
			m.AddBlock(i, lines)
			continue
		}
		g := p.Gusset
		shares := b.legShares(p, hard, wants, largest)
		t := axisOf(g.Thickness)
		from, by := components(g.Corner)[t], components(g.Thickness)[t]
		through := toShares(Lines(hard[t], wants[t], growth, largest[t]), from, by)
		m.AddGusset(i, g.Corner, g.Legs, g.Thickness, shares, through)
	}
	return m
}

// toShares turns places along an axis into shares of a stretch that starts at from and goes on by by, ascending.
func toShares(places []float64, from, by float64) []float64 {
	out := make([]float64, len(places))
	for i, x := range places {
		k := i
		if by < 0 {
			k = len(places) - 1 - i
		}
		out[k] = (x - from) / by
	}
	out[0], out[len(out)-1] = 0, 1
	return out
}

// legShares are the shares along a gusset's first leg; the second leg's are 1 less them, so wishes of both meet here.
func (b *Body) legShares(p *Part, hard [3][]float64, wants [3][]Want, largest [3]float64) []float64 {
	g := p.Gusset
	places := []float64{0, 1}
	var wishes []Want
	most := 1.0
	for leg, v := range g.Legs {
		k := axisOf(v)
		from, by := components(g.Corner)[k], components(v)[k]
		share := func(x float64) float64 {
			s := (x - from) / by
			if leg == 1 {
				s = 1 - s
			}
			return s
		}
		for _, x := range hard[k] {
			places = append(places, share(x))
		}
		length := r3.Norm(v)
		for _, w := range wants[k] {
			a, c := share(w.From), share(w.To)
			wishes = append(wishes, Want{min(a, c), max(a, c), w.Size / length})
		}
		most = min(most, largest[k]/length)
	}
	lines := Lines(places, wishes, growth, most)
	lines[0], lines[len(lines)-1] = 0, 1
	return lines
}

// wishes are the hard lines, the wanted sizes and the largest size along the axes of a part.
func (b *Body) wishes(part int, factor float64) (hard [3][]float64, wants [3][]Want, largest [3]float64) {
	w := &wishList{body: b, factor: factor, thickness: b.Parts[part].thickness()}
	w.lo, w.hi = b.Parts[part].box()
	for k := range 3 {
		w.hard[k] = []float64{w.lo[k], w.hi[k]}
		largest[k] = min(largestShare*w.thickness*factor, (w.hi[k]-w.lo[k])/leastCells)
	}
	for _, tie := range b.Ties {
		if tie.A == part || tie.B == part {
			w.addArea(tie.Normal, tie.Lo, tie.Hi, tie.A, tie.B)
		}
	}
	for _, h := range b.Held {
		if h.Part == part {
			w.addArea(h.Normal, h.Lo, h.Hi, part)
		}
	}
	for _, z := range slices.Concat(b.Zones, b.Watched) {
		if z.Part == part {
			w.addZone(&z)
		}
	}
	return w.hard, w.wants, largest
}

// wishList is the wishes of one part while they are gathered.
type wishList struct {
	body      *Body
	factor    float64
	thickness float64
	lo, hi    [3]float64 // of the part's box
	hard      [3][]float64
	wants     [3][]Want
}

// lineKind says whether cells must end at a place.
type lineKind int

const (
	hardLine lineKind = iota
	wishedSize
)

// addLine adds a place along an axis, which counts only within the part.
func (w *wishList) addLine(k int, x float64, kind lineKind, size float64) {
	near := sameLine * (w.hi[k] - w.lo[k])
	if x < w.lo[k]-near || x > w.hi[k]+near {
		return
	}
	if kind == hardLine {
		w.hard[k] = append(w.hard[k], x)
	}
	w.wants[k] = append(w.wants[k], Want{x, x, size})
}

// addArea adds a tie or a held region on faces of the given parts.
func (w *wishList) addArea(normal int, lo, hi [3]float64, parts ...int) {
	u, v := across(normal)
	least := outerShare
	wide := min(w.thickness, hi[u]-lo[u], hi[v]-lo[v])
	for _, k := range []int{u, v} {
		for _, x := range []float64{lo[k], hi[k]} {
			share := outerShare
			for _, i := range parts {
				l, h := w.body.Parts[i].box()
				if near := sameLine * (h[k] - l[k]); x > l[k]+near && x < h[k]-near {
					share = innerShare
				}
			}
			least = min(least, share)
			w.addLine(k, x, hardLine, share*wide*w.factor)
		}
	}
	w.addLine(normal, lo[normal], wishedSize, least*wide*w.factor)
}

// addZone adds a zone, unless nothing is left of it.
func (w *wishList) addZone(z *Zone) {
	outer := z.outline()[0]
	if outer == nil {
		return
	}
	from, to := outer.bounds()
	wide := min(to[0]-from[0], to[1]-from[1]) * w.factor
	u, v := across(z.Normal)
	for i, k := range []int{u, v} {
		if z.Aligned {
			w.addLine(k, from[i], hardLine, patchShare*wide)
			w.addLine(k, to[i], hardLine, patchShare*wide)
		} else {
			w.wants[k] = append(w.wants[k], Want{from[i], to[i], ringShare * (to[i] - from[i]) * w.factor})
		}
	}
	depth := ringDepth
	if z.Aligned {
		depth = patchDepth
	}
	w.addLine(z.Normal, components(z.At)[z.Normal], wishedSize, depth*wide)
}
