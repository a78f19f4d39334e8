package scene

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/report/number"
)

// decoded is what the script makes of the data, by the words of the data's own types.
type decoded struct {
	data
	t *testing.T
}

func (d *decoded) words(text string) (list []uint16) {
	b, err := base64.StdEncoding.DecodeString(text)
	require.NoError(d.t, err)
	for i := 0; i < len(b); i += 2 {
		list = append(list, binary.LittleEndian.Uint16(b[i:]))
	}
	return list
}

func (d *decoded) corners(n int) (list [][3]float64) {
	w := d.words(d.Places[n])
	for i := 0; i < len(w); i += 3 {
		list = append(list, [3]float64{d.From[0] + d.Step*float64(w[i]), d.From[1] + d.Step*float64(w[i+1]),
			d.From[2] + d.Step*float64(w[i+2])})
	}
	return list
}

// shapeAt is the shape that a state shows.
func shapeAt(t *testing.T, shapes []*answer.Shape, state stateData) *answer.Shape {
	t.Helper()
	for _, s := range shapes {
		if words(shapes[0], s) == state.Words {
			return s
		}
	}
	require.Fail(t, "no shape stands there", state.Words)
	return nil
}

// Of positions that would make a page heavy those between go first, the ends of travel then.
func TestThinnedPositions(t *testing.T) {
	positions := func(of optionData) (at []float64) {
		for _, s := range of.States[1:] {
			at = append(at, s.At)
		}
		return at
	}
	o := optionData{States: []stateData{{}, {Axis: "x", At: -60}, {Axis: "x", At: -30}, {Axis: "x", At: 30}, {Axis: "x", At: 60},
		{Axis: "z", At: 0}, {Axis: "z", At: 10}, {Axis: "z", At: 20}, {Axis: "z", At: 30}, {Axis: "z", At: 40}}}
	require.True(t, o.thin(true))
	require.True(t, o.Fewer)
	require.Equal(t, []float64{-60, 60, 0, 20, 40}, positions(o))
	require.False(t, o.thin(true))
	require.True(t, o.thin(false))
	require.Empty(t, positions(o))
	require.Len(t, o.States, 1, "where it stands")
}

// Every corner stands and moves in the data as in the shape: within a step of the numbers, and within a hundredth of
// the load's largest movement and what rounding adds.
func TestDataIsTheShape(t *testing.T) {
	for _, path := range []string{gantry, "examples/gussets.yaml"} {
		options := optionsOf(t, path)
		text, err := Data("A mill", options)
		require.NoError(t, err)
		again, err := Data("A mill", options)
		require.NoError(t, err)
		require.True(t, bytes.Equal(text, again), "the same bytes")
		require.Less(t, len(text), mostBytes)
		d := decoded{t: t}
		require.NoError(t, json.Unmarshal(text, &d.data))
		require.Len(t, d.Options, len(options))
		require.Equal(t, len(options[0].Shapes), len(d.Options[0].States), "all positions of the first option")
		for o, option := range d.Options {
			for s, state := range option.States {
				shape := shapeAt(t, options[o].Shapes, state)
				require.Equal(t, s == 0, state.Axis == "")
				at := make([][][3]float64, len(option.Bodies))
				for i, b := range option.Bodies {
					at[i] = d.corners(b.At)
				}
				for _, m := range state.Moved {
					for n := range at[m.Body] {
						for k := range 3 {
							at[m.Body][n][k] += m.By[k]
						}
					}
				}
				for _, drawn := range state.Drawn {
					at[drawn.Body] = d.corners(drawn.At)
				}
				for l, load := range state.Loads {
					most, from := 0.0, 0
					for _, b := range shape.Bodies {
						most = max(most, largest(b.MovedMM[l]))
					}
					numbers := d.words(load.Moved)
					for i, b := range shape.Bodies {
						terms := d.Bases[option.Bodies[i].Basis]
						places, _ := boxed(at[i])
						for n, p := range places {
							var off [3]float64
							for k := range 3 {
								require.InDelta(t, b.AtMM[n][k], at[i][n][k], d.Step*1.01, "%s", b.Name)
								off[k] = -b.MovedMM[l][n][k]
							}
							for term, x := range terms.at(p) {
								for k := range 3 {
									off[k] += load.Step * x * float64(int16(numbers[from+3*term+k]))
								}
							}
							require.LessOrEqual(t, number.Norm(off), 1.3*within*most, "%s, %s, %s", b.Name, load.Name, state.Words)
						}
						from += 3 * len(terms)
						require.InEpsilon(t, 1+largest(b.MovedMM[l])*1e3, 1+load.Most[i], 0.006)
					}
					require.Equal(t, len(numbers), from)
					require.InEpsilon(t, number.Norm(less(shape.Tip.ToolMM[l], shape.Tip.WorkMM[l]))*1e3, *load.TipUm, 1e-5)
				}
			}
		}
	}
}

