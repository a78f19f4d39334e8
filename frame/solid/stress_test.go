package solid

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// A bar pulled by F at its ends has F/A everywhere; bent by M it has M/W at top and bottom (any textbook; ν = 0 or
// linear tractions on whole ends, which is what a zone's forces are, so that Saint-Venant's solution holds from end to
// end).
func TestBarStresses(t *testing.T) {
	for _, made := range []struct {
		nu float64
	}{{0}, {0.33}} {
		metal := soft
		metal.Nu = made.nu
		b := &Body{Part: blockOf("bar", metal, r3.Vec{}, r3.Vec{X: 90, Y: 12, Z: 9})}
		for _, x := range []float64{0, 90} {
			b.Zones = append(b.Zones, patchOn(span{[3]float64{x, 0, 0}, [3]float64{x, 12, 9}}))
		}
		r := reduced(t, b, 1)
		pull := make([]float64, 12)
		pull[6] = 1000
		f := r.Recover(solveFromBehind(t, r, pull), Load{})
		for node, s := range f.stress().nodal {
			if f.stress().count[node] == 0 {
				continue
			}
			require.InDelta(t, 1000/108., s[0], 1e-7)
			require.InDelta(t, 1000/108., VonMises(s), 1e-7)
		}
		require.InEpsilon(t, 1000*1000*90/(2*metal.E*108), f.Energy(), 1e-9)

		bend := make([]float64, 12)
		bend[6+4] = 5000 // about y
		f = r.Recover(solveFromBehind(t, r, bend), Load{})
		worst, away := f.Worst()
		W := 12 * 9 * 9 / 6.
		require.InEpsilon(t, 5000/W, worst.Stress, 1e-7)
		require.InEpsilon(t, 5000/W, away.Stress, 1e-7)
		require.True(t, worst.At.Z == 0 || worst.At.Z == 9)
		require.False(t, away.AtEdge)
		require.InEpsilon(t, 5000*5000*90/(2*metal.E*12*9*9*9/12.), f.Energy(), 1e-9)
	}
}

// solveFromBehind holds the first zone and loads the rest.
func solveFromBehind(t *testing.T, r *Reduced, force []float64) []float64 {
	n := r.K.SymmetricDim()
	rest := mat.NewSymDense(n-6, nil)
	for i := range n - 6 {
		for j := i; j < n-6; j++ {
			rest.SetSym(i, j, r.K.At(6+i, 6+j))
		}
	}
	v := make([]float64, n)
	var chol mat.Cholesky
	require.True(t, chol.Factorize(rest))
	require.NoError(t, chol.SolveVecTo(mat.NewVecDense(n-6, v[6:]), mat.NewVecDense(n-6, force[6:])))
	return v
}

// Known states: pure tension has its own value, pure shear √3 times it, pressure none (von Mises 1913).
func TestVonMises(t *testing.T) {
	require.InDelta(t, 7, VonMises([6]float64{0, -7}), 1e-14)
	require.InDelta(t, 5*math.Sqrt(3), VonMises([6]float64{3: 5}), 1e-14)
	require.InDelta(t, 0, VonMises([6]float64{4, 4, 4}), 1e-14)
}

// Work that the freedoms' forces do is the part's energy, dents of lone zones included; a movement read back
// from the recovered field is the one that was asked for.
func TestEnergyBalances(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBody(t, rapid.IntRange(0, 2).Draw(t, "held"))
		r := reducedIfApart(t, b)
		n := r.K.SymmetricDim()
		d := diagonal(r.K)
		v := make([]float64, n)
		for i := range v {
			v[i] = rapid.Float64Range(-1, 1).Draw(t, "v") * d[i]
		}
		f := r.Recover(v, Load{})
		vec := mat.NewVecDense(n, v)
		work := mat.Inner(vec, r.K, vec) / 2
		require.InDelta(t, 1, f.Energy()/work, 1e-7)
		for i, form := range r.forms {
			if form.missed != ([6][6]float64{}) {
				continue // it moves by its dent, too
			}
			for c, got := range form.of(f.U) {
				require.InDelta(t, v[6*i+c], got, 1e-7*d[6*i+c])
			}
		}
		for u, h := range r.holder {
			if h >= 0 && len(b.Held) > 0 {
				zones := 6 * len(b.Zones)
				want := dot6(r.prescribed(u), [6]float64(v[zones+6*h:]))
				require.InDelta(t, want, f.U[u], 1e-9*(math.Abs(want)+d[zones]))
			}
		}
		worst, away := f.Worst()
		require.GreaterOrEqual(t, worst.Stress, away.Stress)
		require.False(t, math.IsNaN(worst.Stress))
	})
}

// summed is how far rounding parts a sum of fields from the field of a sum, of the largest movement: slender bodies on
// stiff ties are conditioned like 1e8.
const summed = 1e-7

