package solid

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"tiploop/beam"
)

// whole is the stiffness of all the mesh's unknowns, ties included, nothing held: assembled apart from the solver's
// path.
func (r *Reduced) whole() *mat.SymDense {
	n := 3 * len(r.mesh.Nodes)
	k := mat.NewSymDense(n, nil)
	add := func(nodes []int, ke []float64) {
		m := 3 * len(nodes)
		for i := range m {
			for j := range m {
				gi, gj := 3*nodes[i/3]+i%3, 3*nodes[j/3]+j%3
				if gi <= gj {
					k.SetSym(gi, gj, k.At(gi, gj)+ke[i*m+j])
				}
			}
		}
	}
	for e, el := range r.mesh.Elements {
		add(el.Nodes, r.mesh.ElementStiffness(e))
	}
	for _, c := range r.contacts {
		add(r.pair(c), r.bond(c))
	}
	return k
}

// Patch test (Irons' idea, any textbook of finite elements): a linear field of one metal is in equilibrium with nothing
// inside, so its nodal forces must vanish wherever no outer face is: at the ties above all. Energy is the closed form
// ½·σ:ε·V. The meshes do not match.
func TestTiesPassThePatchTest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBody(t, 0)
		if len(b.Parts) == 1 {
			t.Skip("one part")
		}
		b.Parts[1].Made = b.Parts[0].Made
		r, err := b.meshed(Settings{Mesh: coarse})
		require.NoError(t, err)
		var d [3][3]float64
		for i := range 9 {
			d[i/3][i%3] = rapid.Float64Range(-1, 1).Draw(t, "slope") * 1e-3
		}
		u := moved(r.mesh, func(x r3.Vec) r3.Vec {
			c := components(x)
			var v [3]float64
			for i := range 3 {
				for j := range 3 {
					v[i] += d[i][j] * c[j]
				}
			}
			return vector(v)
		})
		lambda, mu := lame(b.Parts[0].Made)
		trace := d[0][0] + d[1][1] + d[2][2]
		stress := mat.NewDense(3, 3, nil)
		density, size, slopes := 0.0, 0.0, 0.0
		for i := range 3 {
			for j := range 3 {
				s := mu * (d[i][j] + d[j][i])
				if i == j {
					s += lambda * trace
				}
				stress.Set(i, j, s)
				density += s * (d[i][j] + d[j][i]) / 4
				slopes += d[i][j] * d[i][j]
				size = max(size, math.Abs(s))
			}
		}
		volume := r.mass() / b.Parts[0].Made.Density
		uv := mat.NewVecDense(len(u), u)
		k := r.whole()
		var f mat.VecDense
		f.MulVec(k, uv)
		// Slopes that nearly make a rotation leave little energy: it counts against what they could have made.
		require.InDelta(t, density*volume, mat.Dot(uv, &f)/2, 1e-10*(lambda+2*mu)*slopes*volume)

		// Nodes on the tie that lie on no other face: the forces there are those of the bond and nothing else.
		tie := b.Ties[0]
		for part := range b.Parts {
			lo, hi := b.Parts[part].Box()
			for _, node := range r.nodes[part] {
				at := components(r.mesh.Nodes[node])
				inner := math.Abs(at[tie.Normal]-tie.Lo[tie.Normal]) < 1e-9
				for a := range 3 {
					if a != tie.Normal {
						inner = inner && at[a] > max(lo[a], tie.Lo[a])+1e-9 && at[a] < min(hi[a], tie.Hi[a])-1e-9
					}
				}
				if g := b.Parts[part].Gusset; g != nil && onSlope(g, r.mesh.Nodes[node]) {
					inner = false
				}
				if !inner || touchesOutline(r, part, node, tie) {
					continue
				}
				for a := range 3 {
					require.InDelta(t, 0, f.AtVec(3*node+a), 1e-10*size*r3.Norm2(r3.Sub(vector(hi), vector(lo))), "node %v", at)
				}
			}
		}
	})
}

