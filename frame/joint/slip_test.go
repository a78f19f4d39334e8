package joint_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/joint"
	"tiploop/testdata/checks"
)

func TestSlip(t *testing.T) {
	checks.RunKind(t, "slip", map[string]func(t *testing.T, c checks.Case){
		"slip-group-textbook": func(t *testing.T, c checks.Case) {
			var places [][2]float64
			for i, x := range c.Ins(t, "bolt_x_mm") {
				places = append(places, [2]float64{x, c.Ins(t, "bolt_y_mm")[i]})
			}
			load := c.In(t, "load_down_N")
			group := joint.Pattern{Places: places}
			each, err := group.Shear(0, -load, -load*c.In(t, "load_beside_centroid_mm"))
			require.NoError(t, err)
			straight, err := group.Shear(0, -load, 0)
			require.NoError(t, err)
			got := map[string][]float64{}
			put := func(key string, v float64) { got[key] = append(got[key], v) }
			put("primary_shear_each_N", -straight[0][1])
			for i := range each {
				size := math.Hypot(each[i][0], each[i][1])
				put("resultant_each_N", size)
				put("secondary_shear_each_N", math.Hypot(each[i][0]-straight[i][0], each[i][1]-straight[i][1]))
				put("share_of_slip_each", size/(c.In(t, "friction")*c.In(t, "preload_each_N")))
			}
			put("printed_largest_kN", got["resultant_each_N"][0]/1000)
			put("printed_secondary_kN", got["secondary_shear_each_N"][0]/1000)
			compare(t, c, got, rounded{"printed_largest_kN": 4e-3, "printed_secondary_kN": 4e-3})
		},
		"slip-row-opening": func(t *testing.T, c checks.Case) {
			f := joint.Footing{Width: c.In(t, "face_width_mm"), Length: c.In(t, "face_length_mm"),
				Preload: c.In(t, "clamp_force_N"), PerMM3: c.In(t, "contact_stiffness_N_per_mm3")}
			got := map[string][]float64{"edge_opens_at_N_mm": {f.OpensAt()}, "turns_over_at_N_mm": {f.TurnsOverAt()}}
			for _, moment := range c.Ins(t, "moment_N_mm") {
				s, err := f.Under(moment)
				require.NoError(t, err)
				got["compressed_width_mm"] = append(got["compressed_width_mm"], s.Compressed)
				got["peak_pressure_MPa"] = append(got["peak_pressure_MPa"], s.Peak)
				got["rotation_rad"] = append(got["rotation_rad"], s.Rotation)
			}
			compare(t, c, got, nil)
			_, err := f.Under(f.TurnsOverAt())
			require.Error(t, err)
		},
		"slip-row-opening-screw-spring": func(t *testing.T, c checks.Case) {
			f := joint.Footing{Width: c.In(t, "face_width_mm"), Length: c.In(t, "face_length_mm"),
				Preload: c.In(t, "preload_of_row_N"), PerMM3: c.In(t, "contact_stiffness_N_per_mm3"),
				Screws: c.In(t, "screw_stiffness_of_row_N_per_mm")}
			for i, width := range c.Ins(t, "compressed_width_mm") {
				moment := c.WantList(t, "moment_N_mm")[i]
				s, err := f.Under(moment)
				require.NoError(t, err)
				c.NearTo(t, "compressed width", s.Compressed, width, c.Tolerance)
				s = f.Pressing(width)
				c.NearTo(t, "moment", s.Moment, moment, c.Tolerance)
				c.NearTo(t, "screw force", s.ScrewForce, c.WantList(t, "screw_force_of_row_N")[i], c.Tolerance)
				c.NearTo(t, "rotation", s.Rotation, c.WantList(t, "rotation_rad")[i], c.Tolerance)
			}
		},
		"slip-ring-torsion": func(t *testing.T, c checks.Case) {
			ring, friction := ringOf(t, c), c.In(t, "friction")*c.In(t, "clamp_force_N")
			compare(t, c, map[string][]float64{
				"full_slip_torque_N_mm":  {friction * ring.FrictionArm()},
				"first_slip_torque_N_mm": {friction * ring.FirstSlipArm()},
			}, nil)
			c.NearTo(t, "friction needed", ring.Sliding(0, c.Want(t, "full_slip_torque_N_mm")), friction, c.Tolerance)
		},
		"slip-ring-opening": func(t *testing.T, c checks.Case) {
			ring, clamp := ringOf(t, c), c.In(t, "clamp_force_N")
			mean := clamp / ring.Area()
			got := map[string][]float64{"edge_opens_at_N_mm": {clamp * ring.OpeningArm()}, "mean_pressure_MPa": {mean}}
			for _, moment := range c.Ins(t, "moment_N_mm") {
				k, zone := clampedRing(ring, clamp)
				xx, _, _ := zone.Moments.Central()
				_, open := k.Use(zone, joint.RingLoad{Lift: [2]float64{moment / xx, 0}})
				got["least_edge_pressure_MPa"] = append(got["least_edge_pressure_MPa"], mean*(1-open))
				got["largest_edge_pressure_MPa"] = append(got["largest_edge_pressure_MPa"], mean*(1+open))
			}
			compare(t, c, got, nil)
		},
		"slip-ring-force-and-torque": func(t *testing.T, c checks.Case) {
			ring, friction := ringOf(t, c), c.In(t, "friction")*c.In(t, "clamp_force_N")
			for i, torque := range c.WantList(t, "torque_at_slip_N_mm") {
				force := c.Ins(t, "force_N")[i]
				c.NearTo(t, "friction needed", ring.Sliding(force, torque), friction, c.Tolerance)
				c.NearTo(t, "torque left", torque/(friction*ring.FrictionArm()),
					c.WantList(t, "torque_over_torque_alone")[i], c.Tolerance)
			}
		},
		"slip-preload-left": func(t *testing.T, c checks.Case) {
			least := c.In(t, "largest_preload_N") / c.In(t, "tightening_factor")
			screw, members := c.In(t, "screw_stiffness_N_per_mm"), c.In(t, "member_stiffness_N_per_mm")
			loss := joint.Settling{Screw: screw, Members: members, By: c.In(t, "settling_mm")}.Loss()
			settled := joint.Preloaded{Screw: screw, Members: members, Preload: least - loss}
			left := settled.ClampLoad(c.In(t, "axial_load_each_N"))
			compare(t, c, map[string][]float64{
				"least_preload_N": {least}, "settling_loss_N": {loss}, "clamp_left_each_N": {left},
				"slip_force_of_joint_N":      {c.In(t, "screws") * c.In(t, "friction") * left},
				"opens_at_axial_load_each_N": {settled.SeparationLoad()},
			}, nil)
		},
	})
}

