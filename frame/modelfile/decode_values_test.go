package modelfile

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A value may be a word, so that options can differ in a surface, a screw's size or a material.
func TestValuesThatAreWords(t *testing.T) {
	const text = `machine: m
values: {finish: sawn, size: M5, stuff: aluminium-5083, spare: "for later", leg: 60}
parts:
  base: {plate: {from: [0, 0, 0], to: [100, 100, 20]}, material: stuff}
  post: {plate: {from: [0, 0, 20], to: [100, 20, leg]}, material: steel}
joints:
  - {between: [base, post], screws: {size: size, grid: [2, 1]}, surface: finish}
grounds:
  - {part: base, face: bottom, fixed: true}
options:
  better: {finish: milled, size: M6, stuff: steel}
`
	doc, err := Parse("m.yaml", []byte(text))
	require.NoError(t, err)
	for option, want := range map[string][3]string{"": {"sawn", "M5", "aluminium-5083"}, "better": {"milled", "M6", "steel"}} {
		m, err := doc.Machine(option)
		require.NoError(t, err)
		require.Equal(t, want, [3]string{m.Joints[0].Surface.Key, m.Joints[0].Screws.Size.Size, m.Parts[0].Material.Key})
	}
	values, err := doc.Values("")
	require.NoError(t, err)
	require.Len(t, values, 1, "words are no numbers to vary")
	require.Equal(t, "leg = 60 mm", values[0].String())
	_, err = doc.Range("", "finish=1..2")
	require.ErrorContains(t, err, "is a word")
}

func TestWordFaults(t *testing.T) {
	joined := func(values, surface string) string {
		return two + "values: {" + values + "}\njoints:\n  - {between: [base, post], screws: {size: M6, grid: [1, 1]}, surface: " +
			surface + "}\n"
	}
	testFaults(t, []faultCase{
		{"a word nobody knows", joined("finish: polished", "finish"), `
m.yaml:8:72: surface "polished", which value "finish" stands for, is not known
	one of: ground, fine-milled, milled, as-rolled, sawn`},
		{"a word never used", joined("finish: polished", "milled"), `
m.yaml:6:18: "polished" is no value, and as a word nothing uses finish
	use it where a word belongs, or take it out`},
		{"a misspelt false", joined("braced: flase", "milled"), `
m.yaml:6:18: "flase" is no value, and as a word nothing uses braced
	did you mean false?`},
		{"a misspelt value", joined("wide: 3, half: wode", "milled"), `
m.yaml:6:25: value "wode" is not known
	did you mean wide? one of: wide, half`},
		{"a word where a number belongs", joined(`finish: "milled", n: 2*finish`, "finish"), `
m.yaml:6:33: value "finish" is the word "milled", no number`},
	})
}

// So it is in an option, where it stands in place of true.
func TestMisspeltTruthInOption(t *testing.T) {
	_, err := machineOf(two+"values: {braced: true}\noptions: {plain: {braced: flase}}\n", "plain")
	require.EqualError(t, err, `m.yaml:7:27: "flase" is no value, and as a word nothing uses braced`+"\n\tdid you mean false?")
}

// Lengths cancel in a quotient of lengths: what is left is no length, though a bare number would be one.
func TestRatioIsNoLength(t *testing.T) {
	plate := func(high string) string {
		return "machine: m\nvalues: {n: 10 in/2 in}\nparts:\n  p: {plate: {from: [0, 0, 0], to: [10, 10, " + high +
			"]}, material: steel}\n"
	}
	const place = "m.yaml:4:45: a ratio (%s) where a length belongs\n\tits units cancel; write * 1 mm if it is one"
	testFaults(t, []faultCase{
		{"inches over inches", plate("10 in/2 in"), fmt.Sprintf(place, "5")},
		{"as a value", plate("n"), fmt.Sprintf(place, "5")},
		{"a sine", plate("sin(30)"), fmt.Sprintf(place, "0.5")},
	})
	for _, good := range []string{"n * 1 mm", "100 * sin(30)", "n * 4", "10/2"} {
		require.Empty(t, faultsOf(plate(good)), good)
	}
}

// Plain angles are degrees; one with pi in it was meant in radians.
func TestPiInPlainAngle(t *testing.T) {
	plate := func(values, high string) string {
		return "machine: m\nvalues: {" + values + "}\nparts:\n  p: {plate: {from: [0, 0, 0], to: [10, 10, 20 * " + high +
			"]}, material: steel}\n"
	}
	testFaults(t, []faultCase{
		{"pi", plate("", "sin(pi/4)"), `
m.yaml:4:50: sin of a plain number with pi in it, which is taken as 0.7854 degrees
	plain angles are degrees; write radians as such: pi * 1 rad / 4`},
		{"by a value", plate("a: pi/4", "cos(a)"), `
m.yaml:4:50: cos of a plain number with pi in it, which is taken as 0.7854 degrees
	plain angles are degrees; write radians as such: pi * 1 rad / 4`},
	})
	require.Empty(t, faultsOf(plate("", "sin(pi * 1 rad / 4)")))
}

// Hundreds of values are read in hundreds of readings of the file, not thousands: each plain number is tried as what it
// was used for.
func TestUnitsOfManyValues(t *testing.T) {
	var values, parts strings.Builder
	for i := range 60 {
		fmt.Fprintf(&values, "  h%d: %d\n", i, 10+i)
		fmt.Fprintf(&parts, "  p%d: {plate: {from: [%d, 0, 0], to: [%d, 50, h%d]}, material: steel}\n", i, 20*i, 20*i+10, i)
	}
	doc, err := Parse("m.yaml", []byte("machine: m\nvalues:\n"+values.String()+"parts:\n"+parts.String()))
	require.NoError(t, err)
	list, err := doc.Values("")
	require.NoError(t, err)
	require.Len(t, list, 60)
	for _, v := range list {
		require.Equal(t, "mm", v.Unit, v.Name)
	}
}
