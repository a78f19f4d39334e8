package solid

import (
	"fmt"

	"gonum.org/v1/gonum/mat"

	"tiploop/frame/sparse"
)

// response is what the freedoms make of loads g of few terms each, a row a load: names as above Reduced and Gauge.
// What the freedoms, held, take off the loads' give gᵀ·K⁻¹·g is back·backᵀ − on·onᵀ.
type response struct {
	rows *mat.Dense // the others side by side
	// forces on the freedoms of K that a load stands for, and what it reads of these freedoms' movements
	weights *mat.Dense
	back    *mat.Dense // Bᵀ·K⁻¹·g by the root of C⁻¹; nil without zones
	on      *mat.Dense // P by a root of M⁻¹; nil of a body that is held
}

// respond makes the response to loads from their products with [B, −K_h·R]ᵀ·K⁻¹, nil if there are none.
func (r *Reduced) respond(loads [][]sparse.Term, products *mat.Dense) response {
	n, zones, known := len(loads), 6*len(r.forms), 6*len(r.forms)+len(r.pull)
	freedoms, afloat := r.K.SymmetricDim(), len(r.body.Held) == 0
	columns := freedoms + zones
	if afloat {
		columns += 6
	}
	a := response{rows: mat.NewDense(n, columns, nil)}
	view := func(from, to int) *mat.Dense { return a.rows.Slice(0, n, from, to).(*mat.Dense) }
	a.weights = view(0, freedoms)
	total := r.resultants(loads)
	if known == 0 {
		a.weights.Copy(total)
		return a
	}
	f := mat.NewDense(n, known, nil) // forces on the freedoms as they are counted from the base
	if zones > 0 {
		seen := products.Slice(0, n, 0, zones).(*mat.Dense)
		f.Slice(0, n, 0, zones).(*mat.Dense).Mul(seen, r.inner)
		a.back = view(freedoms, freedoms+zones)
		a.back.Mul(seen, r.root)
	}
	if afloat {
		a.on = view(freedoms+zones, columns)
		r.respondAfloat(&a, f, total, products)
		return a
	}
	if known > zones {
		r.pushHeld(f, loads, products)
	}
	a.weights.Mul(f, r.rel)
	base := view(zones, zones+6)
	base.Add(base, total)
	return a
}

// respondAfloat adds the rigid motions of a body that nothing holds: f is what the zones' springs alone make of the
// loads, total the loads' resultants, which it overwrites.
func (r *Reduced) respondAfloat(a *response, f, total, products *mat.Dense) {
	var pushed, on, rigid mat.Dense
	pushed.Mul(products, &r.afloat.pushed)
	total.Sub(total, &pushed) // P
	var l mat.TriDense
	r.afloat.m.LTo(&l)
	if err := on.Solve(&l, total.T()); err != nil {
		panic(fmt.Sprintf("solid: rigid motions of the body: %v", err)) // Reduce has inverted it before
	}
	a.on.Copy(on.T())
	if err := rigid.Solve(l.T(), &on); err != nil {
		panic(fmt.Sprintf("solid: rigid motions of the body: %v", err))
	}
	a.weights.Mul(rigid.T(), r.afloat.pushed.T())
	a.weights.Add(a.weights, f)
}

// pushHeld fills in the forces on the held regions from the second on, beside those on the zones.
func (r *Reduced) pushHeld(f *mat.Dense, loads [][]sparse.Term, products *mat.Dense) {
	n, zones, known := len(loads), 6*len(r.forms), 6*len(r.forms)+len(r.pull)
	onHeld := f.Slice(0, n, zones, known).(*mat.Dense)
	if zones > 0 {
		onHeld.Mul(f.Slice(0, n, 0, zones), r.along)
	}
	onHeld.Sub(products.Slice(0, n, zones, known), onHeld)
	for i, terms := range loads {
		for _, t := range terms {
			if h := r.holder[t.Unknown]; h > 0 {
				for c, p := range r.prescribed(t.Unknown) {
					at := 6*(h-1) + c
					onHeld.Set(i, at, onHeld.At(i, at)+p*t.Factor)
				}
			}
		}
	}
}

// onFree are loads by unknown of the matrix.
func (r *Reduced) onFree(loads [][]sparse.Term) [][]sparse.Term {
	columns := make([][]sparse.Term, len(loads))
	for i, terms := range loads {
		for _, t := range terms {
			if at := r.free[t.Unknown]; at >= 0 {
				columns[i] = append(columns[i], sparse.Term{Unknown: at, Factor: t.Factor})
			}
		}
	}
	return columns
}

// resultants of loads about the base, a row each.
func (r *Reduced) resultants(loads [][]sparse.Term) *mat.Dense {
	total := mat.NewDense(len(loads), 6, nil)
	for i, terms := range loads {
		row := total.RawRowView(i)
		for _, t := range terms {
			for c, m := range rigid(r.mesh.Nodes[t.Unknown/3], r.base)[t.Unknown%3] {
				row[c] += m * t.Factor
			}
		}
	}
	return total
}
