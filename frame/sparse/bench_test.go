package sparse

import (
	"fmt"
	"testing"
)

// The square grids of frames of the usual size, then grids of nodes up to a hundred thousand unknowns.

func BenchmarkAnalyse(b *testing.B) {
	for _, side := range []int{4, 8, 16, 32} {
		coupled, sizes := grid(side, side), even(side*side, 6)
		b.Run(fmt.Sprintf("grid n=%d", 6*side*side), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				NewPattern(sizes, coupled)
			}
		})
	}
	for _, s := range shapes {
		b.Run(s.name, func(b *testing.B) {
			nodes, cliques := s.cliques()
			sizes := s.sizes(nodes)
			var p *Pattern
			for b.Loop() {
				p = NewPattern(sizes, cliques)
			}
			b.ReportMetric(float64(p.Entries()), "nonzeros")
		})
	}
}

// matrices calls do with every benchmark's matrix.
func matrices(b *testing.B, do func(b *testing.B, m *Matrix)) {
	for _, side := range []int{4, 8, 16, 32} {
		m := gridMatrix(side, side)
		b.Run(fmt.Sprintf("grid n=%d", m.pattern.n), func(b *testing.B) { do(b, m) })
	}
	for _, s := range shapes {
		b.Run(s.name, func(b *testing.B) {
			_, m := s.built()
			do(b, m)
		})
	}
}

func BenchmarkFactorize(b *testing.B) {
	matrices(b, func(b *testing.B, m *Matrix) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := m.Factorize(); err != nil {
				b.Fatal(err)
			}
		}
		b.ReportMetric(float64(m.pattern.Entries()), "nonzeros")
		b.ReportMetric(work(m)*float64(b.N)/b.Elapsed().Seconds()/1e9, "GFLOP/s")
	})
}

// work is how many multiplications and additions factoring takes.
func work(m *Matrix) float64 {
	total := 0.0
	for k, p := range m.pattern.factors.parent {
		if p < 0 {
			total += m.pattern.factors.work[k]
		}
	}
	return total
}

// factors calls do with every benchmark's factor.
func factors(b *testing.B, do func(b *testing.B, f *Factor)) {
	matrices(b, func(b *testing.B, m *Matrix) {
		f, err := m.Factorize()
		if err != nil {
			b.Fatal(err)
		}
		do(b, f)
	})
}

func BenchmarkSolveTo(b *testing.B) {
	factors(b, func(b *testing.B, f *Factor) {
		b.ReportAllocs()
		x := make([]float64, f.pattern.n)
		for b.Loop() {
			x[0] = 1
			f.SolveTo(x, x)
		}
	})
}

func BenchmarkSolveManyTo(b *testing.B) {
	const columns = 20
	factors(b, func(b *testing.B, f *Factor) {
		x := make([]float64, f.pattern.n*columns)
		for b.Loop() {
			x[0] = 1
			f.SolveManyTo(x, x, columns)
		}
	})
}

// Two hundred contact spots of six movements, three terms each, in two places of the structure.
func BenchmarkComplianceTo(b *testing.B) {
	factors(b, func(b *testing.B, f *Factor) {
		columns := make([][]Term, 200)
		for j := range columns {
			for i := range 3 {
				columns[j] = append(columns[j], Term{(j%2*f.pattern.n/2 + 6*(j/2) + i) % f.pattern.n, 1})
			}
		}
		c := make([]float64, len(columns)*len(columns))
		for b.Loop() {
			f.ComplianceTo(c, columns)
		}
	})
}
