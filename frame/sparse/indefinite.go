package sparse

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// IndefiniteFactor is L·S·Lᵀ of a symmetric matrix that need not be definite, S of signs.
//
// The matrix is first scaled by powers of two to rows of about the same size. Pivots of one or two columns are then
// chosen by complete pivoting (Bunch and Parlett, SIAM J. Numer. Anal. 8 (1971) 639) among the columns of one panel at a
// time, so that the pattern of the factor is that of the definite case. A pivot of two columns, E = V·Λ·Vᵀ, enters as
// the columns V·|Λ|^½ and the signs of Λ.
//
// Pivots outside the panel are not considered, so that entries may grow where every pivot in it is small. That is
// looked for when all is done: the factor of a matrix K is that of K + E with |E_ij| of about 1e-16·√(g_i·g_j), g_i =
// Σ_j L_ij², and g may not grow beyond growthLimit.
type IndefiniteFactor struct {
	factor *Factor
	matrix *Matrix // scaled
	scale  []float64
	sign   []float64 // by place, in the order of the panel's pivots: 1, −1 or 0
	from   []int32   // which column of the panel is its j-th pivot
	pair   []bool    // whether a place is the first of a pivot of two columns
}

// growthLimit is how much larger a diagonal entry of L·Lᵀ may be than its row of the matrix: with sixteen digits, ten
// are left, and counting signs is as good as for a matrix that is 1e-10 off.
const growthLimit = 1e6

// A block whose entries are all below vanished, in rows of size 1, holds no pivot.
const vanished = 1e-13

// residualLimit is the largest residual of a solution, relative to its terms.
const residualLimit = 1e-9

// ErrUnstable says that an indefinite matrix has no stable factor in the order of its pattern. That happens when it is
// nearly singular, and by accident; where the matrix depends on a shift, another shift helps.
var ErrUnstable = errors.New("sparse: pivots are too small for a stable factor")

// FactorizeIndefinite factors a matrix that need not be positive definite; it stays as it is. The error is ErrUnstable.
func (m *Matrix) FactorizeIndefinite() (*IndefiniteFactor, error) {
	p := m.pattern
	for _, v := range m.store {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return nil, fmt.Errorf("sparse: entry %g in the matrix", v)
		}
	}
	f := &IndefiniteFactor{
		factor: &Factor{p, make([]float64, p.factors.store)},
		matrix: &Matrix{pattern: p, store: slices.Clone(m.store)},
		sign:   make([]float64, p.n),
		from:   make([]int32, p.n),
		pair:   make([]bool, p.n),
	}
	f.scale = f.matrix.equilibrate()
	if f.factor.fill(f.matrix, f) >= 0 {
		return nil, ErrUnstable
	}
	if !(f.largestRow() <= growthLimit) {
		return nil, ErrUnstable
	}
	return f, nil
}

// equilibrate scales rows and columns by powers of two until the largest entries of all rows are about 1 (Ruiz 2001: by
// their roots, several times), and returns the factors by place. Rows of zeros stay.
func (m *Matrix) equilibrate() []float64 {
	p := m.pattern
	scale, largest := make([]float64, p.n), make([]float64, p.n)
	for i := range scale {
		scale[i] = 1
	}
	for range 8 {
		clear(largest)
		m.each(func(i, j int32, v *float64) {
			largest[i] = max(largest[i], math.Abs(*v))
			largest[j] = max(largest[j], math.Abs(*v))
		})
		for i, v := range largest {
			if v == 0 {
				v = 1
			}
			_, exponent := math.Frexp(v)
			largest[i] = math.Ldexp(1, -int(math.Floor(float64(exponent)/2)))
			scale[i] *= largest[i]
		}
		m.each(func(i, j int32, v *float64) { *v *= largest[i] * largest[j] })
	}
	return scale
}

// each visits all entries of the lower triangle, by places.
func (m *Matrix) each(do func(i, j int32, v *float64)) {
	b := &m.pattern.blocks
	for k := range len(b.begin) - 1 {
		at := b.at[k]
		for i := b.begin[k]; i < b.begin[k+1]; i++ {
			for j := b.begin[k]; j < b.begin[k+1]; j++ {
				if j <= i {
					do(i, j, &m.store[at])
				}
				at++
			}
		}
		for _, u := range b.near[b.start[k]:b.start[k+1]] {
			for i := b.begin[u]; i < b.begin[u+1]; i++ {
				for j := b.begin[k]; j < b.begin[k+1]; j++ {
					do(i, j, &m.store[at])
					at++
				}
			}
		}
	}
}

