package spindle_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/constant"
	"tiploop/frame/spindle"
	"tiploop/testdata/checks"
)

func TestClasses(t *testing.T) {
	before := 0.0
	for _, c := range spindle.Classes() {
		require.NotEmpty(t, c.Name)
		require.Greater(t, c.Radial.Typical, before, "from soft to stiff")
		before = c.Radial.Typical
		r := c.Springs()
		for _, s := range []spindle.Springs{r.Low, r.Typical, r.High} {
			require.NoError(t, s.Check())
			require.Less(t, s.Axial, s.Radial)
		}
		require.Less(t, r.Low.Tilt, r.Typical.Tilt)
		require.Less(t, r.Typical.Tilt, r.High.Tilt)
		got, ok := spindle.LookupClass(c.Key)
		require.True(t, ok)
		require.Equal(t, c, got)
	}
	_, ok := spindle.LookupClass("drill-press")
	require.False(t, ok)
	for _, p := range spindle.Tapers() {
		require.NotEmpty(t, p.Name)
		got, ok := spindle.LookupTaper(p.Key)
		require.True(t, ok)
		require.Equal(t, p, got)
	}
	_, ok = spindle.LookupTaper("7/24-50")
	require.False(t, ok)
	for _, s := range []spindle.Springs{{}, {Radial: 1, Axial: 1}, {Radial: 1, Axial: math.NaN(), Tilt: 1},
		{Radial: math.Inf(1), Axial: 1, Tilt: 1}} {
		require.Error(t, s.Check())
	}
}

// A rigid shaft held by its front bearings as by a pin turns on its rear ones: tilt = rear·span².
func TestClassTilt(t *testing.T) {
	const statics = "moment over turning of a rigid bar pinned in front and held at the rear: rear·span²"
	const rigid, rigidLeaves = 1e15, 1e-8 // N/mm in front, and what that leaves
	share, ok := constant.Lookup(spindle.Constants(), "rear_bearing")
	require.True(t, ok)
	var rows []sourcedRow
	for _, c := range spindle.Classes() {
		r := c.Springs()
		for _, l := range []struct {
			level constant.Level
			got   spindle.Springs
		}{{constant.Low, r.Low}, {constant.Typical, r.Typical}, {constant.High, r.High}} {
			radial := c.Radial.At(l.level)
			_, want := spindle.TwoBearings(rigid, share.Band.At(l.level)*radial, c.Span.Typical, 0)
			name := c.Key + ", " + l.level.String()
			rows = append(rows,
				sourcedRow{name, statics, l.got.Tilt, want, rigidLeaves},
				sourcedRow{name + ", radial", "the table", l.got.Radial, radial, roundOff},
				sourcedRow{name + ", axial", "the table", l.got.Axial, c.Axial.At(l.level), roundOff})
		}
	}
	round, _ := spindle.LookupClass("round-spindle")
	checkRows(t, append(rows, sourcedRow{
		"round spindle by hand", statics + ": half of 35 N/µm at 130 mm", round.Springs().Typical.Tilt, 17500 * 16900,
		roundOff,
	}))
}

// The two springs against a rigid bar on two springs, solved for its two end movements.
func TestTwoBearings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, low, high float64) float64 {
			return math.Pow(10, rapid.Float64Range(math.Log10(low), math.Log10(high)).Draw(t, name))
		}
		front, rear := draw("front", 1e3, 1e6), draw("rear", 1e3, 1e6)
		span, over := draw("span", 20, 400), draw("overhang", 1, 200)
		radial, tilt := spindle.TwoBearings(front, rear, span, over)
		// A unit force at the nose: moments about the rear and the front bearing give their forces.
		onFront, onRear := (span+over)/span, -over/span
		moved := func(f, r float64) (nose, turned float64) {
			turned = (f/front - r/rear) / span
			return f/front + turned*over, turned
		}
		nose, _ := moved(onFront, onRear)
		if e := checks.Rel(1/radial, nose); !(e <= 1e-9) {
			t.Fatalf("radial off by %g", e)
		}
		_, turned := moved(1/span, -1/span)
		if e := checks.Rel(1/tilt, turned); !(e <= 1e-9) {
			t.Fatalf("tilt off by %g", e)
		}
	})
	radial, _ := spindle.TwoBearings(5, 7, 100, 0)
	require.InEpsilon(t, 5, radial, roundOff, "at the front bearing itself")
	require.Panics(t, func() { spindle.TwoBearings(0, 1, 1, 1) })
	require.Panics(t, func() { spindle.TwoBearings(1, 1, 1, -1) })
}
