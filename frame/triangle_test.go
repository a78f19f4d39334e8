package frame_test

import (
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"tiploop/beam"
	"tiploop/frame"
	"tiploop/testdata/checks"
)

// gusset is a triangle with its corner at the origin, legs along x and y, its middle plane at z = 0.
type gusset struct {
	frame.Frame
	*frame.Triangle
	a, b, thick float64
}

func newGusset(a, b, thick float64, m beam.Material) *gusset {
	g := &gusset{a: a, b: b, thick: thick}
	g.Triangle = g.AddTriangle(r3.Vec{Z: -thick / 2}, [2]r3.Vec{{X: a}, {Y: b}}, r3.Vec{Z: thick}, m, "gusset")
	return g
}

// along are spots on the leg from the corner to an end, as many as the shapes have coefficients there.
func along(end r3.Vec) (spots []r3.Vec) {
	for _, share := range []float64{0, 0.2, 0.4, 0.6, 0.8, 1} {
		spots = append(spots, r3.Scale(share, end))
	}
	return spots
}

// field is a movement whose strains or curvatures are the same everywhere: a linear movement in the plane, a quadratic
// deflection with its lines square to the middle plane.
type field struct {
	strain    [3]float64 // direct, direct, shear
	curvature [3]float64 // ∂²w/∂x², ∂²w/∂y², 2·∂²w/∂x∂y
}

func (f field) at(p r3.Vec) r3.Vec {
	e, k := f.strain, f.curvature
	return r3.Vec{
		X: e[0]*p.X + e[2]/2*p.Y - p.Z*(k[0]*p.X+k[2]/2*p.Y),
		Y: e[1]*p.Y + e[2]/2*p.X - p.Z*(k[1]*p.Y+k[2]/2*p.X),
		Z: k[0]/2*p.X*p.X + k[1]/2*p.Y*p.Y + k[2]/2*p.X*p.Y,
	}
}

// turn is how the metal turns: as the normal does, by the slopes of w; about the normal these fields do not turn it.
func (f field) turn(p r3.Vec) r3.Vec {
	k := f.curvature
	return r3.Vec{X: k[1]*p.Y + k[2]/2*p.X, Y: -k[0]*p.X - k[2]/2*p.Y}
}

// energy is ½·∫σ·ε over the gusset: plane stress, and bending of a thin plate.
func (f field) energy(g *gusset, m beam.Material) float64 {
	of := func(e [3]float64) float64 {
		return m.E/(1-m.Nu*m.Nu)*(e[0]*e[0]+2*m.Nu*e[0]*e[1]+e[1]*e[1]) + m.G()*e[2]*e[2]
	}
	return g.a * g.b / 4 * (of(f.strain)*g.thick + of(f.curvature)*g.thick*g.thick*g.thick/12)
}

// Patch test: spots of the edge moved as a uniform strain and curvature say take the whole with them, exactly.
func TestTrianglePassesThePatchTest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := chance{rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 12))}
		m := c.material(memberModulus)
		g := newGusset(c.log(20, 500), c.log(20, 500), c.log(1, 20), m)
		small := func() float64 { return c.between(-1e-3, 1e-3) }
		f := field{[3]float64{small(), small(), small()}, [3]float64{small() / g.thick, small() / g.thick, small() / g.thick}}
		// A shape of degree five that vanishes with its slopes on all three edges vanishes: six spots on an edge do.
		var load frame.Load
		ends := [3]r3.Vec{{}, {X: g.a}, {Y: g.b}}
		var spots []r3.Vec
		for i, from := range ends {
			to := ends[(i+1)%3]
			for _, share := range []float64{0, 0.2, 0.4, 0.6, 0.8} {
				spots = append(spots, r3.Add(from, r3.Scale(share, r3.Sub(to, from))))
			}
		}
		for _, at := range spots {
			for _, d := range world {
				load.Moved = append(load.Moved,
					frame.Moved{Constraint: g.Constrain(frame.Constraint{Form: g.Move(at, d)}), Value: r3.Dot(d, f.at(at))})
			}
			for _, d := range []r3.Vec{axisX, axisY} {
				load.Moved = append(load.Moved,
					frame.Moved{Constraint: g.Constrain(frame.Constraint{Form: g.Turn(at, d)}), Value: r3.Dot(d, f.turn(at))})
			}
		}
		s := solve(t, &g.Frame, load)
		for range 5 {
			x := c.Float64()
			at := r3.Vec{X: x * g.a, Y: (1 - x) * c.Float64() * g.b, Z: c.between(-0.5, 0.5) * g.thick}
			for _, d := range world {
				require.InDelta(t, r3.Dot(d, f.at(at)), s.Value(g.Move(at, d)), 1e-9*g.a)
			}
			for _, d := range world {
				require.InDelta(t, r3.Dot(d, f.turn(at)), s.Value(g.Turn(at, d)), 1e-8)
			}
		}
		// What stands beside the metal goes with the nearest of it on a rigid arm: square to the three edges, and round the
		// corner.
		x, away := c.Float64(), c.between(1, 100)
		for _, beside := range []struct{ near, out r3.Vec }{
			{r3.Vec{X: x * g.a}, r3.Vec{Y: -1}},
			{r3.Vec{Y: x * g.b}, r3.Vec{X: -1}},
			{r3.Vec{X: x * g.a, Y: (1 - x) * g.b}, r3.Unit(r3.Vec{X: g.b, Y: g.a})},
			{r3.Vec{}, r3.Unit(r3.Vec{X: -x, Y: x - 1})},
			{r3.Vec{X: g.a}, r3.Unit(r3.Add(r3.Scale(x, r3.Vec{X: g.b, Y: g.a}), r3.Vec{Y: -g.b}))},
		} {
			near := r3.Add(beside.near, r3.Vec{Z: c.between(-0.5, 0.5) * g.thick})
			arm := r3.Scale(away, beside.out)
			at := r3.Add(near, arm)
			want := r3.Add(f.at(near), r3.Cross(f.turn(near), arm))
			for _, d := range world {
				require.InDelta(t, r3.Dot(d, want), s.Value(g.Move(at, d)), 1e-9*g.a+1e-8*away)
				require.InDelta(t, r3.Dot(d, f.turn(near)), s.Value(g.Turn(at, d)), 1e-8)
			}
		}
		closeToRapid(t, "energy", s.Energy()[0].Energy, f.energy(g, m), 1e-6) // seventy constraints cost digits
	})
}