// A rigid body takes four vectors, a cantilever's curve (cubic: Euler's beam) a dozen, and both are exact.
func TestFitted(t *testing.T) {
	var at, turned, curve [][3]float64
	for i := range 9 {
		for _, y := range []float64{-5, 5} {
			for _, z := range []float64{-3, 3} {
				x := float64(i) * 50
				at = append(at, [3]float64{x, y, z})
				turned = append(turned, [3]float64{0.1 - 0.02*y, 0.02*x - 0.01*z, 0.01 * y})
				w, slope := x*x*(1200-x)/1e6, x*(800-x)*3/1e6
				curve = append(curve, [3]float64{-slope * z, 0, w})
			}
		}
	}
	for _, tt := range []struct {
		moved [][3]float64
		terms int
	}{{turned, 4}, {curve, 12}} {
		terms, fit := fitted([]field{{at, tt.moved, largest(tt.moved)}})
		require.LessOrEqual(t, len(terms), tt.terms)
		places, _ := boxed(at)
		for n, p := range places {
			for k := range 3 {
				got := 0.0
				for term, x := range terms.at(p) {
					got += x * fit[0][term][k]
				}
				require.InDelta(t, tt.moved[n][k], got, within*largest(tt.moved))
			}
		}
	}
}

// What cannot be shown is an error, and of what can be not too much is shown.
func TestOddData(t *testing.T) {
	shape := optionsOf(t, "examples/gussets.yaml")[0].Shapes[0]
	copied := func() *answer.Shape {
		s := *shape
		s.Bodies = append([]answer.ShapeBody{}, s.Bodies...)
		return &s
	}
	spoilt, other, nowhere := copied(), copied(), copied()
	moved := append([][3]float64{}, spoilt.Bodies[1].MovedMM[0]...)
	moved[0][2] = math.NaN()
	spoilt.Bodies[1].MovedMM = append([][][3]float64{moved}, spoilt.Bodies[1].MovedMM[1:]...)
	other.Bodies = other.Bodies[1:]
	nowhere.Bodies = nil
	for _, tt := range []struct {
		what    string
		options []Option
	}{
		{"no option", nil}, {"no shape", []Option{{Name: "a"}}}, {"not a number", []Option{{Name: "a", Shapes: []*answer.Shape{spoilt}}}},
		{"different bodies", []Option{{Name: "a", Shapes: []*answer.Shape{shape, other}}}},
		{"nothing", []Option{{Name: "a", Shapes: []*answer.Shape{nowhere}}}},
	} {
		_, err := Data("m", tt.options)
		require.Error(t, err, tt.what)
	}
	long := strings.Repeat("ü", 200)
	require.Len(t, []rune(shortened(long)), mostName)
	require.Equal(t, "short", shortened("short"))
	many := make([]Option, 12)
	for i := range many {
		many[i] = optionsOf(t, gantry)[0]
	}
	text, err := Data("m", many)
	require.NoError(t, err)
	var d data
	require.NoError(t, json.Unmarshal(text, &d))
	require.Len(t, d.Options[0].States, 7)
	require.Len(t, d.Options[11].States, 1)
}

// The script may stand in a script element, and is light.
func TestScript(t *testing.T) {
	require.NotContains(t, Script(), "</")
	require.NotContains(t, Script(), "<!--")
	for _, never := range []string{"eval(", "innerHTML", "fetch(", "XMLHttpRequest", "import(", "insertAdjacentHTML", "new Function"} {
		require.NotContains(t, Script(), never)
	}
	require.Less(t, len(Script())+len(Style()), 60_000)
}
