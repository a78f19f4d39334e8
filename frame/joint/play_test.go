package joint_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/joint"
	"tiploop/testdata/checks"
)

func TestHoles(t *testing.T) {
	checks.RunKind(t, "hole", map[string]func(t *testing.T, c checks.Case){
		"hole-clearance-series": func(t *testing.T, c checks.Case) {
			got := map[string][]float64{}
			for i, size := range c.Inputs["size"].([]any) {
				screw, ok := joint.LookupScrew(size.(string))
				require.True(t, ok)
				require.Equal(t, c.Ins(t, "screw_diameter_mm")[i], screw.D)
				for _, series := range joint.ClearanceSeries {
					mm, ok := screw.ThroughHoleOf(series)
					require.True(t, ok)
					got[series+"_mm"] = append(got[series+"_mm"], mm)
					shift := joint.HolePlay([][2]float64{{0, 0}}, mm, screw.D).Shift
					got["shift_each_way_"+series+"_mm"] = append(got["shift_each_way_"+series+"_mm"], shift)
				}
				require.Equal(t, got["medium_mm"][i], screw.Clearance, "the default")
			}
			compare(t, c, got, nil)
		},
		"hole-shift-and-turn": func(t *testing.T, c checks.Case) {
			sides := c.Ins(t, "rectangle_of_screws_mm")
			corners := [][2]float64{{0, 0}, {sides[0], 0}, {0, sides[1]}, {sides[0], sides[1]}}
			hole, screw := c.In(t, "hole_mm"), c.In(t, "screw_diameter_mm")
			play := joint.HolePlay(corners, hole, screw)
			compare(t, c, map[string][]float64{
				"shift_each_way_mm":           {play.Shift},
				"turn_each_way_rectangle_rad": {play.Turn},
				"turn_each_way_uneven_rad":    {joint.HolePlay(c.Places(t, "uneven_screws_mm"), hole, screw).Turn},
			}, nil)
		},
	})
}

// The circle round random screws holds them all, and no smaller one does: against all circles over two or through
// three.
func TestSmallestCircle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 7).Draw(t, "screws")
		places := make([][2]float64, n)
		for i := range places {
			places[i] = [2]float64{float64(rapid.IntRange(-9, 9).Draw(t, "x")), float64(rapid.IntRange(-9, 9).Draw(t, "y"))}
		}
		least := math.Inf(1)
		try := func(x, y float64) {
			r := 0.0
			for _, p := range places {
				r = math.Max(r, math.Hypot(p[0]-x, p[1]-y))
			}
			least = math.Min(least, r)
		}
		for i, p := range places {
			try(p[0], p[1])
			for j, q := range places[:i] {
				try((p[0]+q[0])/2, (p[1]+q[1])/2)
				for _, o := range places[:j] {
					d := 2 * ((q[0]-p[0])*(o[1]-p[1]) - (q[1]-p[1])*(o[0]-p[0]))
					if d == 0 {
						continue
					}
					a := (q[0]-p[0])*(q[0]-p[0]) + (q[1]-p[1])*(q[1]-p[1])
					b := (o[0]-p[0])*(o[0]-p[0]) + (o[1]-p[1])*(o[1]-p[1])
					try(p[0]+((o[1]-p[1])*a-(q[1]-p[1])*b)/d, p[1]+((q[0]-p[0])*b-(o[0]-p[0])*a)/d)
				}
			}
		}
		const hole, screw = 6.6, 6.0
		turn := joint.HolePlay(places, hole, screw).Turn
		if least == 0 {
			require.Zero(t, turn)
			return
		}
		require.InEpsilon(t, 2*math.Asin(math.Min(1, (hole-screw)/2/(2*least))), turn, 1e-9)
	})
}
