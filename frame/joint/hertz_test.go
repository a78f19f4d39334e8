package joint_test

import (
	"testing"

	"tiploop/frame/joint"
)

func TestHertzBallOnPlane(t *testing.T) {
	c := loadCheck(t, "joint-hertz-ball-plane")
	h := joint.BallOnPlane{
		Radius: c.in(t, "radius_mm"),
		E1:     c.in(t, "E_1_MPa"), Nu1: c.in(t, "poisson_1"),
		E2: c.in(t, "E_2_MPa"), Nu2: c.in(t, "poisson_2"),
	}.Under(c.in(t, "load_N"))
	c.compare(t, map[string][]float64{
		"contact_radius_mm":          {h.ContactRadius},
		"approach_mm":                {h.Approach},
		"peak_pressure_MPa":          {h.PeakPressure},
		"tangent_stiffness_N_per_mm": {h.Stiffness},
	}, nil)
}
