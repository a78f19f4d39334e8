package solid

import (
	"context"
	"math"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"tiploop/beam"
)

func setThreads(t *testing.T, n int) {
	before := runtime.GOMAXPROCS(n)
	t.Cleanup(func() { runtime.GOMAXPROCS(before) })
}

// unreduced solves the whole mesh for movements v of the zones and q of the held regions, imposed by Lagrange's
// multipliers:
//
//	[K G; Gᵀ 0]·[u; −λ] = [g; (v, R·q)]
//
// with G the zones' forms and one column for each held unknown. The multipliers are the forces; those of held unknowns
// are gathered by Rᵀ. Returns the stiffness, the forces a nodal load stands for and the multipliers' movement.
func (r *Reduced) unreduced(t *rapid.T, load []float64) (k *mat.Dense, standsFor []float64) {
	nodal := 3 * len(r.mesh.Nodes)
	var held []int
	if len(r.body.Held) > 0 {
		for u, h := range r.holder {
			if h >= 0 {
				held = append(held, u)
			}
		}
	}
	zones := 6 * len(r.forms)
	n := nodal + zones + len(held)
	scale := 1 / r.body.Part.Made.E // keeps the saddle point well scaled
	a := mat.NewDense(n, n, nil)
	whole := r.whole()
	for i := range nodal {
		for j := range nodal {
			a.Set(i, j, whole.At(i, j)*scale)
		}
	}
	set := func(row, col int, v float64) { a.Set(row, col, a.At(row, col)+v); a.Set(col, row, a.At(col, row)+v) }
	for i, f := range r.forms {
		for _, s := range f.form {
			for c, w := range s.reads {
				set(s.unknown, nodal+6*i+c, w)
			}
		}
	}
	for i, f := range r.forms { // v = Gᵀ·u + (what is missed)·λ
		for c := range 6 {
			for l := range 6 {
				a.Set(nodal+6*i+c, nodal+6*i+l, -f.missed[c][l]/scale)
			}
		}
	}
	for i, u := range held {
		set(u, nodal+zones+i, 1)
	}
	freedoms := zones + 6*len(r.body.Held)
	rhs := mat.NewDense(n, freedoms+1, nil)
	for c := range zones {
		rhs.Set(nodal+c, c, 1)
	}
	for i, u := range held {
		for c, p := range r.prescribed(u) {
			rhs.Set(nodal+zones+i, zones+6*r.holder[u]+c, p)
		}
	}
	for u, g := range load {
		rhs.Set(u, freedoms, g*scale)
	}
	var lu mat.LU
	lu.Factorize(a)
	x := mat.NewDense(n, freedoms+1, nil)
	if err := lu.SolveTo(x, false, rhs); err != nil {
		t.Skip(err) // the dense matrix, which is not scaled, is too badly conditioned to judge by
	}
	k = mat.NewDense(freedoms, freedoms, nil)
	standsFor = make([]float64, freedoms)
	put := func(row, col int, v float64) {
		if col == freedoms {
			standsFor[row] += -v // held at zero the freedoms need the opposite
			return
		}
		k.Set(row, col, k.At(row, col)+v)
	}
	for col := range freedoms + 1 {
		for row := range zones {
			put(row, col, -x.At(nodal+row, col)/scale)
		}
		for i, u := range held {
			for c, p := range r.prescribed(u) {
				put(zones+6*r.holder[u]+c, col, -p*x.At(nodal+zones+i, col)/scale)
			}
		}
	}
	return k, standsFor
}

// diagonal is 1 over the square roots of a matrix's diagonal (0 where it vanishes): rotations and movements on one
// scale.
func diagonal(k mat.Symmetric) []float64 {
	n := k.SymmetricDim()
	d := make([]float64, n)
	for i := range n {
		if v := k.At(i, i); v > 0 {
			d[i] = 1 / math.Sqrt(v)
		}
	}
	return d
}

// The same mesh without any reduction, solved densely with the freedoms imposed by multipliers.
func TestReductionIsExact(t *testing.T) {
	worst := 0.0
	rapid.Check(t, func(t *rapid.T) {
		held := rapid.IntRange(0, 2).Draw(t, "held")
		b := drawBody(t, held)
		r := reducedIfApart(t, b)
		if len(r.mesh.Nodes) > 180 {
			t.Skip("too large to solve densely")
		}
		load := r.mesh.Weight(r3.Vec{X: 1, Y: -2, Z: 3})
		for i, g := range r.growth(Warm{3, r3.Vec{X: 0.1, Y: 0.2, Z: -0.1}}) {
			load[i] = load[i]*1e9 + g
		}
		want, wantLoad := r.unreduced(t, load)
		got := r.onFreedoms(r.solved(load))
		d := diagonal(r.K)
		size := 0.0
		for i := range got {
			size = max(size, math.Abs(wantLoad[i]*d[i]))
		}
		// Compliances agree to rounding; K, their inverse, by so much less as zones are alike.
		condition := evenCondition(r.inner)
		if condition > 1e5 {
			t.Skip("zones nearly on one place, or nearly on held metal")
		}
		tolerance := max(1e-8, 1e-11*condition)
		for i := range d {
			for j := range d {
				e := math.Abs(r.K.At(i, j)-want.At(i, j)) * d[i] * d[j]
				worst = max(worst, e/tolerance)
				if !(e <= tolerance) {
					t.Fatalf("K %d %d: %g, unreduced %g", i, j, r.K.At(i, j), want.At(i, j))
				}
			}
			if e := math.Abs(got[i]-wantLoad[i]) * d[i] / size; !(e <= 10*tolerance) {
				t.Fatalf("load on %d: %g, unreduced %g", i, got[i], wantLoad[i])
			}
		}
	})
	t.Logf("worst %.1e of the tolerance", worst)
}

