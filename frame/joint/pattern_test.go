package joint_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/joint"
	"tiploop/testdata/checks"
)

func TestPattern2x3(t *testing.T) {
	c := checks.Find(t, "joint-pattern-2x3")
	p := joint.Pattern{Places: c.Places(t, "points_mm"), Tangential: c.In(t, "tangential_stiffness_each_N_per_mm")}
	each, err := p.Shear(c.In(t, "force_x_N"), c.In(t, "force_y_N"), c.In(t, "moment_about_centroid_N_mm"))
	require.NoError(t, err)
	var fx, fy []float64
	largest := 0.0
	for _, f := range each {
		fx, fy = append(fx, f[0]), append(fy, f[1])
		largest = math.Max(largest, math.Hypot(f[0], f[1]))
	}
	centre := p.Centroid()
	compare(t, c, map[string][]float64{
		"centroid_mm":                       centre[:],
		"polar_sum_mm2":                     {p.PolarSum()},
		"force_x_each_N":                    fx,
		"force_y_each_N":                    fy,
		"largest_force_N":                   {largest},
		"rotational_stiffness_N_mm_per_rad": {p.RotationalStiffness()},
	}, nil)
}

func TestPatternTilt(t *testing.T) {
	c := checks.Find(t, "joint-pattern-tilt")
	p := joint.Pattern{Places: c.Places(t, "points_mm"), Normal: c.In(t, "normal_stiffness_each_N_per_mm")}
	k := p.Tilt()
	rx, ry, err := k.Rotation(c.In(t, "moment_x_N_mm"), c.In(t, "moment_y_N_mm"))
	require.NoError(t, err)
	compare(t, c, map[string][]float64{
		"K_xx_N_mm_per_rad": {k.XX},
		"K_yy_N_mm_per_rad": {k.YY},
		"K_xy_N_mm_per_rad": {k.XY},
		"rotation_x_rad":    {rx},
		"rotation_y_rad":    {ry},
	}, nil)
}

func drawPlaces(t *rapid.T) [][2]float64 {
	n := rapid.IntRange(3, 8).Draw(t, "screws")
	places := make([][2]float64, n)
	for i := range places {
		places[i] = [2]float64{rapid.Float64Range(-100, 100).Draw(t, "x"), rapid.Float64Range(-100, 100).Draw(t, "y")}
	}
	// Two places far apart and one off their line, so that the pattern holds against everything.
	places[0], places[1], places[2] = [2]float64{-150, 0}, [2]float64{150, 0}, [2]float64{0, 150}
	return places
}

func TestPatternBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := joint.Pattern{Places: drawPlaces(t), Normal: 1e5, Tangential: 1e5}
		fx := rapid.Float64Range(-1e3, 1e3).Draw(t, "fx")
		fy := rapid.Float64Range(-1e3, 1e3).Draw(t, "fy")
		m := rapid.Float64Range(-1e5, 1e5).Draw(t, "m")
		each, err := p.Shear(fx, fy, m)
		require.NoError(t, err)
		c := p.Centroid()
		var sx, sy, sm float64
		for i, f := range each {
			sx += f[0]
			sy += f[1]
			sm += (p.Places[i][0]-c[0])*f[1] - (p.Places[i][1]-c[1])*f[0]
		}
		require.InDelta(t, fx, sx, 1e-8)
		require.InDelta(t, fy, sy, 1e-8)
		require.InDelta(t, m, sm, 1e-6)

		// Springs at the screws under the computed tilt give the moments back.
		rx, ry, err := p.Tilt().Rotation(m, fx)
		require.NoError(t, err)
		var mx, my float64
		for _, q := range p.Places {
			x, y := q[0]-c[0], q[1]-c[1]
			push := p.Normal * (rx*y - ry*x)
			mx += y * push
			my -= x * push
		}
		require.InDelta(t, m, mx, 1e-6)
		require.InDelta(t, fx, my, 1e-6)
	})
}

func TestPatternThatCannotHold(t *testing.T) {
	line := joint.Pattern{Places: [][2]float64{{0, 0}, {10, 10}, {30, 30}}, Normal: 1e5}
	_, _, err := line.Tilt().Rotation(1, 0)
	require.ErrorContains(t, err, "one line")

	one := joint.Pattern{Places: [][2]float64{{5, 5}}, Normal: 1e5}
	_, err = one.Shear(0, 0, 10)
	require.ErrorContains(t, err, "no moment")
	each, err := one.Shear(7, 8, 0)
	require.NoError(t, err)
	require.Equal(t, [][2]float64{{7, 8}}, each)

	require.Panics(t, func() { joint.Pattern{}.Centroid() })
}
