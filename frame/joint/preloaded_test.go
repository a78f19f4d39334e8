package joint_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/joint"
	"tiploop/testdata/checks"
)

func TestPreloadShare(t *testing.T) {
	c := checks.Find(t, "joint-preload-share")
	p := joint.Preloaded{
		Screw:   c.In(t, "screw_stiffness_N_per_mm"),
		Members: c.In(t, "member_stiffness_N_per_mm"),
		Preload: c.In(t, "preload_N"),
	}
	load := c.In(t, "external_load_N")
	compare(t, c, map[string][]float64{
		"joint_constant":                          {p.LoadShare()},
		"screw_load_N":                            {p.ScrewLoad(load)},
		"clamp_load_left_N":                       {p.ClampLoad(load)},
		"separation_load_N":                       {p.SeparationLoad()},
		"tension_stiffness_while_closed_N_per_mm": {p.Stiffness()},
	}, nil)
}

func TestPreloadedBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := joint.Preloaded{
			Screw:   rapid.Float64Range(1e3, 1e6).Draw(t, "screw"),
			Members: rapid.Float64Range(1e3, 1e7).Draw(t, "members"),
			Preload: rapid.Float64Range(1, 1e5).Draw(t, "preload"),
		}
		load := rapid.Float64Range(0, p.SeparationLoad()).Draw(t, "load")
		// The screw pulls on the plate as hard as the load and the faces push.
		require.InEpsilon(t, p.ScrewLoad(load), p.ClampLoad(load)+load, 1e-12)
		// At the separation load nothing is left between the faces, and the screw takes all.
		require.InDelta(t, 0, p.ClampLoad(p.SeparationLoad())/p.Preload, 1e-12)
		require.InEpsilon(t, p.SeparationLoad(), p.ScrewLoad(p.SeparationLoad()), 1e-12)
	})
}
