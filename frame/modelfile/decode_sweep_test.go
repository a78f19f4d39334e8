package modelfile

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// sweptModel is a machine whose values say what they are worth trying at.
const sweptModel = `machine: post
values:
  tall: {value: 9 cm, sweep: 60..120 mm}
  wide: {value: 20, sweep: "wide/2 .. 3 cm"}   # a plain number is what it is used for
  rows: {value: 2, sweep: 1..4}
  deep:
    value: 50 mm
    sweep: 1..2.5 in
  plain: 10
parts:
  base: {plate: {from: [0, 0, 0], to: [100, 50, plain]}, material: steel}
  post: {plate: {from: [0, 0, 10], to: [wide, deep, tall]}, material: steel}
joints:
  - {between: [base, post], screws: {size: M4, grid: [1, rows]}}
options:
  taller: {tall: 110 mm}
`

// What a value is worth trying at is told in the unit in which the value is: expected by hand.
func TestSweptValues(t *testing.T) {
	doc, err := Parse("m.yaml", []byte(sweptModel))
	require.NoError(t, err)
	want := map[string]*Sweep{"tall": {60, 120}, "wide": {10, 30}, "rows": {1, 4}, "deep": {25.4, 63.5}, "plain": nil}
	inUnit := map[string]*Sweep{"tall": {6, 12}, "wide": {10, 30}, "rows": {1, 4}, "deep": {25.4, 63.5}, "plain": nil}
	for _, option := range []string{"", "taller"} {
		values, err := doc.Values(option)
		require.NoError(t, err)
		require.Len(t, values, len(want))
		for _, v := range values {
			requireSweep(t, want[v.Name], v.Sweep, v.Name)
		}
		written, err := doc.Written(option)
		require.NoError(t, err)
		for _, w := range written {
			if option == "taller" && w.Name == "tall" { // which the option has in mm
				requireSweep(t, want[w.Name], w.Sweep, w.Name)
				continue
			}
			requireSweep(t, inUnit[w.Name], w.Sweep, w.Name)
		}
	}
	swept, err := doc.Swept("")
	require.NoError(t, err)
	require.Equal(t, []string{"tall", "wide", "rows", "deep"}, swept)
	r, err := doc.Range("", " deep ")
	require.NoError(t, err)
	require.InDelta(t, 25.4, r.From, 1e-9)
	require.InDelta(t, 63.5, r.To, 1e-9)
}

func requireSweep(t *testing.T, want, got *Sweep, name string) {
	t.Helper()
	require.Equal(t, want == nil, got == nil, name)
	if want != nil {
		require.InDelta(t, want.From, got.From, 1e-9, name)
		require.InDelta(t, want.To, got.To, 1e-9, name)
	}
}

// What a value is worth trying at changes no machine.
func TestSweepChangesNothing(t *testing.T) {
	doc, err := Parse("m.yaml", []byte(sweptModel))
	require.NoError(t, err)
	with, err := doc.Machine("")
	require.NoError(t, err)
	require.Equal(t, 90.0, with.Parts[1].Plate.To.Z)
	require.Equal(t, 20.0, with.Parts[1].Plate.To.X)
}

// Writing a number leaves all round it as it is.
func TestRewriteSwept(t *testing.T) {
	doc, err := Parse("m.yaml", []byte(sweptModel))
	require.NoError(t, err)
	out, err := doc.Rewrite("", map[string]float64{"tall": 10.5, "deep": 40})
	require.NoError(t, err)
	require.Contains(t, out.Text(), "  tall: {value: 10.5 cm, sweep: 60..120 mm}\n")
	require.Contains(t, out.Text(), "    value: 40 mm\n    sweep: 1..2.5 in\n")
	require.Len(t, out.Text(), len(sweptModel)+len("10.5")-len("9"))
	out, err = doc.Rewrite("", map[string]float64{"tall": 13})
	require.NoError(t, err)
	_, err = out.Machine("")
	require.ErrorContains(t, err, "m.yaml:3:17: tall is 130 mm, outside its sweep from 60 mm to 120 mm")
}

