package joint_test

import (
	"testing"

	"tiploop/frame/joint"
	"tiploop/testdata/checks"
)

func TestHertzBallOnPlane(t *testing.T) {
	c := checks.Find(t, "joint-hertz-ball-plane")
	h := joint.BallOnPlane{
		Radius: c.In(t, "radius_mm"),
		E1:     c.In(t, "E_1_MPa"), Nu1: c.In(t, "poisson_1"),
		E2: c.In(t, "E_2_MPa"), Nu2: c.In(t, "poisson_2"),
	}.Under(c.In(t, "load_N"))
	compare(t, c, map[string][]float64{
		"contact_radius_mm":          {h.ContactRadius},
		"approach_mm":                {h.Approach},
		"peak_pressure_MPa":          {h.PeakPressure},
		"tangent_stiffness_N_per_mm": {h.Stiffness},
	}, nil)
}
