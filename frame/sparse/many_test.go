package sparse

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// Solutions and compliances of more columns than go through together, on any number of goroutines.
func TestManyColumnsOnAnyNumberOfGoroutines(t *testing.T) {
	const columns = 2*columnsAtOnce + 3
	for _, s := range sharedShapes {
		t.Run(s.name, func(t *testing.T) {
			p, m := s.built()
			f, err := m.Factorize()
			require.NoError(t, err)
			terms := make([][]Term, columns)
			b := make([]float64, p.n*columns)
			for j := range terms {
				for i := range 1 + j%3 {
					term := Term{(j*j + 31*i) % p.n, 1 + float64(i)}
					terms[j] = append(terms[j], term)
					b[j*p.n+term.Unknown] += term.Factor
				}
			}
			var want [2][]float64
			for _, threads := range []int{1, 2, 3} {
				got := [2][]float64{make([]float64, len(b)), make([]float64, columns*columns)}
				on(threads, func() {
					f.SolveManyTo(got[0], b, columns)
					f.ComplianceTo(got[1], terms)
				})
				if want[0] == nil {
					want = got
				}
				for i := range got {
					require.True(t, sameBytes(want[i], got[i]), "%d goroutines", threads)
				}
			}
			x := make([]float64, p.n)
			for j := range columns {
				f.SolveTo(x, b[j*p.n:(j+1)*p.n])
				require.InDeltaSlice(t, x, want[0][j*p.n:(j+1)*p.n], solveTolerance)
				for k, list := range terms {
					sum := 0.0
					for _, term := range list {
						sum += term.Factor * x[term.Unknown]
					}
					require.InDelta(t, sum, want[1][k*columns+j], solveTolerance)
				}
			}
			// dst may be b itself.
			f.SolveManyTo(b, b, columns)
			require.True(t, sameBytes(want[0], b))
		})
	}
}

// What is wanted of a compliance is what the whole of it says, by groups of any size, on any number of goroutines.
func TestPartOfACompliance(t *testing.T) {
	for _, s := range sharedShapes {
		t.Run(s.name, func(t *testing.T) {
			p, m := s.built()
			f, err := m.Factorize()
			require.NoError(t, err)
			wanted := Wanted{Begin: []int{0, 1, 1, 60, 75}, With: [][]int{{0}, {0, 1}, {0, 2}, {0, 2}}}
			const columns = 75
			terms := make([][]Term, columns)
			for j := range terms {
				for i := range 1 + j%3 {
					terms[j] = append(terms[j], Term{(j*j + 31*i) % p.n, 1 + float64(i)})
				}
			}
			whole := make([]float64, columns*columns)
			f.ComplianceTo(whole, terms)
			var first *PartialCompliance
			for _, threads := range []int{1, 2, 3} {
				var c *PartialCompliance
				on(threads, func() { c = f.PartialCompliance(terms, wanted) })
				if first == nil {
					first = c
				}
				for g := range wanted.With {
					for h := range g + 1 {
						got := c.Between(g, h)
						require.True(t, sameBytes(first.Between(g, h), got), "%d goroutines", threads)
						if !slices.Contains(wanted.With[g], h) {
							require.Nil(t, got)
							continue
						}
						for i := wanted.Begin[g]; i < wanted.Begin[g+1]; i++ {
							for j := wanted.Begin[h]; j < wanted.Begin[h+1]; j++ {
								require.InDelta(t, whole[i*columns+j], got[0], solveTolerance)
								got = got[1:]
							}
						}
						require.Empty(t, got)
					}
				}
			}
		})
	}
}

func TestGroupsThatMakeNoneAreRefused(t *testing.T) {
	f, err := gridMatrix(2, 2).Factorize()
	require.NoError(t, err)
	columns := [][]Term{{{0, 1}}, {{1, 1}}}
	for _, c := range []struct {
		wanted  Wanted
		message string
	}{
		{Wanted{Begin: []int{0, 1}, With: [][]int{nil}}, "sparse: groups of columns that do not make up 2"},
		{Wanted{Begin: []int{0, 2}}, "sparse: groups of columns that do not make up 2"},
		{Wanted{Begin: []int{0, 3, 2}, With: [][]int{nil, nil}}, "sparse: groups of columns that do not make up 2"},
		{Wanted{Begin: []int{0, 1, 2}, With: [][]int{{1}, nil}}, "sparse: group 0 is wanted with group 1"},
		{Wanted{Begin: []int{0, 1, 2}, With: [][]int{nil, {1, 0}}}, "sparse: group 1 is wanted with group 0"},
	} {
		require.PanicsWithValue(t, c.message, func() { f.PartialCompliance(columns, c.wanted) })
	}
}

func TestNoColumnsAtAll(t *testing.T) {
	m := gridMatrix(2, 2)
	f, err := m.Factorize()
	require.NoError(t, err)
	f.SolveManyTo(nil, nil, 0)
	f.ComplianceTo(nil, nil)
	c := []float64{1}
	f.ComplianceTo(c, [][]Term{nil})
	require.Equal(t, []float64{0}, c)
}

func TestManyColumnsOfWrongLengthAreRefused(t *testing.T) {
	m := gridMatrix(2, 2)
	f, err := m.Factorize()
	require.NoError(t, err)
	for _, columns := range []int{-1, 2} {
		message := fmt.Sprintf("sparse: 24 and 24 numbers for %d columns and a factor of order 24", columns)
		require.PanicsWithValue(t, message, func() { f.SolveManyTo(make([]float64, 24), make([]float64, 24), columns) })
	}
	require.PanicsWithValue(t, "sparse: 3 numbers for the compliance of 2 columns",
		func() { f.ComplianceTo(make([]float64, 3), make([][]Term, 2)) })
}