func TestSweepFaults(t *testing.T) {
	model := func(value string) string {
		return "machine: m\nvalues: {reach: " + value + "}\nparts:\n  p: {plate: {from: [0, 0, 0], to: [100, 50, reach]}, material: steel}\n" +
			"options:\n  long: {reach: 90}\n"
	}
	testFaults(t, []faultCase{
		{"backwards", model("{value: 20 mm, sweep: 40..10 mm}"), `
m.yaml:2:39: the sweep of reach runs backwards: from 40 mm to 10 mm
	write both ends, the lesser first: sweep: 200..400 mm`},
		{"no width", model("{value: 20 mm, sweep: 20..20}"), `
m.yaml:2:39: the sweep of reach has no width: 20 mm
	write both ends, the lesser first: sweep: 200..400 mm`},
		{"outside", model("{value: 20 mm, sweep: 30..40 mm}"), `
m.yaml:2:25: reach is 20 mm, outside its sweep from 30 mm to 40 mm
	make the sweep wider`},
		{"a force", model("{value: 20 mm, sweep: 10..40 N}"), `
m.yaml:2:39: a force (10 N) where a length belongs
	reach is a length (20 mm)`},
		{"a force beside a plain length", model("{value: 20, sweep: 10..40 N}"), `
m.yaml:2:36: a force (10 N) where a length belongs
	reach is a length (20 mm)`},
		{"one end a force", model("{value: 20 mm, sweep: 10 mm..40 N}"), `
m.yaml:2:39: a force (40 N) where a length belongs
	reach is a length (20 mm)`},
		{"a word", model("{value: sawn, sweep: 10..40 N}"), `
m.yaml:2:25: "sawn" is no value, and as a word nothing uses reach
	use it where a word belongs, or take it out
m.yaml:2:38: reach is the word "sawn", and is tried at no range of numbers
	leave sweep out; an option can set another`},
		{"true", model("{value: true, sweep: 0..1}"), `
m.yaml:2:38: reach is true or false, and is tried at no range of numbers
	leave sweep out; an option can set another
m.yaml:4:46: true where a length belongs`},
		{"words for ends", model("{value: 20 mm, sweep: low..high}"), `
m.yaml:2:39: value "low" is not known
	one of: reach`},
		{"true for an end", model("{value: 20 mm, sweep: true..40 mm}"), `
m.yaml:2:39: true where a number belongs`},
		{"an uncertainty", model("{value: 20 mm, sweep: 20 mm +- 40 %}"), `
m.yaml:2:39: there is no .. between two ends in "20 mm +- 40 %"
	write both ends, the lesser first: sweep: 200..400 mm`},
		{"an uncertainty for the number", model("{value: 10..20 mm, sweep: 10..40 mm}"), `
m.yaml:2:25: "10..20 mm" is a range, and a value takes none
	write the range where the stiffness stands: stiffness: reach +- 40 %`},
		{"one number", model("{value: 20 mm, sweep: 40}"), `
m.yaml:2:39: there is no .. between two ends in "40"
	write both ends, the lesser first: sweep: 200..400 mm`},
		{"a list", model("{value: 20 mm, sweep: [10, 40]}"), `
m.yaml:2:39: a range must be a single value, not a list`},
		{"not finite", model("{value: 20 mm, sweep: 10..inf}"), `
m.yaml:2:43: "inf" is not a finite number`},
		{"too large to be", model("{value: 20 mm, sweep: 10..1e9 mm}"), `
m.yaml:2:39: a length of 1e+09 mm is beyond belief: at most 1e+06 mm`},
		{"divided by nothing", model("{value: 20 mm, sweep: 10..1/0}"), `
m.yaml:2:44: division by zero`},
		{"ends missing", model("{value: 20 mm, sweep: ..}"), `
m.yaml:2:39: "" cannot be read as an expression
	it ends too early`},
		{"no sweep", model("{value: 20 mm}"), `
m.yaml:2:17: value "reach" has no sweep
	sweep takes: range, from..to`},
		{"no number", model("{sweep: 10..20}"), `
m.yaml:2:17: value "reach" has no value
	value takes: number with its unit, or a plain one`},
		{"long form in an option", two + "values: {a: 1}\noptions: {x: {a: {value: 2, sweep: 1..3}}}\n", `
m.yaml:7:18: a number must be a single value, not a mapping`},
	})
	for _, end := range []string{"{value: 17.78 mm, sweep: 0.1..0.7 in}", "{value: 33.3333333333333 mm, sweep: 100 mm/3..40 mm}"} {
		doc, err := Parse("m.yaml", []byte(model(end)))
		require.NoError(t, err)
		_, err = doc.Machine("")
		require.NoError(t, err, "a number at an end of its sweep, but for rounding")
	}
	doc, err := Parse("m.yaml", []byte(model("{value: 20 mm, sweep: 10..40 mm}")))
	require.NoError(t, err)
	_, err = doc.Machine("long")
	require.EqualError(t, err, "m.yaml:6:17: reach is 90 mm, outside its sweep from 10 mm to 40 mm\n\tmake the sweep wider")

	doc, err = Parse("m.yaml", []byte(strings.Replace(sweptModel, "sweep: 1..4", "sweep: 1..3.5", 1)))
	require.NoError(t, err)
	_, err = doc.Values("")
	require.EqualError(t, err, "m.yaml:5:27: rows counts something: its sweep from 1 to 3.5 does not go from a whole number to a "+
		"whole number")
}
