package machine

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func TestSourceFaults(t *testing.T) {
	testFaults(t, []faultCase{
		{"duplicate keys", "machine: m\nparts: {a: 1}\nmachine: n\nparts: {b: {plate: {from: [0, 0, 0], from: [1, 1, 1]}}}\n", ""},
		{"alias bomb", "a: &a [x, x]\nb: &b [*a, *a]\nc: [*b, *b]\n", ""},
		{"merge key", "machine: m\nparts:\n  a:\n    <<: {x: 1}\n", ""},
		{"tag", "machine: !!str m\nparts: !gussets\n", ""},
		{"two documents", "machine: m\n---\nmachine: n\n---\nmachine: o\n", ""},
		{"two documents, one header", "---\nmachine: m\n---\nmachine: n\n", ""},
		{"directive", "%YAML 1.2\n---\nmachine: m\n", ""},
		{"question mark", "? machine\n: m\n", ""},
		{"deep brackets", "machine: " + strings.Repeat("[", 4000) + "\n", ""},
		{"deep brackets on many lines", "machine: " + strings.Repeat("[\n", 9000) + "\n", ""},
		{"deep dashes", strings.Repeat("- ", 2000) + "\n", ""},
		{"deep indentation", deepIndentation(40), ""},
		{"long line", "machine: " + strings.Repeat("x", 5000) + "\n", ""},
		{"many lines", strings.Repeat("a: b\n", 10_001), ""},
		{"control character", "machine: m\nabout: a\x1b[31mred\n", ""},
		{"escape in quotes", "machine: \"a\\e[31mred\"\nparts: {}\n", ""},
		{"long key", "machine: m\n" + strings.Repeat("k", 61) + ": 1\nparts: {}\n", ""},
		{"empty key", "machine: m\n'': 1\nparts: {}\n", ""},
		{"not closed", "machine: m\nparts: {a: [1, 2}\n", ""},
		{"quote not closed", "machine: \"m\nparts: {}\n", ""},
		{"tab", "machine: m\nparts:\n\ta: 1\n", ""},
		{"colon in text", "machine: the mill: mine\nparts: {}\n", ""},
		{"at sign", "machine: @home\n", ""},
		{"a list", "- machine\n", ""},
		{"a word", "machine\n", ""},
		{"the machine has no name", "machine:\nparts: {}\n", ""},
		{"no machine and no parts", "about: nothing\n", ""},
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
	require.Equal(t, faultsOf("machine: m\nparts:\n  é: {plate: 3}\n"), faultsOf("\ufeffmachine: m\r\nparts:\r\n  é: {plate: 3}\r\n"))
	require.Equal(t, faultsOf("machine: m\nparts:\n  é: {plate: 3}\n"), faultsOf("machine: m\rparts:\r  é: {plate: 3}\r"))
}

// TestSourceIsQuick reads a megabyte of every kind of text that makes parsers slow or deep.
func TestSourceIsQuick(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 3))
	random := make([]byte, mostBytes)
	for i := range random {
		random[i] = byte(' ' + r.IntN(95))
		if r.IntN(60) == 0 {
			random[i] = '\n'
		}
	}
	texts := map[string]string{"random": string(random)}
	for _, unit := range []string{
		"[", "{", "[a, ", "{a: ", "- ", "? ", "a: ", "'", "\"", "\\", "!", "&a ", "*a ", "|", ">", "{}", "[]", "---\n", "%", "@", "#", " ", "\t",
		"- - - - - - - - - - - - - - a\n", "a: b\n", "a:\n", "[\n", "{\n", "a: |\n b\n", "? a\n: b\n", "a: [b, {c: d}]\n", "\"a\n", "'a\n",
		"a:\n- b\n", ": ", ",", "x: \"a\\n\n", strings.Repeat("[a, ", 15) + "\n", strings.Repeat("a, ", 30) + "\n",
	} {
		texts[fmt.Sprintf("%q", unit)] = strings.Repeat(unit, mostBytes/len(unit))
		// And as long as the bounds on lines allow.
		line := unit
		if !strings.Contains(unit, "\n") {
			line = strings.Repeat(unit, min(100, mostColumns)/len(unit)) + "\n"
		}
		texts[fmt.Sprintf("%q in lines", unit)] = strings.Repeat(line, min(mostBytes/len(line), (mostLines-1)/strings.Count(line, "\n")))
	}
	for name, text := range texts {
		t.Run(name, func(t *testing.T) {
			start := time.Now()
			_, err := Parse("m.yaml", []byte(text))
			require.IsType(t, Faults{}, err)
			require.NotEmpty(t, err)
			require.Less(t, len(err.Error()), 5000)
			t.Logf("%v", time.Since(start)) // a figure to look at: tests do not fail on time
		})
	}
}
