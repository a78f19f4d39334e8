package modelfile

import (
	"fmt"
	"strings"
	"testing"

	"tiploop/testdata/models"

	"github.com/stretchr/testify/require"
)

func TestValuesOfFile(t *testing.T) {
	doc, err := Parse("m.yaml", []byte(models.Changeable))
	require.NoError(t, err)
	values, err := doc.Values("")
	require.NoError(t, err)
	found := map[string]Value{}
	for _, v := range values {
		found[v.Name] = v
	}
	require.NotContains(t, found, "braced")
	require.True(t, found["half"].Made)
	for name, unit := range map[string]string{"width": "mm", "spring": "N/mm", "young": "N/mm2", "poisson": "", "rows": "",
		"tilt": "deg", "tight": "N mm"} {
		require.Equal(t, unit, found[name].Unit, name)
		require.Equal(t, name == "rows", found[name].Whole, name)
	}
	require.InDelta(t, 3.1, found["tilt"].At, 1e-12)
	require.InDelta(t, 52.2, found["width"].At, 1e-12)
}

func rangeOf(t *testing.T, text string) (*Range, string) {
	t.Helper()
	doc, err := Parse("m.yaml", []byte(models.Changeable))
	require.NoError(t, err)
	r, err := doc.Range("", text)
	if err != nil {
		var wrong *RangeError
		require.ErrorAs(t, err, &wrong)
		require.Equal(t, strings.HasPrefix(text, "braced"), wrong.Truth, text)
		return nil, err.Error()
	}
	return r, ""
}

func TestRange(t *testing.T) {
	for _, tt := range []struct {
		text     string
		from, to float64
	}{
		{"tall=60..90", 60, 90},
		{"tall=60 mm..90 mm", 60, 90},
		{"tall = 6 cm .. 90", 60, 90},
		{"tall=90..60", 60, 90},
		{"tall=.5..1.5", 0.5, 1.5},
		{"tall=width..2*width", 52.2, 104.4},
		{"tall=tall/2..tall + 1 in", 93.85, 213.1},
		{"width=1 in..60", 25.4, 60},
		{"width=1..2 in", 25.4, 50.8}, // the first end has the unit of the second
		{"spring=10 N/um..50 N/um", 10e3, 50e3},
		{"tilt=-5..5", -5, 5},
		{"rows=2..4", 2, 4},
	} {
		r, bad := rangeOf(t, tt.text)
		require.Empty(t, bad, tt.text)
		require.InDelta(t, tt.from, r.From, 1e-9, tt.text)
		require.InDelta(t, tt.to, r.To, 1e-9, tt.text)
	}
	for text, want := range map[string]string{
		"tall": "tall: the file gives tall no range\n\twrite tall=from..to, or in the file what it is worth trying at: " +
			"tall: {value: …, sweep: from..to}",
		"tall=60": "tall=60: there is no .. between two ends\n\twrite it as name=from..to, for instance " +
			"gusset_leg=30..130",
		"tal=60..70":         "tal=60..70: value \"tal\" is not known\n\tdid you mean tall?",
		"braced=0..1":        "braced=0..1: value \"braced\" is a word, or true or false, and runs over no range\n\tset it in an option",
		"tall=60 N..70 N":    "tall=60 N..70 N: a force (60 N) where a length belongs",
		"tall=60..":          "tall=60..: \"\" cannot be read as an expression\n\tit ends too early",
		"tall=60..widh":      "tall=60..widh: value \"widh\" is not known\n\tdid you mean width?",
		"tall=60..60":        "tall=60..60: the range has no width",
		"rows=1.5..3":        "rows=1.5..3: value rows counts something: 1.5 is not a whole number",
		"tall=braced..70 mm": "tall=braced..70 mm: true where a number belongs",
	} {
		_, bad := rangeOf(t, text)
		require.Contains(t, bad, want, text)
	}
}

func TestRangePlaces(t *testing.T) {
	r, _ := rangeOf(t, "tall=60..90")
	require.Equal(t, []float64{60, 67.5, 75, 82.5, 90}, r.Places(5))
	r, _ = rangeOf(t, "rows=1..4")
	require.Equal(t, []float64{1, 2, 3, 4}, r.Places(11))
	require.Equal(t, []float64{1, 4}, r.Places(2))
	r, _ = rangeOf(t, "rows=1..12")
	require.Equal(t, []float64{1, 4, 7, 9, 12}, r.Places(5))
}

// One place of a range is its beginning; none is a mistake of the program.
func TestFewPlaces(t *testing.T) {
	for _, text := range []string{"width=50..54", "rows=2..4"} {
		r, _ := rangeOf(t, text)
		require.Equal(t, []float64{r.From}, r.Places(1), text)
		require.Equal(t, []float64{r.From, r.To}, r.Places(2), text)
		require.PanicsWithValue(t, "modelfile: 0 places of a range", func() { r.Places(0) })
	}
	doc, err := Parse("m.yaml", []byte(models.Changeable))
	require.NoError(t, err)
	r, _ := rangeOf(t, "width=50..54")
	require.PanicsWithValue(t, "modelfile: 0 numbers for 1 ranges",
		func() { _, _ = doc.MachineAt("", []*Range{r}, nil) })
	_, err = doc.MachineAt("", []*Range{r}, []float64{51})
	require.NoError(t, err)
}

// What is printed of a value, a setting or a range says which it is.
func TestValuesInWords(t *testing.T) {
	r, _ := rangeOf(t, "width=50..54")
	require.Equal(t, "width = 50..54 mm", r.String())
	require.Equal(t, "width = 52.2 mm", r.Value.String())
	require.Equal(t, "width = a length (51 mm)", r.Setting(51).String())
	r, _ = rangeOf(t, "rows=2..4")
	require.Equal(t, "rows = 2..4", fmt.Sprint(r))
}

// A value is unused unless something is drawn with it, or with what is made of it.
func TestUnusedVariables(t *testing.T) {
	doc, err := Parse("m.yaml", []byte(`machine: post
values: {tall: 90, half: wide/2, wide: 20, spare: 3, more: spare + 1, odd: "true"}
parts:
  base: {plate: {from: [0, 0, 0], to: [100, 50, 10]}, material: steel}
  post: {plate: {from: [0, 0, 10], to: [half, 50, tall]}, material: steel}
`))
	require.NoError(t, err)
	variables, err := doc.Variables("")
	require.NoError(t, err)
	unused := map[string]bool{}
	for _, v := range variables {
		unused[v.Name] = v.Unused
	}
	require.Equal(t, map[string]bool{"tall": false, "wide": false, "spare": true}, unused)
}
