package solid

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// Mesh rule
//
// A part's cells lie in rows along the axes, so that each line runs through the whole part. Where lines stand was settled
// by measurement against testdata/solid-reference.yaml; TestSolidReference keeps the table of what is left. With t the
// part's thickness (its least extent) and all sizes times Settings.Mesh:
//
//   - Lines end at the edges of ties, held regions and aligned zones: an area that ends inside a cell is read exactly, but
//     the stress that jumps there is not followed. Beside a hard edge cells are small.
//   - An edge that runs inside a face of one of the parts it touches is an inward corner or the end of a bond, where the
//     stress goes as the distance to the power of −1/2 or thereabouts and the energy error with the cell size, whatever
//     the order of the elements. There cells are a tenth (innerShare) of t, or of the area's width if that is less.
//     Where the area ends with the part, the corner is a right angle between free and held, far milder: half of t
//     (outerShare). Normal to the area cells beside it are as small as at its edges.
//   - From there cells grow by a factor of 3 (growth). With 2.5 there are 1.4 times the unknowns for 0.8 times the error;
//     the same unknowns are better spent on a smaller first cell.
//   - An aligned zone (a load patch) wants cells of 0.35 of its lesser width (patchShare) at its edges and of a quarter of
//     it (patchDepth) below: its own give is half a patch deep.
//   - The zone of a screw wants cells of 0.7 of its width in each direction (ringShare), 0.4 below (ringDepth), and no
//     hard lines: a plate has dozens. Of the give of the zone itself, other zones held, that misses 7 % in movement and a quarter in rotation
//     (a ring of 18 mm on a plate of 40), and the metal round a screw is a part of a joint's give only.
//   - No cell is larger than two and a half times t (largestShare), and two at least lie in every direction: a quadratic
//     cell bends, so that the field of a plate far from its edges needs no more.
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
	p := &b.Parts[part]
	lo, hi := p.box()
	t := p.thickness()
	for k := range 3 {
		hard[k] = []float64{lo[k], hi[k]}
		largest[k] = min(largestShare*t*factor, (hi[k]-lo[k])/leastCells)
	}
	// A place counts only within the part.
	line := func(k int, x float64, kind lineKind, size float64) {
		if x < lo[k]-sameLine*(hi[k]-lo[k]) || x > hi[k]+sameLine*(hi[k]-lo[k]) {
			return
		}
		if kind == hardLine {
			hard[k] = append(hard[k], x)
		}
		wants[k] = append(wants[k], Want{x, x, size})
	}
	// The area of a tie or a held region, on faces of the given parts.
	rect := func(normal int, rlo, rhi [3]float64, parts ...int) {
		u, v := across(normal)
		least := outerShare
		wide := min(t, rhi[u]-rlo[u], rhi[v]-rlo[v])
		for _, k := range []int{u, v} {
			for _, x := range []float64{rlo[k], rhi[k]} {
				share := outerShare
				for _, i := range parts {
					if l, h := b.Parts[i].box(); x > l[k]+sameLine*(h[k]-l[k]) && x < h[k]-sameLine*(h[k]-l[k]) {
						share = innerShare
					}
				}
				least = min(least, share)
				line(k, x, hardLine, share*wide*factor)
			}
		}
		line(normal, rlo[normal], wishedSize, least*wide*factor)
	}
	for _, tie := range b.Ties {
		if tie.A == part || tie.B == part {
			rect(tie.Normal, tie.Lo, tie.Hi, tie.A, tie.B)
		}
	}
	for _, h := range b.Held {
		if h.Part == part {
			rect(h.Normal, h.Lo, h.Hi, part)
		}
	}
	for _, z := range slices.Concat(b.Zones, b.Watched) {
		outer := z.outline()[0]
		if z.Part != part || outer == nil {
			continue
		}
		from, to := outer.bounds()
		wide := min(to[0]-from[0], to[1]-from[1]) * factor
		u, v := across(z.Normal)
		at := components(z.At)[z.Normal]
		for i, k := range []int{u, v} {
			if z.Aligned {
				line(k, from[i], hardLine, patchShare*wide)
				line(k, to[i], hardLine, patchShare*wide)
			} else {
				wants[k] = append(wants[k], Want{from[i], to[i], ringShare * (to[i] - from[i]) * factor})
			}
		}
		depth := ringDepth
		if z.Aligned {
			depth = patchDepth
		}
		line(z.Normal, at, wishedSize, depth*wide)
	}
	return hard, wants, largest
}

// lineKind says whether cells must end at a place.
type lineKind int

const (
	hardLine lineKind = iota
	wishedSize
)
