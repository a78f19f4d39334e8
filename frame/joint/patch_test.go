package joint_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"

	"tiploop/frame/joint"
	"tiploop/testdata/checks"
)

// kernel is what a point force on a half-space moves a surface point by, times the distance, for
// the direction theta from the force: Johnson, Contact Mechanics, eq. 3.19 and 3.75 at z = 0.
type kernel func(theta float64) float64

func boussinesq(e, nu float64) kernel {
	return func(float64) float64 { return (1 - nu*nu) / (math.Pi * e) }
}

// cerruti is the movement along the force, the force along theta = 0.
func cerruti(e, nu float64) kernel {
	g := e / (2 * (1 + nu))
	return func(theta float64) float64 {
		c := math.Cos(theta)
		return ((1 - nu) + nu*c*c) / (2 * math.Pi * g)
	}
}

// rectangleMean integrates the kernel over the rectangle around each of n by n Gauss points and
// takes their mean. In polar coordinates about the point the 1/r cancels; along each edge, at the
// distance h, the ray is h cosh(s) long and its angle from the edge's normal is atan(sinh(s)).
func rectangleMean(a, b float64, k kernel, n int) float64 {
	edge := func(h, from, to, normal float64) float64 {
		return h * quad.Fixed(func(s float64) float64 {
			return k(normal + math.Atan(math.Sinh(s)))
		}, math.Asinh(from/h), math.Asinh(to/h), n, nil, 0)
	}
	mean := quad.Fixed(func(x float64) float64 {
		return quad.Fixed(func(y float64) float64 {
			return edge(a-x, -y, b-y, 0) + edge(b-y, -(a-x), x, math.Pi/2) +
				edge(x, -(b-y), y, math.Pi) + edge(y, -x, a-x, 3*math.Pi/2)
		}, 0, b, n, nil, 0)
	}, 0, a, n, nil, 0) / (a * b)
	return mean / (a * b)
}

// circleMean does the same on a circle of radius a.
func circleMean(a float64, k kernel, n int) float64 {
	const turns = 48 // exact for the few harmonics in the position's angle
	sum := 0.0
	for i := range turns {
		alpha := 2 * math.Pi * float64(i) / turns
		sum += quad.Fixed(func(rho float64) float64 {
			return rho * quad.Fixed(func(psi float64) float64 {
				s, c := math.Sincos(psi)
				ray := func(c float64) float64 { return -rho*c + math.Sqrt(1-rho*rho*s*s) }
				return k(alpha+psi)*ray(c) + k(alpha+psi+math.Pi)*ray(-c)
			}, -math.Pi/2, math.Pi/2, n, nil, 0)
		}, 0, 1, n, nil, 0)
	}
	mean := 2 * sum / turns // ∫∫ ρ dρ dα / π
	return mean / (math.Pi * a)
}

// Gauss points leave this much at the edges, where the displacement has an infinite slope.
const patchQuadrature = 1e-5

func TestPatchAgainstIntegration(t *testing.T) {
	const e, nu, n = 70e3, 0.33, 40
	var rows []sourcedRow
	for _, r := range []struct {
		name string
		a, b float64
	}{{"square", 20, 20}, {"3 by 1", 30, 10}, {"1 by 3", 10, 30}, {"10 by 1", 200, 20}} {
		rows = append(rows,
			sourcedRow{r.name + " normal", "Boussinesq's solution, integrated", joint.PatchNormal(r.a, r.b, e, nu),
				rectangleMean(r.a, r.b, boussinesq(e, nu), n), patchQuadrature},
			sourcedRow{r.name + " tangential", "Cerruti's solution, integrated", joint.PatchTangential(r.a, r.b, e, nu),
				rectangleMean(r.a, r.b, cerruti(e, nu), n), patchQuadrature},
		)
	}
	rows = append(rows,
		sourcedRow{"square, printed factor 0.95", "Timoshenko & Goodier, Theory of Elasticity, table of mean " +
			"displacement m P (1-ν²)/(E √A), m = 0.95 for a square (from memory)",
			joint.PatchNormal(20, 20, e, nu) * e * 20 / (1 - nu*nu), 0.95, 5e-3},
		sourcedRow{"5 by 1, printed factor 0.82", "Timoshenko & Goodier, same table, m = 0.82 for a ratio of 5 (from " +
			"memory)",
			joint.PatchNormal(50, 10, e, nu) * e * math.Sqrt(500) / (1 - nu*nu), 0.82, 7e-3},
		sourcedRow{"10 by 1, printed factor 0.71", "Timoshenko & Goodier, same table, m = 0.71 for a ratio of 10 " +
			"(from memory)",
			joint.PatchNormal(100, 10, e, nu) * e * math.Sqrt(1000) / (1 - nu*nu), 0.71, 8e-3},
	)
	checkRows(t, rows)
}

func TestPatchProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := math.Pow(10, rapid.Float64Range(-3, 5).Draw(t, "log10 a"))
		b := math.Pow(10, rapid.Float64Range(-3, 5).Draw(t, "log10 b"))
		nu := rapid.Float64Range(0, 0.49).Draw(t, "nu")
		near := func(got, want float64, what string) {
			if e := checks.Rel(got, want); !(e <= 1e-12) { // closed forms without cancellation
				t.Fatalf("%s: off by %g", what, e)
			}
		}
		near(joint.PatchNormal(b, a, 1, nu), joint.PatchNormal(a, b, 1, nu), "sides change places")
		near(joint.PatchNormal(3*a, 3*b, 1, nu), joint.PatchNormal(a, b, 1, nu)/3, "scale")
		near(joint.PatchTangential(3*a, 3*b, 1, nu), joint.PatchTangential(a, b, 1, nu)/3, "scale")
		// cos² and sin² add up, so the two tangential directions do too.
		near(joint.PatchTangential(a, b, 1, nu)+joint.PatchTangential(b, a, 1, nu),
			joint.PatchNormal(a, b, 1, nu)*(2-nu)/(1-nu), "both directions")
		require.Greater(t, joint.PatchNormal(a, b, 1, nu), joint.PatchNormal(2*a, b, 1, nu))
		if a >= b { // pushed lengthwise, its ends see more of each other
			require.GreaterOrEqual(t, joint.PatchTangential(a, b, 1, nu)*(1+1e-12), joint.PatchTangential(b, a, 1, nu))
		}
	})
}