func onSlope(g *Gusset, at r3.Vec) bool {
	d := r3.Sub(at, g.Corner)
	s := r3.Dot(d, g.Legs[0])/r3.Norm2(g.Legs[0]) + r3.Dot(d, g.Legs[1])/r3.Norm2(g.Legs[1])
	return s > 1-1e-9
}

// touchesOutline reports whether a cell at the node has a face on the tie's plane that the tie does not cover.
func touchesOutline(r *Reduced, part, node int, tie Tie) bool {
	for _, e := range r.elements[part] {
		for _, n := range r.mesh.Elements[e].Nodes {
			if n != node {
				continue
			}
			for a := range 3 {
				if a != tie.Normal && (r.bounds[e].lo[a] < tie.Lo[a]-1e-9 || r.bounds[e].hi[a] > tie.Hi[a]+1e-9) {
					return true
				}
			}
		}
	}
	return false
}

// The essay's bound: with Γ from the trace inequality the form keeps 1 − 1/σ of the strain energy and is positive for
// every movement but rigid ones, whatever the cells' proportions, metals and overlaps.
func TestTiesArePositive(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBody(t, 0)
		if len(b.Parts) == 1 {
			t.Skip("one part")
		}
		for _, mesh := range []float64{coarse, 2} {
			r, err := b.meshed(Settings{Mesh: mesh})
			require.NoError(t, err)
			require.NoError(t, r.holdRegions())
			k, _ := r.assemble()
			_, err = k.Factorize()
			require.NoError(t, err)
		}
	})
}

// The least energy over two cells that touch, by eigenvalues: only six vanish and none is negative.
func TestBondOfTwoCellsHasSixRigidMotions(t *testing.T) {
	for _, size := range []r3.Vec{{X: 10, Y: 10, Z: 10}, {X: 3, Y: 20, Z: 0.5}, {X: 50, Y: 2, Z: 30}} {
		b := &Body{Parts: []Part{blockOf("a", soft, r3.Vec{}, r3.Vec{X: 10, Y: 10, Z: 10}),
			blockOf("b", hard, r3.Vec{X: 1, Y: -1, Z: 10}, r3.Add(r3.Vec{X: 1, Y: -1, Z: 10}, size))}}
		b.Ties = bonds(b.Parts)
		m := &Mesh{}
		for i := range b.Parts {
			m.Metals = append(m.Metals, b.Parts[i].Made)
			lo, hi := b.Parts[i].Box()
			m.AddBlock(i, [3][]float64{{lo[0], hi[0]}, {lo[1], hi[1]}, {lo[2], hi[2]}})
		}
		r := &Reduced{body: b, mesh: m}
		r.index()
		require.NoError(t, r.tieContacts())
		var eigen mat.EigenSym
		require.True(t, eigen.Factorize(r.whole(), false))
		values := eigen.Values(nil)
		top := values[len(values)-1]
		for i, v := range values {
			if i < 6 {
				require.InDelta(t, 0, v/top, 1e-12)
			} else {
				require.Greater(t, v/top, 1e-9, "eigenvalue %d", i)
			}
		}
	}
}

// deflection of the end of a cantilever 200 x 20 x 20 under forces across, the bar cut at the places along it.
func cantileverEnd(t *testing.T, cuts []float64, mesh float64) [3]float64 {
	b := &Body{}
	for i := range cuts[1:] {
		b.Parts = append(b.Parts, blockOf("piece", slack, r3.Vec{X: cuts[i]}, r3.Vec{X: cuts[i+1], Y: 20, Z: 20}))
	}
	b.Ties = bonds(b.Parts)
	b.Held = []Region{heldOn(0, span{[3]float64{0, 0, 0}, [3]float64{0, 20, 20}})}
	b.Zones = []Zone{patchOn(len(b.Parts)-1, span{[3]float64{200, 0, 0}, [3]float64{200, 20, 20}})}
	r := reduced(t, b, mesh)
	var c mat.Dense
	require.NoError(t, c.Inverse(r.K.SliceSym(0, 6)))
	return [3]float64{c.At(0, 0), c.At(1, 1), c.At(2, 2)}
}

