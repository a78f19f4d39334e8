package beam

import (
	"math"
	"slices"
	"testing"

	"tiploop/testdata/checks"
)

// Each case is answered twice: by the closed form and by members assembled with dense matrices.
// The tolerances are stricter than the rows' own 1e-6; the numbers there have nine digits.
const solved = 1e-8

func TestBeamChecks(t *testing.T) {
	checks.RunKind(t, "beam", map[string]func(t *testing.T, c checks.Case){
		"beam-cantilever-tip-load": func(t *testing.T, c checks.Case) {
			m, f := slender(t, c), c.In(t, "load_N")
			tip, slope, root := CantileverTipLoad(f, m.Length, m.eiFlat())
			d, r := newLine(m).clamp(0).down(1, f).solve(t)
			for _, got := range [][3]float64{{tip, slope, root}, {-d[6+uz], d[6+ry], -r[ry]}} {
				c.Near(t, "tip_deflection_mm", got[0], solved)
				c.Near(t, "tip_slope_rad", got[1], solved)
				c.Near(t, "root_moment_N_mm", got[2], solved)
			}
		},
		"beam-cantilever-uniform": func(t *testing.T, c checks.Case) {
			m, q := slender(t, c), c.In(t, "load_N_per_mm")
			tip, slope, _ := cantileverUniform(q, m.Length, m.eiFlat())
			d, _ := newLine(m).clamp(0).loadDown(q, q).solve(t)
			for _, got := range [][2]float64{{tip, slope}, {-d[6+uz], d[6+ry]}} {
				c.Near(t, "tip_deflection_mm", got[0], solved)
				c.Near(t, "tip_slope_rad", got[1], solved)
			}
		},
		"beam-cantilever-triangular": func(t *testing.T, c checks.Case) {
			m, q := slender(t, c), c.In(t, "load_root_N_per_mm")
			tip, root := cantileverTriangular(q, m.Length, m.eiFlat())
			d, r := newLine(m).clamp(0).loadDown(q, 0).solve(t)
			for _, got := range [][2]float64{{tip, root}, {-d[6+uz], -r[ry]}} {
				c.Near(t, "tip_deflection_mm", got[0], solved)
				c.Near(t, "root_moment_N_mm", got[1], solved)
			}
		},
		"beam-ss-central": func(t *testing.T, c checks.Case) {
			m, f := slender(t, c), c.In(t, "load_N")
			mid, slope, moment := simpleCentral(f, m.Length, m.eiFlat())
			d, _ := newLine(m, m.Length/2).simple().down(1, f).solve(t)
			load := SpanLoads{Points: []PointLoad{{At: m.Length / 2, Force: [3]float64{2: -f}}}}
			d1, _ := newLine(m).simple().addEnds(0, m.EndForces(load)).solve(t)
			inner, moved := m.Inside(m.Length/2, [12]float64(d1), load)
			for _, got := range [][3]float64{{mid, slope, moment}, {-d[6+uz], d[ry], moment},
				{-moved[uz], d1[ry], math.Abs(inner[ry])}} {
				c.Near(t, "mid_deflection_mm", got[0], solved)
				c.Near(t, "end_slope_rad", got[1], solved)
				c.Near(t, "mid_moment_N_mm", got[2], solved)
			}
		},
		"beam-ss-offset": func(t *testing.T, c checks.Case) {
			m, f, a := slender(t, c), c.In(t, "load_N"), c.In(t, "load_at_mm")
			under, mid, slope := simpleOffset(f, a, m.Length, m.eiFlat())
			d, _ := newLine(m, a, m.Length/2).simple().down(1, f).solve(t)
			for _, got := range [][3]float64{{under, mid, slope}, {-d[6+uz], -d[12+uz], d[ry]}} {
				c.Near(t, "deflection_under_load_mm", got[0], solved)
				c.Near(t, "mid_deflection_mm", got[1], solved)
				c.Near(t, "near_end_slope_rad", got[2], solved)
			}
			_, mirrored, _ := simpleOffset(f, m.Length-a, m.Length, m.eiFlat())
			c.Near(t, "mid_deflection_mm", mirrored, solved)
		},
		"beam-ss-uniform": func(t *testing.T, c checks.Case) {
			m, q := slender(t, c), c.In(t, "load_N_per_mm")
			mid, slope, moment := simpleUniform(q, m.Length, m.eiFlat())
			d, _ := newLine(m, m.Length/2).simple().loadDown(q, q).solve(t)
			for _, got := range [][2]float64{{mid, slope}, {-d[6+uz], d[ry]}} {
				c.Near(t, "mid_deflection_mm", got[0], solved)
				c.Near(t, "end_slope_rad", got[1], solved)
			}
			checks.CloseTo(t, "moment by statics", moment, q*m.Length*m.Length/8, 1e-15)
		},
		"beam-ss-triangular": func(t *testing.T, c checks.Case) {
			m, q := slender(t, c), c.In(t, "load_right_N_per_mm")
			mid, left, right := simpleTriangular(q, m.Length, m.eiFlat())
			d, _ := newLine(m, m.Length/2).simple().loadDown(0, q).solve(t)
			for _, got := range [][3]float64{{mid, left, right}, {-d[6+uz], d[ry], -d[12+ry]}} {
				c.Near(t, "mid_deflection_mm", got[0], solved)
				c.Near(t, "left_slope_rad", got[1], solved)
				c.Near(t, "right_slope_rad", got[2], solved)
			}
		},
		"beam-fixed-fixed-central": func(t *testing.T, c checks.Case) {
			m, f := slender(t, c), c.In(t, "load_N")
			mid, end := fixedFixedCentral(f, m.Length, m.eiFlat())
			d, r := newLine(m, m.Length/2).clamp(0).clamp(2).down(1, f).solve(t)
			for _, got := range [][2]float64{{mid, end}, {-d[6+uz], -r[ry]}} {
				c.Near(t, "mid_deflection_mm", got[0], solved)
				c.Near(t, "end_moment_N_mm", got[1], solved)
			}
		},
		"beam-fixed-fixed-uniform": func(t *testing.T, c checks.Case) {
			m, q := slender(t, c), c.In(t, "load_N_per_mm")
			mid, end, middle := fixedFixedUniform(q, m.Length, m.eiFlat())
			load := SpanLoads{Lines: []LineLoad{{To: m.Length, QFrom: [3]float64{2: -q}, QTo: [3]float64{2: -q}}}}
			inner, moved := m.Inside(m.Length/2, [12]float64{}, load)
			held := m.EndForces(load)
			for _, got := range [][3]float64{{mid, end, middle}, {-moved[uz], held[ry], math.Abs(inner[ry])}} {
				c.Near(t, "mid_deflection_mm", got[0], solved)
				c.Near(t, "end_moment_N_mm", got[1], solved)
				c.Near(t, "mid_moment_N_mm", got[2], solved)
			}
		},
		"beam-propped-central": func(t *testing.T, c checks.Case) {
			m, f := slender(t, c), c.In(t, "load_N")
			under, prop, root := proppedCentral(f, m.Length, m.eiFlat())
			d, r := newLine(m, m.Length/2).clamp(0).hold(2, uz).down(1, f).solve(t)
			for _, got := range [][3]float64{{under, prop, root}, {-d[6+uz], r[12+uz], -r[ry]}} {
				c.Near(t, "deflection_under_load_mm", got[0], solved)
				c.Near(t, "right_reaction_N", got[1], solved)
				c.Near(t, "fixed_moment_N_mm", got[2], solved)
			}
		},
		"beam-overhang-tip": func(t *testing.T, c checks.Case) {
			m, f, a := slender(t, c), c.In(t, "load_N"), c.In(t, "overhang_mm")
			tip, lift := overhang(f, m.Length, a, m.eiFlat())
			long := m
			long.Length += a
			d, r := newLine(long, m.Length).hold(0, ux, uy, uz, rx).hold(1, uy, uz).down(2, f).solve(t)
			for _, got := range [][2]float64{{tip, lift}, {-d[12+uz], -r[uz]}} {
				c.Near(t, "tip_deflection_mm", got[0], solved)
				c.Near(t, "left_uplift_N", got[1], solved)
			}
		},
		"beam-two-span-uniform": func(t *testing.T, c checks.Case) {
			m, q := slender(t, c), c.In(t, "load_N_per_mm")
			mid, end, moment := twoSpanUniform(q, m.Length)
			d, r := rowOf(m, m).simple().hold(1, uy, uz).loadDown(q, q).solve(t)
			load := SpanLoads{Lines: []LineLoad{{To: m.Length, QFrom: [3]float64{2: -q}, QTo: [3]float64{2: -q}}}}
			inner, _ := m.Inside(m.Length, [12]float64(d[:12]), load)
			for _, got := range [][3]float64{{mid, end, moment}, {r[6+uz], r[uz], math.Abs(inner[ry])}} {
				c.Near(t, "middle_reaction_N", got[0], solved)
				c.Near(t, "end_reaction_N", got[1], solved)
				c.Near(t, "middle_moment_N_mm", got[2], solved)
			}
		},
		"beam-two-span-one-load": func(t *testing.T, c checks.Case) {
			m, f := slender(t, c), c.In(t, "load_N")
			mid, near, far, moment := twoSpanOneLoad(f, m.Length)
			long := m
			long.Length *= 2
			d, r := newLine(long, m.Length/2, m.Length).simple().hold(2, uy, uz).down(1, f).solve(t)
			inner, _ := m.Inside(0, [12]float64(d[12:]), SpanLoads{})
			for _, got := range [][4]float64{{mid, near, far, moment}, {r[12+uz], r[uz], r[18+uz], math.Abs(inner[ry])}} {
				c.Near(t, "middle_reaction_N", got[0], solved)
				c.Near(t, "near_reaction_N", got[1], solved)
				c.Near(t, "far_reaction_N", got[2], solved)
				c.Near(t, "middle_moment_N_mm", got[3], solved)
			}
		},
		"beam-stubby-cantilever": func(t *testing.T, c checks.Case) {
			m, f := stubby(t, c), c.In(t, "load_N")
			tip, share := stubbyCantilever(f, m.Length, m.eiFlat(), m.Material.G()*m.Section.Az)
			d, _ := newLine(m).clamp(0).down(1, f).solve(t)
			c.Near(t, "tip_deflection_mm", tip, solved)
			c.Near(t, "shear_share", share, solved)
			c.Near(t, "tip_deflection_mm", -d[6+uz], solved)
		},
		"beam-stubby-fixed-central": func(t *testing.T, c checks.Case) {
			m, f := stubby(t, c), c.In(t, "load_N")
			mid, end := stubbyFixedFixedCentral(f, m.Length, m.eiFlat(), m.Material.G()*m.Section.Az)
			d, r := newLine(m, m.Length/2).clamp(0).clamp(2).down(1, f).solve(t)
			for _, got := range [][2]float64{{mid, end}, {-d[6+uz], -r[ry]}} {
				c.Near(t, "mid_deflection_mm", got[0], solved)
				c.Near(t, "end_moment_N_mm", got[1], solved)
			}
		},
		"beam-stubby-propped-uniform": func(t *testing.T, c checks.Case) {
			m, q := stubby(t, c), c.In(t, "load_N_per_mm")
			_, r := newLine(m).clamp(0).hold(1, uz).loadDown(q, q).solve(t)
			c.Near(t, "right_reaction_N", stubbyProppedUniform(q, m.Length, m.eiFlat(), m.Material.G()*m.Section.Az), solved)
			c.Near(t, "right_reaction_N", r[6+uz], solved)
		},
		"beam-settlement-fixed": func(t *testing.T, c checks.Case) {
			m, settle := slender(t, c), c.In(t, "settlement_mm")
			moment, shear := fixedFixedSettlement(settle, m.Length, m.eiFlat())
			l := newLine(m, m.Length/2).clamp(0).clamp(2)
			l.held[12+uz] = -settle
			_, r := l.solve(t)
			for _, got := range [][2]float64{{moment, shear}, {math.Abs(r[ry]), r[uz]}} {
				c.Near(t, "end_moment_N_mm", got[0], solved)
				c.Near(t, "end_shear_N", got[1], solved)
			}
		},
		"beam-thermal-ss": func(t *testing.T, c checks.Case) {
			m, dt, h := slender(t, c), c.In(t, "top_minus_bottom_K"), c.In(t, "height_mm")
			rise, slope := bowOfCurvature(gradientCurvature(m.Material.Expansion, dt, h), m.Length)
			heat := SpanLoads{Heat: Heat{GradZ: dt / h}}
			d, _ := newLine(m).simple().addEnds(0, m.ThermalLoad(0, 0, dt/h)).solve(t)
			inner, moved := m.Inside(m.Length/2, [12]float64(d), heat)
			for _, got := range [][2]float64{{rise, slope}, {moved[uz], -d[ry]}} {
				c.Near(t, "mid_rise_mm", got[0], solved)
				c.Near(t, "end_slope_rad", got[1], solved)
			}
			within(t, "moment in a free beam", inner[ry], 0, 1e-7)
		},
		"beam-thermal-fixed": func(t *testing.T, c checks.Case) {
			m, dt, h := slender(t, c), c.In(t, "top_minus_bottom_K"), c.In(t, "height_mm")
			f := m.ThermalLoad(0, 0, dt/h)
			c.Near(t, "end_moment_N_mm", heldCurvatureMoment(gradientCurvature(m.Material.Expansion, dt, h), m.eiFlat()), solved)
			c.Near(t, "end_moment_N_mm", f[6+ry], solved)
			c.Near(t, "end_moment_N_mm", -f[ry], solved)
		},
		"beam-bimetal-strip": bimetalCheck,
		"beam-foundation-infinite": func(t *testing.T, c checks.Case) {
			m, f, k := slender(t, c), c.In(t, "load_N"), c.In(t, "foundation_N_per_mm2")
			under, moment := infiniteBed(f, k, m.eiFlat())
			free, _, freeMoment := freeBedCentral(f, m.Length, k, m.eiFlat())
			c.Near(t, "lambda_per_mm", bedLambda(k, m.eiFlat()), solved)
			m.BedZ = k
			// Fine near the force, where λ·(12.5 mm) is 0.07 and the error its 4th power; coarse
			// beyond 1000 mm, where little is left to bend.
			var cuts []float64
			for x := 100.0; x < m.Length; x += 100 {
				cuts = append(cuts, x)
				if x >= 1500 && x < 3500 {
					for i := 1; i < 8; i++ {
						cuts = append(cuts, x+12.5*float64(i))
					}
				}
			}
			mid := 1 + slices.Index(cuts, m.Length/2)
			l := newLine(m, cuts...).hold(0, ux, uy, rx, rz).down(mid, f)
			d, _ := l.solve(t)
			inner, _ := l.members[mid].Inside(0, [12]float64(d[6*mid:]), SpanLoads{})
			for _, got := range [][2]float64{{under, moment}, {free, freeMoment}} {
				c.Near(t, "deflection_under_load_mm", got[0], solved)
				c.Near(t, "moment_under_load_N_mm", got[1], solved)
			}
			c.Near(t, "deflection_under_load_mm", -d[6*mid+uz], 2e-7)
			c.Near(t, "moment_under_load_N_mm", math.Abs(inner[ry]), 2e-7)
		},
		"beam-foundation-finite-central": func(t *testing.T, c checks.Case) {
			m, f, k := slender(t, c), c.In(t, "load_N"), c.In(t, "foundation_N_per_mm2")
			mid, end, moment := freeBedCentral(f, m.Length, k, m.eiFlat())
			m.BedZ = k
			l := newLine(m, evenCuts(m.Length, 40)...).hold(0, ux, uy, rx, rz).down(20, f)
			d, _ := l.solve(t)
			inner, _ := l.members[20].Inside(0, [12]float64(d[120:132]), SpanLoads{})
			for _, got := range []struct {
				v   [3]float64
				tol float64
			}{{[3]float64{mid, end, moment}, solved}, {[3]float64{-d[120+uz], -d[uz], math.Abs(inner[ry])}, 1e-6}} {
				c.Near(t, "mid_deflection_mm", got.v[0], got.tol)
				c.Near(t, "end_deflection_mm", got.v[1], got.tol)
				c.Near(t, "mid_moment_N_mm", got.v[2], got.tol)
			}
		},
		"beam-middle-spring": func(t *testing.T, c checks.Case) {
			m, f, k := slender(t, c), c.In(t, "load_N"), c.In(t, "spring_N_per_mm")
			mid, inSpring := simpleOverSpring(f, m.Length, m.eiFlat(), k)
			d, _ := newLine(m, m.Length/2).simple().spring(1, uz, k).down(1, f).solve(t)
			for _, got := range [][2]float64{{mid, inSpring}, {-d[6+uz], -k * d[6+uz]}} {
				c.Near(t, "mid_deflection_mm", got[0], solved)
				c.Near(t, "spring_force_N", got[1], solved)
			}
		},
		"beam-cantilever-root-spring": func(t *testing.T, c checks.Case) {
			m, f, k := slender(t, c), c.In(t, "load_N"), c.In(t, "root_spring_N_mm_per_rad")
			d, _ := newLine(m).hold(0, ux, uy, uz, rx, rz).spring(0, ry, k).down(1, f).solve(t)
			c.Near(t, "tip_deflection_mm", cantileverOnHinge(f, m.Length, m.eiFlat(), k), solved)
			c.Near(t, "tip_deflection_mm", -d[6+uz], solved)
		},
		"beam-semirigid-ends-uniform": func(t *testing.T, c checks.Case) {
			m, q, k := slender(t, c), c.In(t, "load_N_per_mm"), c.In(t, "end_spring_N_mm_per_rad")
			mid, end := hingedEndsUniform(q, m.Length, m.eiFlat(), k)
			d, _ := newLine(m, m.Length/2).simple().spring(0, ry, k).spring(2, ry, k).loadDown(q, q).solve(t)
			for _, got := range [][2]float64{{mid, end}, {-d[6+uz], k * d[ry]}} {
				c.Near(t, "mid_deflection_mm", got[0], solved)
				c.Near(t, "end_moment_N_mm", got[1], solved)
			}
		},
		"beam-tapered-cantilever": taperedCheck,
		"beam-stepped-tool": func(t *testing.T, c checks.Case) {
			f, e := c.In(t, "load_N"), c.In(t, "E_MPa")
			piece := func(d, length float64) Member {
				s := mustSection(t, Round{d}, 0.22)
				s.Ay, s.Az = 0, 0 // slender theory
				return Member{Section: s, Material: Material{Key: c.ID, E: e, Nu: 0.22}, Length: length}
			}
			neck := piece(c.In(t, "neck_diameter_mm"), c.In(t, "neck_length_mm"))
			shank := piece(c.In(t, "shank_diameter_mm"), c.In(t, "shank_length_mm"))
			tip := SteppedCantilever(
				f,
				[]Slice{{Length: neck.Length, EI: neck.eiFlat()}, {Length: shank.Length, EI: shank.eiFlat()}},
			)
			d, _ := rowOf(shank, neck).clamp(0).down(2, f).solve(t)
			for _, got := range []float64{tip, -d[12+uz]} {
				c.Near(t, "tip_deflection_mm", got, solved)
				c.Near(t, "tip_stiffness_N_per_mm", f/got, solved)
			}
		},
	})
}

