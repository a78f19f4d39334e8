package solid

import (
	"fmt"

	"gonum.org/v1/gonum/mat"
)

// Reading is a zone that is pushed and read but is none of the body's freedoms: a place of the work under the tool, a point.
//
// Let v be the freedoms and f the forces on them, g what a unit force on the zone is on the mesh's nodes. The zone moves by
// Weights·v with the freedoms, because by reciprocity a force on it is felt at the freedoms as Weightsᵀ; and with the
// freedoms held it gives by
//
//	Local = gᵀ·K⁻¹·g − (Bᵀ·K⁻¹·g)ᵀ·C⁻¹·(Bᵀ·K⁻¹·g),
//
// to which a body that nothing holds adds Pᵀ·M⁻¹·P with P = resultant of g − R_zᵀ·C⁻¹·Bᵀ·K⁻¹·g, the rigid motion that the
// zones' springs allow (names as above Reduced).
type Reading struct {
	Weights [6][]float64 // movement of each of the zone's six freedoms by each freedom of K
	Local   [6][6]float64
}

// Read returns the readings of zones, which must lie on metal. Many at a time cost less.
func (r *Reduced) Read(zones ...Zone) ([]Reading, error) {
	nodes := 3 * len(r.mesh.Nodes)
	var forms []form
	for i := range zones {
		if !r.body.has(zones[i].Part) {
			panic(fmt.Sprintf("solid: zone on part %d of %d", zones[i].Part, len(r.body.Parts)))
		}
		reads, wrong := r.reads(&zones[i])
		if wrong != "" {
			return nil, fmt.Errorf("the zone at (%.4g, %.4g, %.4g) on part %q %s", zones[i].At.X, zones[i].At.Y, zones[i].At.Z, r.body.Parts[zones[i].Part].Name, wrong)
		}
		forms = append(forms, reads)
	}
	columns := 6 * len(zones)
	moved := make([]float64, columns*r.order)
	for c := range columns {
		for _, s := range forms[c/6] {
			if at := r.free[s.unknown]; at >= 0 {
				moved[c*r.order+at] = s.reads[c%6]
			}
		}
	}
	r.factor.SolveManyTo(moved, moved, columns)
	list := make([]Reading, len(zones))
	force := make([]float64, nodes)
	for i := range zones {
		var seen, left [6][]float64 // what the freedoms' zones read of the push; what of it is not held by them
		for k := range 6 {
			clear(force)
			for _, s := range forms[i] {
				force[s.unknown] = s.reads[k]
			}
			c := 6*i + k
			push := inside{force, moved[c*r.order : (c+1)*r.order]}
			list[i].Weights[k] = r.onFreedoms(push)
			seen[k] = r.read(push.moved)
			if len(r.body.Held) == 0 {
				left[k] = r.resultant(force)
				for a := range 6 {
					for z, v := range seen[k] {
						left[k][a] -= r.afloat.pushed.At(z, a) * v
					}
				}
			}
			for _, s := range forms[i] {
				if at := r.free[s.unknown]; at >= 0 {
					for l := range 6 {
						list[i].Local[l][k] += s.reads[l] * push.moved[at]
					}
				}
			}
		}
		r.holdBack(&list[i], seen, left)
	}
	return list, nil
}

// holdBack takes off a reading's give what the freedoms hold back of it.
func (r *Reduced) holdBack(reading *Reading, seen, left [6][]float64) {
	for k := range 6 {
		if len(seen[k]) == 0 {
			continue
		}
		var held, loose mat.VecDense
		held.MulVec(r.inner, mat.NewVecDense(len(seen[k]), seen[k]))
		for l := range 6 {
			reading.Local[l][k] -= mat.Dot(&held, mat.NewVecDense(len(seen[l]), seen[l]))
		}
		if left[k] == nil {
			continue
		}
		if err := r.afloat.m.SolveVecTo(&loose, mat.NewVecDense(6, left[k])); err != nil {
			panic(fmt.Sprintf("solid: rigid motions of the body: %v", err)) // Reduce has inverted it before
		}
		for l := range 6 {
			reading.Local[l][k] += mat.Dot(&loose, mat.NewVecDense(6, left[l]))
		}
	}
	for k := range 6 {
		for l := range k {
			mean := (reading.Local[k][l] + reading.Local[l][k]) / 2 // alike but for rounding
			reading.Local[k][l], reading.Local[l][k] = mean, mean
		}
	}
}

// Mean is the six movements of a zone in the field, which must lie on metal.
func (f *Field) Mean(z Zone) (v [6]float64) {
	reads, wrong := f.reduced.reads(&z)
	if wrong != "" {
		panic("solid: a read zone " + wrong)
	}
	for _, s := range reads {
		for c := range v {
			v[c] += s.reads[c] * f.U[s.unknown]
		}
	}
	return v
}
