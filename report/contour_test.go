package report

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// sampled is a function over a square from −1 to 1 with n places a side.
func sampled(n int, f func(x, y float64) float64) lattice {
	l := lattice{}
	for i := range n {
		at := -1 + 2*float64(i)/float64(n-1)
		l.x, l.y = append(l.x, at), append(l.y, at)
	}
	for _, x := range l.x {
		row := []float64{}
		for _, y := range l.y {
			row = append(row, f(x, y))
		}
		l.v = append(l.v, row)
	}
	return l
}

// TestContourOfCone: the line of a cone at half its height is a closed circle of half its radius.
func TestContourOfCone(t *testing.T) {
	lines := sampled(41, math.Hypot).contour(0.5)
	require.Len(t, lines, 1)
	line := lines[0]
	require.Equal(t, line[0], line[len(line)-1], "closed")
	around := 0.0
	for i, s := range line {
		require.InDelta(t, 0.5, math.Hypot(s.x, s.y), 1e-3)
		if i > 0 {
			around += math.Hypot(s.x-line[i-1].x, s.y-line[i-1].y)
		}
	}
	require.InDelta(t, math.Pi, around, 0.01)
}

func TestContourOfPlane(t *testing.T) {
	l := sampled(11, func(x, y float64) float64 { return x + 2*y })
	lines := l.contour(0.7)
	require.Len(t, lines, 1, "open, from border to border")
	for _, s := range lines[0] {
		require.InDelta(t, 0.7, s.x+2*s.y, 1e-12)
	}
	require.Empty(t, l.contour(4))
	saddle := sampled(2, func(x, y float64) float64 { return x * y })
	require.Len(t, saddle.contour(0.1), 2, "a saddle has two pieces")
	l.v[5][5] = math.NaN()
	require.NotEmpty(t, l.contour(0))
	for _, line := range l.contour(0) {
		for _, s := range line {
			require.False(t, math.IsNaN(s.x+s.y))
		}
	}
}

// TestContoursEndAtBorders: a line ends where the lattice ends, or nowhere; and every edge is crossed by one line at
// most.
func TestContoursEndAtBorders(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 7).Draw(t, "n")
		value := rapid.Float64Range(-0.9, 0.9).Draw(t, "value")
		// else crossings coincide
		apart := rapid.Float64Range(-1, 1).Filter(func(v float64) bool { return math.Abs(v-value) > 1e-6 })
		l := sampled(n, func(x, y float64) float64 { return apart.Draw(t, "v") })
		crossings := 0
		for i := range n {
			for k := range n {
				for _, next := range [][2]int{{i + 1, k}, {i, k + 1}} {
					if next[0] < n && next[1] < n && (l.v[i][k] >= value) != (l.v[next[0]][next[1]] >= value) {
						crossings++
					}
				}
			}
		}
		for _, line := range l.contour(value) {
			closed := len(line) > 1 && line[0] == line[len(line)-1]
			crossings -= len(line)
			if closed {
				crossings++
				continue
			}
			for _, s := range []planePoint{line[0], line[len(line)-1]} {
				require.True(t, math.Abs(s.x) == 1 || math.Abs(s.y) == 1, "%v", s)
			}
		}
		require.Zero(t, crossings)
	})
}

// areaOf is the area of a polygon (the shoelace formula).
func areaOf(round []planePoint) (area float64) {
	for i, a := range round {
		b := round[(i+1)%len(round)]
		area += (a.x*b.y - b.x*a.y) / 2
	}
	return area
}

// TestAbove: what is above a value fills the square on its side of the line: of a plane the closed form, of a cone the
// square less a disc, and above and below together everything, saddles and all.
func TestAbove(t *testing.T) {
	over := func(l lattice, value float64) (area float64) {
		for i := range len(l.x) - 1 {
			for k := range len(l.y) - 1 {
				for _, part := range l.above(i, k, value) {
					require.GreaterOrEqual(t, areaOf(part), 0.0, "round its inside; nothing when the line "+
						"touches a corner")
					area += areaOf(part)
				}
			}
		}
		return area
	}
	plane := sampled(11, func(x, y float64) float64 { return x + 2*y })
	require.InDelta(t, 2-0.7, over(plane, 0.7), 1e-12, "x + 2y = 0.7 cuts off 2 − 0.7 of the square of 4")
	require.InDelta(t, 4-math.Pi/4, over(sampled(81, math.Hypot), 0.5), 1e-3)
	require.InDelta(t, 4, over(plane, math.Inf(-1)), 1e-12)
	require.Zero(t, over(plane, 4))
	plane.v[5][5] = math.NaN()
	require.InDelta(t, 4-0.16, over(plane, math.Inf(-1)), 1e-12, "four cells miss a corner")
	rapid.Check(t, func(r *rapid.T) {
		n := rapid.IntRange(2, 7).Draw(r, "n")
		value := rapid.Float64Range(-0.9, 0.9).Draw(r, "value")
		apart := rapid.Float64Range(-1, 1).Filter(func(v float64) bool { return math.Abs(v-value) > 1e-6 })
		l := sampled(n, func(x, y float64) float64 { return apart.Draw(r, "v") })
		for i := range n - 1 {
			for k := range n - 1 {
				if _, middle, _ := l.cell(i, k); math.Abs(middle-value) < 1e-9 {
					r.Skip("a saddle that is as much above as below")
				}
			}
		}
		turned := lattice{x: l.x, y: l.y}
		for _, row := range l.v {
			var other []float64
			for _, v := range row {
				other = append(other, -v)
			}
			turned.v = append(turned.v, other)
		}
		require.InDelta(r, 4, over(l, value)+over(turned, -value), 1e-9)
	})
}
