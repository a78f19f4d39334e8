package svgpath

import "math"

// curve is a way from one place to another.
type curve interface {
	// box calls put with places whose bounding box is about that of the curve, or holds it.
	box(from, to point, put func(point))
	// chords is how many equal steps of its parameter leave it within a tolerance of straight lines.
	chords(tolerance float64) int
	// at is the place at a parameter between 0 and 1.
	at(t float64) point
}

// line is the straight way.
type line struct{}

func (line) box(point, point, func(point)) {}
func (line) chords(float64) int            { return 1 }
func (line) at(float64) point              { panic("svgpath: a line has no places between its ends") }

// bezier is a Bézier curve of any degree by its control points, both ends among them.
type bezier []point

func (b bezier) box(_, _ point, put func(point)) {
	for _, p := range b {
		put(p)
	}
}

// chords follows Wang's bound: with second differences of at most M, n = √(d(d−1)/8·M/ε) steps of a curve of degree d are
// within ε of their chords (Goldman, Pyramid Algorithms, 2003, by the second derivative d(d−1)·M).
func (b bezier) chords(tolerance float64) int {
	most := 0.0
	for i := 2; i < len(b); i++ {
		most = max(most, math.Hypot(b[i-2][0]-2*b[i-1][0]+b[i][0], b[i-2][1]-2*b[i-1][1]+b[i][1]))
	}
	d := float64(len(b) - 1)
	return int(max(1, math.Ceil(math.Sqrt(d*(d-1)/8*most/tolerance))))
}

// at is de Casteljau's corner cutting.
func (b bezier) at(t float64) point {
	p := append(bezier(nil), b...)
	for n := len(p) - 1; n > 0; n-- {
		for i := range n {
			p[i] = point{p[i][0]*(1-t) + p[i+1][0]*t, p[i][1]*(1-t) + p[i+1][1]*t}
		}
	}
	return p[0]
}

// arc is part of an ellipse: its place at the angle θ is centre + R(turn)·(rx·cos θ, ry·sin θ).
type arc struct {
	centre       point
	rx, ry, turn float64
	from, sweep  float64 // θ at its start, and by how much it grows
}

// arcTo is the elliptical arc of a path, from its ends to its centre as of SVG 2, appendix B.2.4: radii too small to reach
// are made larger, and without a radius it is a line; so it is where one radius is so small beside the other that the
// larger one would grow out of all bounds.
func arcTo(from, to point, rx, ry, turn float64, large, positive bool) curve {
	rx, ry = math.Abs(rx), math.Abs(ry)
	if rx == 0 || ry == 0 || from == to {
		return line{}
	}
	sin, cos := math.Sincos(turn)
	hx, hy := (from[0]-to[0])/2, (from[1]-to[1])/2
	x, y := (cos*hx+sin*hy)/rx, (cos*hy-sin*hx)/ry // on the unit circle, from the middle of the chord
	short := x*x + y*y
	if grow := math.Hypot(x, y); !(grow*max(rx, ry) <= mostSize) {
		return line{}
	} else if grow > 1 {
		rx, ry, x, y, short = rx*grow, ry*grow, x/grow, y/grow, 1
	}
	away := math.Sqrt(max(0, 1/short-1))
	if large == positive {
		away = -away
	}
	cx, cy := away*y, -away*x // the centre on the unit circle
	a := arc{
		centre: point{
			cos*rx*cx - sin*ry*cy + (from[0]+to[0])/2,
			sin*rx*cx + cos*ry*cy + (from[1]+to[1])/2,
		},
		rx: rx, ry: ry, turn: turn, from: math.Atan2(y-cy, x-cx),
	}
	a.sweep = math.Atan2(-y-cy, -x-cx) - a.from
	if positive && a.sweep < 0 {
		a.sweep += 2 * math.Pi
	}
	if !positive && a.sweep > 0 {
		a.sweep -= 2 * math.Pi
	}
	return a
}

func (a arc) box(_, _ point, put func(point)) {
	const steps = 64
	for i := range steps + 1 {
		put(a.at(float64(i) / steps))
	}
}

// chords follows the sagitta of a step Δθ at the larger radius, r·(1 − cos(Δθ/2)) = 2r·sin²(Δθ/4).
func (a arc) chords(tolerance float64) int {
	step := 4 * math.Asin(math.Sqrt(min(1, tolerance/max(a.rx, a.ry))/2))
	return int(max(1, math.Ceil(math.Abs(a.sweep)/step)))
}

func (a arc) at(t float64) point {
	sin, cos := math.Sincos(a.from + t*a.sweep)
	s, c := math.Sincos(a.turn)
	return point{a.centre[0] + c*a.rx*cos - s*a.ry*sin, a.centre[1] + s*a.rx*cos + c*a.ry*sin}
}
