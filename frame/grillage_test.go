package frame_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame"
)

// grillage is a square net of bars with side × side nodes, 50 mm apart, held up at its four corners. It returns the
// frame and the node in the middle.
func grillage(side int) (*frame.Frame, int) {
	const pitch = 50.
	f := &frame.Frame{}
	at := func(i, j int) int { return i*side + j }
	for i := range side {
		for j := range side {
			f.AddNode(r3.Vec{X: pitch * float64(i), Y: pitch * float64(j)})
		}
	}
	bar := func(a, b int) {
		f.AddMember(
			frame.Member{
				Ends:    [2]int{a, b},
				Up:      axisZ,
				Section: beam.Section{A: 400, Iy: 13333, Iz: 13333, J: 22492},
				Made:    aluminium,
				Source:  "grillage",
			},
		)
	}
	for i := range side {
		for j := range side {
			if i+1 < side {
				bar(at(i, j), at(i+1, j))
			}
			if j+1 < side {
				bar(at(i, j), at(i, j+1))
			}
		}
	}
	hold(f, at(0, 0), "012")
	hold(f, at(side-1, 0), "12")
	hold(f, at(0, side-1), "2")
	hold(f, at(side-1, side-1), "2")
	return f, at(side/2, side/2)
}

// A quarter of the load at each corner, and the same movement from all four sides.
func TestGrillageOfTheBenchmarks(t *testing.T) {
	f, middle := grillage(9)
	s := solve(t, f, push(middle, axisZ, -400))
	for _, constraint := range []int{2, 4, 5, 6} { // the vertical ones, in the order of hold
		require.InDelta(t, 100, s.Reaction(constraint), 1e-8)
	}
	for _, pair := range [][2]int{{middle - 1, middle + 1}, {middle - 9, middle + 9}, {middle - 1, middle - 9}} {
		require.InDelta(t, s.U[6*pair[0]+2], s.U[6*pair[1]+2], 1e-9)
	}
	require.Negative(t, s.U[6*middle+2])
}

var grillageSides = []int{8, 16, 31, 46} // 31: 1860 members

// Factor is assembly, ordering and factorisation.
func BenchmarkFactor(b *testing.B) {
	for _, side := range grillageSides {
		f, _ := grillage(side)
		b.Run(fmt.Sprintf("members=%d", 2*side*(side-1)), func(b *testing.B) {
			b.ReportAllocs()
			var system *frame.System
			var err error
			for b.Loop() {
				if system, err = f.Factor(); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(system.Unknowns()), "unknowns")
		})
	}
}

func BenchmarkSolve(b *testing.B) {
	for _, side := range grillageSides {
		f, middle := grillage(side)
		system, err := f.Factor()
		if err != nil {
			b.Fatal(err)
		}
		load := push(middle, axisZ, -400)
		b.Run(fmt.Sprintf("members=%d", 2*side*(side-1)), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := system.Solve(load); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// A strip's stretches of one length share a matrix; the rest is assembly and factorisation.
func BenchmarkStrip(b *testing.B) {
	for _, stretches := range []int{10, 40, 160} {
		b.Run(fmt.Sprintf("stretches=%d", stretches), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				s := newSheet(400, 200, 20, aluminium, stretches)
				s.support(start, clamp)
				s.inPlane()
				if _, err := s.Factor(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
