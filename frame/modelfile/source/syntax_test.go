package source

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestSyntax has the mistakes that builders make with brackets, quotes, colons and columns.
func TestSyntax(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"list not closed", "machine: m\nparts: [a, b\n", `
m.yaml:2:8: the list that begins here is not closed
	close it with ]`},
		{"mapping not closed", "machine: m\nparts: {a: 1\n", `
m.yaml:2:8: the mapping that begins here is not closed
	close it with }`},
		{"mapping broken off", "machine: m\nparts:\n  a: {plate: {from: [0, 0, 0], to:", `
m.yaml:3:34: a mapping breaks off here
	give the key a value behind its colon, and close the mapping with }`},
		{"list closed as a mapping", "machine: m\nparts: {a: [1, 2}\n", `
m.yaml:2:17: the list before this is not closed, or a comma is missing
	close it with ], put a comma between two items, or take out a bracket too many`},
		{"mapping closed as a list", "machine: m\nparts: [{a: 1]\n", `
m.yaml:2:14: the mapping before this is not closed, or a comma is missing
	close it with }, put a comma between two keys, or take out a bracket too many`},
		{"bracket too many", "machine: m\nparts: {a: 1}}\n", `
m.yaml:2:14: this does not go with what stands before it
	look for a bracket too many, and begin the keys of one mapping, and the items of one list, in the same column`},
		{"closed but not opened", "machine: m\nparts: ]\n", `
m.yaml:2:8: a ] without a [ before it
	take it out, or open the list with [`},
		{"double quote not closed", "machine: \"m\nparts: {}\n", `
m.yaml:1:10: the text that begins here is not closed
	close it with "`},
		{"single quote not closed", "machine: 'm\nparts: {}\n", `
m.yaml:1:10: the text that begins here is not closed
	close it with '`},
		{"backslash", "machine: \"a\\qb\"\n", `
m.yaml:1:13: a backslash before a letter that it does not go with
	use ' for the quotes: between them a backslash is a plain letter`},
		{"tab", "machine: m\nparts:\n\ta: 1\n", `
m.yaml:3:1: a tab cannot indent
	use blanks`},
		{"tab in quotes", "machine: 'a\n\tb'\n", `
m.yaml:2:1: a tab cannot indent
	use blanks`},
		{"colon in text", "machine: the mill: mine\nparts: {}\n", `
m.yaml:1:10: a colon inside a text, or a key that is set in too far
	put text that holds a colon and a blank in quotes; begin the keys of one mapping in the same column`},
		{"at sign", "machine: @home\n", `
m.yaml:1:10: a text cannot begin with this character
	put the text in quotes`},
		{"two commas in a list", "machine: m\nparts: [a,, b]\n", `
m.yaml:2:11: a comma with nothing before it
	take it out`},
		{"two commas in a mapping", "machine: m\nparts: {a: 1,, b: 2}\n", `
m.yaml:2:14: a comma with nothing before it
	take it out`},
		{"list begins with a comma", "machine: m\nparts: [, a]\n", `
m.yaml:2:9: a comma with nothing before it
	take it out`},
		{"item behind a key", "machine: m\njoints: - a\n", `
m.yaml:2:9: an item of a list cannot begin here
	begin it on a line of its own, or write the list between [ and ]`},
		{"key without a colon", "machine: m\nparts\n", `
m.yaml:2:1: this is no key with a value
	write key: value, with a blank behind the colon; begin the keys of one mapping in the same column`},
		{"key without a blank", "machine:m\nparts: {}\n", `
m.yaml:1:1: this is no key with a value
	write key: value on one line, with a blank behind the colon`},
		{"key on two lines", "machine: m\nparts: {a\n: 1}\n", `
m.yaml:2:9: a key and its colon are on different lines
	write key: value on one line`},
		{"key in another column", "machine: m\nparts:\n  a: {plate: 1}\n b: 2\n", `
m.yaml:4:2: this does not go with what stands before it
	look for a bracket too many, and begin the keys of one mapping, and the items of one list, in the same column`},
		{"words behind a bar", "machine: |\U0001F600\u202e\n  x\n", `
m.yaml:1:10: only a line break may follow | or >
	begin the text on the next line, or put it in quotes`},
		{"a mistake that is seldom made", "machine: \"\\ud800 abcdefghijk\"\n", `
m.yaml:1:11: not YAML: found unexpected character after high surrogate for UTF-16 surrogate pair`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, faults := Parse("m.yaml", []byte(c.text))
			require.Equal(t, strings.TrimPrefix(c.want, "\n"), faults.Error())
		})
	}
}

// TestSyntaxWithoutPlace: whatever error comes is told, with a place or without.
func TestSyntaxWithoutPlace(t *testing.T) {
	s := source{name: "m.yaml"}
	s.syntax(errors.New("no place"))
	require.Equal(t, "m.yaml: this cannot be read as YAML", s.faults.Error())
}

func TestPrintable(t *testing.T) {
	require.Equal(t, "a?[31m", printable("a\x1b[31m"))
	require.Equal(t, strings.Repeat("µ", 100)+"…", printable(strings.Repeat("µ", 101)))
}
