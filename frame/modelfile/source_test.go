package modelfile

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

func TestSourceFaults(t *testing.T) {
	testFaults(t, []faultCase{
		{"duplicate keys", "machine: m\nparts: {a: 1}\nmachine: n\nparts: {b: {plate: {from: [0, 0, 0], from: [1, 1, 1]}}}\n", `
m.yaml:2:12: part "a" must be a mapping, not a single value
	its keys: if, plate, gusset, bar, section, up, material
m.yaml:3:1: key "machine" stands here a second time
	the first is on line 1
m.yaml:4:1: key "parts" stands here a second time
	the first is on line 2
m.yaml:4:38: key "from" stands here a second time
	the first is on line 4`},
		{"alias bomb", "a: &a [x, x]\nb: &b [*a, *a]\nc: [*b, *b]\n", `
m.yaml:1:4: anchors and aliases ("&") are not part of a model
	give the number a name under values, and use the name`},
		{"merge key", "machine: m\nparts:\n  a:\n    <<: {x: 1}\n", `
m.yaml:4:5: anchors and aliases ("<<") are not part of a model
	give the number a name under values, and use the name`},
		{"tag", "machine: !!str m\nparts: !gussets\n", `
m.yaml:1:10: tags ("!!str") are not part of a model
	write not instead of !, or put the text in quotes`},
		{"one of each kind", "machine: !!str m\nparts: *a\n---\n? b\n: *a\n--- !c\n", `
m.yaml:1:10: tags ("!!str") are not part of a model
	write not instead of !, or put the text in quotes
m.yaml:2:8: anchors and aliases ("*") are not part of a model
	give the number a name under values, and use the name
m.yaml:3:1: a second document begins here
	a model is one document: take out the line ---
m.yaml:4:1: a key with a question mark is not part of a model
	write key: value`},
		{"two documents", "machine: m\n---\nmachine: n\n---\nmachine: o\n", `
m.yaml:2:1: a second document begins here
	a model is one document: take out the line ---`},
		{"two documents, three headers", "---\n---\nmachine: m\n--- \nmachine: n\n", `
m.yaml:2:1: a second document begins here
	a model is one document: take out the line ---`},
		{"two documents, one header", "---\nmachine: m\n---\nmachine: n\n", `
m.yaml:3:1: a second document begins here
	a model is one document: take out the line ---`},
		{"directive", "%YAML 1.2\n---\nmachine: m\n", `
m.yaml:1:1: directives are not part of a model
	take the line out, or put the text in quotes
m.yaml:2:1: a second document begins here
	a model is one document: take out the line ---`},
		{"question mark", "? machine\n: m\n", `
m.yaml:1:1: a key with a question mark is not part of a model
	write key: value`},
		{"deep brackets", "machine: " + strings.Repeat("[", 4000) + "\n", `
m.yaml:1:30: lists and mappings are nested more than 20 deep`},
		{"deep brackets on many lines", "machine: " + strings.Repeat("[\n", 9000) + "\n", `
m.yaml:21:1: lists and mappings are nested more than 20 deep`},
		{"deep dashes", strings.Repeat("- ", 2000) + "\n", `
m.yaml:1:41: lists and mappings are nested more than 20 deep`},
		{"deep indentation", deepIndentation(40), `
m.yaml:21:24: lists and mappings are nested more than 20 deep`},
		{"long line", "machine: " + strings.Repeat("x", 5000) + "\n", `
m.yaml:1:4097: the line is too long: more than 4096 characters
	break it`},
		{"many lines", strings.Repeat("a: b\n", 10_001), `
m.yaml:10001:1: the file is too long for a model: more than 10000 lines`},
		{"control character", "machine: m\nabout: a\x1b[31mred\n", `
m.yaml:2:9: control character U+001B
	take it out`},
		{"escape in quotes", "machine: \"a\\e[31mred\"\nparts: {}\n", `
m.yaml:1:10: "a\x1b[31mred" holds a character that cannot be printed, U+001B
m.yaml:2:8: there are no parts`},
		{"long key", "machine: m\n" + strings.Repeat("k", 61) + ": 1\nparts: {}\n", `
m.yaml:2:1: key "kkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkk…" is too long: 61 characters, at most 60
m.yaml:2:1: key "kkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkk…" is not known in the model
	its keys: machine, about, date, notes, values, materials, parts, joints, grounds, axes, positions, tool, work, spindle, masses, points, misfits, shims, loads, cuts, travel, options
m.yaml:3:8: there are no parts`},
		{"empty key", "machine: m\n'': 1\nparts: {}\n", `
m.yaml:2:1: key "" is empty
m.yaml:2:1: key "" is not known in the model
	its keys: machine, about, date, notes, values, materials, parts, joints, grounds, axes, positions, tool, work, spindle, masses, points, misfits, shims, loads, cuts, travel, options
m.yaml:3:8: there are no parts`},
		{"a list", "- machine\n", `
m.yaml:1:1: the model must be a mapping, not a list
	its keys: machine, about, date, notes, values, materials, parts, joints, grounds, axes, positions, tool, work, spindle, masses, points, misfits, shims, loads, cuts, travel, options`},
		{"null as a key", "machine: m\n~: 1\nnull: 2\nparts: {}\n", `
m.yaml:2:1: key "~" is not known in the model
	its keys: machine, about, date, notes, values, materials, parts, joints, grounds, axes, positions, tool, work, spindle, masses, points, misfits, shims, loads, cuts, travel, options
m.yaml:3:1: key "null" is not known in the model
	its keys: machine, about, date, notes, values, materials, parts, joints, grounds, axes, positions, tool, work, spindle, masses, points, misfits, shims, loads, cuts, travel, options
m.yaml:4:8: there are no parts`},
		{"key over two lines", "machine: m\n\"a\\nb\": 1\nparts: {}\n", `
m.yaml:2:1: key "a\nb" runs over several lines
m.yaml:2:1: key "a\nb" is not known in the model
	its keys: machine, about, date, notes, values, materials, parts, joints, grounds, axes, positions, tool, work, spindle, masses, points, misfits, shims, loads, cuts, travel, options
m.yaml:3:8: there are no parts`},
		{"a word", "machine\n", `
m.yaml:1:1: the model must be a mapping, not a single value
	its keys: machine, about, date, notes, values, materials, parts, joints, grounds, axes, positions, tool, work, spindle, masses, points, misfits, shims, loads, cuts, travel, options`},
		{"the machine has no name", "machine:\nparts: {}\n", `
m.yaml:1:9: machine must be a single value, not nothing
m.yaml:2:8: there are no parts`},
		{"no machine and no parts", "about: nothing\n", `
m.yaml:1:1: the model has no machine
	machine takes: text
m.yaml:1:1: the model has no parts
	parts takes: by name of a part: mapping of if, plate, gusset, bar, section, up, material`},
	})
}