func ringOf(t *testing.T, c checks.Case) joint.Ring {
	return joint.Ring{Outer: c.In(t, "outer_radius_mm"), Inner: c.In(t, "inner_radius_mm")}
}

// clampedRing is a ring far from any edge, pressed by that force.
func clampedRing(r joint.Ring, clamp float64) (joint.ClampingStiffness, joint.Pressed) {
	wide := joint.Rect2{Min: [2]float64{-100, -100}, Max: [2]float64{100, 100}}
	at := [][2]float64{{0, 0}}
	return joint.ClampingStiffness{LeastPreload: clamp, SlipForce: 0.15 * clamp}, joint.Pressed{
		Moments: joint.PressureZone(wide, at, 0, r.Inner, r.Outer), Outline: joint.Outline(wide, at, 0), Outer: r.Outer}
}

func TestEqualRingIsTheRing(t *testing.T) {
	_, zone := clampedRing(joint.Ring{Outer: 13, Inner: 3.3}, 1)
	equal := joint.EqualRing(zone.Moments)
	require.InEpsilon(t, 13, equal.Outer, 1e-12)
	require.InEpsilon(t, 3.3, equal.Inner, 1e-12)
}

// What a ring cut to a strip can hold, against friction summed over its area: the equal ring promises 11 % more.
func TestEqualRingOfACutZone(t *testing.T) {
	rect := joint.Rect2{Min: [2]float64{-5, -20}, Max: [2]float64{5, 20}}
	zone := joint.PressureZone(rect, [][2]float64{{0, 0}}, 0, 0, 100)
	const n = 400
	arm := 0.0
	for i := range n {
		for j := range n {
			arm += math.Hypot((float64(i)+0.5)/n*10-5, (float64(j)+0.5)/n*40-20) / (n * n)
		}
	}
	over := joint.EqualRing(zone).FrictionArm() / arm
	require.InDelta(t, 1.11, over, 0.01)
}

// The edge of a zone cut by the face's sides, against the lowest pressure over a fine grid of its places.
func TestUseOfACutZone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(from, to float64, what string) float64 { return rapid.Float64Range(from, to).Draw(t, what) }
		rect := joint.Rect2{Min: [2]float64{-draw(4, 30, "left"), -draw(4, 30, "below")},
			Max: [2]float64{draw(4, 30, "right"), draw(4, 30, "above")}}
		places := [][2]float64{{0, 0}, {draw(10, 40, "x"), draw(-10, 10, "y")}}
		inner, outer := 2.0, draw(5, 20, "outer")
		zone := joint.Pressed{Moments: joint.PressureZone(rect, places, 0, inner, outer),
			Outline: joint.Outline(rect, places, 0), Outer: outer}
		lift := [2]float64{draw(-1, 1, "lift p"), draw(-1, 1, "lift q")}
		k := joint.ClampingStiffness{LeastPreload: 5000, SlipForce: 750}
		slip, open := k.Use(zone, joint.RingLoad{Lift: lift})
		require.Zero(t, slip)
		middle, most := zone.Moments.Centroid(), 0.0
		const n = 100
		lo, hi := [2]float64{}, [2]float64{} // of the ring on the face
		for k := range 2 {
			lo[k], hi[k] = math.Max(rect.Min[k], -outer), math.Min(rect.Max[k], outer)
		}
		for i := range n + 1 {
			for j := range n + 1 {
				x := lo[0] + (hi[0]-lo[0])*float64(i)/n
				y := lo[1] + (hi[1]-lo[1])*float64(j)/n
				r, far := math.Hypot(x, y), math.Hypot(x-places[1][0], y-places[1][1])
				if r <= outer && r >= inner && r <= far {
					most = math.Max(most, lift[0]*(x-middle[0])+lift[1]*(y-middle[1]))
				}
			}
		}
		pressure := k.LeastPreload / zone.Moments.Area
		require.InDelta(t, most/pressure, open, 0.1*open+1e-6)
		require.GreaterOrEqual(t, open, most/pressure*(1-1e-9), "no place opens earlier")
	})
}

