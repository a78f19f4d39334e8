package modelfile

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/parser"

	"tiploop/frame/machine"
)

// Bounds on an expression: the longest anybody needs is one line, and the evaluation calls itself once per level.
const (
	mostExpression = 500 // characters
	mostDepth      = 40
)

// expression is a parsed expression. The parser knows nothing of units, so every number is read beforehand, with its
// unit, and stands in the text that is parsed as a single letter from the block of Chinese ideographs, which no model
// file may use outside quotes and comments; blanks fill up what the number was longer. So every place in the parsed
// text is the place in the file.
type expression struct {
	text     []rune
	root     ast.Node
	literals []literal
	names    []reference
}

// literal is a number with its unit.
type literal struct {
	text string
	quantity
}

// reference is a use of a value in an expression.
type reference struct {
	name   string
	offset int // runes from the start of the expression
}

// trouble is what is wrong with an expression.
type trouble struct {
	offset     int // runes from the start of the expression
	what, hint string
	numeric    bool // the numbers do not fit; with other values it could be right
	reported   bool // the cause stands elsewhere and has been reported there
}

const firstLiteral = '一' // U+4E00, with mostExpression letters and more behind it

// literalOf gives the number an identifier stands for.
func (e *expression) literalOf(identifier string) (literal, bool) {
	r, size := utf8.DecodeRuneInString(identifier)
	if size != len(identifier) || !e.isLiteral(r) {
		return literal{}, false
	}
	return e.literals[r-firstLiteral], true
}

// isLiteral tells whether a letter stands for a number.
func (e *expression) isLiteral(r rune) bool {
	return r >= firstLiteral && int(r-firstLiteral) < len(e.literals)
}

// parseExpression reads an expression without knowing the values it uses.
func parseExpression(text string) (*expression, *trouble) {
	e := &expression{text: []rune(text)}
	if len(e.text) > mostExpression {
		return nil, &trouble{what: fmt.Sprintf("an expression of %d characters is too long: at most %d", len(e.text),
			mostExpression)}
	}
	masked, bad := e.mask()
	if bad != nil {
		return nil, bad
	}
	if e.root = e.plain(masked); e.root == nil {
		if e.root, bad = e.parse(string(masked)); bad != nil {
			return nil, bad
		}
	}
	if bad := e.check(e.root, 1); bad != nil {
		return nil, bad
	}
	return e, nil
}

// plain gives the tree of a lone number with or without a minus, by far the most frequent expression, without
// the parser; nil when the text is something else.
func (e *expression) plain(masked []rune) ast.Node {
	for len(masked) > 0 && unicode.IsSpace(masked[0]) {
		masked = masked[1:]
	}
	for len(masked) > 0 && unicode.IsSpace(masked[len(masked)-1]) {
		masked = masked[:len(masked)-1]
	}
	negative := len(masked) > 0 && masked[0] == '-'
	if negative {
		masked = masked[1:]
	}
	if len(masked) != 1 || !e.isLiteral(masked[0]) {
		return nil
	}
	var root ast.Node = &ast.IdentifierNode{Value: string(masked)}
	if negative {
		root = &ast.UnaryNode{Operator: "-", Node: root}
	}
	return root
}

func (e *expression) parse(masked string) (root ast.Node, bad *trouble) {
	defer func() {
		if recover() != nil { // a parser that gives up must not take the program with it
			root, bad = nil, &trouble{what: fmt.Sprintf("%s cannot be read as an expression", machine.Quote(string(e.text)))}
		}
	}()
	tree, err := parser.Parse(masked)
	if err == nil {
		return tree.Node, nil
	}
	bad = &trouble{what: fmt.Sprintf("%s cannot be read as an expression", machine.Quote(string(e.text)))}
	var placed *file.Error
	switch {
	case !errors.As(err, &placed):
	case strings.Contains(placed.Message, "EOF"):
		bad.offset, bad.hint = len(e.text), "it ends too early"
	default:
		bad.offset = min(placed.From, len(e.text))
		bad.hint = fmt.Sprintf("at %s", machine.Quote(string(e.text[bad.offset:])))
	}
	return nil, bad
}

