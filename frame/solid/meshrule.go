package solid

import (
	"cmp"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
)

// Mesh rule
//
// A part's cells lie in rows along the axes, so that each line runs through the whole part. Where lines stand was
// found by measurement against testdata/solid-reference.yaml; TestSolidDetailReference of frame/structure keeps the
// table of what is left. With t the part's thickness (its least extent) and all sizes times Settings.Mesh:
//
//   - Lines end at the edges of held regions and aligned zones: an area that ends inside a cell is read exactly, but
//     the stress that jumps there is not followed. Beside a hard edge cells are small.
//   - A held region's edge that runs inside a face of the part is an inward corner, where the stress goes as the
//     distance to the power of −1/2 or thereabouts and the energy error with the cell size, whatever the order of the
//     elements. There cells are a tenth (innerShare) of t, or of the region's width if that is less. Where the region
//     ends with the part, the corner is a right angle between free and held, far milder: half of t (outerShare). Normal
//     to the region cells beside it are as small as at its edges.
//   - From there cells grow by a factor of 3 (growth). With 2.5 there are 1.4 times the unknowns for 0.8 times the
//     error; the same unknowns are better spent on a smaller first cell.
//   - An aligned zone (a load patch) wants cells of 0.35 of its lesser width (patchShare) at its edges and of a quarter
//     of it (patchDepth) below: its own give is half a patch deep.
//   - Any other zone that stands by itself, of a screw, wants cells of 0.7 of its width in each direction (ringShare),
//     0.4 below (ringDepth), and no hard lines: a plate has dozens. Zones side by side, pieces of a bonded face, want
//     one cell each (zoneShare), 0.7 deep (besideDepth), whatever Settings.Mesh: the pieces go with it. A depth of more
//     than nine tenths of the largest cell (nearlyLargest) asks for nothing: for cells a tenth smaller it would cost
//     one more all through the part.
//   - However coarse the mesh, a cell on a zone that stands by itself is no wider than one and a half times the zone
//     (loneShare), and no deeper (depthShare): else its nodes could not tell the zone from others, and what it misses
//     of the zone's own give could not be told either (missed.go). Where they cannot all the same, Reduce halves
//     the cells there (halvings).
//   - A zone across the inside that is wider than the part is deep there is a bar's that runs through a plate. It turns
//     against the shear and bending of the plate all round, which cells of its own width held back by a third: no more
//     than 0.35 of its width (throughShare).
//   - No cell is larger than two and a half times t (largestShare), and two at least lie in every direction: a
//     quadratic cell bends, so that the field of a plate far from its edges needs no more.
const (
	innerShare    = 0.1
	outerShare    = 0.5
	growth        = 3
	patchShare    = 0.35
	patchDepth    = 0.25
	ringShare     = 0.7
	ringDepth     = 0.4
	zoneShare     = 1
	besideDepth   = 0.7
	nearlyLargest = 0.9
	loneShare     = 1.5
	depthShare    = 1.5
	throughShare  = 0.35
	largestShare  = 2.5
	leastCells    = 2
)

// Settings of a reduction.
type Settings struct {
	// Mesh is times the rule's cells: 0.5 halves their sizes, 2 doubles them; 0 means 1. On the bodies of the mesh rule
	// 1 leaves errors of up to 3 % beyond their own doubt, most of them below 2; 0.4 leaves up to 1 %.
	Mesh float64
}

// plan is the cells that a part will be cut into, before any is made.
type plan struct {
	profiles []*profile // a block's along x, y and z; a gusset's along its first leg, as shares, and through it
	sawn     *sawnShape // of a sawn block; else nil
	cells    float64
}

// unknowns of a plan: a cell of twenty nodes adds about four.
func (p *plan) unknowns() float64 { return 3 * 4 * p.cells }

// plan is that of the part's cells; finer is how much smaller than the rule says they are at each zone, nil for none.
func (b *Body) plan(s Settings, finer []float64) *plan {
	wishes := b.wishes(cmp.Or(s.Mesh, 1), finer)
	if g := b.Part.Gusset; g != nil {
		along, through := b.legShares(&wishes), wishes.profile(axisOf(g.Thickness))
		// n stations along a leg make n(n+1)/2 wedges and bricks.
		n := along.most()
		return &plan{profiles: []*profile{along, through}, cells: n * n / 2 * through.most()}
	}
	p := &plan{cells: 1}
	if sawn := b.Part.sawn(); sawn != nil {
		p.sawn = newSawnShape(sawn, wishes.thickness)
		wishes.addSawn(p.sawn)
	}
	for k := range 3 {
		along := wishes.profile(k)
		p.profiles = append(p.profiles, along)
		p.cells *= along.most()
	}
	return p
}

