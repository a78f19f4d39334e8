package solid

import (
	"context"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"tiploop/frame/sparse"
)

// eliminate makes K from the factor.
func (r *Reduced) eliminate(ctx context.Context, held heldSide) error {
	r.pull = held.pull
	zones, others := 6*len(r.forms), len(held.pull)
	n := zones + others
	if n == 0 { // one held region and nothing else: it moves freely
		r.K = mat.NewSymDense(6, nil)
		return nil
	}
	products := r.products()
	if err := ctx.Err(); err != nil {
		return err
	}
	if zones > 0 {
		c := mat.NewSymDense(zones, nil)
		for i := range zones {
			for j := i; j < zones; j++ {
				c.SetSym(i, j, products.At(i, j))
			}
		}
		if err := r.toldApart(c); err != nil {
			return err
		}
		for i, f := range r.forms {
			for k := range 6 {
				for l := k; l < 6; l++ {
					c.SetSym(6*i+k, 6*i+l, c.At(6*i+k, 6*i+l)+f.missed[k][l])
				}
			}
		}
		r.invert(c)
	}
	if zones > 0 && others > 0 {
		r.along = mat.DenseCopyOf(products.Slice(0, zones, zones, n))
		r.readHeld()
	}
	r.relate(n)
	if len(r.body.Held) == 0 {
		return r.setAfloat()
	}
	var kp, k mat.Dense
	kp.Mul(r.relative(products, held), r.rel)
	k.Mul(r.rel.T(), &kp)
	r.K = symmetric(&k)
	return nil
}

// relative is the stiffness between the freedoms as they are counted from the base: [C⁻¹ −C⁻¹·W; . S +
// Wᵀ·C⁻¹·W].
func (r *Reduced) relative(products *mat.Dense, held heldSide) *mat.SymDense {
	zones, others := 6*len(r.forms), len(r.pull)
	k := mat.NewSymDense(zones+others, nil)
	for i := range others {
		for j := i; j < others; j++ {
			k.SetSym(zones+i, zones+j, held.hard.At(i, j)-products.At(zones+i, zones+j))
		}
	}
	for i := range zones {
		for j := i; j < zones; j++ {
			k.SetSym(i, j, r.inner.At(i, j))
		}
	}
	if r.along == nil {
		return k
	}
	var cw, wcw mat.Dense
	cw.Mul(r.inner, r.along)
	wcw.Mul(r.along.T(), &cw)
	for i := range zones {
		for j := range others {
			k.SetSym(i, zones+j, -cw.At(i, j))
		}
	}
	for i := range others {
		for j := i; j < others; j++ {
			k.SetSym(zones+i, zones+j, k.At(zones+i, zones+j)+(wcw.At(i, j)+wcw.At(j, i))/2)
		}
	}
	return k
}

// readHeld adds to W what zones read of held unknowns themselves, B_hᵀ·R: those of a zone that reaches a held edge.
func (r *Reduced) readHeld() {
	for i, f := range r.forms {
		for _, s := range f.form {
			h := r.holder[s.unknown]
			if h <= 0 {
				continue
			}
			for a, p := range r.prescribed(s.unknown) {
				for c, read := range s.reads {
					row, col := 6*i+c, 6*(h-1)+a
					r.along.Set(row, col, r.along.At(row, col)+read*p)
				}
			}
		}
	}
}

// symmetric is the symmetric part of a matrix that is so but for rounding.
func symmetric(m *mat.Dense) *mat.SymDense {
	n, _ := m.Dims()
	s := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			s.SetSym(i, j, (m.At(i, j)+m.At(j, i))/2)
		}
	}
	return s
}

// relate fills carry and rel.
func (r *Reduced) relate(n int) {
	zones := 6 * len(r.forms)
	r.carry = mat.NewDense(n, 6, nil)
	set := func(row int, c [6][6]float64) {
		for i := range 6 {
			for j := range 6 {
				r.carry.Set(row+i, j, c[i][j])
			}
		}
	}
	for i, z := range r.body.Zones {
		set(6*i, carry(r.base, z.At))
	}
	for i := 1; i < len(r.body.Held); i++ {
		set(zones+6*(i-1), carry(r.base, r.body.Held[i].At))
	}
	if len(r.body.Held) == 0 {
		return
	}
	r.rel = mat.NewDense(n, n+6, nil)
	for i := range n {
		at := i
		if i >= zones {
			at += 6
		}
		r.rel.Set(i, at, 1)
		for j := range 6 {
			r.rel.Set(i, zones+j, -r.carry.At(i, j))
		}
	}
}

// afloat is what a body that nothing holds adds to the elimination.
type afloat struct {
	pushed mat.Dense    // C⁻¹·R_z: the zones' forces while their rigid motions are held back
	m      mat.Cholesky // of M
}

// setAfloat makes K of a body that nothing holds.
func (r *Reduced) setAfloat() error {
	a := &afloat{}
	a.pushed.Mul(r.inner, r.carry)
	var m, back, k mat.Dense
	m.Mul(r.carry.T(), &a.pushed)
	if !a.m.Factorize(symmetric(&m)) {
		return fmt.Errorf("the zones do not tell the body's rigid motions apart")
	}
	if err := a.m.SolveTo(&back, a.pushed.T()); err != nil {
		return fmt.Errorf("rigid motions of the body: %w", err)
	}
	k.Mul(&a.pushed, &back)
	k.Sub(r.inner, &k)
	r.K = symmetric(&k)
	r.afloat = a
	return nil
}

