package solid

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// solveFreedoms are the movements of all freedoms under forces, those from index fixed on held at zero.
func solveFreedoms(t require.TestingT, r *Reduced, fixed int, force []float64) []float64 {
	v := make([]float64, r.K.SymmetricDim())
	var chol mat.Cholesky
	require.True(t, chol.Factorize(r.K.SliceSym(0, fixed).(*mat.SymDense)))
	require.NoError(t, chol.SolveVecTo(mat.NewVecDense(fixed, v[:fixed]), mat.NewVecDense(fixed, force[:fixed])))
	return v
}

// A bar hung from its upper end sinks at the lower by ρ·g·L²/(2·E), its energy is ρ²g²·A·L³/(6·E) and the
// stress at the top ρ·g·L (any textbook of strength of materials; ν = 0, so that the held end pinches nothing). The
// held end carries all.
func TestHangingBlock(t *testing.T) {
	made := slack
	made.Density = 2.7e-9
	const L, g = 300, 9806.65
	b := &Body{Part: blockOf("bar", made, r3.Vec{}, r3.Vec{X: 20, Y: 30, Z: L})}
	b.Held = []Region{heldOn(span{[3]float64{0, 0, L}, [3]float64{20, 30, L}})}
	b.Zones = []Zone{patchOn(span{[3]float64{0, 0, 0}, [3]float64{20, 30, 0}})}
	r := reduced(t, b, 1)
	w := r.Weight()[2]
	for i := range w {
		w[i] *= -g
	}
	v := solveFreedoms(t, r, 6, w)
	require.InEpsilon(t, -made.Density*g*L*L/(2*made.E), v[2], 1e-9)
	f := r.Recover(v, Load{Gravity: r3.Vec{Z: -g}})
	require.InEpsilon(t, made.Density*made.Density*g*g*600*L*L*L/(6*made.E), f.Energy(), 1e-9)
	worst, _ := f.Worst()
	require.InEpsilon(t, made.Density*g*L, worst.Stress, 1e-6)
	require.Equal(t, float64(L), worst.At.Z)
	// Forces balance: what the load stands for at both ends is the weight.
	require.InEpsilon(t, -r.mass()*g, w[2]+w[6+2], 1e-9)
}

// The weight that reaches the freedoms is the body's mass at its middle, however it is held.
func TestWeightBalances(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBody(t, rapid.IntRange(0, 2).Draw(t, "held"))
		r := reducedIfApart(t, b)
		about := r3.Vec{X: 5}
		middle := b.Part.middle()
		if g := b.Part.Gusset; g != nil { // a third along the legs, half way through
			middle = r3.Add(g.Corner, r3.Add(r3.Scale(1./3, r3.Add(g.Legs[0], g.Legs[1])), r3.Scale(0.5, g.Thickness)))
		}
		for axis, force := range r.Weight() {
			total, size := balance(b, force, about)
			push := [3]float64{}
			push[axis] = r.mass()
			turn := components(r3.Cross(r3.Sub(middle, about), vector(push)))
			// What vanishes is a difference of forces, each as exact as the solution: 2e-12 of the mass was met once in some
			// thousand draws. Moments are such forces times arms as long as the body.
			const rounded = 1e-11
			arm := r3.Norm(r3.Sub(middle, about)) + b.Part.longest()
			for k := range 3 {
				require.InDelta(t, push[k], total[k], 1e-9*size[k]+rounded*r.mass())
				require.InDelta(t, turn[k], total[3+k], 1e-9*size[3+k]+rounded*r.mass()*arm)
			}
		}
		total, size := balance(b, r.Warmth(Warm{20, r3.Vec{X: 0.3, Y: -0.1, Z: 0.2}}), about)
		for k, f := range total {
			require.InDelta(t, 0, f, 1e-9*size[k]+1e-12*b.Part.Made.E, "warmth pushes on nothing outside")
		}
	})
}

