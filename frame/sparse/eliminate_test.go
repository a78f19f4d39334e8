package sparse

import (
	"math"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"
)

// Small enough for a race run, large enough to be shared out: several subtrees, several panels at the top.
var sharedShapes = []shape{
	{"frame 7x7x7", [3]int{7, 7, 7}, 6, alongAxes},
	{"grillage 40x40", [3]int{40, 40, 1}, 6, alongAxes},
	{"bricks 20x20x3", [3]int{20, 20, 3}, 3, allAround},
	{"twenty-node bricks 6x6x3", [3]int{6, 6, 3}, 3, serendip},
}

// on runs do on so many goroutines.
func on(threads int, do func()) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(threads))
	do()
}

func TestSameBytesOnAnyNumberOfGoroutines(t *testing.T) {
	for _, s := range sharedShapes {
		t.Run(s.name, func(t *testing.T) {
			_, m := s.built()
			var one, other *Factor
			var err error
			on(1, func() {
				one, err = m.Factorize()
				require.NoError(t, err)
			})
			for _, threads := range []int{1, 2, 3, 5} {
				on(threads, func() {
					other, err = m.Factorize()
					require.NoError(t, err)
				})
				require.True(t, sameBytes(one.store, other.store), "%d goroutines", threads)
			}
		})
	}
}

func sameBytes(a, b []float64) bool {
	for i := range a {
		if math.Float64bits(a[i]) != math.Float64bits(b[i]) {
			return false
		}
	}
	return len(a) == len(b)
}

// Random elements of all shapes: K·x = b by multiplying back, with one right-hand side and many.
func TestShapesAreSolved(t *testing.T) {
	list := append([]shape{}, sharedShapes...)
	if !testing.Short() {
		list = append(list, shapes[0], shapes[3], shapes[5])
	}
	for _, s := range list {
		t.Run(s.name, func(t *testing.T) {
			p, m := s.built()
			n := p.n
			f, err := m.Factorize()
			require.NoError(t, err)
			const columns = 3
			b, x, back := make([]float64, n*columns), make([]float64, n*columns), make([]float64, n)
			for i := range b {
				b[i] = float64(i%13 - 6)
			}
			f.SolveManyTo(x, b, columns)
			one := make([]float64, n)
			f.SolveTo(one, b[:n])
			for j := range columns {
				m.MulTo(back, x[j*n:(j+1)*n])
				for i := range back {
					require.InDelta(t, b[j*n+i], back[i], residualTolerance)
				}
			}
			require.InDeltaSlice(t, one, x[:n], residualTolerance)
		})
	}
}

// Entries of K, x and b are of the size of 10; sums of a few hundred terms.
const residualTolerance = 1e-11

// Without ground the structure is loose as a whole; the same unknown is named on any number of goroutines.
func TestLooseStructureOnAnyNumberOfGoroutines(t *testing.T) {
	coupled := grid(40, 40)
	const size = 6
	m := NewPattern(even(1600, size), coupled).NewMatrix()
	for _, pair := range coupled {
		for u := range size {
			i, j := pair[0]*size+u, pair[1]*size+u
			m.Add(i, i, 1)
			m.Add(j, j, 1)
			m.Add(i, j, -1)
		}
	}
	var first *LooseError
	for _, threads := range []int{1, 2, 3} {
		on(threads, func() {
			_, err := m.Factorize()
			var loose *LooseError
			require.ErrorAs(t, err, &loose)
			if first == nil {
				first = loose
			}
			require.Equal(t, first, loose)
		})
	}
	// All nodes move alike in one of the six unknowns.
	for i, v := range first.Motion {
		if i%size == first.Unknown%size {
			require.InDelta(t, 1, v, 1e-9)
		} else {
			require.InDelta(t, 0, v, 1e-9)
		}
	}
}

func TestEachVisitsAll(t *testing.T) {
	for _, threads := range []int{1, 2, 7} {
		seen := make([]int, 100)
		each(threads, len(seen), func(_, i int) { seen[i]++ })
		for _, v := range seen {
			require.Equal(t, 1, v)
		}
		each(threads, 0, func(_, _ int) { t.Error("called") })
	}
}
