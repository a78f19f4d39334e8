package solid

import (
	"slices"

	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/mat"

	"tiploop/frame/sparse"
)

// Places are zones that are read each by itself, any number of them, beside ports: how each moves with the freedoms of K, its
// own give, and what it and the ports do to each other. What one place does to another is not known, which is what makes
// many of them cheap.
type Places struct {
	touching *touching
	give     *sparse.PartialCompliance // between groups of loads near one another
	before   int                       // number of its groups that come before those
	response response
	across   *mat.Dense // loads × touched unknowns of the ports: movement by force, freedoms of K held; nil without ports
}

// ReadBeside reads zones, which must lie on metal, of a body that has ports.
func (r *Reduced) ReadBeside(ports *Ports, zones ...Zone) (*Places, error) {
	forms, err := r.formsOf(zones)
	if err != nil {
		return nil, err
	}
	p := &Places{touching: r.touched(forms)}
	loads := p.touching.loads
	if len(loads) == 0 {
		return p, nil
	}
	// First what every load is wanted with, the body's zones and the ports, then the loads.
	columns := append(r.columns(), r.onFree(ports.loads)...)
	known, all := len(columns)-len(ports.loads), len(columns)
	wanted := sparse.Wanted{Begin: []int{0}}
	for from := 0; from < all; from += 3 * nodesAtOnce {
		wanted.Begin, wanted.With = append(wanted.Begin, min(from+3*nodesAtOnce, all)), append(wanted.With, nil)
	}
	p.before = len(wanted.With)
	for g, near := range p.touching.neighbours() {
		with := make([]int, 0, p.before+len(near))
		for h := range p.before {
			with = append(with, h)
		}
		for _, h := range near {
			with = append(with, p.before+h)
		}
		wanted.With, wanted.Begin = append(wanted.With, with), append(wanted.Begin, all+p.touching.begin[g+1])
	}
	p.give = r.factor.PartialCompliance(append(columns, r.onFree(loads)...), wanted)
	if all == 0 {
		p.response = r.respond(loads, nil)
		return p, nil
	}
	products := mat.NewDense(len(loads), all, nil)
	for g := p.before; g < len(wanted.With); g++ {
		for h := range p.before {
			block, n := p.give.Between(g, h), wanted.Begin[h+1]-wanted.Begin[h]
			for i := wanted.Begin[g]; i < wanted.Begin[g+1]; i++ {
				copy(products.RawRowView(i - all)[wanted.Begin[h]:], block[:n])
				block = block[n:]
			}
		}
	}
	var onZones *mat.Dense
	if known > 0 {
		onZones = products.Slice(0, len(loads), 0, known).(*mat.Dense)
	}
	p.response = r.respond(loads, onZones)
	if all > known {
		p.across = products.Slice(0, len(loads), known, all).(*mat.Dense)
		var off mat.Dense
		if p.response.back != nil {
			off.Mul(p.response.back, ports.response.back.T())
			p.across.Sub(p.across, &off)
		}
		if p.response.on != nil {
			off.Reset()
			off.Mul(p.response.on, ports.response.on.T())
			p.across.Add(p.across, &off)
		}
	}
	return p, nil
}

// Reading is place i. Across is nil without ports.
func (p *Places) Reading(i int) (reading Reading) {
	z := &p.touching.zones[i]
	reading.Weights = z.sums(p.response.weights)
	if p.across != nil {
		reading.Across = z.sums(p.across)
	}
	reading.Local = p.local(z)
	for sign, root := range []*mat.Dense{p.response.back, p.response.on} {
		if root == nil {
			continue
		}
		sums := z.sums(root)
		for k := range 6 {
			for l := range k + 1 {
				v := blas64.Dot(blas64.Vector{N: len(sums[k]), Inc: 1, Data: sums[k]}, blas64.Vector{N: len(sums[l]), Inc: 1, Data: sums[l]})
				if sign == 0 {
					v = -v
				}
				reading.Local[k][l] += v
			}
		}
	}
	for k := range 6 {
		for l := range k {
			reading.Local[l][k] = reading.Local[k][l]
		}
	}
	return reading
}

// sums are a zone's six sums of rows of a matrix.
func (z *touch) sums(m *mat.Dense) (sums [6][]float64) {
	_, n := m.Dims()
	for k := range sums {
		sums[k] = make([]float64, n)
	}
	for a, load := range z.loads {
		row := blas64.Vector{N: n, Inc: 1, Data: m.RawRowView(load)}
		for k, read := range z.reads[a] {
			if read != 0 {
				blas64.Axpy(read, row, blas64.Vector{N: n, Inc: 1, Data: sums[k]})
			}
		}
	}
	return sums
}

// local is the give of a zone while the freedoms of K are left alone, on and below the diagonal.
func (p *Places) local(z *touch) (give [6][6]float64) {
	parts := p.parts(z)
	for i, g := range parts {
		for j, h := range parts[:i+1] {
			block := p.give.Between(p.before+g.group, p.before+h.group)
			stride := p.touching.begin[h.group+1] - p.touching.begin[h.group]
			first := p.touching.begin[h.group]
			var between [6][6]float64
			for a := g.from; a < g.to; a++ {
				row := block[(z.loads[a]-p.touching.begin[g.group])*stride:]
				var by [6]float64
				for b := h.from; b < h.to; b++ {
					v := row[z.loads[b]-first]
					for k, read := range &z.reads[b] {
						by[k] += read * v
					}
				}
				for k, read := range z.reads[a] {
					for l, v := range by {
						between[k][l] += read * v
					}
				}
			}
			for k := range 6 {
				for l := range k + 1 {
					give[k][l] += between[k][l]
					if i != j {
						give[k][l] += between[l][k]
					}
				}
			}
		}
	}
	return give
}

// part is the loads of a zone that are in one group: from to to of the zone's.
type part struct{ group, from, to int }

func (p *Places) parts(z *touch) (parts []part) {
	begin := p.touching.begin
	for a, load := range z.loads {
		if last := len(parts) - 1; last >= 0 && load < begin[parts[last].group+1] {
			parts[last].to = a + 1
			continue
		}
		after, _ := slices.BinarySearch(begin, load+1)
		parts = append(parts, part{after - 1, a, a + 1})
	}
	return parts
}
