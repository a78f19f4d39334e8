package solid

import (
	"math"
	"slices"

	"tiploop/frame/outline"
)

// Sawn is what a block is sawn to: a flat shape in the plane square to an axis, all through the block. The shape's box
// is the block's, its corners lie along the other two axes in ascending order.
type Sawn struct {
	Normal int
	Area   outline.Shape
}

// A mesh does not follow every chord of a curve, nor a step that is nothing against the thickness t.
const (
	// Corners that lie within chordShare·t of the straight line between their neighbours are left out: the width of what
	// is left is off by two thirds of that at most.
	chordShare = 0.01
	// Edges along an axis that are longer than straightShare·t stay as they are, lest they run askew.
	straightShare = 0.1
	// Corners nearer than stepShare·t to one another along the lines of the mesh stand on one line.
	stepShare = 0.01
)

// sawnShape is the shape of a sawn block as its mesh has it: along the axis that its lines of cells are square to, then the
// other one.
type sawnShape struct {
	normal, along, other int
	shape                outline.Shape
}

// newSawnShape leaves out what a mesh need not follow, and chooses the axis with the fewest places of corners.
func newSawnShape(s *Sawn, thickness float64) *sawnShape {
	u, v := across(s.Normal)
	var thin outline.Shape
	for _, loop := range s.Area {
		thin = append(thin, thinned(loop, thickness))
	}
	lo, hi := thin.Bounds()
	var places [2][]float64
	for k := range places {
		places[k] = clusters(thin, k, lo[k], hi[k], stepShare*thickness)
	}
	f := &sawnShape{normal: s.Normal, along: u, other: v, shape: thin}
	if len(places[1]) < len(places[0]) {
		f.along, f.other = v, u
		f.shape = thin.Mapped(func(p outline.Point) outline.Point { return outline.Point{p[1], p[0]} })
		places[0] = places[1]
	}
	f.snap(places[0])
	return f
}

// snap moves the corners onto the nearest of some places along the first axis; what becomes one corner is one.
func (f *sawnShape) snap(places []float64) {
	for l, loop := range f.shape {
		for i := range loop {
			loop[i][0] = nearestOf(places, loop[i][0])
		}
		loop = slices.Compact(loop)
		if last := len(loop) - 1; last > 0 && loop[last] == loop[0] {
			loop = loop[:last]
		}
		f.shape[l] = loop
	}
}

// nearestOf ascending places.
func nearestOf(places []float64, x float64) float64 {
	i, found := slices.BinarySearch(places, x)
	if found || i == 0 {
		return places[min(i, len(places)-1)]
	}
	if i == len(places) || x-places[i-1] <= places[i]-x {
		i--
	}
	return places[i]
}

// clusters are the places of corners along an axis, those nearer to one another than near as one; the ends stay.
func clusters(s outline.Shape, axis int, lo, hi, near float64) []float64 {
	var all []float64
	for _, loop := range s {
		for _, p := range loop {
			all = append(all, p[axis])
		}
	}
	slices.Sort(all)
	kept := []float64{lo}
	for _, x := range all {
		if x-kept[len(kept)-1] > near {
			kept = append(kept, x)
		}
	}
	for len(kept) > 1 && hi-kept[len(kept)-1] <= near {
		kept = kept[:len(kept)-1]
	}
	return append(kept, hi)
}

// thinned is a loop without the corners that a mesh need not follow (Ramer; Douglas & Peucker 1973, between the corners
// that stay in any case).
func thinned(loop []outline.Point, thickness float64) []outline.Point {
	n := len(loop)
	stays := make([]bool, n)
	var ends [4]int // the lowest and the highest along both axes: the box round it stays as it is
	for i, p := range loop {
		for k, x := range p {
			if x < loop[ends[2*k]][k] {
				ends[2*k] = i
			}
			if x > loop[ends[2*k+1]][k] {
				ends[2*k+1] = i
			}
		}
		if q := loop[(i+1)%n]; (p[0] == q[0] || p[1] == q[1]) && math.Hypot(q[0]-p[0], q[1]-p[1]) > straightShare*thickness {
			stays[i], stays[(i+1)%n] = true, true
		}
	}
	for _, i := range ends {
		stays[i] = true
	}
	var between func(i, k int)
	between = func(i, k int) { // i < k, numbers that go on past n
		a, b := loop[i%n], loop[k%n]
		most, at := chordShare*thickness, -1
		for j := i + 1; j < k; j++ {
			if d := beside(loop[j%n], a, b); d > most {
				most, at = d, j
			}
		}
		if at >= 0 {
			stays[at%n] = true
			between(i, at)
			between(at, k)
		}
	}
	var fixed []int
	for i, is := range stays {
		if is {
			fixed = append(fixed, i)
		}
	}
	for k, i := range fixed {
		next := fixed[(k+1)%len(fixed)]
		if next <= i {
			next += n
		}
		between(i, next)
	}
	var kept []outline.Point
	for i, is := range stays {
		if is {
			kept = append(kept, loop[i])
		}
	}
	if len(kept) < 3 {
		return slices.Clone(loop)
	}
	return kept
}