// largestRow is the largest Σ_j L_ij².
func (f *IndefiniteFactor) largestRow() float64 {
	s := f.factor.supernodes()
	g := make([]float64, f.factor.pattern.n)
	sum := func(i int32, row []float64) {
		for _, v := range row {
			g[i] += v * v
		}
	}
	for k := range s.len() {
		for _, p := range s.panelsOf(k) {
			width := p.width
			row := f.factor.store[p.at:]
			for j := int32(0); j < width; j++ {
				at := p.first + j
				// Places within the panel are those before pivoting.
				i := p.first + f.from[at]
				sum(i, row[:j])
				if !f.pair[at] {
					if t := row[j]; t != 0 {
						g[i] += 1 / (t * t)
					}
					row = row[width:]
					continue
				}
				next := row[width:]
				h := p.first + f.from[at+1]
				sum(h, next[:j])
				for c := j; c <= j+1; c++ {
					eigenvalue := 1 / (row[c]*row[c] + next[c]*next[c])
					g[i] += eigenvalue
					g[h] += eigenvalue
				}
				row = next[width:]
				j++
			}
			for i := p.first + width; i < s.first[k+1]; i++ {
				sum(i, row[:width])
				row = row[width:]
			}
			for _, r := range s.runsOf(k) {
				for i := range r.length {
					sum(r.at+i, row[:width])
					row = row[width:]
				}
			}
		}
	}
	return slices.Max(append(g, 0))
}

// Inertia is the number of negative, zero and positive eigenvalues, which are those of S (Sylvester's law of inertia).
// Of K − σ·M the number of negative ones is the number of frequencies whose square is below σ.
func (f *IndefiniteFactor) Inertia() (negative, zero, positive int) {
	for _, s := range f.sign {
		switch {
		case s < 0:
			negative++
		case s > 0:
			positive++
		default:
			zero++
		}
	}
	return negative, zero, positive
}

// SolveTo writes the solution of K·x = b into dst, with up to three steps of iterative refinement; dst may be b itself.
// If K is singular that is one solution of many, if there is any. A residual of more than 1e-9 of its terms is an error.
func (f *IndefiniteFactor) SolveTo(dst, b []float64) error {
	f.factor.check(dst, b)
	p := f.factor.pattern
	s := f.factor.supernodes()
	n := p.n
	store := make([]float64, 4*n+s.most())
	x, rhs, left, step, room := store[:n], store[n:2*n], store[2*n:3*n], store[3*n:4*n], store[4*n:]
	for i, k := range p.place {
		rhs[k] = b[i] * f.scale[k]
	}
	copy(left, rhs)
	worst := 0.0
	for pass := range 4 {
		copy(step, left)
		f.solve(step, room)
		for i := range x {
			x[i] += step[i]
		}
		worst = f.residual(left, step, x, rhs)
		if pass > 0 && worst < residualLimit/1e4 {
			break
		}
	}
	if !(worst <= residualLimit) {
		return fmt.Errorf("sparse: a residual of %.1e of its terms: the matrix is too nearly singular to be solved", worst)
	}
	for i, k := range p.place {
		dst[i] = x[k] * f.scale[k]
	}
	return nil
}

// residual sets left = rhs − K·x and returns its largest entry against |K|·|x| + |rhs| as a whole. size is room.
func (f *IndefiniteFactor) residual(left, size, x, rhs []float64) float64 {
	copy(left, rhs)
	for i, v := range rhs {
		size[i] = math.Abs(v)
	}
	f.matrix.each(func(i, j int32, v *float64) {
		a := *v * x[j]
		left[i] -= a
		size[i] += math.Abs(a)
		if i != j {
			a = *v * x[i]
			left[j] -= a
			size[j] += math.Abs(a)
		}
	})
	worst, largest := 0.0, 0.0
	for i, v := range left {
		worst, largest = math.Max(worst, math.Abs(v)), math.Max(largest, size[i])
	}
	if largest == 0 {
		return 0
	}
	return worst / largest
}

// solve solves in place, by place.
func (f *IndefiniteFactor) solve(x, room []float64) {
	s := f.factor.supernodes()
	for k := range s.len() {
		f.forward(k, x, room)
	}
	for i, v := range f.sign {
		x[i] *= v
	}
	for k := s.len() - 1; k >= 0; k-- {
		f.back(k, x, room)
	}
}
