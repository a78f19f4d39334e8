package joint_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/joint"
)

func TestSpreadHalfSpaceLimit(t *testing.T) {
	const e, nu, a, n = 70e3, 0.33, 12.0, 60
	area := math.Pi * a * a
	deep := math.Inf(1)
	checkRows(t, []sourcedRow{
		{"normal, closed form", "Timoshenko & Goodier / Johnson ch. 3: 16(1-ν²)/(3π² a E)",
			joint.SpreadNormal(area, deep, e, nu),
			16 * (1 - nu*nu) / (3 * math.Pi * math.Pi * a * e), 1e-14},
		{"normal, integrated", "Boussinesq's solution over the circle", joint.SpreadNormal(area, deep, e, nu),
			circleMean(a, boussinesq(e, nu), n), patchQuadrature},
		{"tangential, integrated", "Cerruti's solution over the circle", joint.SpreadTangential(area, deep, e, nu),
			circleMean(a, cerruti(e, nu), n), patchQuadrature},
		{"tangential, incompressible", "Cerruti's solution over the circle", joint.SpreadTangential(area, deep, e, 0.5),
			circleMean(a, cerruti(e, 0.5), n), patchQuadrature},
	})
}

func TestSpreadColumnLimit(t *testing.T) {
	const e, nu, area = 70e3, 0.33, 500.0
	const depth = 1e-7 // so thin that the cone does not open
	checkRows(t, []sourcedRow{
		{"normal", "column d/(E A)", joint.SpreadNormal(area, depth, e, nu), depth / (e * area), 1e-7},
		{"tangential", "shear column d/(G A)", joint.SpreadTangential(area, depth, e, nu),
			depth * 2 * (1 + nu) / (e * area), 1e-7},
	})
	require.Zero(t, joint.SpreadNormal(area, 0, e, nu))
	require.Zero(t, joint.SpreadTangential(area, 0, e, nu))
}

func TestSpreadProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		area := math.Pow(10, rapid.Float64Range(-1, 5).Draw(t, "log10 area"))
		depth := math.Pow(10, rapid.Float64Range(-1, 3).Draw(t, "log10 depth"))
		nu := rapid.Float64Range(0, 0.49).Draw(t, "nu")
		for _, spread := range []func(area, depth, e, nu float64) float64{joint.SpreadNormal, joint.SpreadTangential} {
			c := spread(area, depth, 70e3, nu)
			require.Greater(t, spread(area, 1.1*depth, 70e3, nu), c, "deeper gives more")
			require.Less(t, spread(1.1*area, depth, 70e3, nu), c, "a larger zone gives less")
			require.Less(t, c, spread(area, math.Inf(1), 70e3, nu), "never more than a half-space")
			require.InEpsilon(t, c/3, spread(area, depth, 210e3, nu), 1e-12)
		}
	})
}

func TestSpreadRefusesNonsense(t *testing.T) {
	require.Panics(t, func() { joint.SpreadNormal(0, 1, 1, 0) })
	require.Panics(t, func() { joint.SpreadNormal(1, -1, 1, 0) })
	require.Panics(t, func() { joint.SpreadTangential(1, math.NaN(), 1, 0) })
}

// A rigid disc on a half-space: rocking 8/3·G·a³/(1−ν) and twisting 16/3·G·a³ (Johnson, Contact Mechanics; Gazetas
// 1991, from memory), against pushing 4·G·a/(1−ν) and sliding 8·G·a/(2−ν). Our zone is pressed evenly, not rigidly, so
// that ratios are what carries over: as spread springs, k·a²/4 about an axis in the face and k·a²/2 about its normal.
func TestTurningOfADeepZone(t *testing.T) {
	for _, nu := range []float64{0, 0.2, 0.33, 0.5} {
		const e, area = 70e3, 300.0
		g, a := e/(2*(1+nu)), math.Sqrt(area/math.Pi)
		deep := 1e9
		push, tilt := 1/joint.SpreadNormal(area, deep, e, nu), 1/joint.SpreadTilt(area, deep, e, nu)*a*a/4
		require.InEpsilon(t, (8*g*a*a*a/(3*(1-nu)))/(4*g*a/(1-nu)), tilt/push, 1e-6)
		slide, spin := 1/joint.SpreadTangential(area, deep, e, nu), 1/joint.SpreadSpin(area, deep, e, nu)*a*a/2
		require.InEpsilon(t, (16*g*a*a*a/3)/(8*g*a/(2-nu)), spin/slide, 1e-6)
		// A shallow zone is a column in every way.
		require.InEpsilon(t, 1e-3/(e*area), joint.SpreadTilt(area, 1e-3, e, nu), 1e-3)
		require.InEpsilon(t, 1e-3/(g*area), joint.SpreadSpin(area, 1e-3, e, nu), 1e-3)
	}
}
