package guide_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/beam"
	"tiploop/frame/guide"
	"tiploop/testdata/checks"
)

// A generic profile weighs about what rails weigh, its holes filled.
func TestRailSectionAgainstMass(t *testing.T) {
	const density = 7.83e-6 // hardened rail steel, kg/mm³ (from memory, handbooks)
	for _, c := range guide.Carriages() {
		s, err := c.RailSection(0.3)
		require.NoError(t, err, c.Key)
		if c.Kind == guide.OpenBush {
			round, err := beam.Round{Diameter: c.Rail.Width}.Section(0.3)
			require.NoError(t, err)
			require.Equal(t, round, s)
			require.Less(t, s.A*density*1000, c.Rail.KgPerM, "the shaft is lighter than shaft and support")
			continue
		}
		box := beam.Rect{Width: c.Rail.Width, Height: c.Rail.Height}
		full, err := box.Section(0.3)
		require.NoError(t, err)
		for name, share := range map[string]float64{"A": s.A / full.A, "Iy": s.Iy / full.Iy, "Iz": s.Iz / full.Iz,
			"J": s.J / full.J, "Az": s.Az / full.Az} {
			require.Less(t, share, 1.0, "%s %s", c.Key, name)
			require.Greater(t, share, 0.3, "%s %s", c.Key, name)
		}
		// Rails differ in their waist and their holes; 15 % covers the spread of catalogue masses (from memory).
		checks.CloseTo(t, c.Key+" mass per metre", s.A*density*1000, c.Rail.KgPerM, 0.15)
	}
}

// The profile's area and second moments by thin slices of its height: foot to 0.25, waist of half the width from 0.40
// to 0.60, head from 0.78, straight between.
func TestRailSectionBySlices(t *testing.T) {
	const slices, left = 20000, 1e-6 // what the slices leave
	width := func(z float64) float64 {
		switch {
		case z < 0.25 || z > 0.78:
			return 1
		case z < 0.40:
			return 1 - 0.5*(z-0.25)/0.15
		case z < 0.60:
			return 0.5
		}
		return 0.5 + 0.5*(z-0.60)/0.18
	}
	var area, first, second, cubes float64
	for i := range slices {
		z := (float64(i) + 0.5) / slices
		w := width(z)
		area += w / slices
		first += w * z / slices
		second += w * z * z / slices
		cubes += w * w * w / 12 / slices
	}
	second -= first * first / area
	const source = "slices of the profile"
	for _, c := range guide.Carriages() {
		if c.Kind == guide.OpenBush {
			continue
		}
		s, err := c.RailSection(0.3)
		require.NoError(t, err)
		w, h := c.Rail.Width, c.Rail.Height
		checkRows(t, []sourcedRow{
			{c.Key + " area", source, s.A, area * w * h, left},
			{c.Key + " out of the seat", source, s.Iy, second * w * h * h * h, left},
			{c.Key + " along the seat", source, s.Iz, cubes * w * w * w * h, left},
		})
	}
}

func TestScrewPlaces(t *testing.T) {
	c, _ := guide.LookupCarriage("profile-15")
	places, err := c.Rail.ScrewPlaces(300)
	require.NoError(t, err)
	// By hand: (300 - 20)/60 = 4.7, so five screws, 30 mm left at either end.
	require.Equal(t, []float64{30, 90, 150, 210, 270}, places)
	places, err = c.Rail.ScrewPlaces(20)
	require.NoError(t, err)
	require.Equal(t, []float64{10}, places)
	for _, length := range []float64{0, -1, 19} {
		_, err = c.Rail.ScrewPlaces(length)
		require.Error(t, err)
	}
}

func TestScrewPlacesProperties(t *testing.T) {
	sizes := guide.Carriages()
	rapid.Check(t, func(t *rapid.T) {
		r := sizes[rapid.IntRange(0, len(sizes)-1).Draw(t, "size")].Rail
		length := rapid.Float64Range(2*r.EndDistance, 3000).Draw(t, "length")
		places, err := r.ScrewPlaces(length)
		require.NoError(t, err)
		first, last := places[0], places[len(places)-1]
		require.InDelta(t, first, length-last, 1e-9*length, "both ends alike")
		require.GreaterOrEqual(t, first, r.EndDistance-1e-6)
		require.Less(t, first, r.EndDistance+r.HolePitch/2+1e-6, "no room for one more")
		for i := 1; i < len(places); i++ {
			require.InDelta(t, r.HolePitch, places[i]-places[i-1], 1e-9*length)
		}
	})
}

func TestRailTorques(t *testing.T) {
	const source = "linear-guide catalogue, torques of rail screws in N·cm (from memory)"
	want := map[string][3]float64{
		"M3": {196, 127, 98}, "M4": {412, 274, 206}, "M5": {882, 588, 441}, "M6": {1370, 921, 686},
		"M8": {3040, 2010, 1470}, "M10": {6760, 4510, 3330}, "M12": {11800, 7840, 5880},
	}
	rounding := map[string]float64{"M3": 0.005, "M4": 0.005, "M5": 0.05, "M6": 0.05, "M8": 0.5, "M10": 0.5,
		"M12": 0.5} // N·m
	require.Len(t, guide.RailTorques(), len(want))
	for _, r := range guide.RailTorques() {
		for i, torque := range [3]float64{r.SteelNm, r.CastIronNm, r.AluminiumNm} {
			require.InDelta(t, want[r.Screw][i]/100, torque, rounding[r.Screw], "%s: %s", r.Screw, source)
		}
		found, ok := guide.LookupRailTorque(r.Screw)
		require.True(t, ok)
		require.Equal(t, r, found)
		require.NotEmpty(t, r.Source)
		require.Positive(t, r.AluminiumNm)
		require.Less(t, r.AluminiumNm, r.CastIronNm)
		require.Less(t, r.CastIronNm, r.SteelNm)
	}
	_, ok := guide.LookupRailTorque("M7")
	require.False(t, ok)
}
