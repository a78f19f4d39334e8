package modelfile

import (
	"fmt"
	"math"
	"strings"

	"github.com/expr-lang/expr/ast"

	"tiploop/frame/machine"
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
	report      func(*node, *trouble)
	wants       map[string]map[dimension]bool // what plain values were taken for, by name
	chain       []string                      // the values being worked out, each for the one before it
}

// definition is one entry of the values.
type definition struct {
	node  *node
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
		if s.definitions[n].node.pos.Before(s.definitions[ring[first]].node.pos) {
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

// evaluate works out an expression.
func (s *scope) evaluate(e *expression) (value, *trouble) {
	return (&evaluation{s, e}).of(e.root)
}

// evaluation is one expression being worked out.
type evaluation struct {
	scope *scope
	expr  *expression
}

func troubleAt(n ast.Node, format string, args ...any) *trouble {
	return &trouble{offset: n.Location().From, what: fmt.Sprintf(format, args...)}
}

// numericAt is trouble that other numbers would not make.
func numericAt(n ast.Node, format string, args ...any) *trouble {
	bad := troubleAt(n, format, args...)
	bad.numeric = true
	return bad
}

func (e *evaluation) of(n ast.Node) (value, *trouble) {
	switch x := n.(type) {
	case *ast.BoolNode:
		return value{truth: x.Value, isTruth: true}, nil
	case *ast.IdentifierNode:
		return e.name(n, x.Value)
	case *ast.UnaryNode:
		return e.unary(x)
	case *ast.BinaryNode:
		return e.binary(x)
	case *ast.ConditionalNode:
		c, bad := e.truth(x.Cond)
		if bad != nil {
			return value{}, bad
		}
		if c {
			return e.of(x.Exp1)
		}
		return e.of(x.Exp2)
	case *ast.BuiltinNode:
		return e.call(n, x.Name, x.Arguments)
	case *ast.CallNode:
		return e.call(n, x.Callee.(*ast.IdentifierNode).Value, x.Arguments)
	}
	panic("modelfile: expression not checked before it is evaluated")
}

func (e *evaluation) name(n ast.Node, name string) (value, *trouble) {
	if l, ok := e.expr.literalOf(name); ok {
		return value{quantity: l.quantity}, nil
	}
	if name == piName {
		return value{quantity: quantity{x: math.Pi, ofPi: true}}, nil
	}
	if d := e.scope.definitions[name]; d.word != "" {
		return value{}, &trouble{offset: n.Location().From, what: fmt.Sprintf("value %s is the word %s, no number",
			machine.Quote(name), machine.Quote(d.word)), reported: d.node.verbatim && !d.spelt}
	}
	v, ok := e.scope.resolve(name)
	if !ok {
		return value{}, &trouble{reported: true}
	}
	return v, nil
}

// number evaluates what must be a quantity.
func (e *evaluation) number(n ast.Node) (quantity, *trouble) {
	v, bad := e.of(n)
	if bad == nil && v.isTruth {
		bad = troubleAt(n, "%s where a number belongs", v)
	}
	return v.quantity, bad
}

// truth evaluates what must be true or false.
func (e *evaluation) truth(n ast.Node) (bool, *trouble) {
	v, bad := e.of(n)
	if bad == nil && !v.isTruth {
		bad = troubleAt(n, "%s where true or false belongs", v)
	}
	return v.truth, bad
}

// alike brings two quantities to one dimension, if one of them is a plain number.
func (e *evaluation) alike(a, b quantity) (quantity, quantity) {
	if a.plain() != b.plain() {
		e.scope.want(e.expr, a.dim.times(b.dim, 1))
	}
	return a.in(b.dim), b.in(a.dim)
}

// from is the quantity as it was made of two others by a sum, a product or a quotient. Plain numbers times a ratio are
// plain numbers: 100 * sin(30) may be millimetres.
func (q quantity) from(a, b quantity) quantity {
	if q.plain() {
		q.ratio = !a.plain() && !b.plain() || a.ratio && b.ratio
		q.ofPi = a.ofPi || b.ofPi
	}
	return q
}

func (e *evaluation) unary(n *ast.UnaryNode) (value, *trouble) {
	if n.Operator == "not" {
		t, bad := e.truth(n.Node)
		return value{truth: !t, isTruth: true}, bad
	}
	q, bad := e.number(n.Node)
	if n.Operator == "-" {
		q.x = -q.x
	}
	return value{quantity: q}, bad
}

func (e *evaluation) binary(n *ast.BinaryNode) (value, *trouble) {
	switch n.Operator {
	case "and", "&&", "or": // && is how the parser writes a < b < c
		left, bad := e.truth(n.Left)
		if bad != nil || left == (n.Operator == "or") {
			return value{truth: left, isTruth: true}, bad
		}
		right, bad := e.truth(n.Right)
		return value{truth: right, isTruth: true}, bad
	case "==", "!=":
		return e.equal(n)
	}
	a, bad := e.number(n.Left)
	if bad != nil {
		return value{}, bad
	}
	b, bad := e.number(n.Right)
	if bad != nil {
		return value{}, bad
	}
	switch n.Operator {
	case "*":
		return finite(n, quantity{x: a.x * b.x, dim: a.dim.times(b.dim, 1)}.from(a, b))
	case "/":
		if b.x == 0 {
			return value{}, numericAt(n, "division by zero")
		}
		return finite(n, quantity{x: a.x / b.x, dim: a.dim.times(b.dim, -1)}.from(a, b))
	}
	a, b = e.alike(a, b)
	switch n.Operator {
	case "+", "-":
		if a.dim != b.dim {
			return value{}, troubleAt(n, "%s and %s cannot be added or subtracted", a, b)
		}
		if n.Operator == "-" {
			b.x = -b.x
		}
		return finite(n, quantity{x: a.x + b.x, dim: a.dim}.from(a, b))
	}
	if a.dim != b.dim {
		return value{}, troubleAt(n, "%s and %s cannot be compared", a, b)
	}
	t := false
	switch n.Operator {
	case "<":
		t = a.x < b.x
	case "<=":
		t = a.x <= b.x
	case ">":
		t = a.x > b.x
	case ">=":
		t = a.x >= b.x
	}
	return value{truth: t, isTruth: true}, nil
}

// equal compares two quantities, or two truths.
func (e *evaluation) equal(n *ast.BinaryNode) (value, *trouble) {
	a, bad := e.of(n.Left)
	if bad != nil {
		return value{}, bad
	}
	b, bad := e.of(n.Right)
	if bad != nil {
		return value{}, bad
	}
	a.quantity, b.quantity = e.alike(a.quantity, b.quantity)
	if a.isTruth != b.isTruth || a.dim != b.dim {
		return value{}, troubleAt(n, "%s and %s cannot be compared", a, b)
	}
	same := a.x == b.x && a.truth == b.truth
	return value{truth: same == (n.Operator == "=="), isTruth: true}, nil
}

// finite is the last step of every sum and product.
func finite(n ast.Node, q quantity) (value, *trouble) {
	if !q.finite() {
		return value{}, numericAt(n, "the result is not a finite number")
	}
	return value{quantity: q}, nil
}

func (e *evaluation) call(n ast.Node, name string, arguments []ast.Node) (value, *trouble) {
	q, bad := e.number(arguments[0])
	if bad != nil {
		return value{}, bad
	}
	switch name {
	case "abs":
		q.x = math.Abs(q.x)
	case "sqrt":
		return squareRoot(n, q)
	case "sin", "cos", "tan":
		if q.plain() && q.ofPi {
			bad := troubleAt(n, "%s of a plain number with pi in it, which is taken as %.4g degrees", name, q.x)
			bad.hint = "plain angles are degrees; write radians as such: pi * 1 rad / 4"
			return value{}, bad
		}
		if q, _ = e.alike(q, quantity{dim: anAngle.unit.dim}); q.dim != anAngle.unit.dim {
			return value{}, troubleAt(n, "%s of %s: an angle belongs here", name, q)
		}
		turn := map[string]func(float64) float64{"sin": math.Sin, "cos": math.Cos, "tan": math.Tan}[name]
		return finite(n, quantity{x: turn(q.x), ratio: true})
	default: // min, max
		for _, a := range arguments[1:] {
			r, bad := e.number(a)
			if bad != nil {
				return value{}, bad
			}
			q, r = e.alike(q, r)
			if q.dim != r.dim {
				return value{}, troubleAt(n, "%s and %s cannot be compared", q, r)
			}
			if name == "min" {
				q.x = min(q.x, r.x)
			} else {
				q.x = max(q.x, r.x)
			}
		}
	}
	return value{quantity: q}, nil
}

func squareRoot(n ast.Node, q quantity) (value, *trouble) {
	if q.x < 0 {
		return value{}, numericAt(n, "the square root of a negative number, %g", q.x)
	}
	for i := range q.dim {
		if q.dim[i]%2 != 0 {
			return value{}, troubleAt(n, "the square root of %s has no meaning", q)
		}
		q.dim[i] /= 2
	}
	q.x = math.Sqrt(q.x)
	return value{quantity: q}, nil
}
