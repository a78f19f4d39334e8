package shopwork

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/drive"
	"tiploop/frame/machine"
)

// A bracket from y = 0 to 18 with a nut's place along y: on its front, on its back, and where no face is meant.
func TestSquareFace(t *testing.T) {
	lo, hi := [3]float64{-30, 0, 34}, [3]float64{30, 18, 93}
	for _, c := range []struct {
		name string
		at   [3]float64
		face machine.Face
		why  string
	}{
		{"on its front", [3]float64{0, 0, 60}, machine.Front, ""},
		{"on its back", [3]float64{0, 18, 60}, machine.Back, ""},
		{"in its middle", [3]float64{0, 9, 60}, 0, "inside the metal: draw it on the face that its flange lies on, y = 0 mm or 18 mm"},
		{"before it", [3]float64{0, -5, 60}, 0, "5 mm from the face before it"},
		{"behind it", [3]float64{0, 20, 60}, 0, "2 mm from the face before it"},
		{"below it", [3]float64{0, 0, 20}, 0, "no metal round it"},
		{"on its edge", [3]float64{0, 0, 34}, 0, "no metal round it"},
	} {
		face, why := SquareFace(machine.Y, lo, hi, c.at)
		if c.why == "" {
			require.Equal(t, [2]any{c.face, ""}, [2]any{face, why}, c.name)
		} else {
			require.Contains(t, why, c.why, c.name)
		}
	}
}

// However a flange stands, its places are on its face, at their distances from its middle, and those between them; looked
// at from the other side of its part the pattern is the same, place by place.
func TestFlangeTurnsWithItsShaft(t *testing.T) {
	screws := drive.BallScrews()
	rapid.Check(t, func(t *rapid.T) {
		f, ok := screws[rapid.IntRange(0, len(screws)-1).Draw(t, "screw")].NutFlange()
		require.True(t, ok)
		shaft := machine.Axis(rapid.IntRange(0, 2).Draw(t, "shaft"))
		var lo, hi, at [3]float64
		for k := range lo {
			lo[k] = rapid.Float64Range(-500, 500).Draw(t, "lo")
			hi[k] = lo[k] + rapid.Float64Range(1, 300).Draw(t, "size")
			at[k] = lo[k] + rapid.Float64Range(0.1, 0.9).Draw(t, "share")*(hi[k]-lo[k])
		}
		far := rapid.Bool().Draw(t, "far")
		if at[shaft] = lo[shaft]; far {
			at[shaft] = hi[shaft]
		}
		face, why := SquareFace(shaft, lo, hi, at)
		require.Empty(t, why)
		require.Equal(t, [2]any{shaft, far}, [2]any{face.Normal(), face.Far()})
		other := face - 1
		if !far {
			other = face + 1
		}
		apart := func(a, b [3]float64) float64 { return math.Sqrt(sq(a[0]-b[0]) + sq(a[1]-b[1]) + sq(a[2]-b[2])) }
		for i, off := range f.At {
			p := FlangePlace(face, lo, hi, at, off)
			require.Equal(t, at[shaft], p[shaft])
			require.InDelta(t, math.Hypot(off[0], off[1]), apart(at, p), 1e-9)
			for _, o := range f.At[:i] {
				require.InDelta(t, math.Hypot(off[0]-o[0], off[1]-o[1]), apart(p, FlangePlace(face, lo, hi, at, o)), 1e-9)
			}
			p[shaft] += map[bool]float64{true: -1, false: 1}[far] * (hi[shaft] - lo[shaft])
			q := FlangePlace(other, lo, hi, at, off)
			require.InDelta(t, 0, apart(p, q), 1e-9)
		}
	})
}

func sq(v float64) float64 { return v * v }
