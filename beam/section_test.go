package beam

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/testdata/checks"
)

// steelNu is the ratio the check values of shear are given for.
const steelNu = 0.3

func mustSection(t require.TestingT, shape Shape, nu float64) Section {
	s, err := shape.Section(nu)
	require.NoError(t, err)
	return s
}

// rectangle as a polygon, to test the numerical solution against the closed form.
func drawn(b, h float64) Polygon {
	return Polygon{Outer: [][2]float64{{0, 0}, {b, 0}, {b, h}, {0, h}}}
}

// regular polygon about the origin with corners at radii a (along y) and b (along z).
func inscribed(sides int, a, b float64) Polygon {
	var p Polygon
	for i := range sides {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(sides))
		p.Outer = append(p.Outer, [2]float64{a * cos, b * sin})
	}
	return p
}

// Tolerance of what is found numerically: that of the check rows, or stricter.
const (
	numericJ     = 2e-4 // torsion constant
	numericPlace = 3e-4 // shear centre
	numericShear = 6e-4 // shear areas of compact sections
)

func rectCheck(t *testing.T, c checks.Case) {
	b, h := c.In(t, "width_mm"), c.In(t, "height_mm")
	for _, tt := range []struct {
		name  string
		shape Shape
		exact float64
		j     float64
	}{
		{"closed form", Rect{b, h}, checks.Printed, checks.Printed},
		{"polygon", drawn(b, h), checks.Printed, numericJ},
	} {
		s := mustSection(t, tt.shape, steelNu)
		c.Near(t, "area_mm2", s.A, tt.exact)
		c.Near(t, "I_about_width_axis_mm4", s.Iy, tt.exact)
		c.Near(t, "I_about_height_axis_mm4", s.Iz, tt.exact)
		c.Near(t, "J_mm4", s.J, tt.j)
		long, short := math.Max(b, h), math.Min(b, h)
		c.Near(t, "J_over_long_times_short_cubed", s.J/(long*short*short*short), tt.j)
		within(t, tt.name+" Iyz", s.Iyz, 0, 1e-9*s.Iy)
		within(t, tt.name+" shear centre y", s.ShearY, 0, 1e-4*b)
		within(t, tt.name+" shear centre z", s.ShearZ, 0, 1e-4*h)
	}
}

func boxCheck(t *testing.T, c checks.Case) {
	s := mustSection(t, Tube{c.In(t, "width_mm"), c.In(t, "height_mm"), c.In(t, "wall_mm")}, steelNu)
	c.Near(t, "area_mm2", s.A, checks.Printed)
	c.Near(t, "I_about_width_axis_mm4", s.Iy, checks.Printed)
	c.Near(t, "I_about_height_axis_mm4", s.Iz, checks.Printed)
	c.Near(t, "J_mm4", s.J, numericJ)
}

func angleCheck(t *testing.T, c checks.Case) {
	s := mustSection(t, Angle{c.In(t, "leg_x_mm"), c.In(t, "leg_y_mm"), c.In(t, "thickness_mm")}, steelNu)
	openCheck(t, c, s)
	c.Near(t, "Ixy_mm4", s.Iyz, checks.Printed)
	imax, imin, angle := s.Principal()
	c.Near(t, "I_max_mm4", imax, checks.Printed)
	c.Near(t, "I_min_mm4", imin, checks.Printed)
	c.Near(t, "angle_x_to_max_axis_deg", angle*180/math.Pi, checks.Printed)
	c.Near(t, "shear_centre_x_mm", s.CentroidY+s.ShearY, numericPlace)
	c.Near(t, "shear_centre_y_mm", s.CentroidZ+s.ShearZ, numericPlace)
}

func openCheck(t *testing.T, c checks.Case, s Section) {
	c.Near(t, "area_mm2", s.A, checks.Printed)
	c.Near(t, "centroid_x_mm", s.CentroidY, checks.Printed)
	c.Near(t, "centroid_y_mm", s.CentroidZ, checks.Printed)
	c.Near(t, "Ixx_mm4", s.Iy, checks.Printed)
	c.Near(t, "Iyy_mm4", s.Iz, checks.Printed)
	c.Near(t, "J_mm4", s.J, numericJ)
}