// balance is the resultant of forces on the freedoms about a place, and the sums of its terms' sizes.
func balance(b *Body, force []float64, about r3.Vec) (total, size [6]float64) {
	add := func(at r3.Vec, f []float64) {
		c := carry(about, at)
		for i := range 6 {
			for j := range 6 {
				total[j] += c[i][j] * f[i]
				size[j] += math.Abs(c[i][j] * f[i])
			}
		}
	}
	for i, z := range b.Zones {
		add(z.At, force[6*i:])
	}
	for i, h := range b.Held {
		add(h.At, force[6*(len(b.Zones)+i):])
	}
	return total, size
}

// Free growth under a temperature linear in the place is stress-free: ε = α·T·1 is compatible (Boley & Weiner,
// Theory of Thermal Stresses, 1960, sec. 3.2 (from memory)). Its movements against the zones' own: K·v equals Warmth
// for the v that growth makes.
func TestFreeGrowthIsStressFree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBody(t, 0)
		r := reducedIfApart(t, b)
		mean, slope := 15.0, r3.Vec{X: 0.4, Y: -0.3, Z: 0.7}
		grow := r.Warmth(Warm{mean, slope})
		// The growth itself: u = α·(T₀·d + (γ·d)·d − ½·|d|²·γ) from the middle has the strain α·(T₀ +
		// γ·d)·1.
		mid, alpha := b.Part.middle(), b.Part.Made.Expansion
		u := moved(r.mesh, func(x r3.Vec) r3.Vec {
			d := r3.Sub(x, mid)
			return r3.Scale(alpha, r3.Sub(r3.Scale(mean+r3.Dot(slope, d), d), r3.Scale(r3.Norm2(d)/2, slope)))
		})
		v := mat.NewVecDense(len(grow), nil)
		for i, f := range r.forms {
			read := f.of(u)
			for c := range 6 {
				v.SetVec(6*i+c, read[c])
			}
		}
		var f mat.VecDense
		f.MulVec(r.K, v)
		d := diagonal(r.K)
		size := 0.0
		for i := range grow {
			for j := range grow {
				size = max(size, math.Abs(r.K.At(i, j)*v.AtVec(j))*d[i])
			}
		}
		for i := range grow {
			require.InDelta(t, 0, (grow[i]-f.AtVec(i))*d[i]/size, 1e-8, "freedom %d", i)
		}
		field := r.Recover(v.RawVector().Data, Load{Warm: []Warm{{mean, slope}}})
		worst, _ := field.Worst()
		scale := b.Part.Made.E * alpha * 100
		require.LessOrEqual(t, worst.Stress, 1e-8*scale)
		require.LessOrEqual(t, field.Energy(), 1e-14*scale*alpha*100*r.mass()/b.Part.Made.Density)
	})
}

// Fields of several loads at once are those of each by itself, whether it acts inside the body, on its freedoms or not
// at all.
func TestFieldsTogetherAndAlone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBody(t, rapid.IntRange(0, 2).Draw(t, "held"))
		r := reducedIfApart(t, b)
		push := Push{drawPlaces(t, b, 1)[0], [6]float64{100, -70, 40, 900, 500, -300}}
		loads := []Load{{}, {Pushes: []Push{push}}, {Gravity: r3.Vec{Z: -9e3}}, {Warm: []Warm{{Mean: 3}}}, {}}
		moved := make([][]float64, len(loads))
		for i := range moved {
			moved[i] = make([]float64, r.K.SymmetricDim())
			for k := range moved[i] {
				if i < len(loads)-1 {
					moved[i][k] = rapid.Float64Range(-1, 1).Draw(t, "v")
				}
			}
		}
		for i, f := range r.RecoverAll(moved, loads) {
			alone := r.Recover(moved[i], loads[i])
			for k, u := range alone.U {
				require.InDelta(t, u, f.U[k], 1e-9*(1+math.Abs(u)), "load %d", i)
			}
			require.InDelta(t, alone.Energy(), f.Energy(), 1e-8*(1+alone.Energy()), "load %d", i)
		}
	})
}