// A triangle between the same three edges is the same whichever way its thickness runs.
func TestTriangleOfTheOtherHand(t *testing.T) {
	g := newGusset(80, 60, 12, aluminium)
	h := &gusset{a: 80, b: 60, thick: 12}
	h.Triangle = h.AddTriangle(r3.Vec{Z: 6}, [2]r3.Vec{{X: 80}, {Y: 60}}, r3.Vec{Z: -12}, aluminium, "gusset")
	for _, one := range []*gusset{g, h} {
		for _, at := range along(r3.Vec{Y: 60}) {
			for _, d := range world {
				one.Constrain(frame.Constraint{Form: one.Move(at, d)})
				one.Constrain(frame.Constraint{Form: one.Turn(at, d)})
			}
		}
	}
	tip := r3.Vec{X: 80, Z: 6}
	for _, push := range world {
		a := solve(t, &g.Frame, frame.Load{Pushes: []frame.Push{{Form: g.Move(tip, push), Force: 1}}})
		b := solve(t, &h.Frame, frame.Load{Pushes: []frame.Push{{Form: h.Move(tip, push), Force: 1}}})
		for _, d := range world {
			require.InDelta(t, a.Value(g.Move(tip, d)), b.Value(h.Move(tip, d)), 1e-15)
			require.InDelta(t, a.Value(g.Turn(tip, d)), b.Value(h.Turn(tip, d)), 1e-15)
		}
	}
}

// reference is one plate of testdata/triangle-reference.yaml.
type reference struct {
	ID          string  `yaml:"id"`
	Source      string  `yaml:"source"`
	A           float64 `yaml:"leg_held_to_tip_mm"`
	B           float64 `yaml:"leg_held_mm"`
	Thick       float64 `yaml:"thickness_mm"`
	Along       float64 `yaml:"along_loaded_leg_mm_per_N"`
	AlongError  float64 `yaml:"along_loaded_leg_error_rel"`
	Square      float64 `yaml:"in_plane_square_to_loaded_leg_mm_per_N"`
	SquareError float64 `yaml:"in_plane_square_to_loaded_leg_error_rel"`
	Across      float64 `yaml:"across_the_plate_mm_per_N"`
	AcrossError float64 `yaml:"across_the_plate_error_rel"`
}