func TestSectionChecks(t *testing.T) {
	checks.RunKind(t, "section", map[string]func(t *testing.T, c checks.Case){
		"sec-rect-20x20": rectCheck, "sec-rect-40x20": rectCheck, "sec-rect-100x20": rectCheck,
		"sec-rect-200x20": rectCheck, "sec-rect-300x15": rectCheck,
		"sec-box-60x40x3": boxCheck, "sec-box-50x50x5": boxCheck, "sec-box-40x40x2": boxCheck,
		"sec-angle-100x65x8": angleCheck, "sec-angle-50x50x5": angleCheck,
		"sec-round-16": func(t *testing.T, c checks.Case) {
			s := mustSection(t, Round{c.In(t, "diameter_mm")}, steelNu)
			c.Near(t, "area_mm2", s.A, checks.Printed)
			c.Near(t, "I_mm4", s.Iy, checks.Printed)
			c.Near(t, "I_mm4", s.Iz, checks.Printed)
			c.Near(t, "J_mm4", s.J, checks.Printed)
		},
		"sec-tube-40x3": func(t *testing.T, c checks.Case) {
			s := mustSection(t, Pipe{c.In(t, "outer_diameter_mm"), c.In(t, "wall_mm")}, steelNu)
			c.Near(t, "area_mm2", s.A, checks.Printed)
			c.Near(t, "I_mm4", s.Iy, checks.Printed)
			c.Near(t, "J_mm4", s.J, checks.Printed)
		},
		"sec-tee-80x80x8": func(t *testing.T, c checks.Case) {
			s := mustSection(
				t,
				Tee{c.In(t, "flange_width_mm"), c.In(t, "depth_mm"), c.In(t, "flange_mm"), c.In(t, "web_mm")},
				steelNu,
			)
			openCheck(t, c, s)
			c.Near(t, "shear_centre_y_mm", s.CentroidZ+s.ShearZ, numericPlace)
			within(t, "shear centre off the axis of symmetry", s.ShearY, 0, 1e-3)
		},
		"sec-i-100x60": func(t *testing.T, c checks.Case) {
			s := mustSection(
				t,
				I{c.In(t, "depth_mm"), c.In(t, "flange_width_mm"), c.In(t, "flange_mm"), c.In(t, "web_mm")},
				steelNu,
			)
			openCheck(t, c, s)
		},
		"sec-channel-100x50x6": func(t *testing.T, c checks.Case) {
			s := mustSection(
				t,
				Channel{c.In(t, "depth_mm"), c.In(t, "flange_width_mm"), c.In(t, "flange_mm"), c.In(t, "web_mm")},
				steelNu,
			)
			openCheck(t, c, s)
			c.Near(t, "shear_centre_x_mm", s.CentroidY+s.ShearY, numericPlace)
			within(t, "shear centre off the axis of symmetry", s.ShearZ, 0, 1e-3)
		},
		"sec-composite-100x12-15x10": func(t *testing.T, c checks.Case) {
			base := Material{Key: "base", E: c.In(t, "plate_E_MPa"), Nu: 0.33}
			strip := Material{Key: "strip", E: c.In(t, "strip_E_MPa"), Nu: 0.3}
			h1, h2 := c.In(t, "plate_thickness_mm"), c.In(t, "strip_thickness_mm")
			s := mustSection(t, BuiltUp{base, []Piece{
				{Width: c.In(t, "plate_width_mm"), Height: h1, Z: h1 / 2, Material: base},
				{Width: c.In(t, "strip_width_mm"), Height: h2, Z: h1 + h2/2, Material: strip},
			}}, base.Nu)
			c.Near(t, "neutral_axis_from_plate_underside_mm", s.CentroidZ, checks.Printed)
			c.Near(t, "EA_N", base.E*s.A, checks.Printed)
			c.Near(t, "EI_N_mm2", base.E*s.Iy, checks.Printed)
			c.Near(t, "EI_sideways_N_mm2", base.E*s.Iz, checks.Printed)
			c.Near(t, "I_transformed_to_plate_mm4", s.Iy, checks.Printed)
		},
		"sec-ellipse-20x10": func(t *testing.T, c checks.Case) {
			// An inscribed polygon is smaller; its properties approach with 1/sides², so two of
			// them say what infinitely many sides would give.
			coarse := mustSection(t, inscribed(64, c.In(t, "half_axis_a_mm"), c.In(t, "half_axis_b_mm")), steelNu)
			fine := mustSection(t, inscribed(128, c.In(t, "half_axis_a_mm"), c.In(t, "half_axis_b_mm")), steelNu)
			limit := func(coarse, fine float64) float64 { return fine + (fine-coarse)/3 }
			c.Near(t, "area_mm2", limit(coarse.A, fine.A), 1e-5)
			c.Near(t, "I_about_a_axis_mm4", limit(coarse.Iy, fine.Iy), 1e-5)
			c.Near(t, "I_about_b_axis_mm4", limit(coarse.Iz, fine.Iz), 1e-5)
			c.Near(t, "J_mm4", limit(coarse.J, fine.J), 5e-5)
		},
		"sec-triangle-equilateral-30": func(t *testing.T, c checks.Case) {
			a := c.In(t, "side_mm")
			s := mustSection(t, Polygon{Outer: [][2]float64{{0, 0}, {a, 0}, {a / 2, a * math.Sqrt(3) / 2}}}, steelNu)
			c.Near(t, "area_mm2", s.A, checks.Printed)
			c.Near(t, "I_mm4", s.Iy, checks.Printed)
			c.Near(t, "I_mm4", s.Iz, checks.Printed)
			c.Near(t, "J_mm4", s.J, numericJ)
		},
		"sec-semicircle-12": func(t *testing.T, c checks.Case) {
			r := c.In(t, "radius_mm")
			half := func(sides int) Section {
				var p Polygon
				for i := range sides + 1 {
					sin, cos := math.Sincos(math.Pi * float64(i) / float64(sides))
					p.Outer = append(p.Outer, [2]float64{r * cos, r * sin})
				}
				return mustSection(t, p, steelNu)
			}
			coarse, fine := half(48), half(96)
			limit := func(coarse, fine float64) float64 { return fine + (fine-coarse)/3 }
			c.Near(t, "area_mm2", limit(coarse.A, fine.A), 1e-6)
			c.Near(t, "centroid_from_flat_mm", limit(coarse.CentroidZ, fine.CentroidZ), 1e-6)
			c.Near(t, "I_about_flat_parallel_mm4", limit(coarse.Iy, fine.Iy), 1e-6)
			c.Near(t, "J_mm4", limit(coarse.J, fine.J), numericJ)
		},
		"sec-hexagon-17": func(t *testing.T, c checks.Case) {
			d := c.In(t, "across_flats_mm")
			s := mustSection(t, inscribed(6, d/math.Sqrt(3), d/math.Sqrt(3)), steelNu)
			c.Near(t, "area_mm2", s.A, 1e-5) // six digits given
			c.Near(t, "I_mm4", s.Iy, 1e-5)
			c.Near(t, "I_mm4", s.Iz, 1e-5)
			c.Near(t, "J_mm4", s.J, numericJ)
			c.Near(t, "J_over_area_times_flats2", s.J/(s.A*d*d), numericJ)
		},
		"sec-cowper-rectangle": func(t *testing.T, c checks.Case) {
			kappa := c.WantList(t, "kappa")
			for i, nu := range c.Ins(t, "poisson") {
				for _, shape := range []struct {
					shape Shape
					tol   float64
				}{{Rect{40, 20}, checks.Printed}, {Rect{5, 300}, checks.Printed}, {drawn(20, 20), numericShear},
					{drawn(20, 60), numericShear}, {drawn(60, 20), numericShear}} {
					s := mustSection(t, shape.shape, nu)
					checks.CloseTo(t, s.Name, s.Ay/s.A, kappa[i], shape.tol)
					checks.CloseTo(t, s.Name, s.Az/s.A, kappa[i], shape.tol)
				}
			}
		},
		"sec-cowper-circle": func(t *testing.T, c checks.Case) {
			nu, m := c.In(t, "poisson"), c.In(t, "inner_over_outer")
			kappa := func(shape Shape) float64 {
				s := mustSection(t, shape, nu)
				require.Equal(t, s.Ay, s.Az)
				return s.Ay / s.A
			}
			c.Near(t, "kappa_circle", kappa(Round{20}), checks.Printed)
			c.Near(t, "kappa_thick_tube", kappa(Pipe{20, 20 * (1 - m) / 2}), checks.Printed)
			c.Near(t, "kappa_thin_tube", kappa(Pipe{20, 20 * 1e-5}), 1e-7) // the limit of no wall

			round := mustSection(t, inscribed(96, 10, 10), nu)
			c.Near(t, "kappa_circle", round.Ay/round.A, 5e-4)
			inner := inscribed(96, 10*m, 10*m).Outer
			ring := mustSection(t, Polygon{Outer: inscribed(96, 10, 10).Outer, Holes: [][][2]float64{inner}}, nu)
			c.Near(t, "kappa_thick_tube", ring.Ay/ring.A, 5e-4)
			c.Near(t, "kappa_thick_tube", ring.Az/ring.A, 5e-4)
		},
	})
}

