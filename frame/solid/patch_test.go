package solid_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"tiploop/beam"
	"tiploop/frame/solid"
)

var aluminium = beam.Material{Key: "own", E: 70e3, Nu: 0.33, Density: 2.7e-9, Expansion: 23e-6}

// macNealCube is the seven distorted bricks in a unit cube (MacNeal & Harder 1985, patch test for solids: inner nodes
// from memory, the test holds for any).
func macNealCube(made beam.Material) *solid.Mesh {
	inner := [8]r3.Vec{
		{X: .249, Y: .342, Z: .192}, {X: .826, Y: .288, Z: .288}, {X: .850, Y: .649, Z: .263}, {X: .273, Y: .750, Z: .230},
		{X: .320, Y: .186, Z: .643}, {X: .677, Y: .305, Z: .683}, {X: .788, Y: .693, Z: .644}, {X: .165, Y: .745, Z: .702},
	}
	corners := [8]r3.Vec{{}, {X: 1}, {X: 1, Y: 1}, {Y: 1}, {Z: 1}, {X: 1, Z: 1}, {X: 1, Y: 1, Z: 1}, {Y: 1, Z: 1}}
	m := &mapped{Mesh: &solid.Mesh{Metals: []beam.Material{made}}}
	one := [3][]float64{{0, 1}, {0, 1}, {0, 1}}
	add := func(c [8]r3.Vec) { m.add(one, func(x r3.Vec) r3.Vec { return trilinear(c, x) }) }
	add(inner)
	for _, f := range [6][4]int{{0, 3, 2, 1}, {4, 5, 6, 7}, {0, 1, 5, 4}, {1, 2, 6, 5}, {2, 3, 7, 6}, {3, 0, 4, 7}} {
		var c [8]r3.Vec
		for i, v := range f {
			// Each face's corners are anticlockwise seen from outside: the bottom is the inner face, the top the outer.
			c[i], c[4+i] = inner[v], corners[v]
		}
		add(c)
	}
	m.join()
	return m.Mesh
}

// trilinear is a place in the brick of those corners.
func trilinear(c [8]r3.Vec, x r3.Vec) (at r3.Vec) {
	one := [8]r3.Vec{{}, {X: 1}, {X: 1, Y: 1}, {Y: 1}, {Z: 1}, {X: 1, Z: 1}, {X: 1, Y: 1, Z: 1}, {Y: 1, Z: 1}}
	for i, p := range one {
		share := (p.X*x.X + (1-p.X)*(1-x.X)) * (p.Y*x.Y + (1-p.Y)*(1-x.Y)) * (p.Z*x.Z + (1-p.Z)*(1-x.Z))
		at = r3.Add(at, r3.Scale(share, c[i]))
	}
	return at
}

// shaken is bricks and wedges side by side: a block with a gusset on each half of its right face, one above the other
// so that their slopes meet, all joined and all inner nodes moved about, edges' middles too.
func shaken(seed uint64) *solid.Mesh {
	m := &mapped{Mesh: &solid.Mesh{Metals: []beam.Material{aluminium}}}
	m.add([3][]float64{{0, 1, 2}, {0, .5, 1}, {0, 1}}, func(x r3.Vec) r3.Vec { return x })
	up, down := r3.Vec{X: 2}, r3.Vec{X: 3, Y: 1}
	m.AddGusset(0, up, [2]r3.Vec{{X: 1}, {Y: 1}}, r3.Vec{Z: 1}, []float64{0, .5, 1}, []float64{0, 1})
	m.AddGusset(0, down, [2]r3.Vec{{X: -1}, {Y: -1}}, r3.Vec{Z: 1}, []float64{0, .5, 1}, []float64{0, 1})
	m.unit = append(m.unit, m.Nodes[len(m.unit):]...)
	m.join()
	random := rand.New(rand.NewPCG(seed, 1))
	for i, x := range m.Nodes {
		if !skin(x) {
			m.Nodes[i] = r3.Add(x, r3.Scale(0.06, r3.Vec{X: random.Float64() - .5, Y: random.Float64() - .5,
				Z: random.Float64() - .5}))
		}
	}
	return m.Mesh
}

// skin tells whether a place is on the outside of shaken.
func skin(x r3.Vec) bool { return x.X == 0 || x.X == 3 || x.Y == 0 || x.Y == 1 || x.Z == 0 || x.Z == 1 }

// linear is the movement a + G·x.
type linear struct {
	a r3.Vec
	g [3]r3.Vec
}

