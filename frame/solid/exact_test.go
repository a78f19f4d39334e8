package solid_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame/solid"
	"tiploop/testdata/checks"
)

// navier is the deflection in the middle of a rectangular solid a × b × h whose sides are held against deflection and
// movement along them, pressed on its upper face: at its middle plane, exact (Srinivas, Joga Rao & Rao 1970, ZAMM 50;
// from memory, as is the method of initial functions of Vlasov & Leont'ev). For each pair of harmonics u = U(z)·cos
// αx·sin βy, v = V·sin·cos, w = W·sin·sin and the stresses on a horizontal cut X·cos·sin, Y·sin·cos,
// S·sin·sin obey linear equations d/dz (U V W X Y S) = A·(U V W X Y S); X, Y and S are zero below, and S is the
// pressure above.
func navier(t *testing.T, made beam.Material, a, b, h, pressure float64) (w float64) {
	t.Helper()
	mu := made.G()
	lambda := made.E * made.Nu / ((1 + made.Nu) * (1 - 2*made.Nu))
	p := lambda + 2*mu
	const harmonics = 25 // the terms fall as 1/m⁵
	for m := 1; m <= harmonics; m += 2 {
		for n := 1; n <= harmonics; n += 2 {
			x, y := float64(m)*math.Pi/a, float64(n)*math.Pi/b
			e := p - lambda*lambda/p // along the plane, when nothing presses on it
			f := lambda - lambda*lambda/p
			system := mat.NewDense(6, 6, []float64{
				0, 0, -x, 1 / mu, 0, 0,
				0, 0, -y, 0, 1 / mu, 0,
				lambda / p * x, lambda / p * y, 0, 0, 0, 1 / p,
				e*x*x + mu*y*y, (f + mu) * x * y, 0, 0, 0, -lambda / p * x,
				(f + mu) * x * y, e*y*y + mu*x*x, 0, 0, 0, -lambda / p * y,
				0, 0, 0, x, y, 0,
			})
			var through, half mat.Dense
			system.Scale(h/2, system)
			half.Exp(system)
			through.Mul(&half, &half)
			var bottom, middle mat.VecDense
			q := 16 * pressure / (math.Pi * math.Pi * float64(m*n))
			require.NoError(t, bottom.SolveVec(through.Slice(3, 6, 0, 3), mat.NewVecDense(3, []float64{0, 0, q})))
			middle.MulVec(half.Slice(2, 3, 0, 3), &bottom)
			w += middle.AtVec(0) * math.Sin(float64(m)*math.Pi/2) * math.Sin(float64(n)*math.Pi/2)
		}
	}
	return w
}

// Between the exact solution and bricks stands the mesh alone, at any thickness. Close to incompressible it converges
// more slowly, but does not lock.
func TestSolidsAgreeWithNavier(t *testing.T) {
	for _, row := range []struct {
		name            string
		a, b, h, nu     float64
		across, through int
		tolerance       float64
	}{
		{"thin", 400, 400, 8, .3, 8, 2, 1e-3},
		{"longer", 400, 800, 20, .33, 8, 2, 1e-3},
		{"thick", 400, 400, 40, .3, 8, 4, 3e-4},
		{"a cube", 400, 400, 400, .3, 6, 6, 1e-3},
		{"nearly incompressible", 400, 400, 100, .499, 6, 4, 4e-3},
	} {
		t.Run(row.name, func(t *testing.T) {
			made := beam.Material{E: 70e3, Nu: row.nu}
			m := plate(made, row.a/2, row.b/2, row.h, [3][]float64{even(row.across), even(row.across), even(row.through)})
			p := newProblem(m.Mesh).holdEdge(m, 0, 0, hard).holdEdge(m, 1, 0, hard).hold(m.on(0, 1), "x").hold(m.on(1, 1), "y")
			u := p.solve(t, m.pressed(2, 1, up(1)))
			got := move(u, near(m.Mesh, r3.Vec{X: row.a / 2, Y: row.b / 2})).Z
			checks.CloseTo(t, "middle", got, navier(t, made, row.a, row.b, row.h, 1), row.tolerance)
		})
	}
	// The exact solution itself tends to the thin plate's.
	c := checks.Find(t, "plate-ss-uniform-1")
	const thinner = 1e-2
	w := navier(t, metalOf(t, c), c.In(t, "side_a_mm"), c.In(t, "side_b_mm"), c.In(t, "thickness_mm")*thinner,
		c.In(t, "pressure_MPa"))
	checks.CloseTo(t, "thin plate", w*thinner*thinner*thinner, c.Want(t, "mid_deflection_mm"), 2e-5)
}