// Superposition: loads inside and movements of the freedoms add up, and the field is in balance with its load: the work
// of a load's own field is twice its energy, less nothing (Clapeyron).
func TestRecoverUnderLoads(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBody(t, rapid.IntRange(0, 2).Draw(t, "held"))
		r := reducedIfApart(t, b)
		n := r.K.SymmetricDim()
		d := diagonal(r.K)
		v := make([]float64, n)
		for i := range v {
			v[i] = rapid.Float64Range(-1, 1).Draw(t, "v") * d[i] * 1e-3
		}
		pull := r3.Vec{X: 1e6, Y: -2e6, Z: 3e6}
		both := r.Recover(v, Load{Gravity: pull})
		alone := r.Recover(v, Load{})
		load := r.Recover(make([]float64, n), Load{Gravity: pull})
		size := 0.0
		for i := range both.U {
			size = max(size, math.Abs(both.U[i]))
		}
		for i := range both.U {
			require.InDelta(t, both.U[i], alone.U[i]+load.U[i], summed*size)
		}
		work := 0.0
		for i, g := range r.mesh.Weight(pull) {
			work += g * load.U[i] / 2
		}
		require.InDelta(t, 1, load.Energy()/work, 1e-6)
	})
}

// A worst place at the rim of a held strip is at an edge; the value away from it converges as cells get smaller, the
// one at the edge grows with the root of their number, as at the tip of a crack.
func TestPeakAwayFromEdgesSettles(t *testing.T) {
	var worst, away []float64
	for _, mesh := range []float64{1, 0.5, 0.25} {
		b := &Body{Part: blockOf("bar", soft, r3.Vec{}, r3.Vec{X: 100, Y: 20, Z: 20})}
		b.Held = []Region{heldOn(span{[3]float64{30, 0, 0}, [3]float64{50, 20, 0}})}
		b.Zones = []Zone{patchOn(span{[3]float64{100, 0, 0}, [3]float64{100, 20, 20}})}
		r := reduced(t, b, mesh)
		force := make([]float64, 12)
		force[2] = 1000
		w, a := r.Recover(solveFreedoms(t, r, 6, force), Load{}).Worst()
		require.True(t, w.AtEdge)
		require.Zero(t, w.At.Z)
		require.False(t, a.AtEdge)
		worst, away = append(worst, w.Stress), append(away, a.Stress)
	}
	t.Logf("worst %.1f, away %.1f", worst, away)
	require.Greater(t, worst[2], 1.1*worst[1])
	require.InEpsilon(t, away[2], away[1], 0.05)
}

// By definition: the second peak is the largest von Mises stress of the corners that lie a quarter of the thickness or
// farther from the outline of the held strip and from that of the zone, distances by hand to the sides of two
// rectangles.
func TestPeakAwayFromEdgesIsAQuarterAway(t *testing.T) {
	b := &Body{Part: blockOf("bar", soft, r3.Vec{}, r3.Vec{X: 100, Y: 20, Z: 20})}
	b.Held = []Region{heldOn(span{[3]float64{30, 0, 0}, [3]float64{50, 20, 0}})}
	b.Zones = []Zone{patchOn(span{[3]float64{100, 0, 0}, [3]float64{100, 20, 20}})}
	r := reduced(t, b, 0.5)
	v := make([]float64, r.K.SymmetricDim())
	v[2] = -1
	f := r.Recover(v, Load{})
	outside := func(x, lo, hi float64) float64 { return math.Max(0, math.Max(lo-x, x-hi)) }
	strip := func(x r3.Vec) float64 { // sides along x at y = 0 and 20, along y at x = 30 and 50
		flat := math.Min(
			math.Min(math.Hypot(x.X-30, outside(x.Y, 0, 20)), math.Hypot(x.X-50, outside(x.Y, 0, 20))),
			math.Min(math.Hypot(x.Y, outside(x.X, 30, 50)), math.Hypot(x.Y-20, outside(x.X, 30, 50))),
		)
		return math.Hypot(flat, x.Z)
	}
	end := func(x r3.Vec) float64 { // all its sides are edges of the bar's end
		side := math.Min(math.Min(x.Y, 20-x.Y), math.Min(x.Z, 20-x.Z))
		return math.Hypot(side, 100-x.X)
	}
	var want, farther Peak
	for n, stress := range f.stress().nodal {
		p := Peak{Stress: VonMises(stress), At: r.mesh.Nodes[n]}
		d := math.Min(strip(p.At), end(p.At))
		if d >= 20*0.25*(1-1e-9) && p.Stress > want.Stress {
			want = p
		}
		if d >= 20 && p.Stress > farther.Stress {
			farther = p
		}
	}
	worst, away := f.Worst()
	require.True(t, worst.AtEdge)
	require.Greater(t, worst.Stress, want.Stress)
	require.Equal(t, want, away)
	require.Less(t, farther.Stress, want.Stress, "a whole thickness would leave the place out")
}
