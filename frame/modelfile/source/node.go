package source

import (
	"strings"
	"unicode/utf8"

	"tiploop/frame/machine"
)

// Node is a piece of the model file, with its position.
type Node struct {
	Pos      machine.FilePos
	Kind     Kind
	Text     string  // of a scalar, without quotes
	Verbatim bool    // Text stands in the file as it is here, from Pos on
	Items    []*Node // of a list
	Pairs    []Pair  // of a mapping, in the order of the file
}

// Pair is one entry of a mapping.
type Pair struct{ Key, Value *Node }

// Kind is what a node is.
type Kind int

// The kinds.
const (
	Nothing Kind = iota // a key without a value
	Scalar
	List
	Mapping
)

// String names the kind as it stands in a sentence.
func (k Kind) String() string {
	return [...]string{"nothing", "a single value", "a list", "a mapping"}[k]
}

// Find gives the pair with that key, nil when there is none.
func (n *Node) Find(key string) *Pair {
	for i := range n.Pairs {
		if n.Pairs[i].Key.Text == key {
			return &n.Pairs[i]
		}
	}
	return nil
}

// Part is the piece of a scalar that begins at a byte of its text, without the blanks round it.
func (n *Node) Part(at int, text string) *Node {
	trimmed := strings.TrimLeft(text, " ")
	part := &Node{Pos: n.Pos, Kind: Scalar, Text: strings.TrimRight(trimmed, " "), Verbatim: n.Verbatim}
	if n.Verbatim {
		part.Pos.Col += utf8.RuneCountInString(n.Text[:at]) + len(text) - len(trimmed)
	}
	return part
}