// wave is a smooth movement, A·sin(k·x) for each of its directions, and the force per volume that it takes:
// −(λ+μ)·∇ div u − μ·∇²u (a manufactured solution; Roache, Verification and Validation in Computational
// Science and Engineering, 1998).
type wave struct {
	size float64
	k    [3]r3.Vec
}

func (w wave) at(x r3.Vec) r3.Vec {
	s := func(i int) float64 { return w.size * math.Sin(r3.Dot(w.k[i], x)) }
	return r3.Vec{X: s(0), Y: s(1), Z: s(2)}
}

// slope is the gradient of movement i.
func (w wave) slope(i int, x r3.Vec) r3.Vec {
	return r3.Scale(w.size*math.Cos(r3.Dot(w.k[i], x)), w.k[i])
}

func (w wave) strain(x r3.Vec) [6]float64 {
	return linear{g: [3]r3.Vec{w.slope(0, x), w.slope(1, x), w.slope(2, x)}}.strain()
}

func (w wave) force(made beam.Material, x r3.Vec) (f r3.Vec) {
	mu := made.G()
	lambda := made.E * made.Nu / ((1 + made.Nu) * (1 - 2*made.Nu))
	for i, k := range w.k {
		s := w.size * math.Sin(r3.Dot(k, x))
		f = r3.Add(f, r3.Add(r3.Scale((lambda+mu)*r3.Dot(k, axes[i])*s, k), r3.Scale(mu*r3.Dot(k, k)*s, axes[i])))
	}
	return f
}

// sampled visits places all over an element with the volume that each stands for: 4 × 4 × 4 points, those of a wedge
// squeezed together towards a corner of its triangle.
func (m *mapped) sampled(e int, visit func(xi [3]float64, volume float64)) {
	inner, outer := math.Sqrt(3./7-2./7*math.Sqrt(1.2)), math.Sqrt(3./7+2./7*math.Sqrt(1.2))
	wi, wo := (18+math.Sqrt(30))/36, (18-math.Sqrt(30))/36
	points := [4][2]float64{{-outer, wo}, {-inner, wi}, {inner, wi}, {outer, wo}}
	for _, a := range points {
		for _, b := range points {
			for _, c := range points {
				xi, weight := [3]float64{a[0], b[0], c[0]}, a[1]*b[1]*c[1]
				if m.Elements[e].Kind == solid.Wedge {
					r := (1 + a[0]) / 2
					xi[0], xi[1] = r, (1-r)*(1+b[0])/2
					weight *= (1 - r) / 4
				}
				visit(xi, weight*r3.Dot(m.tangent(e, xi, 0), r3.Cross(m.tangent(e, xi, 1), m.tangent(e, xi, 2))))
			}
		}
	}
}

