package beam

import (
	"errors"
	"fmt"
	"math"
)

// touchTolerance is how near, as a part of the size of the outline, two places are taken to be
// one: far above rounding (1e-16), far below any dimension of a part.
const touchTolerance = 1e-9

// OutlineError is what is wrong with an outline or one of its holes.
type OutlineError struct {
	Loop int        // 0: the outline; from 1: a hole, in the order given
	At   [2]float64 // a corner where it is seen
	What string     // "it crosses or touches itself"
	seen string     // the places, in words
}

// Error returns which loop it is, what is wrong, and where.
func (e *OutlineError) Error() string { return loopName(e.Loop) + ": " + e.What + e.seen }

// cleanLoop returns a loop without repeated corners and without corners on a straight line. size
// is that of the whole outline. It returns an error for a loop that encloses nothing.
func cleanLoop(loop []point, size float64) ([]point, error) {
	for _, p := range loop {
		if !finite(p[0]) || !finite(p[1]) {
			return nil, fmt.Errorf("corner (%g, %g) is not a place", p[0], p[1])
		}
	}
	kept := append([]point(nil), loop...)
	for changed := true; changed; {
		changed = false
		for i := 0; i < len(kept) && len(kept) > 2; i++ {
			n := len(kept)
			before, at, after := kept[(i+n-1)%n], kept[i], kept[(i+1)%n]
			straight := math.Abs(cross(before, at, after)) <= touchTolerance*distance(before, at)*distance(at, after) &&
				(at[0]-before[0])*(after[0]-at[0])+(at[1]-before[1])*(after[1]-at[1]) >= 0
			if distance(at, after) <= touchTolerance*size || straight {
				kept = append(kept[:i], kept[i+1:]...)
				changed = true
				i--
			}
		}
	}
	if len(kept) < 3 || !(math.Abs(loopArea(kept)) > touchTolerance*size*size) {
		return nil, errors.New("it encloses no area")
	}
	return kept, nil
}

// loopArea is the area a loop encloses, negative if it runs clockwise.
func loopArea(loop []point) float64 {
	area := 0.0
	for i, p := range loop {
		area += cross(loop[0], p, loop[(i+1)%len(loop)]) / 2
	}
	return area
}

// reversed returns the loop the other way round.
func reversed(loop []point) []point {
	r := make([]point, len(loop))
	for i, p := range loop {
		r[len(loop)-1-i] = p
	}
	return r
}

// extent returns the lowest and the highest coordinates.
func extent(loop []point) (low, high point) {
	low, high = loop[0], loop[0]
	for _, p := range loop {
		for k := range 2 {
			low[k], high[k] = math.Min(low[k], p[k]), math.Max(high[k], p[k])
		}
	}
	return low, high
}

// CleanOutline checks an outline with holes, mm, and returns it as loops about the same origin: the
// outer one anticlockwise, holes clockwise, without corners that repeat one or lie on a straight
// side. The error is an [*OutlineError] where a corner shows what is wrong.
func CleanOutline(outer []point, holes [][]point) ([][]point, error) {
	if len(outer) < 3 {
		return nil, fmt.Errorf("outline has %d corners, needs 3", len(outer))
	}
	for _, p := range outer {
		if !finite(p[0]) || !finite(p[1]) {
			return nil, fmt.Errorf("outline: corner (%g, %g) is not a place", p[0], p[1])
		}
	}
	low, high := extent(outer)
	size := distance(low, high)
	if !finite(size) || size <= 0 {
		return nil, errors.New("outline: it encloses no area")
	}
	var loops [][]point
	for i, raw := range append([][]point{outer}, holes...) {
		loop, err := cleanLoop(raw, size)
		if err != nil {
			return nil, &OutlineError{Loop: i, At: raw[0], What: err.Error()}
		}
		if (loopArea(loop) > 0) != (i == 0) {
			loop = reversed(loop)
		}
		if err := checkSimple(loop); err != nil {
			err.Loop = i
			return nil, err
		}
		loops = append(loops, loop)
	}
	for i, a := range loops {
		for j, b := range loops[:i] {
			if loopsMeet(a, b) {
				return nil, &OutlineError{Loop: i, At: a[0], What: "it meets " + theLoop(j)}
			}
			inside := Encloses(b, a[0])
			if j == 0 && !inside {
				return nil, &OutlineError{Loop: i, At: a[0], What: "it lies outside the outline"}
			}
			if j > 0 && (inside || Encloses(a, b[0])) {
				return nil, &OutlineError{Loop: i, At: a[0], What: "it and " + theLoop(j) + " lie in one another"}
			}
		}
	}
	return loops, nil
}

