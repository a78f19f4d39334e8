package modelfile

import (
	"tiploop/frame/machine"
)

// node is a piece of the model file, with its position.
type node struct {
	pos      machine.FilePos
	kind     nodeKind
	text     string // of a scalar, without quotes
	verbatim bool   // text stands in the file as it is here, from pos on
	items    []*node
	pairs    []pair
}

type pair struct{ key, value *node }

type nodeKind int

const (
	nothing nodeKind = iota // a key without a value
	scalar
	list
	mapping
)

// String names the kind as it stands in a sentence.
func (k nodeKind) String() string {
	return [...]string{"nothing", "a single value", "a list", "a mapping"}[k]
}

// find gives the pair with that key, nil when there is none.
func (n *node) find(key string) *pair {
	for i := range n.pairs {
		if n.pairs[i].key.text == key {
			return &n.pairs[i]
		}
	}
	return nil
}
