package svgpath

import (
	"fmt"
	"math"
)

// Loop is one subpath as corners, which are not repeated where it closes.
type Loop struct {
	Corners [][2]float64
	Offsets []int // by corner: of the command that leads to it, in runes from the start of the text
	Closed  bool  // by Z, or because it ends where it begins
}

// Size returns the diagonal of the box round the path.
func (p *Path) Size() float64 {
	low, high := point{math.Inf(1), math.Inf(1)}, point{math.Inf(-1), math.Inf(-1)}
	put := func(at point) {
		for k := range at {
			low[k], high[k] = min(low[k], at[k]), max(high[k], at[k])
		}
	}
	for _, s := range p.subpaths {
		pen := s.start
		put(pen)
		for _, g := range s.segments {
			g.curve.box(pen, g.end, put)
			put(g.end)
			pen = g.end
		}
	}
	return math.Hypot(high[0]-low[0], high[1]-low[1])
}

// Flatten returns the subpaths with curves as chords that lie within a tolerance of them, in the path's unit; moves
// without a line are left out. It panics unless the tolerance is above zero. The error is an [*Error]: of a subpath of
// more than most corners.
func (p *Path) Flatten(tolerance float64, most int) ([]Loop, error) {
	if !(tolerance > 0) {
		panic(fmt.Sprintf("svgpath: tolerance %g", tolerance))
	}
	var loops []Loop
	for _, s := range p.subpaths {
		if s.segments == nil {
			continue
		}
		l := Loop{Corners: []point{s.start}, Offsets: []int{s.offset}, Closed: s.closed}
		for _, g := range s.segments {
			n := g.curve.chords(tolerance)
			if len(l.Corners)+n > most+1 { // the last one may be the first again
				return nil, &Error{g.offset, fmt.Sprintf("too many corners: more than %d, with curves as chords", most),
					"draw it with fewer curves"}
			}
			for i := 1; i < n; i++ {
				l.put(g.curve.at(float64(i)/float64(n)), g.offset)
			}
			l.put(g.end, g.offset)
		}
		if last := len(l.Corners) - 1; last > 0 && near(l.Corners[0], l.Corners[last], tolerance) {
			l.Corners, l.Offsets, l.Closed = l.Corners[:last], l.Offsets[:last], true
		}
		loops = append(loops, l)
	}
	return loops, nil
}

func (l *Loop) put(at point, offset int) {
	l.Corners, l.Offsets = append(l.Corners, at), append(l.Offsets, offset)
}

func near(a, b point, tolerance float64) bool { return math.Hypot(a[0]-b[0], a[1]-b[1]) <= tolerance }
