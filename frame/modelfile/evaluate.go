package modelfile

import (
	"fmt"
	"math"

	"github.com/expr-lang/expr/ast"

	"tiploop/frame/machine"
)

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
			machine.Quote(name), machine.Quote(d.word)), reported: d.node.Verbatim && !d.spelt}
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
