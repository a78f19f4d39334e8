package main

import (
	"encoding/json"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/modelfile"
	"tiploop/report/live"
)

// Whatever number a slider moves, it runs up to some other one in steps, and a page can be told of it.
func TestSliderOfAnyNumber(t *testing.T) {
	for _, at := range []float64{0, 1, -12.5, 1e308, -1e308, 1.7e308, math.MaxFloat64, -math.MaxFloat64, 5e-324, -5e-324, 1e-300} {
		v := sliderOf(modelfile.Written{Name: "big", At: at})
		require.LessOrEqual(t, v.From, at)
		require.GreaterOrEqual(t, v.To, at)
		require.Less(t, v.From, v.To, "%g", at)
		require.GreaterOrEqual(t, v.Step, leastStep, "%g", at)
		_, err := json.Marshal(v)
		require.NoError(t, err, "%g", at)
	}
}

// A slider runs over what the file says that its value is worth trying at, in the unit in which the value is written.
func TestSliderOfSweep(t *testing.T) {
	path, text := starterFile(t)
	_, wall := deskOf(t, path, edited(t, text, "{value: 220 mm, sweep: 160..240 mm}", "{value: 22 cm, sweep: 160..240 mm}"))
	require.Nil(t, wall.state.Fault)
	v := wall.state.Values[2]
	require.Equal(t, "bed_length", v.Name)
	require.Equal(t, "cm", v.Unit)
	require.InDelta(t, 16, v.From, 1e-9)
	require.InDelta(t, 24, v.To, 1e-9)
	require.InDelta(t, 0.05, v.Step, 1e-12, "a hundredth of the way is 0.08")
	v = wall.state.Values[0]
	require.Equal(t, [2]float64{75, 300}, [2]float64{v.From, v.To}, "half to double")
}

// lastState is a wall that keeps the last state.
type lastState struct{ state live.State }

func (*lastState) ShowPage([]byte) {}
func (s *lastState) ShowState(state live.State) error {
	_, err := json.Marshal(state)
	if err == nil {
		s.state = state
	}
	return err
}

// deskOf is a desk with a file's text on it, at which nobody solves, and what it shows.
func deskOf(t *testing.T, path, text string) (*desk, *lastState) {
	t.Helper()
	d, wall := newDesk(path), &lastState{}
	d.wall = wall
	d.takeInstead(d.holds(), looked{text: []byte(text)})
	return d, wall
}

// The largest numbers that a file can hold are shown; one that has no finite number in its unit is said to be none.
func TestWatchHugeNumbers(t *testing.T) {
	path, text := starterFile(t)
	for _, at := range []string{"1e308", "-1e308", "1.7e308 mm", "5e-324 mm"} {
		_, wall := deskOf(t, path, edited(t, text, "  braced: false", fmt.Sprintf("  big: %s\n  braced: false", at)))
		require.Nil(t, wall.state.Fault, at)
		require.Equal(t, "big", wall.state.Values[3].Name, at)
	}
	_, wall := deskOf(t, path, edited(t, text, "  braced: false", "  big: 1 * 1e307 rad\n  braced: false"))
	require.NotNil(t, wall.state.Fault)
	require.Contains(t, wall.state.Fault.Title, "cannot be shown")
}

// Half, double and a hundredth of the way between, rounded down to one, two or five of a power of ten, by hand.
func TestSliders(t *testing.T) {
	for _, tt := range []struct {
		name           string
		at             float64
		whole          bool
		from, to, step float64
	}{
		{"a thickness", 12, false, 6, 24, 0.1},
		{"below zero", -160, false, -320, -80, 2},
		{"zero", 0, false, -10, 10, 0.2},
		{"screws", 3, true, 1, 6, 1},
		{"double is no number", math.MaxFloat64, false, math.MaxFloat64 / 2, math.MaxFloat64, 5e305},
		{"next to nothing", math.SmallestNonzeroFloat64, false, 0, 2 * math.SmallestNonzeroFloat64, leastStep},
	} {
		t.Run(tt.name, func(t *testing.T) {
			v := sliderOf(modelfile.Written{Name: "a", At: tt.at, Whole: tt.whole})
			require.Equal(t, [4]float64{tt.at, tt.from, tt.to, tt.at}, [4]float64{v.At, v.From, v.To, v.File})
			require.InEpsilon(t, tt.step, v.Step, 1e-12) // rounding of powers of ten
		})
	}
}
