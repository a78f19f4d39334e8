package contour

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// sampled is a function over a square from −1 to 1 with n places a side.
func sampled(n int, f func(x, y float64) float64) Lattice {
	l := Lattice{}
	for i := range n {
		at := -1 + 2*float64(i)/float64(n-1)
		l.X, l.Y = append(l.X, at), append(l.Y, at)
	}
	for _, x := range l.X {
		row := []float64{}
		for _, y := range l.Y {
			row = append(row, f(x, y))
		}
		l.V = append(l.V, row)
	}
	return l
}

// TestContourOfCone: the line of a cone at half its height is a closed circle of half its radius.
func TestContourOfCone(t *testing.T) {
	lines := sampled(41, math.Hypot).Lines(0.5)
	require.Len(t, lines, 1)
	line := lines[0]
	require.Equal(t, line[0], line[len(line)-1], "closed")
	around := 0.0
	for i, s := range line {
		require.InDelta(t, 0.5, math.Hypot(s.X, s.Y), 1e-3)
		if i > 0 {
			around += math.Hypot(s.X-line[i-1].X, s.Y-line[i-1].Y)
		}
	}
	require.InDelta(t, math.Pi, around, 0.01)
}

func TestContourOfPlane(t *testing.T) {
	l := sampled(11, func(x, y float64) float64 { return x + 2*y })
	lines := l.Lines(0.7)
	require.Len(t, lines, 1, "open, from border to border")
	for _, s := range lines[0] {
		require.InDelta(t, 0.7, s.X+2*s.Y, 1e-12)
	}
	require.Empty(t, l.Lines(4))
	saddle := sampled(2, func(x, y float64) float64 { return x * y })
	require.Len(t, saddle.Lines(0.1), 2, "a saddle has two pieces")
	l.V[5][5] = math.NaN()
	require.NotEmpty(t, l.Lines(0))
	for _, line := range l.Lines(0) {
		for _, s := range line {
			require.False(t, math.IsNaN(s.X+s.Y))
		}
	}
}

// TestContoursEndAtBorders: a line ends where the Lattice ends, or nowhere; and every edge is crossed by one line at
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
					if next[0] < n && next[1] < n && (l.V[i][k] >= value) != (l.V[next[0]][next[1]] >= value) {
						crossings++
					}
				}
			}
		}
		for _, line := range l.Lines(value) {
			closed := len(line) > 1 && line[0] == line[len(line)-1]
			crossings -= len(line)
			if closed {
				crossings++
				continue
			}
			for _, s := range []Point{line[0], line[len(line)-1]} {
				require.True(t, math.Abs(s.X) == 1 || math.Abs(s.Y) == 1, "%v", s)
			}
		}
		require.Zero(t, crossings)
	})
}

// areaOf is the area of a polygon (the shoelace formula).
func areaOf(round []Point) (area float64) {
	for i, a := range round {
		b := round[(i+1)%len(round)]
		area += (a.X*b.Y - b.X*a.Y) / 2
	}
	return area
}

// TestAbove: what is above a value fills the square on its side of the line: of a plane the closed form, of a cone the
// square less a disc, and above and below together everything, saddles and all.
func TestAbove(t *testing.T) {
	over := func(l Lattice, value float64) (area float64) {
		for i := range len(l.X) - 1 {
			for k := range len(l.Y) - 1 {
				for _, part := range l.Above(i, k, value) {
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
	plane.V[5][5] = math.NaN()
	require.InDelta(t, 4-0.16, over(plane, math.Inf(-1)), 1e-12, "four cells miss a corner")
	rapid.Check(t, func(r *rapid.T) {
		n := rapid.IntRange(2, 7).Draw(r, "n")
		value := rapid.Float64Range(-0.9, 0.9).Draw(r, "value")
		apart := rapid.Float64Range(-1, 1).Filter(func(v float64) bool { return math.Abs(v-value) > 1e-6 })
		l := sampled(n, func(x, y float64) float64 { return apart.Draw(r, "v") })
		for i := range n - 1 {
			for k := range n - 1 {
				if _, middle, _ := l.Cell(i, k); math.Abs(middle-value) < 1e-9 {
					r.Skip("a saddle that is as much above as below")
				}
			}
		}
		turned := Lattice{X: l.X, Y: l.Y}
		for _, row := range l.V {
			var other []float64
			for _, v := range row {
				other = append(other, -v)
			}
			turned.V = append(turned.V, other)
		}
		require.InDelta(r, 4, over(l, value)+over(turned, -value), 1e-9)
	})
}

// Between the corners of a cell a value is read along straight lines; a plane comes out as it is.
func TestValueAtAPoint(t *testing.T) {
	l := sampled(11, func(x, y float64) float64 { return x + 2*y })
	rapid.Check(t, func(r *rapid.T) {
		x, y := rapid.Float64Range(-1, 1).Draw(r, "x"), rapid.Float64Range(-1, 1).Draw(r, "y")
		require.InDelta(r, x+2*y, l.At(x, y), 1e-12)
	})
	require.InDelta(t, 3, l.At(1, 1), 1e-12)
	for _, outside := range []Point{{-1.1, 0}, {1.1, 0}, {0, 1.1}, {0, -1.1}} {
		require.True(t, math.IsNaN(l.At(outside.X, outside.Y)), outside)
	}
	l.V[5][5] = math.NaN()
	require.True(t, math.IsNaN(l.At(0.05, 0.05)), "a corner has no value")
}
