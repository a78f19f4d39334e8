package sparse

import (
	"fmt"
	"slices"
)

// Builder collects the entries of a symmetric matrix of order n.
type Builder struct {
	n    int
	rows [][]entry
}

type entry struct {
	col int
	val float64
}

// NewBuilder returns an empty matrix of order n.
func NewBuilder(n int) *Builder { return &Builder{n: n, rows: make([][]entry, n)} }

// Add adds v at (i, j) and, when i ≠ j, at (j, i): give every unordered pair once.
func (b *Builder) Add(i, j int, v float64) {
	if i < 0 || j < 0 || i >= b.n || j >= b.n {
		panic(fmt.Sprintf("sparse: entry (%d, %d) outside a matrix of order %d", i, j, b.n))
	}
	if i < j {
		i, j = j, i
	}
	b.rows[i] = append(b.rows[i], entry{j, v})
}

// Matrix sums the entries that meet and returns the finished matrix. Entries are summed in the order they were added,
// so that the result does not depend on anything else.
func (b *Builder) Matrix() *Matrix {
	m := &Matrix{n: b.n, start: make([]int, b.n+1)}
	total := 0
	for _, row := range b.rows {
		total += len(row)
	}
	m.col = make([]int, 0, total)
	m.val = make([]float64, 0, total)
	for i, row := range b.rows {
		slices.SortStableFunc(row, func(p, q entry) int { return p.col - q.col })
		for k := 0; k < len(row); {
			c, v := row[k].col, 0.0
			for ; k < len(row) && row[k].col == c; k++ {
				v += row[k].val
			}
			m.col = append(m.col, c)
			m.val = append(m.val, v)
		}
		m.start[i+1] = len(m.col)
	}
	return m
}

// Matrix is a symmetric matrix of which the lower triangle is kept by rows, columns ascending.
type Matrix struct {
	n     int
	start []int // row i stands at start[i]:start[i+1]
	col   []int
	val   []float64
}

// Order is the number of rows.
func (m *Matrix) Order() int { return m.n }

// Entries is the number of entries kept, those of the lower triangle.
func (m *Matrix) Entries() int { return len(m.val) }

// MulTo writes K·x into dst. dst must not overlap x.
func (m *Matrix) MulTo(dst, x []float64) {
	if len(dst) != m.n || len(x) != m.n {
		panic(fmt.Sprintf("sparse: vectors of %d and %d for a matrix of order %d", len(dst), len(x), m.n))
	}
	clear(dst)
	for i := range m.n {
		sum := 0.0
		for k := m.start[i]; k < m.start[i+1]; k++ {
			j, v := m.col[k], m.val[k]
			sum += v * x[j]
			if j != i {
				dst[j] += v * x[i]
			}
		}
		dst[i] += sum
	}
}

// Diagonal returns a copy of the diagonal; an entry that was never added is zero.
func (m *Matrix) Diagonal() []float64 {
	d := make([]float64, m.n)
	for i := range m.n {
		if last := m.start[i+1] - 1; last >= m.start[i] && m.col[last] == i {
			d[i] = m.val[last]
		}
	}
	return d
}
