package solid

import "tiploop/frame/sparse"

// Moved is what the ports' touched unknowns move in a field of their body.
func (p *Ports) Moved(f *Field) []float64 { return readOf(p.loads, f) }

// Means are the six movements of each place in a field of its body.
func (p *Places) Means(f *Field) [][6]float64 {
	loads := readOf(p.touching.loads, f)
	means := make([][6]float64, len(p.touching.zones))
	for i, z := range p.touching.zones {
		for a, load := range z.loads {
			for k := range z.reads {
				means[i][k] += z.reads[k][a] * loads[load]
			}
		}
		if p.placed != nil {
			for k, sign := range p.placed.shape.place.signs() {
				means[i][k] *= sign
			}
		}
	}
	return means
}

// readOf is what unit loads read of a field.
func readOf(loads [][]sparse.Term, f *Field) []float64 {
	list := make([]float64, len(loads))
	for i, load := range loads {
		for _, t := range load {
			list[i] += t.Factor * f.U[t.Unknown]
		}
	}
	return list
}