func deepIndentation(levels int) string {
	var b strings.Builder
	for i := range levels {
		fmt.Fprintf(&b, "%s\"a\":\n", strings.Repeat(" ", i))
	}
	return b.String()
}

// TestPlacesWithWindowsLineEnds has the line ends of another system, and a byte order mark.
func TestPlacesWithWindowsLineEnds(t *testing.T) {
	require.Equal(t, faultsOf("machine: m\nparts:\n  é: {plate: 3}\n"),
		faultsOf("\ufeffmachine: m\r\nparts:\r\n  é: {plate: 3}\r\n"))
	require.Equal(t, faultsOf("machine: m\nparts:\n  é: {plate: 3}\n"), faultsOf("machine: m\rparts:\r  é: {plate: 3}\r"))
}

// TestSourceIsQuick reads a megabyte of every kind of text that makes parsers slow or deep.
func TestSourceIsQuick(t *testing.T) {
	const mostColumns, mostLines = 4096, 10_000 // that it reads
	r := rand.New(rand.NewPCG(2, 3))
	random := make([]byte, source.MostBytes)
	for i := range random {
		random[i] = byte(' ' + r.IntN(95))
		if r.IntN(60) == 0 {
			random[i] = '\n'
		}
	}
	texts := map[string]string{"random": string(random)}
	for i, unit := range []string{
		"[", "{", "[a, ", "{a: ", "- ", "? ", "a: ", "'", "\"", "\\", "!", "&a ", "*a ", "|", ">", "{}", "[]", "---\n", "%",
		"@", "#", " ", "\t",
		"- - - - - - - - - - - - - - a\n", "a: b\n", "a:\n", "[\n", "{\n", "a: |\n b\n", "? a\n: b\n", "a: [b, {c: d}]\n",
		"\"a\n", "'a\n",
		"a:\n- b\n", ": ", ",", "x: \"a\\n\n", strings.Repeat("[a, ", 15) + "\n", strings.Repeat("a, ", 30) + "\n",
	} {
		if !thorough() && i%4 != 0 {
			continue
		}
		texts[fmt.Sprintf("%q", unit)] = strings.Repeat(unit, source.MostBytes/len(unit))
		// And as long as the bounds on lines allow.
		line := unit
		if !strings.Contains(unit, "\n") {
			line = strings.Repeat(unit, min(100, mostColumns)/len(unit)) + "\n"
		}
		texts[fmt.Sprintf("%q in lines", unit)] = strings.Repeat(line, min(source.MostBytes/len(line),
			(mostLines-1)/strings.Count(line, "\n")))
	}
	for name, text := range texts {
		t.Run(name, func(t *testing.T) {
			start := time.Now()
			_, err := Parse("m.yaml", []byte(text))
			require.IsType(t, machine.Faults{}, err)
			require.NotEmpty(t, err)
			require.Less(t, len(err.Error()), 5000)
			t.Logf("%v", time.Since(start)) // a figure to look at: tests do not fail on time
		})
	}
}
