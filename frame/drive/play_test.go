package drive_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/drive"
	"tiploop/testdata/checks"
)

func TestPlayChecks(t *testing.T) {
	checks.RunKind(t, "play", map[string]func(*testing.T, checks.Case){
		"play-chain-resting-force": func(t *testing.T, c checks.Case) {
			stiffness, gaps := c.Ins(t, "stiffness_N_per_mm"), c.Ins(t, "play_mm")
			resting := c.Ins(t, "resting_force_on_each_N")
			compliance, all := 0.0, 0.0
			for i := range stiffness {
				compliance += 1 / stiffness[i]
				all += gaps[i]
			}
			c.Near(t, "stiffness_while_closed_N_per_mm", 1/compliance, c.Tolerance)
			c.Near(t, "lost_motion_without_resting_force_mm", all, c.Tolerance)
			lostAt, movedAt := c.WantList(t, "lost_motion_at_each_push_mm"), c.WantList(t, "movement_from_rest_mm")
			for k, push := range c.Ins(t, "push_N") {
				lost, free := 0.0, 0.0
				for i, gap := range gaps {
					if drive.Crosses(-resting[i], push) { // a push is against what it rests on
						lost += gap
					}
					if drive.Crosses(0, push) {
						free += gap
					}
				}
				c.NearTo(t, "lost motion", lost, lostAt[k], c.Tolerance)
				c.NearTo(t, "without a resting force", free, all, c.Tolerance)
				c.NearTo(t, "movement", push*compliance+lost, movedAt[k], c.Tolerance)
			}
		},
		"play-preloaded-pair": func(t *testing.T, c checks.Case) {
			preload, k := c.In(t, "preload_N"), c.In(t, "spring_stiffness_each_N_per_mm")
			approach := c.In(t, "ball_row_approach_at_preload_mm")
			for _, p := range []struct {
				name string
				drive.PreloadedPair
			}{
				{"springs", drive.PreloadedPair{Preload: preload, Approach: preload / k}},
				{"balls", drive.PreloadedPair{Preload: preload, Approach: approach, Balls: true}},
			} {
				c.Near(t, p.name+"_let_go_at_N", p.LetsGo(), c.Tolerance)
				moved := c.WantList(t, p.name+"_movement_mm")
				for i, load := range c.Ins(t, "load_N") {
					c.NearTo(t, p.name+" moved", p.Movement(load), moved[i], c.Tolerance)
				}
				if p.Balls {
					c.Near(t, "balls_stiffness_at_rest_N_per_mm", 1e-3/p.Movement(1e-3), c.Tolerance)
				}
			}
		},
	})
}

// A preloaded nut's loaded side is what the pair of ball rows says of it (two ways to one number).
func TestPairAgreesWithPreloadedNut(t *testing.T) {
	p := drive.PreloadedPair{Preload: 300, Approach: 0.003, Balls: true}
	for _, load := range []float64{100, 400, 848} {
		loaded, _ := drive.PreloadedNut(load, p.Preload)
		require.InEpsilon(t, loaded, p.Preload*math.Pow(1+p.Movement(load)/p.Approach, 1.5), 0.05) // its law is rounded
	}
	require.False(t, drive.Crosses(0, 0))
	require.True(t, drive.Crosses(0.001, 40), "less than any friction holds nothing")
}
