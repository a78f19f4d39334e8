package machine

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// evaluateText works out an expression with the values of a model; a trouble with one of them is the first reported.
func evaluateText(text string, values map[string]string) (value, *trouble) {
	var first *trouble
	s := &scope{definitions: map[string]*definition{}, report: func(_ *node, bad *trouble) {
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
		s.definitions[name] = &definition{node: &node{place: Place{line, 1}}, expr: e}
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
		{"20 mmm", ""},
		{"20 Mpa", ""},
		{"20mm3x", ""},
		{"20 mm 30", ""},
		{"20 bed_length", ""},
		{"bed length", ""},
		{"2 +", ""},
		{"", ""},
		{"(2 + 3", ""},
		{"2 + * 3", ""},
		{"2 ** 3", ""},
		{"2 ^ 3", ""},
		{"2 % 3", ""},
		{"2 // 3", ""},
		{"2 /* a */ 3", ""},
		{"a = 3", ""},
		{"'text'", ""},
		{"[1, 2]", ""},
		{"{a: 1}", ""},
		{"a.b", ""},
		{"a ?? b", ""},
		{"a; b", ""},
		{"let a = 3", ""},
		{"nil", ""},
		{"3 in a", ""},
		{"a matches b", ""},
		{"$env", ""},
		{"#", ""},
		{"sum(1, 2)", ""},
		{"filter(a, b)", ""},
		{"sqr(4)", ""},
		{"sqrt()", ""},
		{"sqrt(1, 2)", ""},
		{"max()", ""},
		{"2(3)", ""},
		{"(a)(b)", ""},
		{"1e400", ""},
		{"1e308 GPa", ""},
		{"inf", ""},
		{"-.inf", ""},
		{"NaN", ""},
		{"0x10", ""},
		{"1_000", ""},
		{"1,5", ""},
		{"−5", ""},
		{"一", ""},
		{"5 一", ""},
		{strings.Repeat("1+", 250) + "1", ""},
		{strings.Repeat("(", 45) + "1" + strings.Repeat(")", 45), ""},
		{strings.Repeat("-", 45) + "1", ""},
	} {
		t.Run(c.text, func(t *testing.T) {
			_, bad := parseExpression(c.text)
			got := ""
			if bad != nil {
				got = strings.TrimSuffix(fmt.Sprintf("%d: %s; %s", bad.offset, bad.what, bad.hint), "; ")
			}
			fillIn(c.text, got)
			require.Equal(t, c.want, got)
		})
	}
}
