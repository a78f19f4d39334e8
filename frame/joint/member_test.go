package joint_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"

	"tiploop/frame/joint"
	"tiploop/testdata/checks"
)

func TestFrustaM12(t *testing.T) {
	c := checks.Find(t, "joint-frusta-m12")
	small, thick, e := c.Ins(t, "frustum_small_diameter_mm"), c.Ins(t, "frustum_thickness_mm"), c.Ins(t, "E_MPa")
	var each []float64
	for i := range small {
		f := joint.Frustum{
			Hole: c.In(t, "bolt_diameter_mm"), Small: small[i], Thickness: thick[i],
			HalfAngle: c.In(t, "half_angle_deg"), E: e[i],
		}
		each = append(each, f.Stiffness())
	}
	k := joint.Series(each...)
	compare(t, c, map[string][]float64{
		"frustum_stiffness_N_per_mm": each,
		"member_stiffness_N_per_mm":  {k},
		"printed_answer_N_per_mm":    {k},
	}, rounded{"printed_answer_N_per_mm": 5e-4}) // printed to four digits, from 0.5774 for tan 30°
}

func TestBoltStiffnessM12(t *testing.T) {
	c := checks.Find(t, "joint-bolt-stiffness-m12")
	e := c.In(t, "E_MPa")
	k := joint.RodStiffness(
		joint.Rod{Length: c.In(t, "shank_length_mm"), Area: c.In(t, "shank_area_mm2"), E: e},
		joint.Rod{Length: c.In(t, "thread_length_mm"), Area: c.In(t, "thread_area_mm2"), E: e},
	)
	compare(t, c, map[string][]float64{
		"bolt_stiffness_N_per_mm": {k},
		"printed_answer_N_per_mm": {k},
	}, rounded{"printed_answer_N_per_mm": 5e-4}) // printed to four digits
}

func TestFrustumByIntegration(t *testing.T) {
	f := joint.Frustum{Hole: 6.6, Small: 10, Thickness: 14, HalfAngle: 30, E: 70e3}
	tan := math.Tan(math.Pi / 6)
	give := quad.Fixed(func(z float64) float64 {
		d := f.Small + 2*z*tan
		return 1 / (f.E * math.Pi / 4 * (d*d - f.Hole*f.Hole))
	}, 0, f.Thickness, 60, nil, 0)
	checkRows(t, []sourcedRow{
		{"M6 in 14 mm", "∫ dz/(E A(z)) over the hollow cone, Gauss quadrature", f.Stiffness(), 1 / give, 1e-10},
	})
}