// mask replaces the numbers by letters and refuses every character that has no business in an expression.
func (e *expression) mask() ([]rune, *trouble) {
	masked := slices.Clone(e.text)
	for i := 0; i < len(e.text); {
		r := e.text[i]
		switch {
		case isDigit(r) || r == '.' && i+1 < len(e.text) && isDigit(e.text[i+1]):
			end, bad := e.number(i)
			if bad != nil {
				return nil, bad
			}
			masked[i] = firstLiteral + rune(len(e.literals)-1)
			for j := i + 1; j < end; j++ {
				masked[j] = ' '
			}
			i = end
		case isLetter(r):
			for i < len(e.text) && (isLetter(e.text[i]) || isDigit(e.text[i])) {
				i++
			}
		case r == ' ' || strings.ContainsRune("+-()<>=,", r):
			i++
		case (r == '*' || r == '/') && !e.follows(i, "*/"), r == '!' && e.follows(i, "="), r == '?' && !e.follows(i, "?."),
			r == ':' && !e.follows(i, ":"):
			i++
		case r == '\n' || r == '\t':
			masked[i] = ' '
			i++
		default:
			if r == '.' && isNotFinite(string(e.text)) {
				return nil, &trouble{what: fmt.Sprintf("%s is not a finite number", machine.Quote(string(e.text)))}
			}
			return nil, &trouble{offset: i, what: fmt.Sprintf("%s has no meaning in an expression",
				machine.Quote(string(e.text[i:min(i+1, len(e.text))]))),
				hint: "there are + - * / ( ) == != < <= > >= and or not, and c ? a : b"}
		}
	}
	return masked, nil
}

// follows tells whether one of the characters stands right behind place i.
func (e *expression) follows(i int, characters string) bool {
	return i+1 < len(e.text) && strings.ContainsRune(characters, e.text[i+1])
}

// isNotFinite tells YAML's own words for what is not a finite number.
func isNotFinite(text string) bool {
	switch strings.TrimLeft(strings.ToLower(strings.TrimSpace(text)), "+-.") {
	case "inf", "nan", "infinity":
		return true
	}
	return false
}

