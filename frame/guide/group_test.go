package guide_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"tiploop/frame/guide"
	"tiploop/testdata/checks"
)

// point is a carriage that resists forces alone, alike both ways.
func point(k float64) guide.Stiffness { return guide.Stiffness{Press: k, Pull: k, Side: k} }

func TestCarriageChecks(t *testing.T) {
	checks.Run(t, map[string]func(t *testing.T, c checks.Case){
		"joint-two-carriages": func(t *testing.T, c checks.Case) {
			k, d := c.In(t, "stiffness_each_N_per_mm"), c.In(t, "spacing_mm")
			K := guide.Group([]guide.Placed{{At: [3]float64{-d / 2}, Stiffness: point(k)},
				{At: [3]float64{d / 2}, Stiffness: point(k)}}, [3]float64{})
			c.Near(t, "vertical_N_per_mm", K[2][2], checks.Printed)
			c.Near(t, "pitch_N_mm_per_rad", K[4][4], checks.Printed)
		},
		"joint-four-carriages": func(t *testing.T, c checks.Case) {
			k, along, across := c.In(t, "stiffness_each_N_per_mm"), c.In(t, "spacing_along_mm"), c.In(t,
				"rail_distance_mm")
			load, x, y := c.In(t, "load_N"), c.In(t, "load_x_mm"), c.In(t, "load_y_mm")
			var list []guide.Placed
			for _, sx := range []float64{-0.5, 0.5} {
				for _, sy := range []float64{-0.5, 0.5} {
					list = append(list, guide.Placed{At: [3]float64{sx * along, sy * across}, Stiffness: point(k)})
				}
			}
			K := guide.Group(list, [3]float64{})
			heave, pitch, roll := K[2][2], K[4][4], K[3][3]
			c.Near(t, "heave_N_per_mm", heave, checks.Printed)
			c.Near(t, "pitch_N_mm_per_rad", pitch, checks.Printed)
			c.Near(t, "roll_N_mm_per_rad", roll, checks.Printed)
			c.Near(t, "deflection_under_load_mm", load*(1/heave+x*x/pitch+y*y/roll), checks.Printed)
		},
	})
}

// At its own middle a carriage is its own springs and nothing else; a lever of 10 mm along z turns its side stiffness
// into a roll stiffness k·10² and a coupling of the two, by statics.
func TestGroupOfOne(t *testing.T) {
	one := guide.Placed{
		At:        [3]float64{30, -20, 10},
		Stiffness: guide.Stiffness{Press: 2, Pull: 2, Side: 3, Roll: 5, Pitch: 7, Yaw: 11},
	}
	var want [6][6]float64
	for i, k := range one.Stiffness.Springs() {
		want[i][i] = k
	}
	require.Equal(t, want, guide.Group([]guide.Placed{one}, one.At))
	want[3][3] += 3 * 10 * 10
	want[1][3], want[3][1] = -3*10, -3*10
	require.Equal(t, want, guide.Group([]guide.Placed{one}, [3]float64{30, -20, 0}))
}

// A body moved rigidly feels the same springs wherever its forces are summed, and the matrix is
// symmetric and stores no negative energy.
func TestGroupProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "carriages")
		place := rapid.Float64Range(-500, 500)
		list := make([]guide.Placed, n)
		for i := range list {
			for a := range 3 {
				list[i].At[a] = place.Draw(t, "at")
			}
			list[i].Stiffness = guide.Stiffness{
				Press: logBetween(t, "press", 1e3, 1e6), Pull: logBetween(t, "pull", 1e3, 1e6),
				Side: logBetween(t, "side", 1e3, 1e6),
				Roll: logBetween(t, "roll", 1e5, 1e8), Pitch: logBetween(t, "pitch", 1e5, 1e8),
				Yaw: logBetween(t, "yaw", 1e5, 1e8),
			}
		}
		K := guide.Group(list, [3]float64{})
		arm := [3]float64{place.Draw(t, "x"), place.Draw(t, "y"), place.Draw(t, "z")}
		there := guide.Group(list, arm)
		// The body's movement u, θ about the origin is u + θ×arm, θ about the other point.
		move := mat.NewVecDense(6, nil)
		for i := range 6 {
			move.SetVec(i, rapid.Float64Range(-1, 1).Draw(t, "move"))
		}
		u, th := [3]float64{move.AtVec(0), move.AtVec(1), move.AtVec(2)}, [3]float64{move.AtVec(3), move.AtVec(4),
			move.AtVec(5)}
		shifted := mat.NewVecDense(6, []float64{
			u[0] + th[1]*arm[2] - th[2]*arm[1],
			u[1] + th[2]*arm[0] - th[0]*arm[2],
			u[2] + th[0]*arm[1] - th[1]*arm[0],
			th[0], th[1], th[2],
		})
		energy := func(K [6][6]float64, v mat.Vector) float64 {
			e := 0.0
			for i := range 6 {
				for j := range 6 {
					if K[i][j] != K[j][i] {
						t.Fatal("not symmetric")
					}
					e += v.AtVec(i) * K[i][j] * v.AtVec(j)
				}
			}
			return e
		}
		a, b := energy(K, move), energy(there, shifted)
		// Lever arms of 1 m square the moves: the sums cancel to a part of 1e6 of their terms.
		if e := checks.Rel(b, a); !(e <= 1e-8) || a < 0 {
			t.Fatalf("energies %g and %g", a, b)
		}
	})
}

func TestLockedIn(t *testing.T) {
	rigid := 1e15 // N/mm: nothing gives between the carriages
	checkRows(t, []sourcedRow{
		{
			"two size 15 on a rigid plate", "0.05 mm on two springs of 170 N/µm in a row, by hand: 4250 N",
			guide.LockedIn(0.05, 170e3, rigid), 4250, 1e-9,
		},
		{
			"and on a soft one", "with 85 N/µm between them as much again gives, by hand: 2125 N",
			guide.LockedIn(0.05, 170e3, 85e3), 2125, roundOff,
		},
	})
}

func TestAllowedStep(t *testing.T) {
	loose, _ := guide.Clearance.AllowedStep(100)
	tight, _ := guide.Light.AllowedStep(100)
	require.Less(t, tight.High, loose.Low)
	checkRows(t, []sourcedRow{
		{"two carriages 100 mm apart, preloaded", "light-alloy guide supplier: 0.00021 b", tight.Typical, 0.021,
			roundOff},
		{"with clearance", "light-alloy guide supplier: 0.0006 b", loose.Typical, 0.06, roundOff},
	})
}

func TestGroupRefusesNonsense(t *testing.T) {
	require.Panics(t, func() { guide.Group(nil, [3]float64{}) })
	require.Panics(t, func() { guide.Group([]guide.Placed{{}}, [3]float64{}) })
	require.Panics(t, func() { guide.LockedIn(0.1, -1, 1) })
	require.Panics(t, func() { guide.Light.AllowedStep(0) })
}