// mesh cuts the part into the elements of a plan.
func (b *Body) mesh(p *plan) *Mesh {
	m := &Mesh{Metals: []beam.Material{b.Part.Made}}
	if g := b.Part.Gusset; g != nil {
		t := axisOf(g.Thickness)
		from, by := components(g.Corner)[t], components(g.Thickness)[t]
		shares := p.profiles[0].lines()
		shares[0], shares[len(shares)-1] = 0, 1
		m.AddGusset(0, g.Corner, g.Legs, g.Thickness, shares, toShares(p.profiles[1].lines(), from, by))
		return m
	}
	var lines [3][]float64
	for k, along := range p.profiles {
		lines[k] = along.lines()
	}
	if f := p.sawn; f != nil {
		m.addSawn(0, f, f.mesh(lines[f.along], lines[f.other]), lines[f.normal])
		return m
	}
	m.AddBlock(0, lines)
	for e := range m.Elements {
		m.Elements[e].box = true
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
func (b *Body) legShares(w *wishList) *profile {
	g := b.Part.Gusset
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
		for _, x := range w.hard[k] {
			places = append(places, share(x))
		}
		length := r3.Norm(v)
		for _, want := range w.wants[k] {
			a, c := share(want.From), share(want.To)
			wishes = append(wishes, Want{min(a, c), max(a, c), want.Size / length})
		}
		most = min(most, w.largest[k]/length)
	}
	return newProfile(mergeLines(places), wishes, math.Log(growth), most)
}

// wishes are what the part's zones and held regions ask of its cells.
func (b *Body) wishes(factor float64, finer []float64) wishList {
	w := wishList{factor: factor, thickness: b.Part.thickness()}
	w.lo, w.hi = b.Part.Box()
	for k := range 3 {
		w.hard[k] = []float64{w.lo[k], w.hi[k]}
		w.largest[k] = min(largestShare*w.thickness*factor, (w.hi[k]-w.lo[k])/leastCells)
	}
	for _, h := range b.Held {
		w.addHeld(h.Normal, h.Lo, h.Hi)
	}
	for i := range b.Zones {
		smaller := 1.0
		if finer != nil {
			smaller = finer[i]
		}
		w.addZone(&b.Zones[i], smaller)
	}
	for i := range b.Watched {
		w.addZone(&b.Watched[i], 1)
	}
	return w
}

// wishList is the wishes of a part while they are gathered.
type wishList struct {
	factor    float64
	thickness float64
	lo, hi    [3]float64 // of the part's box
	largest   [3]float64
	hard      [3][]float64
	wants     [3][]Want
}

// profile is what is wished along an axis.
func (w *wishList) profile(k int) *profile {
	return newProfile(mergeLines(w.hard[k]), w.wants[k], math.Log(growth), w.largest[k])
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

// addHeld adds a held region.
func (w *wishList) addHeld(normal int, lo, hi [3]float64) {
	u, v := across(normal)
	least := outerShare
	wide := min(w.thickness, hi[u]-lo[u], hi[v]-lo[v])
	for _, k := range []int{u, v} {
		near := sameLine * (w.hi[k] - w.lo[k])
		for _, x := range []float64{lo[k], hi[k]} {
			share := outerShare
			if x > w.lo[k]+near && x < w.hi[k]-near {
				share = innerShare
			}
			least = min(least, share)
			w.addLine(k, x, hardLine, share*wide*w.factor)
		}
	}
	w.addLine(normal, lo[normal], wishedSize, least*wide*w.factor)
}

// beyond reports whether a length exceeds a limit by more than rounding: a body shifted has the cells of the other.
func beyond(length, limit float64) bool { return length > limit*(1+sameLine) }

// addZone adds a zone, unless nothing is left of it.
func (w *wishList) addZone(z *Zone, finer float64) {
	outer := z.outline()[0]
	if outer == nil {
		return
	}
	from, to := outer.bounds()
	factor := w.factor * finer
	wide := min(to[0]-from[0], to[1]-from[1])
	u, v := across(z.Normal)
	most := zoneShare * finer
	if z.Lone {
		most = loneShare * finer
	}
	at, lo, hi := components(z.At)[z.Normal], w.lo[z.Normal], w.hi[z.Normal]
	if near := sameLine * (hi - lo); at > lo+near && at < hi-near && beyond(wide, hi-lo) {
		most = min(most, throughShare*finer)
	}
	for i, k := range []int{u, v} {
		if z.Aligned {
			size := min(patchShare*factor, most) * wide
			w.addLine(k, from[i], hardLine, size)
			w.addLine(k, to[i], hardLine, size)
		} else {
			share := most
			if z.Lone {
				share = min(ringShare*factor, most)
			}
			w.wants[k] = append(w.wants[k], Want{from[i], to[i], share * (to[i] - from[i])})
		}
	}
	depth := ringDepth
	if z.Aligned {
		depth = patchDepth
	}
	share := min(depth*factor, depthShare)
	if !z.Lone {
		share = besideDepth * finer
	}
	if !z.Lone && beyond(share*wide, nearlyLargest*w.largest[z.Normal]) {
		return
	}
	w.addLine(z.Normal, components(z.At)[z.Normal], wishedSize, share*wide)
}
