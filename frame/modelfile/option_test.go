package modelfile

import (
	"strings"
	"testing"

	"tiploop/testdata/models"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/machine"
)

func TestOptionFaults(t *testing.T) {
	testFaults(t, []faultCase{
		{"unknown value", two + "values: {bed_length: 3}\noptions:\n  long: {bed_lenght: 4, lost: 3}\n", `
m.yaml:8:10: value "bed_lenght" is not known
	did you mean bed_length? one of: bed_length
m.yaml:8:25: value "lost" is not known
	one of: bed_length`},
		{"unknown unit", two + "values: {bed_length: 3}\noptions:\n  long: {bed_length: 4 mmm}\n", `
m.yaml:8:24: unit "mmm" is not known
	did you mean mm?`},
		{"unknown value used", two + "values: {bed_length: 3}\noptions:\n  long: {bed_length: 2*bed}\n", `
m.yaml:8:24: value "bed" is not known
	did you mean bed_length? one of: bed_length`},
		{"a list", two + "values: {bed_length: 3}\noptions: [long]\n", "m.yaml:7:10: options must be a mapping, not a list"},
		{"an option that is a number", two + "values: {bed_length: 3}\noptions: {long: 3}\n", `
m.yaml:7:17: option "long" must be a mapping, not a single value`},
		{"an option twice", two + "values: {bed_length: 3}\noptions:\n  long: {}\n  long: {}\n", `
m.yaml:9:3: key "long" stands here a second time
	the first is on line 8`},
		{"form and sense", two + "options:\n  long: {bed_length: 4}\ntool: {part: bas, at: [0, 0, 0]}\n", `
m.yaml:7:10: value "bed_length" is not known
m.yaml:8:7: there is a tool, but no work
	say which part the work is clamped to, work: {part: …}
m.yaml:8:14: part "bas" is not known
	did you mean base? one of: base, post`},
	})
}

func TestUnknownOption(t *testing.T) {
	doc, err := Parse("m.yaml", []byte(models.ClockPlateMill))
	require.NoError(t, err)
	require.Equal(t, []string{"short bed held all along", "long bed held in the middle"}, doc.OptionNames())
	_, err = doc.Machine("long bed held in midle")
	require.EqualError(t, err, "m.yaml: option \"long bed held in midle\" is not known\n"+
		"\tdid you mean long bed held in the middle? one of: short bed held all along, long bed held in the middle")
	require.IsType(t, machine.Faults{}, err)

	doc, err = Parse("m.yaml", []byte(two))
	require.NoError(t, err)
	require.Empty(t, doc.OptionNames())
	_, err = doc.Machine("long")
	require.EqualError(t, err, "m.yaml: option \"long\" is not known\n\tthe model has no options")
}

func TestFaultInOneOptionOnly(t *testing.T) {
	text := two + "values: {n: 2}\npoints:\n  top: {part: post, at: [1/n, 0, 90]}\noptions:\n  none: {n: 0}\n"
	require.Equal(t, "", faultsOf(text))
	_, err := machineOf(text, "none")
	require.EqualError(t, err, "m.yaml:8:27: division by zero")
}

// unplaced is the machine without what only an edit of the file can change.
func unplaced(m *machine.Machine) *machine.Machine {
	out := *m
	out.Option = ""
	return &out
}

// TestOptionIsAnEdit holds an option against the file with the values written in by hand. Values on one line
// each keep every place the same.
func TestOptionIsAnEdit(t *testing.T) {
	sample := models.ClockPlateMill
	rapid.Check(t, func(t *rapid.T) {
		length := rapid.SampledFrom([]string{"300 mm", "12 in", "held_length + 40 mm", "350",
			"max(held_length, 300 mm)"}).Draw(t, "length")
		held := rapid.SampledFrom([]string{"160 mm", "200", "gusset_leg*2", "20 cm"}).Draw(t, "held")
		gussets := rapid.SampledFrom([]string{"true", "false", "gusset_leg > 80"}).Draw(t, "gussets")

		edited := strings.NewReplacer("bed_length: 280 mm\n", "bed_length: "+length+"\n",
			"held_length: 280 mm  ", "held_length: "+held+"  ", "gussets: true", "gussets: "+gussets).Replace(sample)
		want, err := machineOf(edited, "")
		require.NoError(t, err)

		setting := "  drawn: {bed_length: '" + length + "', held_length: '" + held + "', gussets: '" + gussets + "'}\n"
		got, err := machineOf(sample+setting, "drawn")
		require.NoError(t, err)
		require.Equal(t, "drawn", got.Option)
		require.Equal(t, want, unplaced(got))
	})
}
