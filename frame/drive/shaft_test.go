package drive_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/beam"
	"tiploop/frame/drive"
	"tiploop/testdata/checks"
)

const newtonsPerMmPerNPerUm = 1000

// core is a steel shaft as the checks have it.
func core(root, length float64, ends drive.Ends) drive.Shaft {
	return drive.Shaft{Root: root, E: 206e3, Nu: 0.3, Length: length, Ends: ends}
}

func TestBallScrewShaft(t *testing.T) {
	checks.Run(t, map[string]func(t *testing.T, c checks.Case){
		"joint-ball-screw-16": func(t *testing.T, c checks.Case) {
			length, at := c.In(t, "fixed_to_fixed_mm"), c.In(t, "nut_at_mm")
			s := core(c.In(t, "root_diameter_mm"), length, drive.FixedFree)
			s.E = c.In(t, "E_MPa")
			c.Near(t, "fixed_free_N_per_um", s.Axial(at)/newtonsPerMmPerNPerUm, checks.Printed)
			s.Ends = drive.FixedFixed
			c.Near(t, "fixed_fixed_N_per_um", s.Axial(at)/newtonsPerMmPerNPerUm, checks.Printed)
			least, where := s.SoftestAxial(0.1*length, 0.9*length)
			require.Equal(t, length/2, where)
			c.Near(t, "fixed_fixed_least_N_per_um", least/newtonsPerMmPerNPerUm, checks.Printed)
		},
		"joint-screw-drive-chain": func(t *testing.T, c checks.Case) {
			at := c.In(t, "nut_at_mm")
			s := core(c.In(t, "root_diameter_mm"), at, drive.FixedFree)
			s.E = c.In(t, "E_MPa")
			nut, bearing := c.In(t, "nut_N_per_mm"), c.In(t, "bearing_N_per_mm")
			chain := drive.ScrewDrive{Shaft: s, Lead: 5, Nut: nut, NearBearing: bearing, Twisting: drive.TwistLeftOut}
			k, err := chain.Stiffness(at)
			require.NoError(t, err)
			for _, got := range []float64{k, drive.Series(s.Axial(at), nut, bearing)} {
				c.Near(t, "total_N_per_mm", got, checks.Printed)
			}
		},
	})
}

func TestShaftAgainstHandbook(t *testing.T) {
	const (
		tables   = "E A of a 206 GPa core of 9.7, 13.2, 17.2 mm (catalogue cores, from memory), by hand, three digits"
		textbook = "Shigley, Euler columns and Blevins, beams: exact roots (from memory)"
		article  = "trade white paper on ball-screw selection: 1 in root, 100 in long, steel: about 8 Hz supported, " +
			"18 Hz fixed, two digits"
	)
	steel := 7.85e-9 // tonne/mm³ (from memory, handbooks)
	inch := drive.Shaft{Root: 25.4, E: 206e3, Nu: 0.3, Length: 2540, Ends: drive.SupportedSupported}
	hz := func(ends drive.Ends) float64 { return inch.CriticalRPM(2540, steel, ends) / 60 }
	sixteen := core(13.2, 600, drive.FixedSupported)
	checkRows(t, []sourcedRow{
		{"12 mm screw", tables, core(9.7, 300, drive.FixedFree).Axial(300) * 300 / 1000, 15200, 0.005},
		{"16 mm screw", tables, core(13.2, 300, drive.FixedFree).Axial(300) * 300 / 1000, 28200, 0.005},
		{"20 mm screw", tables, core(17.2, 300, drive.FixedFree).Axial(300) * 300 / 1000, 47900, 0.005},
		{"whirl, supported", article, hz(drive.SupportedSupported), 7.9, 0.02},
		{"whirl, fixed", article, hz(drive.FixedFixed), 18.0, 0.02},
		{"buckling, fixed and supported", "Euler with n = 2.05, 16 mm screw, by hand and rounded: 17 kN",
			sixteen.BucklingLoad(600, drive.FixedSupported), 17e3, 0.03},
		{"mass", "ρ·π·d²/4·L of 13.2 mm by 600 mm of steel, by hand: 82 109 mm³", sixteen.Mass(steel), 82109 * steel,
			1e-5},
		{"inertia about itself", "m·d²/8 of a round bar, handbooks of mechanics", sixteen.SpinInertia(steel),
			sixteen.Mass(steel) * 13.2 * 13.2 / 8, roundOff},
		{"whirl of the same", "by hand and rounded: 6900 rpm", sixteen.CriticalRPM(600, steel, drive.FixedSupported),
			6900, 0.01},
		{"Euler, pinned", textbook, sixteen.BucklingLoad(600, drive.SupportedSupported),
			math.Pow(math.Pi, 3) * 206e3 * math.Pow(13.2, 4) / 64 / 36e4, 1e-12},
		{"twist", "G π d⁴/32 L, elementary", sixteen.Twist(300), 206e3 / 2.6 * math.Pi * math.Pow(13.2, 4) / 32 / 300,
			1e-12},
	})
}