func stubby(t *testing.T, c checks.Case) Member {
	return checkMember(t, c, c.In(t, "shear_area_mm2"), c.In(t, "height_mm"))
}

func bimetalCheck(t *testing.T, c checks.Case) {
	t1, t2 := c.In(t, "thickness_1_mm"), c.In(t, "thickness_2_mm")
	first := Material{Key: "first", E: c.In(t, "E_1_MPa"), Nu: 0.3, Expansion: c.In(t, "expansion_1_per_K")}
	second := Material{Key: "second", E: c.In(t, "E_2_MPa"), Nu: 0.3, Expansion: c.In(t, "expansion_2_per_K")}
	rise, length := c.In(t, "temperature_rise_K"), c.In(t, "length_mm")
	bonded := func(m Material, h float64) layer {
		return layer{E: m.E, Area: 10 * h, I: 10 * h * h * h / 12, Expansion: m.Expansion} // any width
	}
	// The first strip on top: warming lifts the middle of a beam on two supports.
	section := mustSection(t, BuiltUp{first, []Piece{
		{Width: 10, Height: t2, Z: t2 / 2, Material: second},
		{Width: 10, Height: t1, Z: t2 + t1/2, Material: first},
	}}, 0.3)
	m := Member{Section: section, Material: first, Length: length}
	d, _ := newLine(m, length/2).simple().
		addEnds(0, half(m).ThermalLoad(rise, 0, 0)).addEnds(1, half(m).ThermalLoad(rise, 0, 0)).solve(t)
	for _, kappa := range []float64{
		bimetalCurvature(t1, t2, first.E, second.E, (first.Expansion-second.Expansion)*rise),
		twoLayerCurvature(bonded(first, t1), bonded(second, t2), (t1+t2)/2, rise),
	} {
		bow, _ := bowOfCurvature(kappa, length)
		c.Near(t, "curvature_per_mm", kappa, solved)
		c.Near(t, "mid_bow_of_simply_supported_mm", bow, solved)
	}
	c.Near(t, "mid_bow_of_simply_supported_mm", d[6+uz], solved)
	c.Near(t, "curvature_per_mm", -2*d[ry]/length, solved)
}

