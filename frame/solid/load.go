package solid

import (
	"fmt"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Warm is a rise in temperature: Mean in the part's middle, K, and Gradient from there on, K/mm.
type Warm struct {
	Mean     float64
	Gradient r3.Vec
}

// Load is what acts inside a body: on all of its mass, by growth, and on zones that are none of its freedoms.
type Load struct {
	Gravity r3.Vec // acceleration of all mass, mm/s²
	Warm    []Warm
	Pushes  []Push
}

// Push is forces along x, y, z, N, and moments about them, N·mm, on a zone that is read but joins nothing.
type Push struct {
	Zone  Zone
	Force [6]float64
}

// Weight is the forces on the freedoms of K that stand for an acceleration of 1 mm/s² along x, y and z of all the
// body's mass: the frame's loads, N and N·mm (times −9806.65 along z for own weight).
func (r *Reduced) Weight() [3][]float64 {
	r.weighed()
	return r.weight
}

// weighed works out what weight does, once.
func (r *Reduced) weighed() {
	r.weigh.Do(func() {
		var along [3][]float64
		for k := range along {
			var unit [3]float64
			unit[k] = 1
			along[k] = r.mesh.Weight(vector(unit))
		}
		r.heavy = [3]inside(r.solvedAll(along[:]...))
		for k, heavy := range r.heavy {
			r.weight[k] = r.onFreedoms(heavy)
		}
	})
}

// Warmth is the forces on the freedoms of K that stand for a warming by mean + gradient·(x − the part's middle), K:
// a body left alone under them grows freely.
func (r *Reduced) Warmth(w Warm) []float64 {
	return r.onFreedoms(r.solved(r.growth(w)))
}

// growth is the nodal forces of free growth.
func (r *Reduced) growth(w Warm) []float64 {
	return r.mesh.Warmth(0, w.Mean, w.Gradient, r.body.Part.middle())
}

// middle of the part's bounding box.
func (p *Part) middle() r3.Vec {
	lo, hi := p.Box()
	return r3.Scale(0.5, r3.Add(vector(lo), vector(hi)))
}

// inside is a load on the nodes and what it does while zones and held regions are left alone.
type inside struct {
	force []float64 // on the nodes
	moved []float64 // K⁻¹·g, by unknown of the matrix
}

func (r *Reduced) solved(force []float64) inside { return r.solvedAll(force)[0] }

// solvedAll is solved of several forces.
func (r *Reduced) solvedAll(forces ...[]float64) []inside {
	list, n := make([]inside, len(forces)), r.order
	columns, loaded := make([]float64, n*len(forces)), 0 // the loaded ones first
	for i, force := range forces {
		for u, at := range r.free {
			if at >= 0 && force[u] != 0 {
				list[i].moved = columns[n*loaded:][:n:n]
				loaded++
				break
			}
		}
	}
	still := columns[n*loaded:]
	for i, force := range forces {
		if list[i].force = force; list[i].moved == nil {
			list[i].moved, still = still[:n:n], still[n:]
			continue
		}
		for u, at := range r.free {
			if at >= 0 {
				list[i].moved[at] = force[u]
			}
		}
	}
	r.factor.SolveManyTo(columns[:n*loaded], columns[:n*loaded], loaded)
	return list
}

// add adds another load and what it does, times a factor.
func (i inside) add(factor float64, other inside) {
	floats.AddScaled(i.force, factor, other.force)
	floats.AddScaled(i.moved, factor, other.moved)
}

// read is what the zones read of movements by unknown of the matrix.
func (r *Reduced) read(moved []float64) []float64 {
	v := make([]float64, 6*len(r.forms))
	for i, f := range r.forms {
		for _, s := range f.form {
			if at := r.free[s.unknown]; at >= 0 {
				for c := range 6 {
					v[6*i+c] += s.reads[c] * moved[at]
				}
			}
		}
	}
	return v
}

// resultant of nodal forces about the base.
func (r *Reduced) resultant(force []float64) []float64 {
	total := make([]float64, 6)
	for node, at := range r.mesh.Nodes {
		move := rigid(at, r.base)
		for k := range 3 {
			for c := range 6 {
				total[c] += move[k][c] * force[3*node+k]
			}
		}
	}
	return total
}

// onFreedoms is the forces on the freedoms that a load inside stands for, see the essay above Reduced:
// C⁻¹·Bᵀ·K⁻¹·g on the zones, Rᵀ·(g_h − K_hᵀ·K⁻¹·g) − Wᵀ of those on the held regions, and
// the first region takes what is left of the resultant.
func (r *Reduced) onFreedoms(load inside) []float64 {
	zones, others := 6*len(r.forms), len(r.pull)
	n := zones + others
	total := r.resultant(load.force)
	if n == 0 {
		return total
	}
	f := mat.NewVecDense(n, nil)
	if zones > 0 {
		f.SliceVec(0, zones).(*mat.VecDense).MulVec(r.inner, mat.NewVecDense(zones, r.read(load.moved)))
	}
	if len(r.body.Held) == 0 {
		// K·v_g + C⁻¹·R·M⁻¹·resultant
		var out, a, back mat.VecDense
		out.MulVec(r.K, mat.NewVecDense(zones, r.read(load.moved)))
		if err := r.afloat.m.SolveVecTo(&a, mat.NewVecDense(6, total)); err != nil {
			panic(fmt.Sprintf("solid: rigid motions of the body: %v", err)) // Reduce has inverted it before
		}
		back.MulVec(&r.afloat.pushed, &a)
		out.AddVec(&out, &back)
		return out.RawVector().Data
	}
	if others > 0 {
		g := f.SliceVec(zones, n).(*mat.VecDense)
		if zones > 0 {
			g.MulVec(r.along.T(), f.SliceVec(0, zones))
			g.ScaleVec(-1, g)
		}
		for i, column := range r.pull {
			s := g.AtVec(i)
			for k, p := range column {
				s += p * load.moved[k]
			}
			g.SetVec(i, s)
		}
		for u, h := range r.holder {
			if h > 0 {
				for c, p := range r.prescribed(u) {
					i := 6*(h-1) + c
					g.SetVec(i, g.AtVec(i)+p*load.force[u])
				}
			}
		}
	}
	var out mat.VecDense
	out.MulVec(r.rel.T(), f)
	for c, v := range total {
		out.SetVec(zones+c, out.AtVec(zones+c)+v)
	}
	return out.RawVector().Data
}
