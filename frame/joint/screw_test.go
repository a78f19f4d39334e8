package joint_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/joint"
)

func TestScrewTable(t *testing.T) {
	var sizes []string
	for _, s := range joint.Screws() {
		sizes = append(sizes, s.Size)
		found, ok := joint.LookupScrew(s.Size)
		require.True(t, ok)
		require.Equal(t, s, found)
		// What must hold of any socket-head screw: the drill leaves thread to cut, the screw passes
		// its hole, the head does not, and the head passes its counterbore.
		require.Less(t, s.D3, s.D2, s.Size)
		require.Less(t, s.D3, s.TapDrill+s.Pitch, s.Size)
		require.Less(t, s.TapDrill, s.D, s.Size)
		require.Less(t, s.D, s.Clearance, s.Size)
		require.Less(t, s.Clearance, s.HeadDiameter, s.Size)
		require.Less(t, s.HeadDiameter, s.Counterbore, s.Size)
	}
	require.Equal(t, []string{"M3", "M4", "M5", "M6", "M8", "M10", "M12"}, sizes)
	_, ok := joint.LookupScrew("M7")
	require.False(t, ok)
}

// The table against the standards, all from memory: pitch ISO 261; head ISO 4762, as high as the screw is thick;
// clearance hole ISO 273, medium; tapping drill by the rule d − P, rounded to sold drills; counterbore DIN 974-1, row
// 1.
func TestScrewsOfStandards(t *testing.T) {
	for _, want := range []struct {
		size                                                         string
		d, pitch, head, headHeight, clearance, tapDrill, counterbore float64
	}{
		{"M3", 3, 0.5, 5.5, 3, 3.4, 2.5, 6.5},
		{"M4", 4, 0.7, 7, 4, 4.5, 3.3, 8},
		{"M5", 5, 0.8, 8.5, 5, 5.5, 4.2, 10},
		{"M6", 6, 1, 10, 6, 6.6, 5, 11},
		{"M8", 8, 1.25, 13, 8, 9, 6.8, 15},
		{"M10", 10, 1.5, 16, 10, 11, 8.5, 18},
		{"M12", 12, 1.75, 18, 12, 13.5, 10.2, 20},
	} {
		s, ok := joint.LookupScrew(want.size)
		require.True(t, ok)
		require.Equal(t,
			[]float64{want.d, want.pitch, want.head, want.headHeight, want.clearance, want.tapDrill, want.counterbore},
			[]float64{s.D, s.Pitch, s.HeadDiameter, s.HeadHeight, s.Clearance, s.TapDrill, s.Counterbore}, want.size)
		require.InDelta(t, s.D-s.Pitch, s.TapDrill, 0.06, "a tapping drill is d − P")
	}
}

func TestScrewStressAreasAndProofLoads(t *testing.T) {
	const (
		areas = "ISO 898-1, table of stress areas, rounded to three digits (from memory)"
		loads = "ISO 898-1, table of proof loads of 8.8, rounded (from memory)"
		// Areas are rounded to three digits. Loads are cut to three digits, from rounded areas
		// (M6: 580 MPa on 20.1 mm² is 11 658 N, printed 11 600), so up to a unit of the third.
		areaDigits, loadDigits = 5e-3, 1e-2
	)
	var rows []sourcedRow
	for _, r := range []struct {
		size       string
		area, load float64 // mm², N
	}{
		{"M3", 5.03, 2920}, {"M4", 8.78, 5100}, {"M5", 14.2, 8230}, {"M6", 20.1, 11600},
		{"M8", 36.6, 21200}, {"M10", 58.0, 33700}, {"M12", 84.3, 48900},
	} {
		s, ok := joint.LookupScrew(r.size)
		require.True(t, ok)
		rows = append(rows,
			sourcedRow{r.size + " area", areas, s.StressArea, r.area, areaDigits},
			sourcedRow{r.size + " proof load", loads, s.ProofLoad(), r.load, loadDigits})
	}
	checkRows(t, rows)
}

// The standard's own formulae, exact but for its rounded factor 0.9382, where its tables are rounded to three digits.
func TestProofLoadByFormula(t *testing.T) {
	const (
		source = "ISO 898-1, A_s = π/4 (d − 0.9382 P)² and F_p = A_s S_p, with S_p = 580 MPa for 8.8 up to M16 (from " +
			"memory)"
		factor = 5e-5 // what 0.9382 for 0.93819 does to an M3
	)
	var rows []sourcedRow
	for _, s := range joint.Screws() {
		area := math.Pi / 4 * math.Pow(s.D-0.9382*s.Pitch, 2)
		rows = append(rows,
			sourcedRow{s.Size + " proof stress", source, s.Proof, 580, roundOff},
			sourcedRow{s.Size + " proof load", source, s.ProofLoad(), 580 * area, factor})
	}
	checkRows(t, rows)
}

func TestScrewAxialStiffness(t *testing.T) {
	m6, _ := joint.LookupScrew("M6")
	// Same pieces by hand: head 2.4 mm on 28.2743 mm², 14 mm on 20.1234 mm², 3 mm on the root's
	// 17.8935 mm², all at 206 GPa, and 1.98 mm on 28.2743 mm² at 70 GPa.
	byHand := 1 / ((2.4/28.27433+14/20.12338+3/17.89352)/206e3 + 1.98/28.27433/70e3)
	checkRows(t, []sourcedRow{
		{"M6, 14 mm into aluminium", "VDI 2230 part 1, Σ l/(E A), by hand from rounded areas",
			m6.AxialStiffness(14, 70e3), byHand, 1e-5},
	})
	require.Greater(t, m6.AxialStiffness(14, 210e3), m6.AxialStiffness(14, 70e3), "a steel thread gives less")
	require.Greater(t, m6.AxialStiffness(14, 70e3), m6.AxialStiffness(30, 70e3), "a longer screw is softer")
}
