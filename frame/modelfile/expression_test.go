package modelfile

import (
	"fmt"
	"strings"
	"testing"

	"github.com/expr-lang/expr/ast"
	"github.com/stretchr/testify/require"

	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// evaluateText works out an expression with the values of a model; a trouble with one of them is the first reported.
func evaluateText(text string, values map[string]string) (value, *trouble) {
	var first *trouble
	s := &scope{definitions: map[string]*definition{}, report: func(_ *source.Node, bad *trouble) {
		if first == nil {
			first = bad
		}
	}}
	line := 0
	for name, text := range values {
		e, bad := parseExpression(text)
		if bad != nil {
			return value{}, bad
		}
		line++
		s.names = append(s.names, name)
		s.definitions[name] = &definition{node: &source.Node{Pos: machine.FilePos{Line: line, Col: 1}}, expr: e}
	}
	e, bad := parseExpression(text)
	if bad != nil {
		return value{}, bad
	}
	for _, r := range e.names {
		if s.definitions[r.name] == nil {
			return value{}, &trouble{offset: r.offset, what: "no value " + r.name}
		}
	}
	v, bad := s.evaluate(e)
	if bad != nil && bad.reported {
		bad = first
	}
	return v, bad
}

func TestExpressionFaults(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"20 mmm", `3: unit "mmm" is not known; did you mean mm?`},
		{"20 Mpa", `3: unit "Mpa" is not known; did you mean MPa?`},
		{"20mm3x", `2: unit "mm3x" is not known; a product needs a *`},
		{"20 mm 30", `6: "20 mm 30" cannot be read as an expression; at "30"`},
		{"20 bed_length", `3: unit "bed_length" is not known; a product needs a *`},
		{"bed length", `4: "bed length" cannot be read as an expression; at "length"`},
		{"2 +", `3: "2 +" cannot be read as an expression; it ends too early`},
		{"", `0: "" cannot be read as an expression; it ends too early`},
		{"(2 + 3", `6: "(2 + 3" cannot be read as an expression; it ends too early`},
		{"2 + * 3", `4: "2 + * 3" cannot be read as an expression; at "* 3"`},
		{"2 ** 3", `2: "*" has no meaning in an expression; there are + - * / ( ) == != < <= > >= and or not, and c ? a : b`},
		{"2 ^ 3", `2: "^" has no meaning in an expression; there are + - * / ( ) == != < <= > >= and or not, and c ? a : b`},
		{"2 % 3", `2: "%" has no meaning in an expression; there are + - * / ( ) == != < <= > >= and or not, and c ? a : b`},
		{"2 // 3", `2: "/" has no meaning in an expression; there are + - * / ( ) == != < <= > >= and or not, and c ? a : b`},
		{"2 /* a */ 3",
			`2: "/" has no meaning in an expression; there are + - * / ( ) == != < <= > >= and or not, and c ? a : b`},
		{"a = 3", `2: "a = 3" cannot be read as an expression; at "= 3"`},
		{"'text'", `0: "'" has no meaning in an expression; there are + - * / ( ) == != < <= > >= and or not, and c ? a : b`},
		{"[1, 2]", `0: "[" has no meaning in an expression; there are + - * / ( ) == != < <= > >= and or not, and c ? a : b`},
		{"{a: 1}", `0: "{" has no meaning in an expression; there are + - * / ( ) == != < <= > >= and or not, and c ? a : b`},
		{"a.b", `1: "." has no meaning in an expression; there are + - * / ( ) == != < <= > >= and or not, and c ? a : b`},
		{"a ?? b", `2: "?" has no meaning in an expression; there are + - * / ( ) == != < <= > >= and or not, and c ? a : b`},
		{"a; b", `1: ";" has no meaning in an expression; there are + - * / ( ) == != < <= > >= and or not, and c ? a : b`},
		{"let a = 3", `9: "let a = 3" cannot be read as an expression; it ends too early`},
		{"nil", `0: "nil" has no meaning in an expression`},
		{"3 in a", `5: unit "a" is not known; a product needs a *`},
		{"a matches b", `2: "matches" has no meaning in an expression`},
		{"$env", `0: "$" has no meaning in an expression; there are + - * / ( ) == != < <= > >= and or not, and c ? a : b`},
		{"#", `0: "#" has no meaning in an expression; there are + - * / ( ) == != < <= > >= and or not, and c ? a : b`},
		{"sum(1, 2)", `0: function "sum" is not known; one of: min, max, abs, sqrt, sin, cos, tan`},
		{"filter(a, b)", `0: function "filter" is not known; one of: min, max, abs, sqrt, sin, cos, tan`},
		{"sqr(4)", `0: function "sqr" is not known; did you mean sqrt? one of: min, max, abs, sqrt, sin, cos, tan`},
		{"sqrt()", `0: sqrt of 0 numbers; min and max take one or more, the other functions one`},
		{"sqrt(1, 2)", `0: sqrt of 2 numbers; min and max take one or more, the other functions one`},
		{"max()", `0: max of 0 numbers; min and max take one or more, the other functions one`},
		{"2(3)", `0: a product needs a * between "2" and (`},
		{"(a)(b)", `3: "(a)(b)" cannot be read as an expression; at "(b)"`},
		{"1e400", `0: "1e400" is too large a number`},
		{"1e308 GPa", `0: "1e308 GPa" is too large a number`},
		{"inf", `0: "inf" is not a finite number`},
		{"-.inf", `0: "-.inf" is not a finite number`},
		{"NaN", `0: "NaN" is not a finite number`},
		{"0x10", `1: unit "x10" is not known; a product needs a *`},
		{"1_000", `1: unit "_000" is not known; a product needs a *`},
		{"1,5", `1: "1,5" cannot be read as an expression; at ",5"`},
		{"−5", `0: "−" has no meaning in an expression; there are + - * / ( ) == != < <= > >= and or not, and c ? a : b`},
		{"一", `0: "一" has no meaning in an expression; there are + - * / ( ) == != < <= > >= and or not, and c ? a : b`},
		{"5 一", `2: unit "一" is not known; a product needs a *`},
		{strings.Repeat("1+", 250) + "1", "0: an expression of 501 characters is too long: at most 500"},
		{strings.Repeat("-", 45) + "1", "0: the expression is nested more than 40 deep"},
	} {
		t.Run(c.text, func(t *testing.T) {
			_, bad := parseExpression(c.text)
			got := ""
			if bad != nil {
				got = strings.TrimSuffix(fmt.Sprintf("%d: %s; %s", bad.offset, bad.what, bad.hint), "; ")
			}
			require.Equal(t, c.want, got)
		})
	}
}