func TestPrincipalIsStationary(t *testing.T) {
	// The second moment about an axis at angle a from y is ∫(z·cos a − y·sin a)²dA.
	rapid.Check(t, func(t *rapid.T) {
		s := Section{
			Iy: rapid.Float64Range(1, 100).Draw(t, "Iy"),
			Iz: rapid.Float64Range(1, 100).Draw(t, "Iz"),
		}
		s.Iyz = rapid.Float64Range(-0.99, 0.99).Draw(t, "c") * math.Sqrt(s.Iy*s.Iz)
		about := func(a float64) float64 {
			sin, cos := math.Sincos(a)
			return s.Iy*cos*cos + s.Iz*sin*sin - 2*s.Iyz*sin*cos
		}
		imax, imin, angle := s.Principal()
		if !(angle > -math.Pi/2 && angle <= math.Pi/2) {
			t.Fatalf("angle %g out of range", angle)
		}
		scale := s.Iy + s.Iz
		if e := math.Abs(about(angle) - imax); !(e <= 1e-10*scale) {
			t.Fatalf("Imax %g, but %g at its axis", imax, about(angle))
		}
		if e := math.Abs(about(angle+math.Pi/2) - imin); !(e <= 1e-10*scale) {
			t.Fatalf("Imin %g, but %g at its axis", imin, about(angle+math.Pi/2))
		}
	})
}

