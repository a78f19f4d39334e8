package solid

import (
	"slices"
	"sync"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/mat"

	"tiploop/frame/sparse"
)

// Places are zones that are read each by itself, any number of them, beside ports: how each moves with the freedoms of
// K, its own give, and what it and the ports do to each other. What one place does to another is not known, which is
// what makes many of them cheap.
type Places struct {
	*placesRead
	placed *Placed // the body that the zones are on, if that is not the reduced one itself
}

// placesRead is places as the reduced body knows them, whichever body of its shape they are on.
type placesRead struct {
	zones     []float64 // their numbers
	readings  []reading
	touching  *touching
	products  *sparse.PartialCompliance // between groups of loads near one another
	before    int                       // number of its groups that come before those
	response  response
	across    *mat.Dense // loads × touched unknowns of the ports: movement by force, freedoms of K held; nil without ports
	scratches sync.Pool  // for products
}

// Of the places read without ports the keptReads latest are kept, each of keptZones at most: machines that differ in
// other parts ask for the same again, and so does one machine cut where an axis runs.
const (
	keptReads = 16
	keptZones = 64
)

// keptPlaces are places that were read before.
type keptPlaces struct {
	sync.Mutex
	list []*placesRead
}

// find is the places of zones with these numbers, nil when none are kept.
func (k *keptPlaces) find(zones []float64) *placesRead {
	k.Lock()
	defer k.Unlock()
	if i := slices.IndexFunc(k.list, func(p *placesRead) bool { return slices.Equal(p.zones, zones) }); i >= 0 {
		return k.list[i]
	}
	return nil
}

func (k *keptPlaces) keep(p *placesRead) {
	k.Lock()
	defer k.Unlock()
	k.list = append(k.list[max(0, len(k.list)+1-keptReads):], p)
}

// ReadBeside reads zones, which must lie on metal, beside ports, of which there may be none. Many zones at a time cost
// less: no more than the mesh's unknowns under them. With φ the form of a port's freedom, φ·Across[k] is what it
// moves by under a unit force on freedom k of a place, and that under a unit force on the port's.
func (r *Reduced) ReadBeside(ports *Ports, zones ...Zone) (*Places, error) {
	return r.readBeside(r.body, ports, zones)
}

func (r *Reduced) readBeside(body *Body, ports *Ports, zones []Zone) (*Places, error) {
	if len(ports.loads) > 0 || len(zones) > keptZones {
		p, err := r.readAnew(body, ports, zones)
		return &Places{placesRead: p}, err
	}
	var numbers []float64
	for i := range zones {
		numbers = append(numbers, zones[i].numbers()...)
	}
	p := r.kept.find(numbers)
	if p == nil {
		var err error
		if p, err = r.readAnew(body, ports, zones); err != nil {
			return nil, err
		}
		p.zones = numbers
		r.kept.keep(p)
	}
	return &Places{placesRead: p}, nil
}