func isDigit(r rune) bool  { return '0' <= r && r <= '9' }
func isLetter(r rune) bool { return r == '_' || 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z' }

// number reads the number at place i with its unit, and gives the place behind them.
func (e *expression) number(i int) (int, *trouble) {
	end := i
	digits := func() {
		for end < len(e.text) && isDigit(e.text[end]) {
			end++
		}
	}
	digits()
	if end < len(e.text) && e.text[end] == '.' {
		end++
		digits()
	}
	if end < len(e.text) && (e.text[end] == 'e' || e.text[end] == 'E') {
		exponent := end + 1
		if exponent < len(e.text) && (e.text[exponent] == '+' || e.text[exponent] == '-') {
			exponent++
		}
		if exponent < len(e.text) && isDigit(e.text[exponent]) {
			end = exponent
			digits()
		}
	}
	value, err := strconv.ParseFloat(string(e.text[i:end]), 64)
	if err != nil {
		return 0, &trouble{offset: i, what: fmt.Sprintf("%s is too large a number", machine.Quote(string(e.text[i:end])))}
	}
	u, end, bad := e.unit(end)
	if bad != nil {
		return 0, bad
	}
	q := quantity{x: value * u.num / u.den, dim: u.dim}
	if !q.finite() {
		return 0, &trouble{offset: i, what: fmt.Sprintf("%s is too large a number", machine.Quote(string(e.text[i:end])))}
	}
	e.literals = append(e.literals, literal{string(e.text[i:end]), q})
	return end, nil
}

// unit reads the unit behind a number: words with *, /, a dot or a blank between them. What follows belongs to the unit
// as long as it is a unit's name, which no value can have.
func (e *expression) unit(end int) (unit, int, *trouble) {
	u := unit{num: 1, den: 1}
	for first := true; ; first = false {
		next, power := end, 1
		blanks := func() {
			for next < len(e.text) && e.text[next] == ' ' {
				next++
			}
		}
		blanks()
		joined := next < len(e.text) && strings.ContainsRune("*/·", e.text[next])
		if joined {
			if e.text[next] == '/' {
				power = -1
			}
			next++
			blanks()
		}
		start := next
		for next < len(e.text) && isUnitRune(e.text, next) {
			next++
		}
		word := string(e.text[start:next])
		factor, known := lookupUnit(word)
		known = known && !(slices.Contains(functionNames, word) && e.calls(next)) // min(…) is not minutes
		switch {
		case known && !(first && joined && power > 0):
			u, end = u.times(factor, power), next
		case word == "" || isDigit([]rune(word)[0]) || joined || isWordOperator(word):
			return u, end, nil
		default:
			hint := machine.Suggest(word, unitNames)
			if hint == "" {
				hint = "a product needs a *"
			}
			return u, end, &trouble{offset: start, what: fmt.Sprintf("unit %s is not known", machine.Quote(word)), hint: hint}
		}
	}
}

// calls tells whether a bracket opens at place i, perhaps behind blanks.
func (e *expression) calls(i int) bool {
	for i < len(e.text) && e.text[i] == ' ' {
		i++
	}
	return i < len(e.text) && e.text[i] == '('
}

// isUnitRune tells whether the rune at place i can belong to a unit's name: a letter, a digit or a power sign behind
// one.
func isUnitRune(text []rune, i int) bool {
	r := text[i]
	return unicode.IsLetter(r) || r == '_' || isDigit(r) || strings.ContainsRune("²³⁴", r) ||
		r == '^' && i+1 < len(text) && isDigit(text[i+1])
}

// isWordOperator tells the words that may stand behind a number without being its unit.
func isWordOperator(word string) bool { return word == "and" || word == "or" }

// check refuses what the parser would allow and a model file does not, and notes the values used.
func (e *expression) check(n ast.Node, depth int) *trouble {
	if depth > mostDepth {
		return &trouble{what: fmt.Sprintf("the expression is nested more than %d deep", mostDepth)}
	}
	var inner []ast.Node
	switch x := n.(type) {
	case *ast.BoolNode:
	case *ast.IdentifierNode:
		if _, isNumber := e.literalOf(x.Value); isNumber || x.Value == piName {
			return nil
		}
		if isNotFinite(x.Value) {
			return &trouble{offset: x.Location().From, what: fmt.Sprintf("%s is not a finite number", machine.Quote(x.Value))}
		}
		e.names = append(e.names, reference{x.Value, x.Location().From})
	case *ast.UnaryNode:
		if !slices.Contains([]string{"-", "+", "not"}, x.Operator) {
			return e.meaningless(n, x.Operator)
		}
		inner = []ast.Node{x.Node}
	case *ast.BinaryNode:
		if !slices.Contains([]string{"+", "-", "*", "/", "==", "!=", "<", "<=", ">", ">=", "and", "or", "&&"}, x.Operator) {
			return e.meaningless(n, x.Operator)
		}
		inner = []ast.Node{x.Left, x.Right}
	case *ast.ConditionalNode:
		inner = []ast.Node{x.Cond, x.Exp1, x.Exp2}
	case *ast.BuiltinNode:
		return e.checkCall(n, x.Name, x.Arguments, depth)
	case *ast.CallNode:
		name := ""
		if callee, ok := x.Callee.(*ast.IdentifierNode); ok {
			name = callee.Value
		}
		return e.checkCall(n, name, x.Arguments, depth)
	default:
		return e.meaningless(n, string(e.text))
	}
	for _, child := range inner {
		if bad := e.check(child, depth+1); bad != nil {
			return bad
		}
	}
	return nil
}

func (e *expression) meaningless(n ast.Node, text string) *trouble {
	return &trouble{offset: n.Location().From, what: fmt.Sprintf("%s has no meaning in an expression",
		machine.Quote(text))}
}

func (e *expression) checkCall(n ast.Node, name string, arguments []ast.Node, depth int) *trouble {
	if l, ok := e.literalOf(name); ok {
		return &trouble{offset: n.Location().From, what: fmt.Sprintf("a product needs a * between %s and (",
			machine.Quote(l.text))}
	}
	if !slices.Contains(functionNames, name) {
		return &trouble{offset: n.Location().From, what: fmt.Sprintf("function %s is not known", machine.Quote(name)),
			hint: machine.Suggest(name, functionNames)}
	}
	most := 1
	if name == "min" || name == "max" {
		most = len(e.text)
	}
	if len(arguments) == 0 || len(arguments) > most {
		return &trouble{offset: n.Location().From, what: fmt.Sprintf("%s of %d numbers", name, len(arguments)),
			hint: "min and max take one or more, the other functions one"}
	}
	for _, a := range arguments {
		if bad := e.check(a, depth+1); bad != nil {
			return bad
		}
	}
	return nil
}
