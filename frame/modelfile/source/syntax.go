package source

import (
	"errors"
	"strings"
	"unicode"

	"github.com/goccy/go-yaml/token"

	"tiploop/frame/machine"
)

// inOurWords are what the YAML package says of the mistakes that are made most, by a piece of its message, and what a
// builder of machines is told instead. The first that fits counts.
var inOurWords = []struct{ piece, what, hint string }{
	{"sequence end token ']' not found", "the list that begins here is not closed", "close it with ]"},
	{"flow mapping end token '}'", "the mapping that begins here is not closed", "close it with }"},
	{"',' or ']' must be specified", "the list before this is not closed, or a comma is missing",
		"close it with ], put a comma between two items, or take out a bracket too many"},
	{"',' or '}' must be specified", "the mapping before this is not closed, or a comma is missing",
		"close it with }, put a comma between two keys, or take out a bracket too many"},
	{"could not find '[' character", "a ] without a [ before it", "take it out, or open the list with ["},
	{"could not find '{' character", "a } without a { before it", "take it out, or open the mapping with {"},
	{"end character of double-quoted text", "the text that begins here is not closed", "close it with \""},
	{"end character of single-quoted text", "the text that begins here is not closed", "close it with '"},
	{"unknown escape character", "a backslash before a letter that it does not go with",
		"use ' for the quotes: between them a backslash is a plain letter"},
	{"\t", "a tab cannot indent", "use blanks"},
	{"tab character", "a tab cannot indent", "use blanks"},
	{"reserved character", "a text cannot begin with this character", "put the text in quotes"},
	{"mapping value is not allowed", "a colon inside a text, or a key that is set in too far",
		"put text that holds a colon and a blank in quotes; begin the keys of one mapping in the same column"},
	{"unexpected scalar value type", "a comma with nothing before it", "take it out"},
	{"but found ','", "a comma with nothing before it", "take it out"},
	{"could not find map value", "a mapping breaks off here", "give the key a value behind its colon, and close the mapping with }"},
	{"could not find flow map content", "a comma with nothing before it", "take it out"},
	{"block sequence entries", "an item of a list cannot begin here",
		"begin it on a line of its own, or write the list between [ and ]"},
	{"non-map value", "this is no key with a value",
		"write key: value, with a blank behind the colon; begin the keys of one mapping in the same column"},
	{"unexpected key name", "this is no key with a value", "write key: value on one line, with a blank behind the colon"},
	{"implicit line break", "a key and its colon are on different lines", "write key: value on one line"},
	{"value is not allowed in this context", "this does not go with what stands before it",
		"look for a bracket too many, and begin the keys of one mapping, and the items of one list, in the same column"},
	{"invalid header option", "only a line break may follow | or >",
		"begin the text on the next line, or put it in quotes"},
}

// syntax reports an error of the YAML package.
func (s *source) syntax(err error) {
	var placed interface {
		GetMessage() string
		GetToken() *token.Token
	}
	if !errors.As(err, &placed) {
		s.fault(machine.FilePos{}, "this cannot be read as YAML", "")
		return
	}
	at, message := posOf(placed.GetToken()), placed.GetMessage()
	for _, w := range inOurWords {
		if strings.Contains(message, w.piece) {
			s.fault(at, w.what, w.hint)
			return
		}
	}
	s.fault(at, "not YAML: "+printable(message), "")
}

// printable makes a message of the YAML package fit to print: it may hold any of the file's text.
func printable(message string) string {
	const most = 100 // runes: the longest of its fixed messages has fewer
	message = strings.Map(func(r rune) rune {
		if unicode.IsPrint(r) {
			return r
		}
		return '?'
	}, message)
	if runes := []rune(message); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return message
}