func (r *Reduced) readAnew(body *Body, ports *Ports, zones []Zone) (*placesRead, error) {
	readings, err := r.readingsOf(body, zones)
	if err != nil {
		return nil, err
	}
	p := &placesRead{touching: r.touched(readings), readings: readings}
	loads := p.touching.loads
	if len(loads) == 0 {
		return p, nil
	}
	// First what every load is wanted with, the body's zones and the ports, then the loads.
	columns := append(r.columns(), r.onFree(ports.loads)...)
	known, all := len(columns)-len(ports.loads), len(columns)
	wanted := p.wanted(all)
	p.products = r.factor.PartialCompliance(append(columns, r.onFree(loads)...), wanted)
	if all == 0 {
		p.response = r.respond(loads, nil)
		return p, nil
	}
	products := p.productsWith(wanted, all)
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

// wanted are the products of the loads with all the columns before them and with the loads near them. It notes the
// number of groups of those columns.
func (p *placesRead) wanted(before int) sparse.Wanted {
	w := sparse.Wanted{Begin: []int{0}}
	for from := 0; from < before; from += 3 * nodesAtOnce {
		w.Begin, w.With = append(w.Begin, min(from+3*nodesAtOnce, before)), append(w.With, nil)
	}
	p.before = len(w.With)
	for g, near := range p.touching.neighbours() {
		with := make([]int, 0, p.before+len(near))
		for h := range p.before {
			with = append(with, h)
		}
		for _, h := range near {
			with = append(with, p.before+h)
		}
		w.With, w.Begin = append(w.With, with), append(w.Begin, before+p.touching.begin[g+1])
	}
	return w
}

// productsWith are the loads' products with the columns before them, a row a load.
func (p *placesRead) productsWith(wanted sparse.Wanted, before int) *mat.Dense {
	products := mat.NewDense(len(p.touching.loads), before, nil)
	for g := p.before; g < len(wanted.With); g++ {
		for h := range p.before {
			block, n := p.products.Between(g, h), wanted.Begin[h+1]-wanted.Begin[h]
			for i := wanted.Begin[g]; i < wanted.Begin[g+1]; i++ {
				copy(products.RawRowView(i - before)[wanted.Begin[h]:], block[:n])
				block = block[n:]
			}
		}
	}
	return products
}

// Gauge is place i. Across is nil without ports.
func (p *Places) Gauge(i int) (gauge Gauge) {
	z := &p.touching.zones[i]
	rows := z.sums(p.response.rows)
	_, freedoms := p.response.weights.Dims()
	back := freedoms
	if p.response.back != nil {
		_, zones := p.response.back.Dims()
		back += zones
	}
	give := p.give(z)
	for k := range 6 {
		gauge.Weights[k] = rows[k][:freedoms:freedoms]
		for l := range k + 1 {
			v := give[k][l] - dot(rows[k][freedoms:back], rows[l][freedoms:back]) + dot(rows[k][back:], rows[l][back:]) +
				p.readings[i].missed[k][l]
			gauge.Local[k][l], gauge.Local[l][k] = v, v
		}
	}
	if p.across != nil {
		gauge.Across = z.sums(p.across)
	}
	if p.placed != nil {
		p.placed.turnOut(&gauge)
	}
	return gauge
}

func dot(x, y []float64) float64 { return blas64.Dot(vectorOf(x), vectorOf(y)) }

func vectorOf(x []float64) blas64.Vector { return blas64.Vector{N: len(x), Inc: 1, Data: x} }

// sums are a zone's six sums of rows of a matrix.
func (z *touch) sums(m *mat.Dense) (sums [6][]float64) {
	_, n := m.Dims()
	scratch := make([]float64, 6*n)
	for k, reads := range z.reads {
		sums[k] = scratch[k*n : (k+1)*n]
		for a, read := range reads {
			if read != 0 {
				blas64.Axpy(read, vectorOf(m.RawRowView(z.loads[a])), vectorOf(sums[k]))
			}
		}
	}
	return sums
}

// give of a zone while the freedoms of K are left alone.
//
// With D the products of its loads, strictly below the diagonal and half of what is on it, it is φᵀ·D·φ and its
// transpose.
func (p *placesRead) give(z *touch) (give [6][6]float64) {
	begin := p.touching.begin
	n := len(z.loads)
	moves := make([]float64, 6*n) // D·φ
	scratch, _ := p.scratches.Get().(*[]float64)
	if scratch == nil {
		scratch = new([]float64)
	}
	defer p.scratches.Put(scratch)
	parts := p.parts(z)
	for i, g := range parts {
		rows, columns := g.to-g.from, g.to
		d := slices.Grow((*scratch)[:0], rows*columns)[:rows*columns] // rows of this part
		*scratch = d
		for _, h := range parts[:i+1] {
			block, stride := p.products.Between(p.before+g.group, p.before+h.group), begin[h.group+1]-begin[h.group]
			others := z.loads[h.from:h.to]
			for a, load := range z.loads[g.from:g.to] {
				from, to := block[(load-begin[g.group])*stride:][:stride], d[a*columns+h.from:][:len(others)]
				for b, other := range others {
					to[b] = from[other-begin[h.group]]
				}
			}
		}
		for a := range rows {
			d[a*columns+g.from+a] /= 2
			clear(d[a*columns+g.from+a+1 : (a+1)*columns])
		}
		block := blas64.General{Rows: rows, Cols: columns, Stride: columns, Data: d}
		for k, reads := range z.reads {
			blas64.Gemv(blas.NoTrans, 1, block, vectorOf(reads[:columns]), 0, vectorOf(moves[k*n+g.from:][:rows]))
		}
	}
	for k := range 6 {
		for l, reads := range z.reads {
			v := dot(reads, moves[k*n:(k+1)*n])
			give[k][l] += v
			give[l][k] += v
		}
	}
	return give
}

// part is the loads of a zone that are in one group: from to to of the zone's.
type part struct{ group, from, to int }

func (p *placesRead) parts(z *touch) (parts []part) {
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
