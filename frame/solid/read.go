package solid

import "fmt"

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
	Across  [6][]float64 // of ReadBeside: movement of each touched unknown of the ports by a unit force on each freedom, those of K held
}

// Read returns the readings of zones, which must lie on metal. Many at a time cost less.
func (r *Reduced) Read(zones ...Zone) ([]Reading, error) {
	p, err := r.Ports(zones...)
	if err != nil {
		return nil, err
	}
	list := make([]Reading, len(zones))
	for i := range list {
		list[i] = p.Reading(i)
	}
	return list, nil
}

// ReadBeside is Read for a body that also has ports: the readings say what the ports move by, Across, under what is pushed
// on them, and with that what they move by under what is pushed on the ports: φᵢ·Across of a port's form φᵢ, either way.
func (r *Reduced) ReadBeside(p *Ports, zones ...Zone) ([]Reading, error) {
	forms, err := r.formsOf(zones)
	if err != nil {
		return nil, err
	}
	if len(zones) == 0 {
		return nil, nil
	}
	loads, freedoms := touched(forms)
	own := len(loads)
	response := r.respond(append(loads, p.loads...))
	list := make([]Reading, len(zones))
	for i := range list {
		alone := Ports{Zones: freedoms, Weights: response.weights, Local: response.local}
		list[i] = alone.Reading(i)
		for k, terms := range freedoms[i] {
			list[i].Across[k] = make([]float64, len(p.loads))
			for j := range list[i].Across[k] {
				for _, t := range terms {
					list[i].Across[k][j] += t.Factor * response.local.At(t.Unknown, own+j)
				}
			}
		}
	}
	return list, nil
}

// formsOf zones that are none of the body's own.
func (r *Reduced) formsOf(zones []Zone) ([]form, error) {
	forms := make([]form, len(zones))
	for i := range zones {
		if !r.body.has(zones[i].Part) {
			panic(fmt.Sprintf("solid: zone on part %d of %d", zones[i].Part, len(r.body.Parts)))
		}
		reads, wrong := r.reads(&zones[i])
		if wrong != "" {
			return nil, fmt.Errorf("the zone at (%.4g, %.4g, %.4g) on part %q %s", zones[i].At.X, zones[i].At.Y, zones[i].At.Z, r.body.Parts[zones[i].Part].Name, wrong)
		}
		forms[i] = reads
	}
	return forms, nil
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