func half(m Member) Member {
	m.Length /= 2
	return m
}

func taperedCheck(t *testing.T, c checks.Case) {
	f, length := c.In(t, "load_N"), c.In(t, "length_mm")
	root, tipHeight := c.In(t, "root_height_mm"), c.In(t, "tip_height_mm")
	e, width := c.In(t, "E_MPa"), c.In(t, "width_mm")
	c.Near(t, "tip_deflection_mm", taperedCantilever(f, length, e, width, root, tipHeight), solved)

	stepped := func(n int) float64 {
		var row []Member
		for i := range n {
			m := checkMember(t, c, 0, root+(tipHeight-root)*(float64(i)+0.5)/float64(n))
			m.Length = length / float64(n)
			row = append(row, m)
		}
		d, _ := rowOf(row...).clamp(0).down(n, f).solve(t)
		return -d[6*n+uz]
	}
	// Steps converge with 1/n², then 1/n⁴ after extrapolation.
	a, b := stepped(20), stepped(40)
	c.Near(t, "tip_deflection_mm", b+(b-a)/3, 1e-6)
	want := c.Want(t, "tip_deflection_mm")
	if order := math.Log2((a - want) / (b - want)); !(order > 1.95 && order < 2.05) {
		t.Errorf("order of convergence %g, want 2", order)
	}

	// Both branches of the closed form agree where they meet, and an even beam is no special case.
	ei := e * width * math.Pow(tipHeight, 3) / 12
	even, _, _ := CantileverTipLoad(f, length, ei)
	checks.CloseTo(t, "no taper", taperedCantilever(f, length, e, width, tipHeight, tipHeight), even, 1e-14)
	below := taperedCantilever(f, length, e, width, tipHeight*(1+taperSeries*(1-1e-13)), tipHeight)
	above := taperedCantilever(f, length, e, width, tipHeight*(1+taperSeries*(1+1e-13)), tipHeight)
	checks.CloseTo(t, "branches", below, above, 1e-11)
}
