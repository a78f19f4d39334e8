package drive

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// Every size of the tables has its flange: body and screws clear of one another, heads beside heads, by ISO 4762 (from
// memory).
func TestEverySizeHasItsFlange(t *testing.T) {
	heads := map[string]float64{"M3": 5.5, "M4": 7, "M5": 8.5, "M6": 10, "M8": 13}
	check := func(key string, flange func() (Flange, bool)) {
		f, ok := flange()
		require.True(t, ok, key)
		require.NotEmpty(t, f.Source, key)
		head, known := heads[f.Screw]
		require.True(t, known, key)
		for i, p := range f.At {
			for _, mm := range p {
				require.False(t, mm == 0 && math.Signbit(mm), "%s: −0 would be printed", key)
			}
			require.Greater(t, math.Hypot(p[0], p[1])-f.Bore/2, head/4, key)
			if f.Outer > 0 { // motors are square
				require.Less(t, math.Hypot(p[0], p[1])+head/4, f.Outer/2, key)
			}
			for _, q := range f.At[:i] {
				require.Greater(t, math.Hypot(p[0]-q[0], p[1]-q[1]), head, key)
			}
		}
	}
	for _, s := range BallScrews() {
		check(s.Key, s.NutFlange)
	}
	for _, s := range LeadScrews() {
		check(s.Key, s.NutFlange)
	}
	for _, u := range SupportUnits() {
		check(u.Key, u.Flange)
	}
	for _, s := range Steppers() {
		check(s.Key, s.Flange)
	}
}

// The nut of a screw of 16 mm by DIN 69051-5 (from memory): body 28, six holes for M5 on a circle of 38, three on each
// side 30° apart; its flange of 48 is flat at 20 mm above and below, clear of their heads.
func TestBallNutFlangeByHand(t *testing.T) {
	s, _ := LookupBallScrew("1605")
	f, ok := s.NutFlange()
	require.True(t, ok)
	require.Equal(t, [2]any{29., "M5"}, [2]any{f.Bore, f.Screw})
	high, wide := 9.5, 19*math.Sqrt(3)/2
	want := [][2]float64{{wide, -high}, {19, 0}, {wide, high}, {-wide, high}, {-19, 0}, {-wide, -high}}
	require.Len(t, f.At, len(want))
	for i, p := range f.At {
		require.InDelta(t, want[i][0], p[0], 1e-6)
		require.InDelta(t, want[i][1], p[1], 1e-6)
		require.Less(t, math.Abs(p[1])+8.5/2, 20.)
	}
}

// The square of a motor's screws in mm as makers' drawings of the frames of NEMA ICS 16 have it, and its pilot (both from
// memory).
func TestMotorFlangesByHand(t *testing.T) {
	for _, c := range []struct {
		key           string
		square, pilot float64
	}{{"frame-17", 31, 22}, {"frame-23", 47.14, 38.1}, {"frame-34", 69.6, 73.02}} {
		s, _ := LookupStepper(c.key)
		f, ok := s.Flange()
		require.True(t, ok)
		require.Len(t, f.At, 4)
		require.InDelta(t, c.pilot, f.Bore, 0.01, c.key)
		for _, p := range f.At {
			require.InDelta(t, c.square/2, math.Abs(p[0]), 0.02, c.key)
			require.InDelta(t, c.square/2, math.Abs(p[1]), 0.02, c.key)
		}
	}
}
