package solid

import (
	"math"
	"slices"
)

// Want asks for cells no larger than Size, mm, from From to To along an axis. Away from there cells may grow.
type Want struct{ From, To, Size float64 }

// Hard lines nearer to one another than sameLine of the whole span are one.
const sameLine = 1e-6

// Lines places grid lines along an axis, ascending. All hard lines, in any order, are among them; those nearer to one
// another than 1e-6 of the span are merged into the first. No cell is larger than largest, nor larger than it may be
// where it lies: Size within a want, and growing away from it so that cells in a row grow by the factor growth, at
// least 1. Between two neighbouring hard lines cells are as few as that allows. A gap between hard lines that is itself
// smaller than the wish there is one cell, and its neighbours need not grow from it. It panics unless there are two
// hard lines that differ and sizes are positive.
//
// Cells that grow by the factor r have their size as a linear function of place, h(x) = h₀ + x·ln r: the number of
// cells over a stretch is ∫ dx/h, which over one cell of it is 1 (both ends' sizes differing by the factor r). So the
// wishes make the function h, the lowest of cones with slope ±ln r, and lines stand at equal shares of ∫ dx/h
// between hard lines.
func Lines(hard []float64, wants []Want, growth, largest float64) []float64 {
	if !(growth >= 1) || !(largest > 0) {
		panic("solid: cells must grow by a factor of 1 or more, up to a positive size")
	}
	return newProfile(mergeLines(hard), wants, math.Log(growth), largest).lines()
}

// lines of a profile, ascending.
func (p *profile) lines() []float64 {
	lines := []float64{p.fixed[0]}
	for i, to := range p.fixed[1:] {
		start, cells, n := p.stretch(i)
		for k := 1; k < int(n); k++ {
			lines = append(lines, p.where(start+cells*float64(k)/n))
		}
		lines = append(lines, to)
	}
	return lines
}

// most is the number of cells there will be: a whole number that may be too large for an int.
func (p *profile) most() (sum float64) {
	for i := range p.fixed[1:] {
		_, _, n := p.stretch(i)
		sum += n
	}
	return sum
}

// stretch is the cells wished between two neighbouring hard lines, from which on, and the whole number there will be.
func (p *profile) stretch(i int) (start, cells, n float64) {
	start = p.count(p.fixed[i])
	cells = p.count(p.fixed[i+1]) - start
	// Rounding must not add a cell to a stretch that wants a whole number of them.
	return start, cells, math.Max(1, math.Ceil(cells-sameLine))
}

func mergeLines(hard []float64) []float64 {
	fixed := slices.Clone(hard)
	slices.Sort(fixed)
	if len(fixed) < 2 || !(fixed[len(fixed)-1] > fixed[0]) {
		panic("solid: grid lines need two hard lines that differ")
	}
	near := sameLine * (fixed[len(fixed)-1] - fixed[0])
	last := fixed[len(fixed)-1]
	merged := fixed[:1]
	for _, x := range fixed[1:] {
		if x-merged[len(merged)-1] > near {
			merged = append(merged, x)
		}
	}
	// The ends are the part's and stay.
	if merged[len(merged)-1] != last {
		merged[len(merged)-1] = last
	}
	return merged
}

// profile is the hard lines along an axis and the cell size wished there: linear from each of its places to the next,
// with the number of cells from the first of them.
type profile struct{ fixed, x, size, cells []float64 }

func newProfile(fixed []float64, wants []Want, slope, largest float64) *profile {
	from, to := fixed[0], fixed[len(fixed)-1]
	// Between neighbouring places no want begins or ends.
	x := slices.Clone(fixed)
	for _, w := range wants {
		if !(w.Size > 0) || !(w.From <= w.To) {
			panic("solid: a wish for cells needs a positive size and a stretch")
		}
		x = append(x, math.Min(math.Max(w.From, from), to), math.Min(math.Max(w.To, from), to))
	}
	slices.Sort(x)
	x = slices.Compact(x)
	// The caps of the stretches between places, and the sizes at them: those of both neighbours' caps and of wants nearby.
	caps := make([]float64, len(x)-1)
	for i := range caps {
		caps[i] = largest
		for _, w := range wants {
			if w.From <= x[i] && w.To >= x[i+1] {
				caps[i] = math.Min(caps[i], w.Size)
			}
		}
	}
	size := make([]float64, len(x))
	for i := range x {
		size[i] = largest
		for _, w := range wants {
			away := math.Max(0, math.Max(w.From-x[i], x[i]-w.To))
			size[i] = math.Min(size[i], w.Size+slope*away)
		}
	}
	p := &profile{fixed: fixed, x: x[:1:1], size: size[:1:1]}
	for i, c := range caps {
		// Cones from both ends below the cap: up to two more places, where one gives way to the next.
		a, b, width := size[i], size[i+1], x[i+1]-x[i]
		if slope > 0 {
			up, down := (c-a)/slope, width-(c-b)/slope
			if up > down { // they meet below the cap
				up = (width + (b-a)/slope) / 2
				down = up
			}
			for _, d := range []float64{up, down} {
				if at := x[i] + d; at > p.x[len(p.x)-1] && at < x[i+1] {
					p.x = append(p.x, at)
					p.size = append(p.size, math.Min(c, math.Min(a+slope*d, b+slope*(width-d))))
				}
			}
		}
		p.x = append(p.x, x[i+1])
		p.size = append(p.size, b)
	}
	p.cells = make([]float64, len(p.x))
	for i := 1; i < len(p.x); i++ {
		p.cells[i] = p.cells[i-1] + cellsAlong(p.x[i]-p.x[i-1], p.size[i-1], p.size[i])
	}
	return p
}

const (
	// Sizes are the same when they differ by less than evenSize of themselves: ln(1+d)/d is then 1 but for half of that,
	// far below the sameLine of a cell that decides how many there are.
	evenSize = 1e-9
	// Cells are even when their size changes by less than flatSlope of the way: expm1(slope·n)/slope is then n but for
	// slope·n/2 of it, some 1e-9 with a thousand cells.
	flatSlope = 1e-12
)

// cellsAlong is ∫ dx/h over a width with h linear from a to b: width·ln(b/a)/(b−a).
func cellsAlong(width, a, b float64) float64 {
	if d := (b - a) / a; math.Abs(d) > evenSize {
		return width / a * math.Log1p(d) / d
	}
	return width / a
}

// count is the number of cells from the first place to x; where is its inverse.
func (p *profile) count(x float64) float64 {
	i := stretchOf(p.x, x)
	share := (x - p.x[i]) / (p.x[i+1] - p.x[i])
	return p.cells[i] + cellsAlong(x-p.x[i], p.size[i], p.size[i]+share*(p.size[i+1]-p.size[i]))
}

func (p *profile) where(cells float64) float64 {
	i := stretchOf(p.cells, cells)
	n, a := cells-p.cells[i], p.size[i]
	slope := (p.size[i+1] - a) / (p.x[i+1] - p.x[i])
	if math.Abs(slope) > flatSlope {
		return p.x[i] + a*math.Expm1(slope*n)/slope
	}
	return p.x[i] + a*n
}

// stretchOf is the one of the stretches between ascending places that holds v.
func stretchOf(ascending []float64, v float64) int {
	i, found := slices.BinarySearch(ascending, v)
	if !found {
		i--
	}
	return min(max(i, 0), len(ascending)-2)
}
