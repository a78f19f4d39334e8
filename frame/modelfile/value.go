package modelfile

import (
	"fmt"
	"math"
	"strings"

	"tiploop/frame/modelfile/source"
)

// quantity is a number with its dimension, in the consistent set of units. A quantity without a dimension is a
// plain number, which takes on the dimension of what it meets.
type quantity struct {
	x   float64
	dim dimension
	// ratio: the units cancelled, as in 10 in/2 in, or a sine was taken. Such a number is none of millimetres.
	ratio bool
	ofPi  bool // pi went into it: as an angle it is probably meant in radians
}

func (q quantity) plain() bool  { return q.dim == dimension{} }
func (q quantity) finite() bool { return !math.IsNaN(q.x) && !math.IsInf(q.x, 0) }

// in gives the quantity as one of dimension dim: a plain number is taken to be in that dimension's usual unit.
func (q quantity) in(dim dimension) quantity {
	if q.plain() && !q.ratio && dim != q.dim {
		u := measureOf(dim).unit
		return quantity{x: q.x * u.num / u.den, dim: dim}
	}
	return q
}

// String names the quantity's kind and size.
func (q quantity) String() string {
	m := measureOf(q.dim)
	if q.ratio {
		return fmt.Sprintf("a ratio (%s)", m.show(q.x))
	}
	return fmt.Sprintf("%s (%s)", m.withArticle(), m.show(q.x))
}

// value is what an expression comes to: a quantity, or true or false.
type value struct {
	quantity
	truth   bool
	isTruth bool
}

// String names the value's kind and what it is.
func (v value) String() string {
	if v.isTruth {
		return fmt.Sprint(v.truth)
	}
	return v.quantity.String()
}

// Names with a fixed meaning in expressions, which therefore no value can have.
const piName = "pi"

var (
	functionNames = []string{"min", "max", "abs", "sqrt", "sin", "cos", "tan"}
	reservedNames = map[string]bool{
		piName: true, "min": true, "max": true, "abs": true, "sqrt": true, "sin": true, "cos": true, "tan": true,
		"true": true, "false": true, "and": true, "or": true, "not": true, "nil": true, "in": true, "let": true, "if": true,
		"else": true, "matches": true, "contains": true, "startsWith": true, "endsWith": true,
	}
)

// scope holds the values that expressions may use.
type scope struct {
	definitions map[string]*definition
	names       []string // in the order of the file
	report      func(*source.Node, *trouble)
	wants       map[string]map[dimension]bool // what plain values were taken for, by name
	chain       []string                      // the values being worked out, each for the one before it
}

// definition is one entry of the values.
type definition struct {
	node *source.Node
	// What it is worth trying at, as it is written and, once that was found right, its ends; nil: the file does not say.
	sweepNode *source.Node
	sweep     *[2]quantity

	expr  *expression // nil when it could not be read, or is a word
	word  string      // a surface, a material, a size; "": it is a number, or true or false
	used  bool        // something is drawn with it
	spelt bool        // the word was used as one
	state definitionState
	value value
}

// use notes that something is drawn with the values in an expression, and with those that these are made of.
func (s *scope) use(e *expression) {
	for _, r := range e.names {
		if d := s.definitions[r.name]; d != nil && !d.used {
			d.used = true
			if d.expr != nil {
				s.use(d.expr)
			}
		}
	}
}

type definitionState int

const (
	untouched definitionState = iota
	busy
	done
	broken
)

// want notes what the plain numbers of an expression were taken for.
func (s *scope) want(e *expression, dim dimension) {
	for _, r := range e.names {
		d := s.definitions[r.name]
		if d == nil || s.wants[r.name][dim] {
			continue
		}
		if s.wants == nil {
			s.wants = map[string]map[dimension]bool{}
		}
		if s.wants[r.name] == nil {
			s.wants[r.name] = map[dimension]bool{}
		}
		s.wants[r.name][dim] = true
		if d.expr != nil {
			s.want(d.expr, dim)
		}
	}
}

// resolve works out a value, and the values it is made of first.
func (s *scope) resolve(name string) (value, bool) {
	d := s.definitions[name]
	switch d.state {
	case done:
		return d.value, true
	case broken:
		return value{}, false
	case busy:
		s.reportRing(name)
		return value{}, false
	}
	if d.expr == nil {
		d.state = broken
		return value{}, false
	}
	d.state = busy
	s.chain = append(s.chain, name)
	v, bad := s.evaluate(d.expr)
	s.chain = s.chain[:len(s.chain)-1]
	if bad != nil {
		if !bad.reported {
			s.report(d.node, bad)
		}
		d.state = broken
		return value{}, false
	}
	d.value, d.state = v, done
	return v, true
}

// reportRing reports that a value is made of itself, at the one of the ring that stands first in the file.
func (s *scope) reportRing(name string) {
	start := len(s.chain) - 1
	for s.chain[start] != name {
		start--
	}
	ring := s.chain[start:]
	first := 0
	for i, n := range ring {
		if s.definitions[n].node.Pos.Before(s.definitions[ring[first]].node.Pos) {
			first = i
		}
	}
	var b strings.Builder
	for i := range ring {
		fmt.Fprintf(&b, "%s → ", ring[(first+i)%len(ring)])
	}
	b.WriteString(ring[first])
	s.report(s.definitions[ring[first]].node, &trouble{what: "values run in a ring: " + b.String()})
}