// Held along one leg and loaded along the other, a triangle gives way less than the true plate (Ritz's bound), by what
// a polynomials cannot follow: the peaks of stress at the ends of the held leg.
func TestTriangleAgainstItsReference(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "testdata", "triangle-reference.yaml"))
	require.NoError(t, err)
	var table struct {
		E     float64     `yaml:"E_MPa"`
		Nu    float64     `yaml:"poisson"`
		Cases []reference `yaml:"cases"`
	}
	require.NoError(t, yaml.Unmarshal(text, &table))
	require.NotEmpty(t, table.Cases)
	for _, c := range table.Cases {
		t.Run(c.ID, func(t *testing.T) {
			require.NotEmpty(t, c.Source)
			g := newGusset(c.A, c.B, c.Thick, beam.Material{E: table.E, Nu: table.Nu})
			for _, at := range along(r3.Vec{Y: c.B}) {
				for _, d := range world {
					g.Constrain(frame.Constraint{Form: g.Move(at, d)})
				}
				g.Constrain(frame.Constraint{Form: g.Turn(at, axisY)}) // the slope across the held leg
			}
			system, err := g.Factor()
			require.NoError(t, err)
			for _, row := range []struct {
				name              string
				direction         r3.Vec
				want, uncertainty float64
				stiffer           float64 // at most
			}{
				{"along the loaded leg", axisX, c.Along, c.AlongError, 0.035},
				{"square to it", axisY, c.Square, c.SquareError, 0.03},
				{"across the plate", axisZ, c.Across, c.AcrossError, 0.016},
			} {
				mean := g.mean(row.direction)
				got := system.Compliance([]frame.Form{mean}, []frame.Form{mean})[0][0]
				off := 1 - got/row.want
				t.Logf("%s: stiffer by %.2f %%", row.name, 100*off)
				if !(off >= -row.uncertainty && off <= row.stiffer) {
					t.Errorf("%s: got %g, want %g, stiffer by %.2f %%", row.name, got, row.want, 100*off)
				}
			}
		})
	}
}

// mean is the mean movement of the leg along x.
func (g *gusset) mean(direction r3.Vec) (form frame.Form) {
	var x, w [4]float64
	quad.Legendre{}.FixedLocations(x[:], w[:], 0, g.a)
	for i := range x {
		form = form.Plus(w[i]/g.a, g.Move(r3.Vec{X: x[i]}, direction))
	}
	return form
}

// A free triangle that is warmed grows in its plane from its centroid.
func TestWarmTriangleGrows(t *testing.T) {
	g := newGusset(80, 60, 12, aluminium)
	hold(&g.Frame, g.Triangle.Node(), clamped)
	s := solve(t, &g.Frame, frame.Load{Swollen: []frame.Swollen{g.Warmed(20)}})
	for _, at := range []r3.Vec{{}, {X: 80}, {Y: 60}, {X: 20, Y: 30}} {
		from := r3.Sub(at, g.Centroid())
		require.InDelta(t, aluminium.Expansion*20*from.X, s.Value(g.Move(at, axisX)), 1e-12)
		require.InDelta(t, aluminium.Expansion*20*from.Y, s.Value(g.Move(at, axisY)), 1e-12)
		require.InDelta(t, 0, s.Value(g.Move(at, axisZ)), 1e-12)
	}
	checks.CloseTo(t, "centroid", r3.Norm(g.Centroid()), math.Hypot(80./3, 20), 1e-12)
}

func TestTriangleRefusesWhatIsNone(t *testing.T) {
	f := &frame.Frame{}
	require.PanicsWithValue(t, "frame: triangle without size", func() {
		f.AddTriangle(still, [2]r3.Vec{{X: 1}, {}}, axisZ, aluminium, "")
	})
	require.Panics(t, func() { f.AddTriangle(still, [2]r3.Vec{{X: 1}, {X: 0.1, Y: 1}}, axisZ, aluminium, "") })
}

// What a spot turns by is the rotation of the movements round it, ½·curl u (Timoshenko & Goodier, Theory of Elasticity,
// art. 82: ω_z = ½(∂v/∂x − ∂u/∂y); from memory), with slopes by the five-point formula, exact to degree four.
func TestTurnOfATriangleIsHalfTheCurl(t *testing.T) {
	g := newGusset(80, 60, 12, aluminium)
	for _, at := range along(r3.Vec{X: 80}) {
		for _, d := range world {
			g.Constrain(frame.Constraint{Form: g.Move(at, d)})
		}
		g.Constrain(frame.Constraint{Form: g.Turn(at, axisX)})
	}
	s := solve(t, &g.Frame, frame.Load{Pushes: []frame.Push{
		{Form: g.Move(r3.Vec{Y: 60}, axisX), Force: 5000}, {Form: g.Move(r3.Vec{X: 20, Y: 30}, axisY), Force: 3000},
		{Form: g.Move(r3.Vec{Y: 55}, axisZ), Force: 200},
	}})
	slope := func(at, of, along r3.Vec) float64 {
		const h = 0.5
		f := func(steps float64) float64 { return s.Value(g.Move(r3.Add(at, r3.Scale(steps*h, along)), of)) }
		return (8*(f(1)-f(-1)) - (f(2) - f(-2))) / (12 * h)
	}
	for _, at := range []r3.Vec{{X: 10, Y: 10}, {X: 30, Y: 20, Z: 4}, {X: 5, Y: 45, Z: -5}} {
		for k, axis := range world {
			next, last := world[(k+1)%3], world[(k+2)%3]
			curl := slope(at, last, next) - slope(at, next, last)
			require.InEpsilon(t, curl/2, s.Value(g.Turn(at, axis)), 1e-6, "%v at %v", axis, at)
		}
	}
}