func (l linear) at(x r3.Vec) r3.Vec {
	return r3.Add(l.a, r3.Vec{X: r3.Dot(l.g[0], x), Y: r3.Dot(l.g[1], x), Z: r3.Dot(l.g[2], x)})
}

func (l linear) strain() [6]float64 {
	g := l.g
	return [6]float64{g[0].X, g[1].Y, g[2].Z, g[0].Y + g[1].X, g[1].Z + g[2].Y, g[2].X + g[0].Z}
}

func (l linear) nodes(m *solid.Mesh) []float64 {
	u := make([]float64, 0, 3*len(m.Nodes))
	for _, x := range m.Nodes {
		v := l.at(x)
		u = append(u, v.X, v.Y, v.Z)
	}
	return u
}

func drawVec(t *rapid.T, name string) r3.Vec {
	f := rapid.Float64Range(-1, 1)
	return r3.Vec{X: f.Draw(t, name), Y: f.Draw(t, name), Z: f.Draw(t, name)}
}

// inside are places in an element, its middle and near corners among them.
func inside(k solid.Kind) [][3]float64 {
	if k == solid.Wedge {
		return [][3]float64{{1. / 3, 1. / 3, 0}, {.1, .1, -.9}, {.8, .1, .9}, {.05, .9, .3}}
	}
	return [][3]float64{{}, {-.9, -.9, .9}, {.9, .3, -.7}, {-.4, .95, .1}}
}

// Movements known on the outside as a linear field are linear inside, with the constant stress of Hooke's law at every
// place of every element (Irons & Razzaque 1972: the patch test), however the elements are bent.
func TestPatches(t *testing.T) {
	const tolerance = 1e-12 // of the largest strain; rounding
	for name, m := range map[string]*solid.Mesh{
		"seven distorted bricks": macNealCube(aluminium),
		"bent bricks and wedges": shaken(1),
		"bent again":             shaken(2),
		"bent a third time":      shaken(3),
	} {
		t.Run(name, func(t *testing.T) {
			random := rand.New(rand.NewPCG(7, 7))
			vec := func() r3.Vec {
				return r3.Vec{X: random.NormFloat64(), Y: random.NormFloat64(), Z: random.NormFloat64()}
			}
			field := linear{vec(), [3]r3.Vec{vec(), vec(), vec()}}
			want := field.nodes(m)
			p := newProblem(m)
			for n, x := range m.Nodes {
				if skin(x) || name == "seven distorted bricks" && x.X == 1 {
					for k := range 3 {
						p.known[3*n+k] = want[3*n+k]
					}
				}
			}
			require.Less(t, len(p.known), 3*len(m.Nodes), "some nodes are inside")
			u := p.solve(t, make([]float64, len(want)))
			scale := 0.
			for _, v := range want {
				scale = math.Max(scale, math.Abs(v))
			}
			for i := range u {
				require.InDelta(t, want[i], u[i], tolerance*scale)
			}
			strain := field.strain()
			for e, el := range m.Elements {
				d := m.Elasticity(el.Part)
				for _, xi := range inside(el.Kind) {
					got, stress := m.Strain(e, xi, u), m.Stress(e, xi, u)
					for i := range got {
						require.InDelta(t, strain[i], got[i], 50*tolerance*scale, "differences over an element lose a digit or two")
						hooke := 0.
						for j := range strain {
							hooke += d[i][j] * strain[j]
						}
						require.InDelta(t, hooke, stress[i], 50*tolerance*scale*d[0][0])
					}
				}
			}
		})
	}
}

// Nothing resists a rigid motion.
func TestRigidMotionsAreFree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := shaken(rapid.Uint64Range(1, 50).Draw(t, "seed"))
		shift, turn := drawVec(t, "shift"), drawVec(t, "turn")
		u := make([]float64, 0, 3*len(m.Nodes))
		for _, x := range m.Nodes {
			v := r3.Add(shift, r3.Cross(turn, x))
			u = append(u, v.X, v.Y, v.Z)
		}
		for _, f := range forces(m, u) {
			require.InDelta(t, 0, f, 1e-11*aluminium.E) // elements of size 1, movements up to 4
		}
	})
}