// The factors solve the equations they are roots of, and agree with the trade's roundings.
func TestEndFactors(t *testing.T) {
	s := core(10, 500, drive.FixedFree)
	euler := func(e drive.Ends) float64 {
		return s.BucklingLoad(500, e) / s.BucklingLoad(500, drive.SupportedSupported)
	}
	whirl := func(e drive.Ends) float64 {
		return math.Pi * math.Sqrt(s.CriticalRPM(500, 1e-8, e)/s.CriticalRPM(500, 1e-8, drive.SupportedSupported))
	}
	const trade = "trade's rounded end factors (from memory)"
	checkRows(t, []sourcedRow{
		{"buckling fixed-free", trade, euler(drive.FixedFree), 0.25, 1e-12},
		{"buckling fixed-supported", trade, euler(drive.FixedSupported), 2.05, 0.003},
		{"buckling fixed-fixed", trade, euler(drive.FixedFixed), 4, 1e-12},
		{"whirl fixed-free", trade, whirl(drive.FixedFree), 1.875, 1e-4},
		{"whirl fixed-supported", trade, whirl(drive.FixedSupported), 3.927, 2e-4},
		{"whirl fixed-fixed", trade, whirl(drive.FixedFixed), 4.730, 1e-4},
	})
	const digits = 1e-8 // the roots are kept to eleven digits, and tan is steep there
	a := math.Pi * math.Sqrt(euler(drive.FixedSupported))
	require.InDelta(t, 0, math.Tan(a)/a-1, digits)
	require.InDelta(t, 0, math.Cos(whirl(drive.FixedFree))*math.Cosh(whirl(drive.FixedFree))+1, digits)
	require.InDelta(t, 0, math.Tan(whirl(drive.FixedSupported))-math.Tanh(whirl(drive.FixedSupported)), digits)
	require.InDelta(t, 0, math.Cos(whirl(drive.FixedFixed))*math.Cosh(whirl(drive.FixedFixed))-1, 10*digits)
}

// The published first frequencies of beams are those of whirling.
func TestWhirlAgainstBeams(t *testing.T) {
	for id, ends := range map[string]drive.Ends{
		"modal-cantilever": drive.FixedFree, "modal-simply-supported": drive.SupportedSupported,
		"modal-fixed-fixed": drive.FixedFixed,
	} {
		c := checks.Find(t, id)
		e, length, width, height := c.In(t, "E_MPa"), c.In(t, "length_mm"), c.In(t, "width_mm"), c.In(t, "height_mm")
		density := c.In(t, "density_tonne_per_mm3")
		bar, err := beam.Rect{Width: width, Height: height}.Section(0.3)
		require.NoError(t, err)
		// A round shaft of the same I/A has the same frequency: d = 4 √(I/A).
		s := drive.Shaft{Root: 4 * math.Sqrt(bar.Iy/bar.A), E: e, Nu: 0.3, Length: length, Ends: ends}
		checks.CloseTo(t, id, s.CriticalRPM(length, density, ends)/60, c.WantList(t, "frequencies_Hz")[0], 1e-6)
	}
}

func TestShaftProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drive.Shaft{
			Root: logBetween(t, "root", 5, 50), E: logBetween(t, "E", 70e3, 220e3),
			Nu:     rapid.Float64Range(0, 0.5).Draw(t, "nu"),
			Length: logBetween(t, "length", 50, 3000), Ends: drive.FixedFree,
		}
		at := s.Length * rapid.Float64Range(0.01, 0.99).Draw(t, "share")
		free := s.Axial(at)
		s.Ends = drive.FixedFixed
		both := s.Axial(at)
		require.Greater(t, both, free, "a second fixed end helps")
		if e := checks.Rel(s.Axial(s.Length-at), both); !(e <= 1e-9) {
			t.Fatalf("both ends alike: off by %g", e)
		}
		least, where := s.SoftestAxial(0.01*s.Length, 0.99*s.Length)
		require.LessOrEqual(t, least, both*(1+roundOff))
		require.InEpsilon(t, s.Length/2, where, roundOff)
		if e := checks.Rel(s.Twist(at)*at, s.Twist(at/2)*at/2); !(e <= roundOff) {
			t.Fatalf("twist goes with the length: off by %g", e)
		}
		for _, e := range drive.AllEnds() {
			require.Less(t, s.BucklingLoad(2*at, e), s.BucklingLoad(at, e))
			require.Less(t, s.CriticalRPM(2*at, 7.85e-9, e), s.CriticalRPM(at, 7.85e-9, e))
		}
	})
}

func TestShaftRefusesNonsense(t *testing.T) {
	good := core(13, 500, drive.FixedFixed)
	require.NoError(t, good.Check())
	for _, spoil := range []func(*drive.Shaft){
		func(s *drive.Shaft) { s.Root = 0 },
		func(s *drive.Shaft) { s.E = math.NaN() },
		func(s *drive.Shaft) { s.Length = -1 },
		func(s *drive.Shaft) { s.Nu = 0.6 },
	} {
		s := good
		spoil(&s)
		require.Error(t, s.Check())
		require.Panics(t, func() { s.Axial(100) })
	}
	for _, at := range []float64{0, 500, -1, math.NaN()} {
		require.Panics(t, func() { good.Axial(at) }, at)
	}
	require.NotPanics(t, func() { core(13, 500, drive.FixedFree).Axial(500) })
	for _, travel := range [][3]float64{{50, 200, 200}, {300, 450, 300}, {50, 450, 250}} {
		_, where := good.SoftestAxial(travel[0], travel[1])
		require.Equal(t, travel[2], where, "nearest the middle")
	}
	_, where := core(13, 500, drive.FixedSupported).SoftestAxial(50, 450)
	require.Equal(t, 450.0, where, "farthest from the fixed end")
	require.Panics(t, func() { good.SoftestAxial(200, 100) })
	require.Panics(t, func() { good.BucklingLoad(0, drive.FixedFree) })
	require.Panics(t, func() { good.CriticalRPM(100, 0, drive.FixedFree) })
	require.Panics(t, func() { _ = drive.Ends(9).String() })
	for _, e := range drive.AllEnds() {
		got, ok := drive.LookupEnds(e.String())
		require.True(t, ok)
		require.Equal(t, e, got)
	}
	_, ok := drive.LookupEnds("loose")
	require.False(t, ok)
	require.Less(t, drive.UsableBuckling().High, drive.UsableCritical().Low)
}
