//go:build goexperiment.simd && amd64

package sparse

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// kernelTolerance is what rounding may leave between kernels, as a part of the largest number.
const kernelTolerance = 1e-12

// with runs do with a kernel, on registers of so many numbers.
func with(k kernel, length int, do func()) {
	defer func(k kernel, length int) { arithmetic, vectorLength = k, length }(arithmetic, vectorLength)
	arithmetic, vectorLength = k, length
	do()
}

// onVectors runs a test on registers of all lengths that the processor has.
func onVectors(t *testing.T, do func(t *testing.T)) {
	if vectorLength == 0 {
		t.Skip("the processor lacks AVX2")
	}
	for length := 4; length <= vectorLength; length *= 2 {
		t.Run(fmt.Sprint(length), func(t *testing.T) { with(vectors, length, func() { do(t) }) })
	}
}

func random(r *rand.Rand, n int) []float64 {
	s := make([]float64, n)
	for i := range s {
		s[i] = r.NormFloat64()
	}
	return s
}

// requireClose compares with the largest number.
func requireClose(t *testing.T, want, got []float64, format string, args ...any) {
	t.Helper()
	largest, worst := 0.0, 0.0
	for i := range want {
		largest = math.Max(largest, math.Abs(want[i]))
		worst = math.Max(worst, math.Abs(got[i]-want[i])) // NaN stays
	}
	if !(worst <= kernelTolerance*largest) {
		t.Fatalf("%g apart of %g: "+format, append([]any{worst, largest}, args...)...)
	}
}

var awkward = []int{1, 2, 3, 4, 5, 7, 8, 12, 15, 16, 17, 19, 31, 32, 33, 47, 48, 63, 64}

// Products of rows and columns around the edges of tiles, some rows left alone, taken off a triangle and a panel. What
// lies before the first row keeps its bytes.
func TestKernelsSubtractAlike(t *testing.T) {
	onVectors(t, func(t *testing.T) {
		r := rand.New(rand.NewPCG(1, 2))
		check := func(p products, from, rows int) {
			p.rows = random(r, rows*p.width)
			want := random(r, p.at(rows))
			got := slices.Clone(want)
			p.target = want
			subtractPlain(p, from, rows)
			p.target = got
			subtractTiles(p, from, rows)
			requireClose(t, want, got, "%d rows from %d, %d columns, width %d", rows, from, p.columns, p.width)
			require.True(t, sameBytes(want[:p.at(from)], got[:p.at(from)]))
		}
		for _, width := range []int{1, 2, 3, 4, 7, 16, 33, 64} {
			for _, rows := range append([]int{65, 97, 131}, awkward...) {
				for _, from := range []int{0, 1, 4, 6, 17, 64} {
					if from >= rows {
						break
					}
					check(products{width: width, columns: rows}, from, rows)
					check(products{width: width, columns: rows, fresh: true}, from, rows)
					for _, columns := range []int{1, 3, 16, 18, 64} {
						check(products{width: width, columns: min(columns, rows), stride: columns}, from, rows)
					}
				}
			}
		}
	})
}

// panelOf is a panel of a random matrix whose diagonal outweighs the rest, with rows below.
func panelOf(r *rand.Rand, width, below int) []float64 {
	p := random(r, (width+below)*width)
	for j := range width {
		p[j*width+j] = 4 * float64(width+1)
	}
	return p
}

func TestKernelsEliminateAlike(t *testing.T) {
	onVectors(t, func(t *testing.T) {
		r := rand.New(rand.NewPCG(3, 4))
		for _, width := range awkward {
			floor := make([]float64, width)
			for _, below := range append([]int{65}, awkward...) {
				want := panelOf(r, width, below)
				got := slices.Clone(want)
				require.Equal(t, -1, pivotsPlain(want, width, floor))
				require.Equal(t, -1, pivotsOfStrips(got, width, floor))
				requireClose(t, want, got, "pivots of width %d", width)
				copy(got, want)
				at := width * width
				substitutePlain(want[at:], want, below, width)
				substituteStrips(got[at:], got, below, width)
				requireClose(t, want, got, "%d rows of width %d", below, width)
			}
		}
	})
}

func TestKernelsStopAtTheSamePivot(t *testing.T) {
	onVectors(t, func(t *testing.T) {
		r := rand.New(rand.NewPCG(5, 6))
		for _, width := range awkward {
			for j := range width {
				for _, bad := range []float64{0, -1, math.NaN()} {
					p := panelOf(r, width, 0)
					p[j*width+j] = bad
					floor := make([]float64, width)
					require.Equal(t, j, pivotsPlain(slices.Clone(p), width, floor))
					require.Equal(t, j, pivotsOfStrips(p, width, floor))
				}
			}
		}
	})
}

func TestKernelsFactorAlike(t *testing.T) {
	for _, s := range sharedShapes {
		t.Run(s.name, func(t *testing.T) {
			_, m := s.built()
			factor := func() []float64 {
				f, err := m.Factorize()
				require.NoError(t, err)
				return f.store
			}
			var want []float64
			with(plain, vectorLength, func() { want = factor() })
			onVectors(t, func(t *testing.T) {
				got := factor()
				requireClose(t, want, got, "factor")
				require.False(t, sameBytes(want, got), "the same kernel twice") // sums are in another order
			})
		})
	}
}

// Results do not depend on the length of registers.
func TestVectorsOfAnyLengthFactorAlike(t *testing.T) {
	if vectorLength < 8 {
		t.Skip("the processor has one length")
	}
	_, m := sharedShapes[3].built()
	var stores [2][]float64
	for i := range stores {
		with(vectors, 4<<i, func() {
			f, err := m.Factorize()
			require.NoError(t, err)
			stores[i] = f.store
		})
	}
	require.True(t, sameBytes(stores[0], stores[1]))
}

// compare factors with the plain kernel and with vectors in turn, so that both see the same neighbours, and reports the
// rates of both and how many times the plain one takes as long.
func compare(b *testing.B, m *Matrix) {
	for length := 4; length <= vectorLength; length *= 2 {
		b.Run(fmt.Sprintf("vectors of %d", length), func(b *testing.B) {
			timed := func(k kernel) (seconds float64) {
				with(k, length, func() {
					start := time.Now()
					_, err := m.Factorize()
					seconds = time.Since(start).Seconds()
					require.NoError(b, err)
				})
				return seconds
			}
			var slow, fast float64
			for b.Loop() {
				slow += timed(plain)
				fast += timed(vectors)
			}
			done := work(m) * float64(b.N) / 1e9
			b.ReportMetric(done/slow, "GFLOP/s-plain")
			b.ReportMetric(done/fast, "GFLOP/s-vectors")
			b.ReportMetric(slow/fast, "plain/vectors")
		})
	}
}

// One group of unknowns is one dense front.
func BenchmarkKernelsOnFront(b *testing.B) {
	for _, n := range []int{24, 60, 300, 1500} {
		m := NewPattern([]int{n}, nil).NewMatrix()
		for i := range n {
			for j := range i {
				m.Add(i, j, 1/float64(n))
			}
			m.Add(i, i, 1)
		}
		b.Run(fmt.Sprintf("n=%d", n), func(b *testing.B) { compare(b, m) })
	}
}

func BenchmarkKernelsOnShape(b *testing.B) {
	for _, s := range shapes {
		b.Run(s.name, func(b *testing.B) {
			_, m := s.built()
			compare(b, m)
		})
	}
}
