package joint_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/joint"
)

func TestClampedLength(t *testing.T) {
	m6, _ := joint.LookupScrew("M6")
	for _, tt := range []struct {
		name, source      string
		head              joint.Head
		thickness, length float64
		hole              joint.HoleKind
	}{
		{"no room for a counterbore", "rule of ClampedLength", joint.Sunk, 5, 5, joint.Clearance},
		{"one diameter", "rule of ClampedLength", joint.Sunk, 6, 6, joint.Clearance},
		{"shallow counterbore", "rule of ClampedLength", joint.Sunk, 10, 6, joint.Counterbored},
		{"full counterbore, one diameter left", "rule of ClampedLength", joint.Sunk, 12, 6, joint.Counterbored},
		{"20 mm plate, head of 6 mm sunk", "rule of ClampedLength", joint.Sunk, 20, 14, joint.Counterbored},
		{"proud", "all of the plate lies under the head", joint.Proud, 20, 20, joint.Clearance},
		{"nothing said", "as proud", joint.HeadUnsaid, 20, 20, joint.Clearance},
		{"on a washer", "all of the plate lies under the washer", joint.Washer, 20, 20, joint.Clearance},
	} {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.source)
			require.Equal(t, tt.length, tt.head.ClampedLength(m6, tt.thickness))
			require.Equal(t, tt.hole, tt.head.ThroughHole(m6, tt.thickness))
		})
	}
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(joint.Screws()).Draw(t, "screw")
		thin := rapid.Float64Range(0.1, 80).Draw(t, "thin")
		thick := thin + rapid.Float64Range(0, 20).Draw(t, "more")
		require.LessOrEqual(t, joint.Sunk.ClampedLength(s, thin), joint.Sunk.ClampedLength(s, thick))
		require.LessOrEqual(t, joint.Sunk.ClampedLength(s, thick), thick)
	})
}

// A washer and a proud head press on a wider ring than a sunk one, and the screw is longer.
func TestHeads(t *testing.T) {
	ring := func(h joint.Head) (outer, screw float64) {
		s := spotOf("M6", "milled")
		s.Head = h
		k, err := s.Stiffness()
		require.NoError(t, err)
		return k.ZoneOuter, k.ScrewAxial
	}
	tan := 1 / math.Sqrt(3)
	sunk, short := ring(joint.Sunk)
	proud, long := ring(joint.Proud)
	washer, longest := ring(joint.Washer)
	const source = "d_w/2 + t tan 30°: d_w 10 of the head (ISO 4762), 12 of the washer (ISO 7089, from memory)"
	checkRows(t, []sourcedRow{
		{"sunk", source, sunk, 5 + 14*tan, 1e-12},
		{"proud", source, proud, 5 + 20*tan, 1e-12},
		{"washer", source, washer, 6 + 20*tan, 1e-12},
	})
	require.Greater(t, short, long)
	require.Greater(t, long, longest)
	m6, _ := joint.LookupScrew("M6")
	require.Equal(t, 6.0, joint.Proud.Height(m6, 20))
	require.Equal(t, 7.6, joint.Washer.Height(m6, 20))
	require.Equal(t, 0.0, joint.Sunk.Height(m6, 20))
	require.Equal(t, 2.0, joint.Sunk.Height(m6, 10), "no room for all of it")
	for _, name := range joint.Heads {
		require.Equal(t, name, joint.HeadOf(name).String())
	}
	require.Equal(t, joint.HeadUnsaid, joint.HeadOf("flush"))
}

// Washers after ISO 7089 (from memory): wider than the head, and what the head presses of it no wider than it is.
func TestWashers(t *testing.T) {
	for _, want := range []struct {
		size        string
		wide, thick float64
	}{{"M3", 7, 0.5}, {"M4", 9, 0.8}, {"M5", 10, 1}, {"M6", 12, 1.6}, {"M8", 16, 1.6}, {"M10", 20, 2}, {"M12", 24, 2.5}} {
		s, ok := joint.LookupScrew(want.size)
		require.True(t, ok)
		require.Equal(t, want.wide, s.WasherDiameter)
		require.Equal(t, want.thick, s.WasherThickness)
		require.Greater(t, joint.Washer.Bearing(s), joint.Proud.Bearing(s))
		require.LessOrEqual(t, joint.Washer.Bearing(s), joint.Washer.Width(s))
	}
}