// loopName names a loop for people.
func loopName(i int) string {
	if i == 0 {
		return "outline"
	}
	return fmt.Sprintf("hole %d", i)
}

// checkSimple returns an error that names the first two sides that meet though they are not
// neighbours, or a corner that folds back on itself.
func checkSimple(loop []point) *OutlineError {
	n := len(loop)
	for i := range n {
		a, b, c := loop[i], loop[(i+1)%n], loop[(i+2)%n]
		folds := math.Abs(cross(a, b, c)) <= touchTolerance*distance(a, b)*distance(b, c)
		if folds { // cleanLoop has taken out straight corners
			return &OutlineError{At: b, What: "it folds back on itself", seen: fmt.Sprintf(" at (%g, %g)", b[0], b[1])}
		}
		for j := i + 2; j < n; j++ {
			if i == 0 && j == n-1 {
				continue
			}
			if segmentsMeet(a, b, loop[j], loop[(j+1)%n]) {
				return &OutlineError{At: b, What: "it crosses or touches itself",
					seen: fmt.Sprintf(": side (%g, %g)-(%g, %g) meets side (%g, %g)-(%g, %g)",
						a[0], a[1], b[0], b[1], loop[j][0], loop[j][1], loop[(j+1)%n][0], loop[(j+1)%n][1])}
			}
		}
	}
	return nil
}

// theLoop names a loop within a sentence.
func theLoop(i int) string {
	if i == 0 {
		return "the outline"
	}
	return loopName(i)
}

func loopsMeet(a, b []point) bool {
	for i := range a {
		for j := range b {
			if segmentsMeet(a[i], a[(i+1)%len(a)], b[j], b[(j+1)%len(b)]) {
				return true
			}
		}
	}
	return false
}

// segmentsMeet tells whether a-b and c-d cross or touch.
func segmentsMeet(a, b, c, d point) bool {
	if math.Max(a[0], b[0]) < math.Min(c[0], d[0]) || math.Max(c[0], d[0]) < math.Min(a[0], b[0]) ||
		math.Max(a[1], b[1]) < math.Min(c[1], d[1]) || math.Max(c[1], d[1]) < math.Min(a[1], b[1]) {
		return false
	}
	if cross(a, b, c)*cross(a, b, d) < 0 && cross(c, d, a)*cross(c, d, b) < 0 {
		return true
	}
	near := touchTolerance * math.Max(distance(a, b), distance(c, d))
	return distanceToSegment(a, c, d) <= near || distanceToSegment(b, c, d) <= near ||
		distanceToSegment(c, a, b) <= near || distanceToSegment(d, a, b) <= near
}

// Encloses tells by the even-odd rule whether a closed loop of corners goes round p, which lies on no side of it.
func Encloses(loop [][2]float64, p [2]float64) bool {
	inside := false
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		if (a[1] > p[1]) != (b[1] > p[1]) && p[0] < a[0]+(p[1]-a[1])/(b[1]-a[1])*(b[0]-a[0]) {
			inside = !inside
		}
	}
	return inside
}

// areaMoments returns A, ∫y, ∫z, ∫y², ∫z², ∫yz over the inside of loops that run with the
// material on their left, by Green's theorem; exact for polygons.
func areaMoments(loops [][]point) (a, sy, sz, syy, szz, syz float64) {
	for _, loop := range loops {
		for i, p := range loop {
			q := loop[(i+1)%len(loop)]
			w := p[0]*q[1] - q[0]*p[1]
			a += w / 2
			sy += w * (p[0] + q[0]) / 6
			sz += w * (p[1] + q[1]) / 6
			syy += w * (p[0]*p[0] + p[0]*q[0] + q[0]*q[0]) / 12
			szz += w * (p[1]*p[1] + p[1]*q[1] + q[1]*q[1]) / 12
			syz += w * (2*p[0]*p[1] + p[0]*q[1] + q[0]*p[1] + 2*q[0]*q[1]) / 24
		}
	}
	return
}

// shifted returns the loops moved by (−by[0], −by[1]) and scaled.
func shifted(loops [][]point, by point, scale float64) [][]point {
	out := make([][]point, len(loops))
	for i, loop := range loops {
		for _, p := range loop {
			out[i] = append(out[i], point{(p[0] - by[0]) * scale, (p[1] - by[1]) * scale})
		}
	}
	return out
}