// evenCondition is the condition of a matrix scaled to a diagonal of ones.
func evenCondition(k *mat.SymDense) float64 {
	d := diagonal(k)
	even := mat.NewSymDense(len(d), nil)
	for i := range d {
		for j := i; j < len(d); j++ {
			even.SetSym(i, j, k.At(i, j)*d[i]*d[j])
		}
	}
	return mat.Cond(even, 2)
}

// By physics: a rigid motion makes no force, there are no other such motions, and forces balance.
func TestOnlyRigidMotionsAreFree(t *testing.T) {
	worst := 0.0
	rapid.Check(t, func(t *rapid.T) {
		b := drawBody(t, rapid.IntRange(0, 2).Draw(t, "held"))
		r := reducedIfApart(t, b)
		n := r.K.SymmetricDim()
		rigidly := mat.NewDense(n, 6, nil)
		put := func(row int, c [6][6]float64) {
			for i := range 6 {
				for j := range 6 {
					rigidly.Set(row+i, j, c[i][j])
				}
			}
		}
		about := b.Part.middle()
		for i, z := range b.Zones {
			put(6*i, carry(about, z.At))
		}
		for i, h := range b.Held {
			put(6*(len(b.Zones)+i), carry(about, h.At))
		}
		var f mat.Dense
		f.Mul(r.K, rigidly)
		d := diagonal(r.K)
		even := mat.NewSymDense(n, nil)
		for i := range n {
			for j := i; j < n; j++ {
				even.SetSym(i, j, r.K.At(i, j)*d[i]*d[j])
			}
			// Each term of the sum counts as what it could be at most.
			for c := range 6 {
				size := 0.0
				for j := range n {
					size += math.Sqrt(r.K.At(i, i)*r.K.At(j, j)) * math.Abs(rigidly.At(j, c))
				}
				if e := math.Abs(f.At(i, c)); size > 0 {
					worst = max(worst, e/size)
					if !(e <= 1e-9*size) {
						t.Fatalf("rigid motion %d makes the force %g on freedom %d, of terms %g", c, f.At(i, c), i, size)
					}
				}
			}
		}
		if evenCondition(r.inner) > 1e5 {
			return // zones nearly on one place: what they feel of the rest is lost beside what they feel of one another
		}
		var eigen mat.EigenSym
		require.True(t, eigen.Factorize(even, false))
		for i, v := range eigen.Values(nil) {
			if i < 6 {
				require.InDelta(t, 0, v, 1e-9)
			} else {
				require.Greater(t, v, 1e-9, "a seventh motion without force")
			}
		}
	})
	t.Logf("worst %.1e", worst)
}

// The same body mirrored in x = 0, or with x, y, z renamed, is as stiff.
func TestMirroredBodyIsAsStiff(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBody(t, 0)
		m := mirrored(b)
		r, s := reducedIfApart(t, b), reducedIfApart(t, m)
		d := diagonal(r.K)
		for i := range d {
			for j := range d {
				want := r.K.At(i, j) * flipped[i%6] * flipped[j%6]
				if e := math.Abs(s.K.At(i, j)-want) * d[i] * d[j]; !(e <= 1e-8) {
					t.Fatalf("%d %d: %g, mirrored %g", i, j, want, s.K.At(i, j))
				}
			}
		}
	})
}

// flipped are the signs of movements and rotations in a mirror across x.
var flipped = [6]float64{-1, 1, 1, 1, -1, -1}