// products are [B, −K_h·R]ᵀ·K⁻¹·[B, −K_h·R].
func (r *Reduced) products() *mat.Dense {
	columns := r.columns()
	products := make([]float64, len(columns)*len(columns))
	r.factor.ComplianceTo(products, columns)
	return mat.NewDense(len(columns), len(columns), products)
}

// columns are those of [B, −K_h·R].
func (r *Reduced) columns() [][]sparse.Term {
	zones := 6 * len(r.forms)
	columns := make([][]sparse.Term, zones+len(r.pull))
	for i, f := range r.forms {
		for _, s := range f.form {
			if at := r.free[s.unknown]; at >= 0 {
				for c, read := range s.reads {
					if read != 0 {
						columns[6*i+c] = append(columns[6*i+c], sparse.Term{Unknown: at, Factor: read})
					}
				}
			}
		}
	}
	for i, column := range r.pull {
		for at, p := range column {
			if p != 0 {
				columns[zones+i] = append(columns[zones+i], sparse.Term{Unknown: at, Factor: p})
			}
		}
	}
	return columns
}

// alike is the share of its own that a reading keeps once what others read is taken off, squared, below which it tells
// nothing new: C then has lost more than half its digits.
const alike = 1e-9

// scaled brings a matrix to a diagonal of ones, and says by which factors.
func scaled(c *mat.SymDense) (even *mat.SymDense, by []float64) {
	n := c.SymmetricDim()
	even, by = mat.NewSymDense(n, nil), make([]float64, n)
	for i := range n {
		by[i] = 1 / math.Sqrt(c.At(i, i))
	}
	for i := range n {
		for j := i; j < n; j++ {
			even.SetSym(i, j, c.At(i, j)*by[i]*by[j])
		}
	}
	return even, by
}

// toldApart fails when a zone reads what others do, by the zones' compliance on the mesh, and names them.
func (r *Reduced) toldApart(c *mat.SymDense) error {
	n := c.SymmetricDim()
	for i := range n {
		if !(c.At(i, i) > 0) {
			return &ZoneError{Zones: []int{i / 6}, What: r.body.zoneName(i/6) + " lies where nothing can move"}
		}
	}
	even, _ := scaled(c)
	var chol mat.Cholesky
	ok := chol.Factorize(even)
	if ok {
		var u mat.TriDense
		chol.UTo(&u)
		for i := range n {
			ok = ok && u.At(i, i)*u.At(i, i) > alike
		}
	}
	if !ok {
		return r.alikeZones(even)
	}
	return nil
}

// invert keeps the inverse of C and its root. C is one whose zones are apart.
func (r *Reduced) invert(c *mat.SymDense) {
	n := c.SymmetricDim()
	even, scale := scaled(c)
	var chol mat.Cholesky
	inverse := mat.NewSymDense(n, nil)
	var u, root mat.TriDense
	ok := chol.Factorize(even) && chol.InverseTo(inverse) == nil
	if ok {
		chol.UTo(&u)
		ok = root.InverseTri(&u) == nil
	}
	if !ok {
		panic("solid: zones that are apart have a compliance that is not positive")
	}
	r.inner, r.root = inverse, mat.NewDense(n, n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			inverse.SetSym(i, j, inverse.At(i, j)*scale[i]*scale[j])
			r.root.Set(i, j, root.At(i, j)*scale[i])
		}
	}
}

// alikeZones is the error that names the zones with a reading that vanishes when those of the zones before it are taken
// off, and for the first of them the one that it is most like.
func (r *Reduced) alikeZones(c *mat.SymDense) error {
	n := c.SymmetricDim()
	l := mat.NewDense(n, n, nil)
	e := &ZoneError{Alike: true}
	note := func(zone int) {
		if !slices.Contains(e.Zones, zone) {
			e.Zones = append(e.Zones, zone)
		}
	}
	for i := range n {
		for j := range i + 1 {
			s := c.At(i, j) - dot(l.RawRowView(i)[:j], l.RawRowView(j)[:j])
			if j < i {
				if l.At(j, j) > 0 {
					l.Set(i, j, s/l.At(j, j))
				}
				continue
			}
			if s > alike {
				l.Set(i, i, math.Sqrt(s))
				continue
			}
			like, most := i, 0.0
			for k := range i {
				if a := math.Abs(c.At(i, k)); k/6 != i/6 && a > most {
					like, most = k, a
				}
			}
			note(like / 6)
			note(i / 6)
		}
	}
	switch len(e.Zones) {
	case 0:
		e.What = "the zones are too alike for the mesh to tell them apart"
	case 1:
		e.What = r.body.zoneName(e.Zones[0]) + " is too small or too narrow for the mesh"
	default:
		both := r.body.zoneName(e.Zones[0]) + " and " + r.body.zoneName(e.Zones[1])
		e.What = both + " are too alike for the mesh to tell them apart"
	}
	return e
}
