package joint

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Tapping drills of ISO 2306 for coarse threads, mm (from memory), and that each is the nominal diameter less the pitch
// to the tenth: the rule of the trade.
func TestTappingDrillsOfISO2306(t *testing.T) {
	table := map[string]float64{"M3": 2.5, "M4": 3.3, "M5": 4.2, "M6": 5.0, "M8": 6.8, "M10": 8.5, "M12": 10.2}
	require.Len(t, Screws(), len(table))
	for _, s := range Screws() {
		require.Equal(t, table[s.Size], s.TapDrill, s.Size)
		require.InDelta(t, s.D-s.Pitch, s.TapDrill, 0.051, s.Size)
		require.Equal(t, s.TapDrill, s.TapInto(100, 70e3, false).Drill, s.Size)
	}
}

// The run-out of DIN 76-1, usual row, is known for the pitch of every screw; it is from four to six pitches.
func TestRunOut(t *testing.T) {
	for _, s := range Screws() {
		end, known := runOut[s.Pitch]
		require.True(t, known, s.Size)
		require.Greater(t, end, 4*s.Pitch, s.Size)
		require.Less(t, end, 6*s.Pitch, s.Size)
	}
}

func TestTapInto(t *testing.T) {
	const aluminium, iron, steel = 70e3, 110e3, 206e3
	m6, _ := LookupScrew("M6")
	// Worked by hand: thread 12, run-out 5.1, point 0.3004·5 = 1.5, skin 1: 19.6 mm of metal.
	for _, c := range []struct {
		name   string
		metal  float64
		e      float64
		keep   bool
		thread float64
		depth  float64
		out    bool
	}{
		{"blind in aluminium", 25, aluminium, false, 12, 17.1, false},
		{"just enough metal", 19.7, aluminium, false, 12, 17.1, false},
		{"just too little", 19.5, aluminium, false, 19.5, 19.5, true},
		{"in iron", 25, iron, false, 9, 14.1, false},
		{"in steel", 25, steel, false, 6, 11.1, false},
		{"thin", 4, steel, false, 4, 4, true},
		{"under a slope", 15, aluminium, true, 7.4, 12.5, false},
		{"nothing under a slope", 1, aluminium, true, 0, 0, false},
	} {
		h := m6.TapInto(c.metal, c.e, c.keep)
		require.InDelta(t, c.thread, h.Thread, 0.01, c.name)
		require.InDelta(t, c.depth, h.Depth, 0.01, c.name)
		require.Equal(t, c.out, h.Through, c.name)
		require.LessOrEqual(t, h.Thread, h.Depth, c.name)
	}
}

// Through holes of ISO 273, medium series, mm (from memory).
func TestClearanceOfISO273(t *testing.T) {
	for size, mm := range map[string]float64{"M3": 3.4, "M4": 4.5, "M5": 5.5, "M6": 6.6, "M8": 9, "M10": 11, "M12": 13.5} {
		s, ok := LookupScrew(size)
		require.True(t, ok)
		require.Equal(t, mm, s.Clearance, size)
	}
}
