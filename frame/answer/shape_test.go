package answer

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// The largest movement is drawn between a fortieth and a sixteenth of the diagonal long, by a number of one digit.
func TestMagnification(t *testing.T) {
	for _, mm := range []float64{1e-7, 3e-4, 0.004, 0.05, 1.7, 400} {
		s := Shape{Loads: []string{"still", "push"}, Bodies: []ShapeBody{{AtMM: [][3]float64{{0, 0, 0}, {300, 400, 1200}},
			MovedMM: [][][3]float64{{{}, {}}, {{0, mm, 0}, {}}}}}}
		require.Equal(t, 1.0, s.Magnification(0))
		m := s.Magnification(1)
		digit := m / math.Pow(10, math.Floor(math.Log10(m)+1e-9))
		require.Contains(t, []float64{1, 2, 5}, math.Round(digit*1e6)/1e6)
		if m > 1 {
			require.LessOrEqual(t, m*mm, 0.0601*1300)
			require.Greater(t, m*mm, 0.0239*1300)
		}
	}
}

// A tip that is moved by 0.1 mm is drawn off by half of the tool's 30 mm at most, which is more than half of the plate's 12:
// 150 times. Of a plate of 40 mm it is 200 times.
func TestMagnificationOfATip(t *testing.T) {
	for thick, times := range map[float64]float64{12: 100, 40: 200} {
		box := func(to [3]float64, kind ShapeKind) ShapeBody {
			return ShapeBody{Kind: kind, AtMM: [][3]float64{{}, to}, MovedMM: [][][3]float64{{{}, {0.06, 0, 0}}}}
		}
		s := Shape{Loads: []string{"push"}, Bodies: []ShapeBody{box([3]float64{900, 900, thick}, ShapePlate),
			box([3]float64{6, 6, 30}, ShapeTool)},
			Tip: &ShapeTip{ToolMM: [][3]float64{{0.06, 0, 0}}, WorkMM: [][3]float64{{-0.04, 0, 0}}}}
		require.Equal(t, times, s.Magnification(0))
	}
}