// Rings that touch: whichever way rounding has put the side between them, it is the place between them that opens first.
func TestUseOfTouchingZones(t *testing.T) {
	for _, below := range []float64{8, 8.00000011920929} {
		for _, far := range []float64{10 - 1e-13, 10, 10 + 1e-13} {
			for _, aside := range []float64{0, 0x1p-23, -0x1p-23} {
				rect := joint.Rect2{Min: [2]float64{-4, -below}, Max: [2]float64{30, 8}}
				places := [][2]float64{{0, 0}, {far, aside}}
				zone := joint.Pressed{Moments: joint.PressureZone(rect, places, 0, 2, 5), Outline: joint.Outline(rect, places, 0), Outer: 5}
				k := joint.ClampingStiffness{LeastPreload: 5000, SlipForce: 750}
				_, open := k.Use(zone, joint.RingLoad{Lift: [2]float64{1, 0}})
				arm := 5 - zone.Moments.Centroid()[0]
				require.InEpsilon(t, arm*zone.Moments.Area/k.LeastPreload, open, 1e-6, "%g %g %g", below, far, aside)
			}
		}
	}
}

func TestUseOfForcesAndMoments(t *testing.T) {
	k, zone := clampedRing(joint.Ring{Outer: 13, Inner: 3.3}, 8750)
	slip, open := k.Use(zone, joint.RingLoad{Pull: 8750. / 4})
	require.Zero(t, slip, "a straight pull slips nothing")
	require.InEpsilon(t, 0.25, open, 1e-12, "N/A over p")
	slip, _ = k.Use(zone, joint.RingLoad{Shear: [2]float64{300, 400}})
	require.InEpsilon(t, 500/(0.15*8750), slip, 1e-9)
	slip, _ = k.Use(zone, joint.RingLoad{Shear: [2]float64{300, 400}, Pull: 875})
	require.InEpsilon(t, 500/(0.15*8750)+0.1, slip, 1e-9, "the load that slips takes its share of the preload off")
	slip, _ = k.Use(zone, joint.RingLoad{Shear: [2]float64{300, 400}, Pull: -8750})
	require.Zero(t, slip, "pressed together")
}

func TestSlidingGrows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := joint.Ring{Inner: rapid.Float64Range(0, 9).Draw(t, "inner"), Outer: rapid.Float64Range(10, 40).Draw(t, "outer")}
		force := rapid.Float64Range(0, 1000).Draw(t, "force")
		torque := rapid.Float64Range(0, 20000).Draw(t, "torque")
		need, turn := r.Sliding(force, torque), torque/r.FrictionArm()
		require.GreaterOrEqual(t, need, math.Hypot(force, turn)*(1-1e-6), "an ellipse is too wide")
		require.LessOrEqual(t, need, (force+turn)*(1+1e-6))
		require.LessOrEqual(t, need, math.Hypot(force, turn)*1.12+1e-9, "and by no more than that")
		require.GreaterOrEqual(t, r.Sliding(force*1.1, torque), need*(1-1e-4))
	})
}

// What is told without the elliptic integrals is what Use says, also where slip or opening is near.
func TestFailsAsUsed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(from, to float64, what string) float64 { return rapid.Float64Range(from, to).Draw(t, what) }
		k, zone := clampedRing(joint.Ring{Outer: draw(8, 20, "outer"), Inner: draw(0, 6, "inner")}, 8750)
		load := joint.RingLoad{Pull: draw(-9000, 10000, "pull"), Lift: [2]float64{draw(-1, 1, "p"), draw(-1, 1, "q")},
			Shear: [2]float64{draw(-1500, 1500, "along p"), draw(-1500, 1500, "along q")}, Twist: draw(-12000, 12000, "twist")}
		if rapid.Bool().Draw(t, "pull alone") {
			load.Shear, load.Twist = [2]float64{}, 0
		}
		slip, open := k.Use(zone, load)
		slips, opens := k.Fails(zone, load)
		if math.Abs(slip-1) > 1e-9 {
			require.Equal(t, slip >= 1, slips, "slip %g", slip)
		}
		if math.Abs(open-1) > 1e-9 {
			require.Equal(t, open >= 1, opens, "open %g", open)
		}
	})
}