// A bar in two or three pieces is a bar: no locking and no slack at ties whose meshes do not match (grading differs
// from piece to piece).
func TestTiedCantileverIsOnePiece(t *testing.T) {
	one := cantileverEnd(t, []float64{0, 200}, 0.5)
	for _, cuts := range [][]float64{{0, 73, 200}, {0, 20, 90, 200}} {
		tied := cantileverEnd(t, cuts, 0.5)
		for k := range one {
			e := tied[k]/one[k] - 1
			t.Logf("cut at %v: %c %+.3f %%", cuts, "xyz"[k], 100*e)
			if !(math.Abs(e) <= 0.002) {
				t.Errorf("cut at %v: %c off by %+.3f %%", cuts, "xyz"[k], 100*e)
			}
		}
	}
	// Timoshenko's beam with the shear coefficient 5/6 of a rectangle at ν = 0 (Timoshenko 1921): F·L³/(3EI) + F·L/(κGA).
	I, A, G := 20*20*20*20/12., 400., slack.G()
	want := 200*200*200/(3*slack.E*I) + 200/(5./6*G*A)
	require.InEpsilon(t, want, one[1], 0.002)
	require.InEpsilon(t, 200/(slack.E*A), one[0], 1e-8)
}

// slack is a metal that does not thin when pulled: its bars are clamped without constraint.
var slack = beam.Material{Key: "slack", E: 70000}

// Two pieces side by side whose cells cross each other askew in number and grading: bending across the tie.
func TestTiedHalvesBendAsOne(t *testing.T) {
	end := func(parts []Part) float64 {
		b := &Body{Parts: parts, Ties: bonds(parts)}
		for i := range parts {
			lo, hi := parts[i].Box()
			b.Held = append(b.Held, heldOn(i, span{[3]float64{0, lo[1], lo[2]}, [3]float64{0, hi[1], hi[2]}}))
		}
		b.Zones = []Zone{patchOn(0, span{[3]float64{140, 5, 0}, [3]float64{150, 25, 0}}),
			patchOn(len(parts)-1, span{[3]float64{33, 7, 20}, [3]float64{54, 19, 20}})}
		for i := range b.Zones {
			b.Zones[i].Aligned = true
		}
		r := reduced(t, b, 0.5)
		var c mat.Dense
		require.NoError(t, c.Inverse(r.K.SliceSym(0, 12)))
		return c.At(2, 2)
	}
	one := end([]Part{blockOf("a", soft, r3.Vec{}, r3.Vec{X: 150, Y: 30, Z: 20})})
	two := end([]Part{blockOf("a", soft, r3.Vec{}, r3.Vec{X: 150, Y: 30, Z: 10}), blockOf("b", soft, r3.Vec{Z: 10},
		r3.Vec{X: 150, Y: 30, Z: 20})})
	t.Logf("%+.3f %%", 100*(two/one-1))
	require.InEpsilon(t, one, two, 0.002)
}

