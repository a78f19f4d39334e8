package solid

import (
	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/mat"

	"tiploop/frame/sparse"
)

// Ports are zones along which something may be joined to a body that was reduced without them, all known together: the
// places of a carriage along its rail. None is a freedom of K.
//
// Zones that overlap read the same movements of the mesh, so that their number counts little: each is six forms over
// the touched unknowns, those of the mesh that any of them reads, or the zones' own freedoms where these are fewer.
// With φᵢ the form of a freedom and v the freedoms of K, it moves by
//
//	φᵢ·(Weights·v + Local·Σⱼ φⱼ·fⱼ)
//
// under forces fⱼ on all the ports' freedoms, and these are felt on the freedoms of K as Weightsᵀ·Σⱼ
// φⱼ·fⱼ. Weights and Local are a Gauge's (see there), of touched unknowns. A movement along an axis of such an
// unknown is in mm, under forces in N; of a zone's freedom mm or rad, N or N·mm.
type Ports struct {
	Zones   [][6][]sparse.Term // the freedoms of each, as sums of touched unknowns, numbered from 0
	Weights *mat.Dense         // movement of each touched unknown by each freedom of K, in K's order
	Local   *mat.SymDense      // movement of each touched unknown by a unit force on each, freedoms of K held

	loads    [][]sparse.Term // unit forces on the touched unknowns, by unknown of the mesh
	response response
}

// Ports makes zones, which must lie on metal, to ports; none of them is taken to stand by itself (Zone.Lone).
func (r *Reduced) Ports(zones ...Zone) (*Ports, error) { return r.ports(r.body, zones) }

func (r *Reduced) ports(body *Body, zones []Zone) (*Ports, error) {
	readings, err := r.readingsOf(body, zones)
	if err != nil {
		return nil, err
	}
	p := &Ports{Weights: &mat.Dense{}, Local: &mat.SymDense{}}
	if len(zones) == 0 {
		return p, nil
	}
	t := r.touched(readings)
	p.loads, p.Zones = t.loads, make([][6][]sparse.Term, len(zones))
	each(len(zones), func(i int) {
		for k, reads := range t.zones[i].reads {
			for a, read := range reads {
				if read != 0 {
					p.Zones[i][k] = append(p.Zones[i][k], sparse.Term{Unknown: t.zones[i].loads[a], Factor: read})
				}
			}
		}
	})
	columns := append(r.columns(), r.onFree(p.loads)...)
	known, n, size := len(columns)-len(p.loads), len(p.loads), len(columns)
	c := make([]float64, size*size)
	r.factor.ComplianceTo(c, columns)
	var products *mat.Dense
	if known > 0 {
		products = mat.NewDense(size, size, c).Slice(known, size, 0, known).(*mat.Dense)
	}
	p.response = r.respond(p.loads, products)
	p.Weights = p.response.weights
	local := blas64.Symmetric{N: n, Stride: size, Data: c[known*size+known:], Uplo: blas.Upper}
	each(n, func(i int) { p.response.hold(i, i, local.Data[i*size:][i:n]) })
	p.Local.SetRawSymmetric(local)
	return p, nil
}

// hold takes what the freedoms hold back off the give of load i with those from another on.
func (a *response) hold(i, from int, give []float64) {
	add := func(sign float64, root *mat.Dense) {
		if root != nil {
			m := root.RawMatrix()
			m.Data, m.Rows = m.Data[from*m.Stride:], len(give)
			blas64.Gemv(blas.NoTrans, sign, m, vectorOf(root.RawRowView(i)), 1, vectorOf(give))
		}
	}
	add(-1, a.back)
	add(1, a.on)
}