// The nodes' forces in a field of constant strain do the work of the strain energy: half of strain·D·strain times
// volume.
func TestEnergyOfConstantStrain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := shaken(rapid.Uint64Range(1, 50).Draw(t, "seed"))
		field := linear{drawVec(t, "shift"), [3]r3.Vec{drawVec(t, "x"), drawVec(t, "y"), drawVec(t, "z")}}
		u, strain, d := field.nodes(m), field.strain(), m.Elasticity(0)
		want := 0.
		for i := range strain {
			for j := range strain {
				want += strain[i] * d[i][j] * strain[j] * 3 // the box 3 × 1 × 1
			}
		}
		require.InDelta(t, want, dot(u, forces(m, u)), 1e-11*aluminium.E)
	})
}

// Warmed evenly, or by a temperature that rises linearly, a body that is not held takes up the free growth: its strain
// is α·T everywhere and nothing is stressed. Bent elements hold linear movements only, boxes and straight wedges the
// quadratic ones of a linear temperature too.
func TestFreeGrowthIsFreeOfStress(t *testing.T) {
	straight := &solid.Mesh{Metals: []beam.Material{aluminium}}
	straight.AddBlock(0, [3][]float64{{0, .3, 1}, {0, .5, 1}, {0, .6, 1}})
	gusset := &solid.Mesh{Metals: []beam.Material{aluminium}}
	gusset.AddGusset(0, r3.Vec{}, [2]r3.Vec{{X: 1}, {Y: 1}}, r3.Vec{Z: -1}, []float64{0, .2, .5, 1}, []float64{0, .4, 1})
	rise := r3.Vec{X: 3, Y: -7, Z: 5}
	for _, row := range []struct {
		name     string
		mesh     *solid.Mesh
		gradient r3.Vec
	}{
		{"bent bricks and wedges", shaken(4), r3.Vec{}},
		{"seven distorted bricks", macNealCube(aluminium), r3.Vec{}},
		{"block", straight, rise},
		{"gusset", gusset, rise},
	} {
		t.Run(row.name, func(t *testing.T) {
			const mean, tolerance = 12., 1e-15 // strains are 1e-4
			about, m := r3.Vec{X: 1, Y: .5, Z: .25}, row.mesh
			p := newProblem(m) // three nodes, held so that it stays free
			p.hold([]int{near(m, r3.Vec{})}, "xyz").hold([]int{near(m, r3.Vec{X: 1})}, "yz").hold([]int{near(m, r3.Vec{Y: 1})},
				"z")
			u := p.solve(t, m.Warmth(0, mean, row.gradient, about))
			for e, el := range m.Elements {
				for _, xi := range inside(el.Kind) {
					warm := aluminium.Expansion * (mean + r3.Dot(row.gradient, r3.Sub(m.Place(e, xi), about)))
					for i, v := range m.Strain(e, xi, u) {
						want := 0.
						if i < 3 {
							want = warm
						}
						require.InDelta(t, want, v, 20*tolerance)
					}
				}
			}
		})
	}
}

// Weight adds up to the mass along the acceleration, and to its moment about any place.
func TestWeightIsWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := shaken(rapid.Uint64Range(1, 50).Draw(t, "seed"))
		down := drawVec(t, "down")
		force := m.Weight(down)
		var sum, moment r3.Vec
		for n, x := range m.Nodes {
			f := move(force, n)
			sum = r3.Add(sum, f)
			moment = r3.Add(moment, r3.Cross(x, f))
		}
		const volume = 3.
		want := r3.Scale(aluminium.Density*volume, down)
		tolerance := 1e-13 * aluminium.Density
		require.InDelta(t, 0, r3.Norm(r3.Sub(sum, want)), tolerance)
		require.InDelta(t, 0, r3.Norm(r3.Sub(moment, r3.Cross(r3.Vec{X: 1.5, Y: .5, Z: .5}, want))), tolerance)
	})
}

// Warming one part pushes that part's nodes only.
func TestWarmthOfOnePart(t *testing.T) {
	m := &solid.Mesh{Metals: []beam.Material{aluminium, {E: 200e3, Nu: .3, Expansion: 12e-6}}}
	one := [3][]float64{{0, 1}, {0, 1}, {0, 1}}
	m.AddBlock(0, one)
	m.AddBlock(1, one)
	force := m.Warmth(1, 10, r3.Vec{}, r3.Vec{})
	for _, f := range force[:60] {
		require.Zero(t, f)
	}
	// The far face of a warm cube is pushed by E·α·T/(1−2ν) times its area of 1.
	sum := 0.
	for n, x := range m.Nodes[20:] {
		if x.X == 1 {
			sum += force[60+3*n]
		}
	}
	require.InEpsilon(t, 200e3*12e-6*10/.4, sum, 1e-12)
	require.Panics(t, func() { m.Strain(0, [3]float64{}, force[1:]) })
}
