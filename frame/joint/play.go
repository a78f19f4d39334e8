package joint

import "math"

// Play is how far a part can move on its screws where its joint slips: its holes are wider than they are.
type Play struct {
	Shift float64 // each way along the face, from screws in the middle of their holes, mm
	// Turn is how far it can turn each way about the middle of the smallest circle round its screws, rad; 0 for screws in
	// one place, about which nothing but friction holds it.
	Turn float64
}

// HolePlay returns the play of screws of that diameter, mm, in through holes; the other part is tapped. No screw may
// move further than half the difference g, so the part turns by 2 asin(g/2r), r being the radius of the smallest circle
// round the screws.
func HolePlay(places [][2]float64, hole, screw float64) Play {
	mustNotBeNegative("play of the hole", hole-screw)
	p := Play{Shift: (hole - screw) / 2}
	if r := enclosing(places); r > 0 {
		p.Turn = 2 * math.Asin(math.Min(1, p.Shift/(2*r)))
	}
	return p
}

// circle is a circle in the face.
type circle struct {
	middle [2]float64
	radius float64
}

// holds says that a place lies in the circle, to rounding.
func (c circle) holds(p [2]float64) bool {
	return math.Hypot(p[0]-c.middle[0], p[1]-c.middle[1]) <= c.radius*(1+roomRounding)
}

// enclosing returns the radius of the smallest circle round places. The circle grows place by place: one that it does
// not hold yet lies on the rim of the next (Welzl 1991, without the shuffling; screws stand in grids, where the corners
// come early or late and it makes no odds).
func enclosing(places [][2]float64) float64 {
	var c circle
	for i, p := range places {
		if i > 0 && c.holds(p) {
			continue
		}
		c = circle{middle: p}
		for j, q := range places[:i] {
			if c.holds(q) {
				continue
			}
			c = across(p, q)
			for _, o := range places[:j] {
				if !c.holds(o) {
					c = through(p, q, o)
				}
			}
		}
	}
	return c.radius
}

// across is the circle over two places.
func across(p, q [2]float64) circle {
	return circle{[2]float64{(p[0] + q[0]) / 2, (p[1] + q[1]) / 2}, math.Hypot(p[0]-q[0], p[1]-q[1]) / 2}
}

// through is the circle through three places; of three on one line, that over the two furthest apart.
func through(p, q, o [2]float64) circle {
	ax, ay, bx, by := q[0]-p[0], q[1]-p[1], o[0]-p[0], o[1]-p[1]
	d := 2 * (ax*by - ay*bx)
	a, b := ax*ax+ay*ay, bx*bx+by*by
	if math.Abs(d) <= roomRounding*(a+b) {
		widest := across(p, q)
		for _, c := range []circle{across(p, o), across(q, o)} {
			if c.radius > widest.radius {
				widest = c
			}
		}
		return widest
	}
	x, y := (by*a-ay*b)/d, (ax*b-bx*a)/d
	return circle{[2]float64{p[0] + x, p[1] + y}, math.Hypot(x, y)}
}
