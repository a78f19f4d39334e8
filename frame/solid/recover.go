package solid

import (
	"fmt"
	"sync"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Field is the movement of a body's whole mesh.
type Field struct {
	U []float64 // movement of the mesh's nodes, mm: three a node

	reduced *Reduced
	place   *placement // of the body, if that is not the reduced one itself
	warm    []Warm
	pushes  []Push
	dents   float64 // energy of what the cells hold back, N·mm

	once     sync.Once
	stresses stressState // see stress
}

// Recover returns the movement of the mesh that belongs to movements v of the freedoms of K and a load inside the body.
// What the load does on the freedoms, by Weight, Warmth and Gauge.Weights, must have been among the loads that made
// v. A zone of the load's pushes without metal under it is a programmer's mistake: ReadBeside refuses it before.
func (r *Reduced) Recover(v []float64, inner Load) *Field {
	return r.RecoverAll([][]float64{v}, []Load{inner})[0]
}

// RecoverAll is Recover of several loads, which together take less than one after the other.
func (r *Reduced) RecoverAll(moved [][]float64, inner []Load) []*Field {
	fields, loads := make([]*Field, len(moved)), make([][]float64, len(moved))
	for i, v := range moved {
		if n := 6 * (len(r.forms) + len(r.body.Held)); len(v) != n {
			panic(fmt.Sprintf("solid: %d movements for %d freedoms", len(v), n))
		}
		fields[i] = &Field{reduced: r, warm: inner[i].Warm, pushes: inner[i].Pushes}
		loads[i] = r.spread(fields[i])
	}
	insides := r.solvedAll(loads...)
	bases, rels := make([][6]float64, len(moved)), make([][]float64, len(moved))
	forces, more := make([][]float64, len(moved)), make([]float64, r.order*len(moved))
	for i, inside := range insides {
		if inner[i].Gravity != (r3.Vec{}) {
			r.weighed()
			for k, g := range components(inner[i].Gravity) {
				inside.add(g, r.heavy[k])
			}
		}
		bases[i], rels[i] = r.motion(moved[i], loads[i], inside)
		if len(rels[i]) > 0 {
			forces[i] = r.inward(more[r.order*i:][:r.order], rels[i], inside)
		}
	}
	r.factor.SolveManyTo(more, more, len(moved))
	for i, f := range fields {
		for k, by := range more[r.order*i:][:r.order] {
			insides[i].moved[k] += by
		}
		if forces[i] != nil {
			for k, z := range r.forms {
				f.dents += z.dent([6]float64(forces[i][6*k:]))
			}
		}
		f.U = r.movements(insides[i], bases[i], rels[i])
	}
	return fields
}

// spread is a field's pushes and what warming would need, on the nodes; the pushes' dents are added to the field's.
func (r *Reduced) spread(f *Field) []float64 {
	load := make([]float64, 3*len(r.mesh.Nodes))
	for _, p := range f.pushes {
		reads, wrong := r.reads(&p.Zone)
		if wrong != "" {
			panic("solid: a pushed zone " + wrong)
		}
		for _, s := range reads.form {
			load[s.unknown] += dot6(s.reads, p.Force)
		}
		f.dents += reads.dent(p.Force)
	}
	for _, w := range f.warm {
		for i, g := range r.growth(w) {
			load[i] += g
		}
	}
	return load
}

// movements are those of the mesh's nodes, from those of the free unknowns, of the base and of the held regions
// against it.
func (r *Reduced) movements(inside inside, base [6]float64, rel []float64) []float64 {
	u, zones := make([]float64, 3*len(r.mesh.Nodes)), 6*len(r.forms)
	for i := range u {
		move := rigid(r.mesh.Nodes[i/3], r.base)[i%3]
		u[i] = dot6(move, base)
		switch {
		case r.free[i] >= 0:
			u[i] += inside.moved[r.free[i]]
		case r.holder[i] > 0:
			u[i] += dot6(r.prescribed(i), [6]float64(rel[zones+6*(r.holder[i]-1):]))
		}
	}
	return u
}

// dent is the energy of a force in the give that the cells hold back, N·mm.
func (z *reading) dent(force [6]float64) (energy float64) {
	for k, row := range z.missed {
		energy += force[k] * dot6(row, force) / 2
	}
	return energy
}

// motion splits movements of the freedoms into the rigid motion of the base and what they are counted from it.
func (r *Reduced) motion(v, load []float64, inside inside) (base [6]float64, rel []float64) {
	zones := 6 * len(r.forms)
	if len(r.body.Held) > 0 {
		base = [6]float64(v[zones:])
		if r.rel == nil {
			return base, nil
		}
		var d mat.VecDense
		d.MulVec(r.rel, mat.NewVecDense(len(v), v))
		return base, d.RawVector().Data
	}
	// a = M⁻¹·(Rᵀ·C⁻¹·(v − v_g) + resultant)
	own := mat.NewVecDense(zones, r.read(inside.moved))
	own.SubVec(mat.NewVecDense(zones, v), own)
	var a, d mat.VecDense
	d.MulVec(r.afloat.pushed.T(), own)
	d.AddVec(&d, mat.NewVecDense(6, r.resultant(load)))
	if err := r.afloat.m.SolveVecTo(&a, &d); err != nil {
		panic(fmt.Sprintf("solid: rigid motions of the body: %v", err)) // Reduce has inverted it before
	}
	d.Reset()
	d.MulVec(r.carry, &a)
	d.SubVec(mat.NewVecDense(zones, v), &d)
	return [6]float64(a.RawVector().Data), d.RawVector().Data
}

// inward adds to rhs the forces inside that belong to movements of the freedoms against the base, B·f − K_h·R·q, and
// returns those on the zones, f.
func (r *Reduced) inward(rhs, rel []float64, inside inside) (forces []float64) {
	zones := 6 * len(r.forms)
	for i, column := range r.pull {
		for k, p := range column {
			rhs[k] += p * rel[zones+i]
		}
	}
	if zones > 0 {
		d := mat.NewVecDense(zones, r.read(inside.moved))
		d.SubVec(mat.NewVecDense(zones, rel[:zones]), d)
		if r.along != nil {
			var w mat.VecDense
			w.MulVec(r.along, mat.NewVecDense(len(r.pull), rel[zones:]))
			d.SubVec(d, &w)
		}
		var f mat.VecDense
		f.MulVec(r.inner, d)
		forces = f.RawVector().Data
		for i, z := range r.forms {
			for _, s := range z.form {
				if at := r.free[s.unknown]; at >= 0 {
					rhs[at] += dot6(s.reads, [6]float64(forces[6*i:]))
				}
			}
		}
	}
	return forces
}
