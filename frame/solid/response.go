package solid

import (
	"fmt"

	"gonum.org/v1/gonum/mat"

	"tiploop/frame/sparse"
)

// response is what the freedoms make of loads g of few terms each, a row a load: names as above Reduced and Reading.
type response struct {
	weights *mat.Dense // forces on the freedoms of K that a load stands for, and what it reads of these freedoms' movements
	back    *mat.Dense // what freedoms held take off the loads' give gᵀ·K⁻¹·g is back·backᵀ − on·onᵀ; nil where there is none:
	on      *mat.Dense // Bᵀ·K⁻¹·g by a root of C⁻¹, and of a body that nothing holds P by a root of M⁻¹
}

// respond makes the response to loads from their products with [B, −K_h·R]ᵀ·K⁻¹.
func (r *Reduced) respond(loads [][]sparse.Term, products *mat.Dense) response {
	total := r.resultants(loads)
	if products == nil {
		return response{weights: total}
	}
	n, known := products.Dims()
	zones := 6 * len(r.forms)
	f := mat.NewDense(n, known, nil) // forces on the freedoms as they are counted from the base
	var a response
	if zones > 0 {
		seen := products.Slice(0, n, 0, zones).(*mat.Dense)
		f.Slice(0, n, 0, zones).(*mat.Dense).Mul(seen, r.inner)
		a.back = mat.NewDense(n, zones, nil)
		a.back.Mul(seen, r.root)
	}
	if len(r.body.Held) == 0 {
		var pushed mat.Dense
		pushed.Mul(products, &r.afloat.pushed)
		total.Sub(total, &pushed)
		var rigid, more mat.Dense
		if err := r.afloat.m.SolveTo(&rigid, total.T()); err != nil {
			panic(fmt.Sprintf("solid: rigid motions of the body: %v", err)) // Reduce has inverted it before
		}
		more.Mul(rigid.T(), r.afloat.pushed.T())
		f.Add(f, &more)
		a.weights = f
		var l mat.TriDense
		r.afloat.m.LTo(&l)
		var on mat.Dense
		if err := on.Solve(&l, total.T()); err != nil {
			panic(fmt.Sprintf("solid: rigid motions of the body: %v", err))
		}
		a.on = mat.DenseCopyOf(on.T())
		return a
	}
	if known > zones {
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
	a.weights = mat.NewDense(n, known+6, nil)
	a.weights.Mul(f, r.rel)
	base := a.weights.Slice(0, n, zones, zones+6).(*mat.Dense)
	base.Add(base, total)
	return a
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