func TestShapesRefuseBadSizes(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	steel, _ := LookupMaterial("steel")
	for _, tt := range []struct {
		name  string
		shape Shape
		nu    float64
		says  string
	}{
		{"no width", Rect{0, 5}, 0.3, "width"},
		{"negative height", Rect{5, -1}, 0.3, "height"},
		{"NaN", Rect{nan, 5}, 0.3, "width"},
		{"infinite", Round{inf}, 0.3, "diameter"},
		{"ratio too large", Round{5}, 0.6, "Poisson"},
		{"ratio NaN", Tube{10, 10, 1}, nan, "Poisson"},
		{"wall as thick as the radius", Pipe{10, 5}, 0.3, "wall"},
		{"wall half the height", Tube{40, 10, 5}, 0.3, "wall"},
		{"flanges meet", I{20, 20, 10, 2}, 0.3, "flange"},
		{"web as wide as the flange", I{20, 5, 3, 5}, 0.3, "web"},
		{"channel web", Channel{20, 5, 3, 6}, 0.3, "web"},
		{"angle", Angle{20, 5, 5}, 0.3, "thickness"},
		{"tee flange", Tee{20, 5, 5, 2}, 0.3, "flange"},
		{"plain without area", Plain{Iy: 1, Iz: 1, J: 1}, 0.3, "area"},
		{"plain negative shear area", Plain{A: 1, Iy: 1, Iz: 1, J: 1, Ay: -1}, 0.3, "Ay"},
		{"no outline", Polygon{}, 0.3, "corners"},
		{"bow tie", Polygon{Outer: [][2]float64{{0, 0}, {10, 10}, {10, 0}, {0, 8}}}, 0.3, "crosses"},
		{"touches itself", Polygon{Outer: [][2]float64{{0, 0}, {10, 0}, {5, 5}, {10, 10}, {0, 10}, {5, 5}}}, 0.3, "touches"},
		{"spike", Polygon{Outer: [][2]float64{{0, 0}, {10, 0}, {10, 10}, {5, 10}, {5, 20}, {5, 10}, {0, 10}}}, 0.3,
			"outline"},
		{"no area", Polygon{Outer: [][2]float64{{0, 0}, {10, 0}, {20, 0}}}, 0.3, "no area"},
		{"one place", Polygon{Outer: [][2]float64{{1, 1}, {1, 1}, {1, 1}}}, 0.3, "no area"},
		{"NaN corner", Polygon{Outer: [][2]float64{{0, 0}, {nan, 0}, {20, 5}}}, 0.3, "not a place"},
		{"NaN hole", Polygon{Outer: drawn(10, 10).Outer, Holes: [][][2]float64{{{1, 1}, {inf, 1}, {2, 2}}}}, 0.3, "hole 1"},
		{"hole outside", Polygon{Outer: drawn(10, 10).Outer, Holes: [][][2]float64{{{11, 1}, {12, 1}, {11, 2}}}}, 0.3,
			"outside"},
		{"hole crosses", Polygon{Outer: drawn(10, 10).Outer, Holes: [][][2]float64{{{8, 1}, {12, 1}, {8, 2}}}}, 0.3, "meets"},
		{"hole touches", Polygon{Outer: drawn(10, 10).Outer, Holes: [][][2]float64{{{8, 1}, {10, 1}, {8, 2}}}}, 0.3, "meets"},
		{"hole in a hole", Polygon{Outer: drawn(10, 10).Outer, Holes: [][][2]float64{{{1, 1}, {9, 1}, {5, 9}},
			{{4, 2}, {6, 2}, {5, 3}}}}, 0.3, "in one another"},
		{"the same hole twice", Polygon{Outer: drawn(10, 10).Outer, Holes: [][][2]float64{{{1, 1}, {9, 1}, {5, 9}},
			{{1, 1}, {9, 1}, {5, 9}}}}, 0.3, "meets"},
		{"hole is the outline", Polygon{Outer: drawn(10, 10).Outer, Holes: [][][2]float64{drawn(10, 10).Outer}}, 0.3,
			"meets"},
		{"no pieces", BuiltUp{Base: steel}, 0.3, "no pieces"},
		{"no base", BuiltUp{Pieces: []Piece{{Width: 1, Height: 1, Material: steel}}}, 0.3, "base"},
		{"piece without material", BuiltUp{steel, []Piece{{Width: 1, Height: 1}}}, 0.3, "piece 1"},
		{"piece nowhere", BuiltUp{steel, []Piece{{Width: 1, Height: 1, Y: nan, Material: steel}}}, 0.3, "not a place"},
		{"overlap", BuiltUp{steel, []Piece{{10, 10, 0, 0, steel}, {10, 10, 9, 0, steel}}}, 0.3, "overlap"},
		{"apart", BuiltUp{steel, []Piece{{10, 10, 0, 0, steel}, {10, 10, 11, 0, steel}}}, 0.3, "shares no side"},
		{"a ring that closes at a corner", BuiltUp{steel, []Piece{
			{10, 10, 0, 0, steel}, {10, 10, 0, -10, steel}, {10, 10, 10, -10, steel}, {10, 10, 20, -10, steel},
			{10, 10, 20, 0, steel}, {10, 10, 20, 10, steel}, {10, 10, 10, 10, steel},
		}}, 0.3, "meet only at a corner"},
		{"piece without width", BuiltUp{steel, []Piece{{Height: 1, Material: steel}}}, 0.3, "width"},
		{"angle leg", Angle{0, 5, 1}, 0.3, "leg"},
		{"tee depth", Tee{20, -5, 1, 2}, 0.3, "depth"},
		{"pipe wall", Pipe{10, 0}, 0.3, "wall"},
		{"polygon ratio", Polygon{Outer: drawn(10, 10).Outer}, -1, "Poisson"},
		{"only a corner", BuiltUp{steel, []Piece{{10, 10, 0, 0, steel}, {10, 10, 10, 10, steel}}}, 0.3, "piece 2"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s, err := tt.shape.Section(tt.nu)
			require.ErrorContains(t, err, tt.says)
			require.Equal(t, Section{}, s)
		})
	}
}