// beside is how far a place lies from the line between two others.
func beside(p, a, b outline.Point) float64 {
	dx, dy := b[0]-a[0], b[1]-a[1]
	l := math.Hypot(dx, dy)
	if l == 0 {
		return math.Hypot(p[0]-a[0], p[1]-a[1])
	}
	return math.Abs(dx*(p[1]-a[1])-dy*(p[0]-a[0])) / l
}

// addSawn adds what a shape asks of the cells.
//
//   - Every corner stands on a line square to the first axis, and every edge along that axis lies on a line.
//   - A steep edge crosses the lines along the other axis on lines, too (steps).
//   - At an inward corner the stress has no bound, as at the edge of a held region inside a face, but less sharply: there
//     cells are cornerShare of t. With 0.35 a C-frame at the usual mesh moved 3.5 % too little, with this 2.1, with 0.12
//     1.5, for 0.73 and 1.2 times the unknowns of this. The end of a slot is as the tip of a crack: slotShare of t. With
//     cornerShare there a block with two slots moved up to 7 % too little, with this 3.4, for 1.5 times the unknowns.
//     Found on O1, O2 and O6 of testdata/solid-outlines.yaml; O3 to O5 were not used.
func (w *wishList) addSawn(f *sawnShape) {
	for _, loop := range f.shape {
		for i, p := range loop {
			before, next := loop[(i+len(loop)-1)%len(loop)], loop[(i+1)%len(loop)]
			w.hard[f.along] = append(w.hard[f.along], p[0])
			if p[1] == next[1] || p[1] == before[1] {
				w.hard[f.other] = append(w.hard[f.other], p[1])
			}
			if inward(before, p, next) {
				share := cornerShare
				if f.slotEnd(loop, i, w.thickness) {
					share = slotShare
				}
				size := share * w.thickness * w.factor
				w.wants[f.along] = append(w.wants[f.along], Want{p[0], p[0], size})
				w.wants[f.other] = append(w.wants[f.other], Want{p[1], p[1], size})
			}
		}
	}
	steps := f.steps(w.profile(f.along).lines(), w.profile(f.other).lines())
	w.hard[f.along] = append(w.hard[f.along], steps...)
}

// slotEnd tells whether corner i and one beside it turn away from the metal nearer to one another than half the
// thickness: there the stress is as at the tip of a crack.
func (f *sawnShape) slotEnd(loop []outline.Point, i int, thickness float64) bool {
	n := len(loop)
	for _, k := range []int{i + n - 1, i + 1} {
		a, b, c := loop[(k+n-1)%n], loop[k%n], loop[(k+1)%n]
		if inward(a, b, c) && math.Hypot(b[0]-loop[i][0], b[1]-loop[i][1]) < thickness/2 {
			return true
		}
	}
	return false
}

// inward tells whether a loop turns sharply away from its metal at b.
func inward(a, b, c outline.Point) bool {
	in, out := outline.Point{b[0] - a[0], b[1] - a[1]}, outline.Point{c[0] - b[0], c[1] - b[1]}
	turn := math.Atan2(in[0]*out[1]-in[1]*out[0], in[0]*out[0]+in[1]*out[1])
	return turn < -sharpTurn
}

const (
	cornerShare = 0.2
	slotShare   = 0.1
	// sharpTurn is the turn, rad, from which on an inward corner is one and not a chord of a curve.
	sharpTurn = math.Pi / 5
)