// errors of a wave on a mesh whose outside follows it: of the movement (root of the integral of its square) and of the
// energy (root of the strain energy of the error).
func (w wave) errors(t *testing.T, m *mapped, outside func(x r3.Vec) bool) (movement, energy float64) {
	made := m.Metals[0]
	p, force := newProblem(m.Mesh), make([]float64, 3*len(m.Nodes))
	for n, x := range m.Nodes {
		if outside(m.unit[n]) {
			v := w.at(x)
			p.known[3*n], p.known[3*n+1], p.known[3*n+2] = v.X, v.Y, v.Z
		}
	}
	for e, el := range m.Elements {
		m.sampled(e, func(xi [3]float64, volume float64) {
			n, _ := m.Shape(e, xi)
			f := w.force(made, m.Place(e, xi))
			for i, node := range el.Nodes {
				force[3*node] += volume * n[i] * f.X
				force[3*node+1] += volume * n[i] * f.Y
				force[3*node+2] += volume * n[i] * f.Z
			}
		})
	}
	u, d := p.solve(t, force), m.Elasticity(0)
	for e, el := range m.Elements {
		m.sampled(e, func(xi [3]float64, volume float64) {
			x := m.Place(e, xi)
			n, _ := m.Shape(e, xi)
			off := w.at(x)
			for i, node := range el.Nodes {
				off = r3.Sub(off, r3.Scale(n[i], move(u, node)))
			}
			movement += volume * r3.Dot(off, off)
			strain, want := m.Strain(e, xi, u), w.strain(x)
			for i := range strain {
				for j := range strain {
					energy += volume * (strain[i] - want[i]) * d[i][j] * (strain[j] - want[j])
				}
			}
		})
	}
	return math.Sqrt(movement), math.Sqrt(energy)
}

// Quadratic elements: halving the cells divides the error of movements by eight and that of strains by four, boxes,
// wedges and smoothly bent bricks alike (Strang & Fix, An Analysis of the Finite Element Method, 1973, ch. 3).
func TestErrorsFallWithTheirOrder(t *testing.T) {
	w := wave{1e-3, [3]r3.Vec{{X: 2, Y: 1, Z: -1}, {X: -1, Y: 2.5, Z: .5}, {X: 1, Y: -1, Z: 2}}}
	cube := func(x r3.Vec) bool { return x.X*(1-x.X) == 0 || x.Y*(1-x.Y) == 0 || x.Z*(1-x.Z) == 0 }
	for _, row := range []struct {
		name string
		make func(cells int) *mapped
		skin func(x r3.Vec) bool
	}{
		{"boxes", func(cells int) *mapped {
			return newMapped(aluminium, [3][]float64{even(cells), even(cells), even(cells)}, func(x r3.Vec) r3.Vec { return x })
		}, cube},
		{"bent bricks", func(cells int) *mapped {
			return newMapped(aluminium, [3][]float64{even(cells), even(cells), even(cells)}, func(x r3.Vec) r3.Vec {
				return r3.Add(x, r3.Scale(.1, r3.Vec{X: math.Sin(2 * x.Y), Y: math.Sin(2 * x.Z), Z: math.Sin(2 * x.X)}))
			})
		}, cube},
		{"wedges and boxes", func(cells int) *mapped {
			m := &mapped{Mesh: &solid.Mesh{Metals: []beam.Material{aluminium}}}
			m.AddGusset(0, r3.Vec{}, [2]r3.Vec{{X: 1}, {Y: 1}}, r3.Vec{Z: 1}, even(cells), even(cells))
			m.unit = m.Nodes
			return m
		}, func(x r3.Vec) bool { return x.X == 0 || x.Y == 0 || x.X+x.Y > 1-1e-9 || x.Z*(1-x.Z) == 0 }},
	} {
		t.Run(row.name, func(t *testing.T) {
			coarse, coarseEnergy := w.errors(t, row.make(4), row.skin)
			fine, fineEnergy := w.errors(t, row.make(8), row.skin)
			order, energyOrder := math.Log2(coarse/fine), math.Log2(coarseEnergy/fineEnergy)
			t.Logf("order %.2f in movement, %.2f in energy", order, energyOrder)
			require.InDelta(t, 3, order, .2)
			require.InDelta(t, 2, energyOrder, .1)
		})
	}
}