// printed writes an expression from its tree, with every number in its own words and every operation in brackets.
func (e *expression) printed(n ast.Node) string {
	switch x := n.(type) {
	case *ast.BoolNode:
		return fmt.Sprint(x.Value)
	case *ast.IdentifierNode:
		if l, ok := e.literalOf(x.Value); ok {
			return l.text
		}
		return x.Value
	case *ast.UnaryNode:
		return fmt.Sprintf("(%s %s)", x.Operator, e.printed(x.Node))
	case *ast.BinaryNode:
		operator := strings.Replace(x.Operator, "&&", "and", 1)
		return fmt.Sprintf("(%s %s %s)", e.printed(x.Left), operator, e.printed(x.Right))
	case *ast.ConditionalNode:
		return fmt.Sprintf("(%s ? %s : %s)", e.printed(x.Cond), e.printed(x.Exp1), e.printed(x.Exp2))
	case *ast.BuiltinNode:
		return e.printedCall(x.Name, x.Arguments)
	case *ast.CallNode:
		return e.printedCall(x.Callee.(*ast.IdentifierNode).Value, x.Arguments)
	}
	panic(fmt.Sprintf("%T in a checked expression", n))
}

func (e *expression) printedCall(name string, arguments []ast.Node) string {
	var texts []string
	for _, a := range arguments {
		texts = append(texts, e.printed(a))
	}
	return name + "(" + strings.Join(texts, ", ") + ")"
}

// FuzzExpression reads any expression: no panic, nothing but finite numbers, and what is accepted reads back the same.
func FuzzExpression(f *testing.F) {
	for _, text := range []string{
		"bed_length/2 - 20 mm", "-bed_length/2", "2*held + 0.5 in", "12 N/um", "30 N m", "5e8 N*mm/rad", "2700 kg/m3",
		"24e-6/K",
		"gussets ? 1 : 2 mm", "not gussets and bed_length > 3", "min(1, 2 mm, held)", "sqrt(abs(-4 mm2))",
		"sin(30) + cos(0.5 rad)*pi",
		"1e400", ".5", "5.", "0x10", "1 < 2 < 3", "a ?: b", "1e308*10", "1/0", "20 mm^2", "3 µm", "(((1)))", "true", "if",
		"((", "5 N·m",
	} {
		f.Add(text)
	}
	values := map[string]string{"bed_length": "280 mm", "held": "2", "gussets": "true"}
	f.Fuzz(func(t *testing.T, text string) {
		v, bad := evaluateText(text, values)
		if bad != nil {
			require.LessOrEqual(t, bad.offset, len([]rune(text)))
			return
		}
		require.True(t, v.finite())
		e, bad := parseExpression(text)
		require.Nil(t, bad)
		again := e.printed(e.root)
		if len([]rune(again)) > mostExpression {
			return // the brackets made it too long
		}
		w, bad := evaluateText(again, values)
		require.Nil(t, bad, "%s", again)
		require.Equal(t, v, w, "%s", again)
	})
}
