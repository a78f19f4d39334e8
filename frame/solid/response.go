package solid

import (
	"fmt"

	"gonum.org/v1/gonum/mat"

	"tiploop/frame/sparse"
)

// response is what a body does under loads g of few terms each, by unknown of the mesh: names as above Reduced and Reading.
type response struct {
	weights *mat.Dense    // loads × freedoms of K: forces that a load stands for, and what it reads of the freedoms' movements
	local   *mat.SymDense // what a load reads of another, freedoms held
}

// respond makes the response to loads. All products with K⁻¹ are those of one compliance, of the zones and the loads.
func (r *Reduced) respond(loads [][]sparse.Term) response {
	columns := r.columns()
	zones, known := 6*len(r.forms), len(columns)
	for _, terms := range loads {
		var free []sparse.Term
		for _, t := range terms {
			if at := r.free[t.Unknown]; at >= 0 {
				free = append(free, sparse.Term{Unknown: at, Factor: t.Factor})
			}
		}
		columns = append(columns, free)
	}
	n := len(columns)
	c := make([]float64, n*n)
	r.factor.ComplianceTo(c, columns)
	products := mat.NewDense(n, n, c)
	a := response{local: mat.NewSymDense(len(loads), nil)}
	for i := range loads {
		for j := i; j < len(loads); j++ {
			a.local.SetSym(i, j, products.At(known+i, known+j))
		}
	}
	total := r.resultants(loads)
	if known == 0 {
		a.weights = total
		return a
	}
	// Rows of forces on the freedoms as they are counted from the base.
	f := mat.NewDense(len(loads), known, nil)
	var seen, left *mat.Dense
	if zones > 0 {
		seen = products.Slice(known, n, 0, zones).(*mat.Dense)
		onZones := f.Slice(0, len(loads), 0, zones).(*mat.Dense)
		onZones.Mul(seen, r.inner)
		a.takeOff(onZones, seen)
	}
	if len(r.body.Held) == 0 {
		var pushed, back mat.Dense
		pushed.Mul(seen, &r.afloat.pushed)
		total.Sub(total, &pushed)
		left = total
		if err := r.afloat.m.SolveTo(&back, left.T()); err != nil {
			panic(fmt.Sprintf("solid: rigid motions of the body: %v", err)) // Reduce has inverted it before
		}
		var more mat.Dense
		more.Mul(back.T(), r.afloat.pushed.T())
		f.Add(f, &more)
		a.weights = f
		back.Scale(-1, &back)
		a.takeOff(mat.DenseCopyOf(back.T()), left)
		return a
	}
	if others := known - zones; others > 0 {
		onHeld := f.Slice(0, len(loads), zones, known).(*mat.Dense)
		if zones > 0 {
			onHeld.Mul(f.Slice(0, len(loads), 0, zones), r.along)
			onHeld.Sub(products.Slice(known, n, zones, known), onHeld)
		} else {
			onHeld.Copy(products.Slice(known, n, zones, known))
		}
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
	a.weights = mat.NewDense(len(loads), known+6, nil)
	a.weights.Mul(f, r.rel)
	base := a.weights.Slice(0, len(loads), zones, zones+6).(*mat.Dense)
	base.Add(base, total)
	return a
}

// takeOff takes x·yᵀ, which is symmetric but for rounding, off the give.
func (a *response) takeOff(x, y *mat.Dense) {
	var product mat.Dense
	product.Mul(x, y.T())
	n := a.local.SymmetricDim()
	for i := range n {
		for j := i; j < n; j++ {
			a.local.SetSym(i, j, a.local.At(i, j)-(product.At(i, j)+product.At(j, i))/2)
		}
	}
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
