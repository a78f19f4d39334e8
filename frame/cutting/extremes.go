package cutting

import (
	"math"
	"slices"
)

// sample is the load at one rotation, radian.
type sample struct {
	at   float64
	load Load
}

const (
	// inset is how far inside a stretch its end samples stand, radian: clear of the rounding of angles, and far below
	// what moves a force by a millionth.
	inset = 1e-9
	// leastStretch is the shortest stretch looked at, radian. Shorter ones are moments at which one tooth leaves as
	// another enters, apart by rounding only.
	leastStretch = 1e-7
	// widestStep between samples, radian. A force within a stretch is a smooth function of period 2π made of its first
	// two harmonics, near enough; no peak hides between samples.
	widestStep = 3 * degree
	// closings is the number of parabolas laid through a peak. Each about squares the error.
	closings = 4
)

// bounds returns the rotations within a range at which an end of an edge enters or leaves the
// work, or a straight edge the air that run-out leaves it, with both ends of the range, ascending. Where an edge with a
// helix meets such air the force only bends a little.
func (c *Cut) bounds(from, to float64) []float64 {
	list := []float64{from, to}
	put := func(at float64) {
		// The first repetition at or after from.
		for at = from + oneTurn(at-from); at < to; at += 2 * math.Pi {
			list = append(list, at)
		}
	}
	lag := c.slices[len(c.slices)-1].high
	for j := range c.milling.Mill.Flutes {
		ahead := float64(j) * c.pitch
		if !c.straight {
			for _, phi := range [...]float64{c.entry, c.exit} {
				put(phi - ahead)
				put(phi + lag - ahead)
			}
			continue
		}
		teeth := c.slices[0].teeth
		for _, a := range teeth[j%len(teeth)] {
			put(a.from + lag/2 - ahead)
			put(a.to + lag/2 - ahead)
		}
	}
	slices.Sort(list)
	return list
}

// stretches samples the load over a range of rotations, one list a stretch without jump or kink.
func (c *Cut) stretches(from, to float64) [][]sample {
	b := c.bounds(from, to)
	var list [][]sample
	start := b[0]
	for _, end := range b[1:] {
		if end-start >= leastStretch {
			list = append(list, c.stretch(start, end))
		}
		start = end
	}
	if len(list) == 0 { // a range that is no longer than rounding
		list = append(list, c.stretch(from, to))
	}
	return list
}

// stretch samples one stretch, both ends and at least one place between.
func (c *Cut) stretch(start, end float64) []sample {
	n := max(2, int(math.Ceil((end-start)/widestStep)))
	list := make([]sample, n+1)
	for i := range list {
		at := start + inset + (end-start-2*inset)*float64(i)/float64(n)
		list[i] = sample{at, c.at(at)}
	}
	return list
}

// contends is how far below the greatest sample, as a share of all samples' range, another may stand that the greatest
// value could yet be next to: half a step from its sample a harmonic has fallen by (3°·π/180)²/8 of its size, the
// second one by four times that.
const contends = 0.01

// most returns where a measure is greatest: near the greatest of the samples that stand above their neighbours, or near
// one that is hardly less.
func (c *Cut) most(stretches [][]sample, measure func(Load) float64) sample {
	values := make([][]float64, len(stretches))
	greatest, least := math.Inf(-1), math.Inf(1)
	for i, stretch := range stretches {
		for _, s := range stretch {
			v := measure(s.load)
			values[i] = append(values[i], v)
			greatest, least = math.Max(greatest, v), math.Min(least, v)
		}
	}
	var best sample
	top := math.Inf(-1)
	for i, stretch := range stretches {
		for j, v := range values[i] {
			if v < greatest-contends*(greatest-least) || j > 0 && values[i][j-1] > v || j+1 < len(stretch) &&
				values[i][j+1] > v {
				continue
			}
			if s := c.closeIn(stretch, j, measure); measure(s.load) > top {
				best, top = s, measure(s.load)
			}
		}
	}
	return best
}

// closeIn lays parabolas through the sample and its neighbours until the peak is found.
func (c *Cut) closeIn(stretch []sample, i int, measure func(Load) float64) sample {
	best := stretch[i]
	// The middle is moved off an end, so that a peak just inside the end is seen too.
	mid := min(max(i, 1), len(stretch)-2)
	x := [3]float64{stretch[mid-1].at, stretch[mid].at, stretch[mid+1].at}
	y := [3]float64{measure(stretch[mid-1].load), measure(stretch[mid].load), measure(stretch[mid+1].load)}
	top := measure(best.load)
	for range closings {
		// The vertex of the parabola through three points (Newton's divided differences).
		s01 := (y[1] - y[0]) / (x[1] - x[0])
		s12 := (y[2] - y[1]) / (x[2] - x[1])
		bend := (s12 - s01) / (x[2] - x[0])
		if !(bend < 0) {
			break
		}
		v := (x[0]+x[1])/2 - s01/(2*bend)
		if !(v > x[0] && v < x[2]) || v == x[1] {
			break
		}
		load := c.at(v)
		value := measure(load)
		if value > top {
			best, top = sample{v, load}, value
		}
		// Keep the three points that stand around the best one.
		switch {
		case v < x[1] && value >= y[1]:
			x[1], x[2], y[1], y[2] = v, x[1], value, y[1]
		case v < x[1]:
			x[0], y[0] = v, value
		case value >= y[1]:
			x[0], x[1], y[0], y[1] = x[1], v, y[1], value
		default:
			x[2], y[2] = v, value
		}
	}
	return best
}
