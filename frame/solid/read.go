package solid

import (
	"fmt"
	"slices"
)

// Gauge is a zone that is pushed and read but is none of the body's freedoms: a place of the work under the tool, a
// point.
//
// Let v be the freedoms and f the forces on them, g what a unit force on the zone is on the mesh's nodes. The zone
// moves by Weights·v with the freedoms, because by reciprocity a force on it is felt at the freedoms as Weightsᵀ;
// and with the freedoms held it gives by
//
//	Local = gᵀ·K⁻¹·g − (Bᵀ·K⁻¹·g)ᵀ·C⁻¹·(Bᵀ·K⁻¹·g),
//
// to which a body that nothing holds adds Pᵀ·M⁻¹·P with P = resultant of g − R_zᵀ·C⁻¹·Bᵀ·K⁻¹·g,
// the rigid motion that the zones' springs allow (names as above Reduced).
type Gauge struct {
	Weights [6][]float64 // movement of each of the zone's six freedoms by each freedom of K
	// Local is the give with the freedoms of K held: how each of the zone's six freedoms moves, mm and rad, by each of
	// the forces on them, N and N·mm, in the order and along the axes of K's; symmetric, and above zero where it pushes
	// itself.
	Local [6][6]float64
	// beside ports: movement of each touched unknown of theirs by a unit force on the zone's freedom, those of K held
	Across [6][]float64
}

// readingsOf zones that are none of the body's own, which is named where one is wrong: it may be another of this shape.
func (r *Reduced) readingsOf(body *Body, zones []Zone) ([]reading, error) {
	list, wrong := make([]reading, len(zones)), make([]string, len(zones))
	each(len(zones), func(i int) { list[i], wrong[i] = r.reads(&zones[i]) })
	for i, z := range zones {
		if wrong[i] != "" {
			return nil, fmt.Errorf("%s %s", body.nameOf(&z), wrong[i])
		}
	}
	return list, nil
}

// Mean is the six movements of a zone in the field, which must lie on metal; one of the load's pushes on the same zone
// dents it.
func (f *Field) Mean(z Zone) (v [6]float64) {
	if f.place != nil {
		signs := f.place.signs()
		defer func() {
			for c := range v {
				v[c] *= signs[c]
			}
		}()
		z = f.place.zone(&z)
	}
	reads, wrong := f.reduced.reads(&z)
	if wrong != "" {
		panic("solid: a read zone " + wrong)
	}
	for _, s := range reads.form {
		for c := range v {
			v[c] += s.reads[c] * f.U[s.unknown]
		}
	}
	for _, p := range f.pushes {
		if p.Zone.same(&z) {
			for c := range v {
				v[c] += dot6(reads.missed[c], p.Force)
			}
		}
	}
	return v
}

// same tells whether two zones are one.
func (z *Zone) same(o *Zone) bool {
	return z.At == o.At && z.Normal == o.Normal && z.Inner == o.Inner && z.Outer == o.Outer && z.Lone == o.Lone &&
		slices.Equal(z.Polygon, o.Polygon)
}
