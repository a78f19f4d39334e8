package sparse

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// laplacian is the matrix of springs of stiffness 1 between the nodes of a grid and to a fixed frame around it.
func laplacian(sides ...int) *Matrix {
	n := 1
	for _, s := range sides {
		n *= s
	}
	var pairs [][]int
	for i := range n {
		step := 1
		for _, s := range sides {
			if i/step%s+1 < s {
				pairs = append(pairs, []int{i, i + step})
			}
			step *= s
		}
	}
	m := NewPattern(even(n, 1), pairs).NewMatrix()
	for i := range n {
		m.Add(i, i, 2*float64(len(sides)))
	}
	for _, p := range pairs {
		m.Add(p[0], p[1], -1)
	}
	return m
}

// The springs' grid has eigenvectors that are products of sines, ∏ sin(k·π·i/(s+1)), and eigenvalues that are sums over
// the sides of 2 − 2·cos(k·π/(s+1)): a force in such a shape moves the grid in the same shape.
func TestGridsMoveInTheirEigenvectors(t *testing.T) {
	const source = "the model problem, Demmel, Applied Numerical Linear Algebra, SIAM 1997, sections 6.3.1 to 6.3.3"
	for _, tt := range []struct {
		name, source string
		sides        []int
	}{
		{"line", source, []int{200}},
		{"square", source, []int{30, 30}},
		{"oblong", source, []int{70, 13}},
		{"cube", source, []int{11, 11, 11}},
		{"slab", source, []int{20, 17, 4}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.source)
			m := laplacian(tt.sides...)
			f, err := m.Factorize()
			require.NoError(t, err)
			n := m.pattern.Order()
			modes := []int{1, 2, 3, 4}
			shapes, forces, moves := make([]float64, n*len(modes)), make([]float64, n*len(modes)), make([]float64, n*len(modes))
			columns := make([][]Term, len(modes))
			values := make([]float64, len(modes))
			for j, k := range modes {
				for _, s := range tt.sides {
					values[j] += 2 - 2*math.Cos(float64(k)*math.Pi/float64(s+1))
				}
				for i := range n {
					v, step := 1.0, 1
					for _, s := range tt.sides {
						v *= math.Sin(float64(k) * math.Pi * float64(i/step%s+1) / float64(s+1))
						step *= s
					}
					shapes[j*n+i], forces[j*n+i] = v, values[j]*v
					columns[j] = append(columns[j], Term{i, v})
				}
			}
			for j := range modes {
				f.SolveTo(moves[j*n:(j+1)*n], forces[j*n:(j+1)*n])
			}
			require.InDeltaSlice(t, shapes, moves, solveTolerance)
			f.SolveManyTo(moves, forces, len(modes))
			require.InDeltaSlice(t, shapes, moves, solveTolerance)
			m.MulTo(moves[:n], shapes[:n])
			require.InDeltaSlice(t, forces[:n], moves[:n], solveTolerance)

			// Bᵀ·K⁻¹·B of orthogonal shapes, with Σ sin² = (s+1)/2 along each side, is diagonal.
			c := make([]float64, len(modes)*len(modes))
			f.ComplianceTo(c, columns)
			square := 1.0
			for _, s := range tt.sides {
				square *= float64(s+1) / 2
			}
			for i := range modes {
				for j := range modes {
					want := 0.0
					if i == j {
						want = square / values[i]
					}
					require.InDelta(t, want, c[i*len(modes)+j], solveTolerance*square/values[0], "%d and %d", i, j)
				}
			}
		})
	}
}
