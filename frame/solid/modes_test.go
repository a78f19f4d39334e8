package solid

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
)

// frequencies are the lowest natural frequencies of a held body's mesh, Hz, by inverse iteration of a subspace (Bathe,
// Finite Element Procedures, 1996, sec. 11.6).
func (r *Reduced) frequencies(t *testing.T, count int) []float64 {
	const extra, rounds = 6, 6
	n := count + extra
	x := mat.NewDense(r.order, n, nil)
	for i := range r.order {
		for j := range n {
			x.Set(i, j, math.Sin(float64((i+1)*(j+2)))) // anything that is in no symmetry
		}
	}
	values := make([]float64, n)
	for range rounds {
		mx := r.massTimes(x)
		kx := mat.NewDense(r.order, n, nil)
		var columns mat.Dense
		columns.CloneFrom(mx.T())
		r.factor.SolveManyTo(columns.RawMatrix().Data, columns.RawMatrix().Data, n)
		kx.Copy(columns.T())
		// Rayleigh-Ritz in the new space: Kr = XᵀKX = XᵀM·X_old, Mr = XᵀMX.
		var kr, mr, inner, y mat.Dense
		kr.Mul(kx.T(), mx)
		mr.Mul(kx.T(), r.massTimes(kx))
		var chol mat.Cholesky
		require.True(t, chol.Factorize(symmetric(&kr)))
		var l mat.TriDense
		chol.LTo(&l)
		require.NoError(t, inner.Solve(&l, &mr))
		require.NoError(t, y.Solve(&l, inner.T()))
		var eigen mat.EigenSym // of L⁻¹·Mr·L⁻ᵀ: 1/ω²
		require.True(t, eigen.Factorize(symmetric(&y), true))
		var vectors, back mat.Dense
		eigen.VectorsTo(&vectors)
		require.NoError(t, back.Solve(l.T(), &vectors))
		x.Mul(kx, &back)
		for i, v := range eigen.Values(nil) {
			values[n-1-i] = 1 / math.Sqrt(v) / (2 * math.Pi)
			column := mat.NewVecDense(r.order, mat.Col(nil, i, x))
			column.ScaleVec(1/math.Sqrt(v), column)
			x.SetCol(i, column.RawVector().Data)
		}
	}
	return values[:count]
}

func (r *Reduced) massTimes(x *mat.Dense) *mat.Dense {
	_, n := x.Dims()
	out := mat.NewDense(r.order, n, nil)
	known := map[figure][]float64{}
	for e, el := range r.mesh.Elements {
		f, alike := r.mesh.figure(e)
		m := known[f]
		if m == nil || !alike {
			m = r.mesh.elementMass(e)
			known[f] = m
		}
		size := 3 * len(el.Nodes)
		for i := range size {
			row := r.free[3*el.Nodes[i/3]+i%3]
			if row < 0 {
				continue
			}
			into := out.RawRowView(row)
			for j := range size {
				col := r.free[3*el.Nodes[j/3]+j%3]
				if w := m[i*size+j]; w != 0 && col >= 0 {
					for c, v := range x.RawRowView(col) {
						into[c] += w * v
					}
				}
			}
		}
	}
	return out
}

// Source: frequencies_Hz of F1 in testdata/solid-reference.yaml, ±0.4 to 1.2 Hz, for 2700 kg/m³. A body whose parts are
// tied rings as one.
func TestPortalFrequencies(t *testing.T) {
	if testing.Short() {
		t.Skip("sixty solves")
	}
	c := readSolidCases(t, "solid-reference.yaml", 7)[4]
	require.Equal(t, "solid-F1", c.ID)
	require.Len(t, c.Frequencies, 4)
	mesh, within := 1.0, 0.02
	if thorough() {
		mesh, within = 0.5, 0.01
	}
	r := reduced(t, c.body(t), mesh)
	for i, got := range r.frequencies(t, 4) {
		e := got/c.Frequencies[i] - 1
		t.Logf("%.1f Hz, reference %.1f: %+.2f %%", got, c.Frequencies[i], 100*e)
		if !(math.Abs(e) <= within) {
			t.Errorf("mode %d: %.1f Hz, reference %.1f: %+.2f %%", i+1, got, c.Frequencies[i], 100*e)
		}
	}
}

// elementMass is the consistent mass matrix of element e, tonne, in the order of ElementStiffness.
func (m *Mesh) elementMass(e int) []float64 {
	f := m.family(e)
	density := m.Metals[m.Elements[e].Part].Density
	n := 3 * f.Nodes
	mass := make([]float64, n*n)
	for i, st := range f.Stations {
		s := f.sampled[i]
		w := m.volume(e, s) * st.Weight * density
		for a, na := range s.n {
			for b, nb := range s.n {
				share := w * (na * nb) // in this order it is the same both ways round
				for k := range 3 {
					mass[(3*a+k)*n+3*b+k] += share
				}
			}
		}
	}
	return mass
}