func TestReduceIsTheSameOnAnyNumberOfThreads(t *testing.T) {
	b := readSolidCases(t, "solid-reference.yaml", 7)[5].body(t)
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

// single is a body with one brick or one wedge a part, tied wherever parts meet.
func single(t *testing.T, parts ...Part) *Reduced {
	b := &Body{Parts: parts, Ties: bonds(parts)}
	m := &Mesh{}
	for i := range b.Parts {
		p := &b.Parts[i]
		m.Metals = append(m.Metals, p.Made)
		if g := p.Gusset; g != nil {
			m.AddGusset(i, g.Corner, g.Legs, g.Thickness, []float64{0, 1}, []float64{0, 1})
			continue
		}
		lo, hi := p.Box()
		m.AddBlock(i, [3][]float64{{lo[0], hi[0]}, {lo[1], hi[1]}, {lo[2], hi[2]}})
	}
	r := &Reduced{body: b, mesh: m}
	r.index()
	require.NoError(t, r.tieContacts())
	return r
}

// surrounded is a block with a thin one of harder metal on each of its first faces: the traction is nearly all its own.
func surrounded(faces int) []Part {
	size := r3.Vec{X: 10, Y: 6, Z: 4}
	parts := []Part{blockOf("middle", soft, r3.Vec{}, size)}
	for f := range faces {
		lo, hi := [3]float64{}, components(size)
		if k := f / 2; f%2 == 0 {
			lo[k], hi[k] = hi[k], hi[k]+1
		} else {
			lo[k], hi[k] = -1, 0
		}
		parts = append(parts, blockOf("outer", hard, vector(lo), vector(hi)))
	}
	return parts
}

// The penalty's parts as the essay has them, g = e·c·a/h: c = (p+1)² at a brick's faces and a wedge's triangles,
// (p+1)·(p+2) at its legs, p = 2 (Warburton & Hesthaven, CMAME 192 (2003)); a = λ+2μ along the normal, μ across; h the
// extent behind; e the number of tied faces.
func TestGripOfAnElement(t *testing.T) {
	lambda, mu := lame(soft)
	for faces := 1; faces <= 6; faces++ {
		r := single(t, surrounded(faces)...)
		for f := range faces {
			k := f / 2
			h := [3]float64{10, 6, 4}[k]
			for d, got := range r.penalty(0, plane{normal: k}) {
				want := mu
				if d == k {
					want = lambda + 2*mu
				}
				require.InEpsilon(t, float64(faces)*9*want/h, got, 1e-14, "%d faces, along %d", faces, d)
			}
		}
		require.InEpsilon(t, 9*hard.G()/1, r.penalty(1, plane{normal: 0})[1], 1e-14, "an outer one has one tied face")
	}
	gusset := Part{Name: "gusset", Made: soft, Gusset: &Gusset{Legs: [2]r3.Vec{{Y: 8}, {Z: 5}}, Thickness: r3.Vec{X: 3}}}
	under := blockOf("under", hard, r3.Vec{X: -1, Y: -1, Z: -7}, r3.Vec{X: 4, Y: 9})
	r := single(t, gusset, under)
	require.InEpsilon(t, 12*mu/5, r.penalty(0, plane{normal: 2})[0], 1e-14)
	require.InEpsilon(t, 12*(lambda+2*mu)/8, r.penalty(0, plane{normal: 1})[1], 1e-14)
	require.InEpsilon(t, 9*(lambda+2*mu)/3, r.penalty(0, plane{normal: 0})[0], 1e-14)
}

// What the essay proves, by gonum's dense eigenvalues: whatever moves, the ties leave 1 − 1/σ of the strain energy,
// also of a cell that is tied all round and whose neighbours hold it from every side.
func TestTiesLeaveTheirShareOfEnergy(t *testing.T) {
	for _, faces := range []int{1, 2, 4, 6} {
		r := single(t, surrounded(faces)...)
		rest := r.whole()
		n := rest.SymmetricDim()
		r.contacts = nil
		rest.AddSym(rest, scaled(1/tieSafety-1, r.whole()))
		var eigen mat.EigenSym
		require.True(t, eigen.Factorize(rest, false))
		values := eigen.Values(nil)
		t.Logf("%d faces: least %.2g of largest", faces, values[0]/values[n-1])
		require.GreaterOrEqual(t, values[0]/values[n-1], -1e-12, "%d faces", faces)
	}
}

func scaled(by float64, m *mat.SymDense) *mat.SymDense {
	var s mat.SymDense
	s.ScaleSym(by, m)
	return &s
}