func mirrored(b *Body) *Body {
	m := &Body{}
	flip := func(v r3.Vec) r3.Vec { v.X = -v.X; return v }
	p := b.Part
	m.Part = Part{Name: p.Name, Made: p.Made}
	if p.Block != nil {
		m.Part.Block = &Block{From: r3.Vec{X: -p.Block.To.X, Y: p.Block.From.Y, Z: p.Block.From.Z},
			To: r3.Vec{X: -p.Block.From.X, Y: p.Block.To.Y, Z: p.Block.To.Z}}
	} else {
		m.Part.Gusset = &Gusset{flip(p.Gusset.Corner), [2]r3.Vec{flip(p.Gusset.Legs[0]), flip(p.Gusset.Legs[1])},
			flip(p.Gusset.Thickness)}
	}
	for _, z := range b.Zones {
		z.At = flip(z.At)
		if z.Normal != 0 {
			p := make([][2]float64, len(z.Polygon))
			for i, v := range z.Polygon {
				p[len(p)-1-i] = [2]float64{-v[0], v[1]}
			}
			z.Polygon = p
		}
		m.Zones = append(m.Zones, z)
	}
	return m
}

// A zone of force only: the compliance is that of the bar in tension, F·L/(E·A) between two ends of ν = 0.
func TestBarInTension(t *testing.T) {
	made := soft
	made.Nu = 0
	b := &Body{Part: blockOf("bar", made, r3.Vec{}, r3.Vec{X: 100, Y: 10, Z: 8})}
	b.Zones = []Zone{patchOn(span{[3]float64{0, 0, 0}, [3]float64{0, 10, 8}}),
		patchOn(span{[3]float64{100, 0, 0}, [3]float64{100, 10, 8}})}
	r := reduced(t, b, 1)
	require.InEpsilon(t, made.E*80/100, r.K.At(0, 0), 1e-9)
	require.InEpsilon(t, -made.E*80/100, r.K.At(0, 6), 1e-9)
	require.InEpsilon(t, 100*10*8*2.7e-9, r.mass(), 1e-12)
	require.Equal(t, r.Unknowns(), 3*len(r.Mesh().Nodes)-6)
}

// mass of the body, tonne.
func (r *Reduced) mass() float64 {
	p := &r.body.Part
	lo, hi := p.Box()
	v := (hi[0] - lo[0]) * (hi[1] - lo[1]) * (hi[2] - lo[2])
	if p.Gusset != nil {
		v /= 2
	}
	return v * p.Made.Density
}

// whole is the stiffness of all the mesh's unknowns, nothing held: assembled apart from the solver's path.
func (r *Reduced) whole() *mat.SymDense {
	n := 3 * len(r.mesh.Nodes)
	k := mat.NewSymDense(n, nil)
	for e, el := range r.mesh.Elements {
		ke, m := r.mesh.ElementStiffness(e), 3*len(el.Nodes)
		for i := range m {
			for j := range m {
				gi, gj := 3*el.Nodes[i/3]+i%3, 3*el.Nodes[j/3]+j%3
				if gi <= gj {
					k.SetSym(gi, gj, k.At(gi, gj)+ke[i*m+j])
				}
			}
		}
	}
	return k
}

// slack is a metal that does not thin when pulled: its bars are clamped without constraint.
var slack = beam.Material{Key: "slack", E: 70000}

func TestReduceIsTheSameOnAnyNumberOfThreads(t *testing.T) {
	b := readSolidCases(t, "solid-reference.yaml", 7)[0].body(t)
	var k []*mat.SymDense
	for _, threads := range []int{1, 2, 2} {
		setThreads(t, threads)
		r, err := b.Reduce(context.Background(), Settings{})
		require.NoError(t, err)
		k = append(k, r.K)
	}
	require.Equal(t, k[0].RawSymmetric().Data, k[1].RawSymmetric().Data)
	require.Equal(t, k[1].RawSymmetric().Data, k[2].RawSymmetric().Data)
}

// Where zones read alike their cells are halved as often as it takes: four zones a millimetre apart need quarters, at
// some of them at least, and no smaller ones.
func TestCellsAreHalvedUntilZonesDiffer(t *testing.T) {
	b := &Body{Part: blockOf("block", soft, r3.Vec{}, r3.Vec{X: 120, Y: 80, Z: 20})}
	b.Held = []Region{heldOn(span{[3]float64{0, 0, 0}, [3]float64{0, 80, 20}})}
	for i := range 4 {
		x := 60 + float64(i)
		z := patchOn(span{[3]float64{x, 30, 20}, [3]float64{x + 8, 38, 20}})
		z.Aligned, z.Lone = false, true
		b.Zones = append(b.Zones, z)
	}
	s := Settings{Mesh: 2.5}
	on := func(finer float64) (*Reduced, error) {
		return b.reduceOn(context.Background(), s, []float64{finer, finer, finer, finer})
	}
	var alike *ZoneError
	_, err := on(0.5)
	require.ErrorAs(t, err, &alike)
	want, err := on(0.25)
	require.NoError(t, err)
	got, err := b.Reduce(context.Background(), s)
	require.NoError(t, err)
	require.LessOrEqual(t, got.Unknowns(), want.Unknowns())
	b.Zones = b.Zones[:1]
	plain, err := b.Reduce(context.Background(), s)
	require.NoError(t, err)
	require.Greater(t, got.Unknowns(), plain.Unknowns())
}
