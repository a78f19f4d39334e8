package modelfile

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/expr-lang/expr/ast"

	"tiploop/frame/machine"
)

// Written is one of the numbers under "values" as it stands in the text of the file: under "values", or in the option
// that sets it.
type Written struct {
	Name     string
	Pos      machine.FilePos
	Unit     string  // as it is written; of a number without one, that which it is taken for: "mm"; "" for a plain number
	At       float64 // in Unit
	Whole    bool    // it counts something, such as screws
	ByOption bool    // the option sets it
	Made     bool    // an expression makes it: there is no number that could be changed
	Sweep    *Sweep  // what the file says that it is worth trying at, in Unit; nil where it does not
	Apart    bool    // its number does not stand in the file as it is read, behind its name: it cannot be changed either

	number string // with its sign, as it is written
	from   int    // the byte at which that begins
	text   string // all of the value
}

// Written lists the numbers under "values" under an option, in the order of the file. The error is [machine.Faults].
func (d *Document) Written(optionName string) ([]Written, error) {
	values, err := d.Values(optionName)
	if err != nil {
		return nil, err
	}
	settings, err := d.settings(optionName)
	if err != nil {
		return nil, err
	}
	c := newDecoder(d.file, d.sections)
	top, _ := c.fields(d.root, &modelKeys) // it was read a moment ago
	c.defineValues(top.get("values"), settings)
	list := make([]Written, 0, len(values))
	for _, v := range values {
		def := c.scope.definitions[v.Name]
		w := Written{Name: v.Name, Pos: def.node.Pos, Unit: v.Unit, At: v.At, Whole: v.Whole,
			Sweep: v.Sweep, ByOption: settings[v.Name] != nil, text: def.node.Text}
		number, unit, ok := loneNumber(def.expr)
		if w.Made = !ok; ok {
			w.number = strings.TrimSpace(number)
			w.from, ok = d.placeOf(w.Pos, number)
			w.from += len(number) - len(w.number)
			w.Apart = !ok
			w.At, _ = strconv.ParseFloat(strings.Join(strings.Fields(number), ""), 64) // it was read as a number
			w.At += 0                                                                  // turns −0 into 0
			if unit != "" {
				w.Unit, w.Sweep = unit, v.sweepIn(unit)
			}
		}
		list = append(list, w)
	}
	return list, nil
}

// sweepIn is the value's sweep in a unit of its dimension that the file has.
func (v Value) sweepIn(unit string) *Sweep {
	if v.Sweep == nil {
		return nil
	}
	e, _ := parseExpression("1 " + unit) // it was read a moment ago, with another number
	one, _ := (&scope{}).evaluate(e)
	from, to := v.Sweep.From/v.shown(one.quantity), v.Sweep.To/v.shown(one.quantity)
	return &Sweep{from, to}
}

// placeOf is the byte at which a number begins that was read from a place of the file; false when it is not written there
// as it was read.
func (d *Document) placeOf(at machine.FilePos, number string) (from int, ok bool) {
	from, ok = byteAt(d.text, at)
	if ok && from < len(d.text) && (d.text[from] == '"' || d.text[from] == '\'') {
		from++
	}
	return from, ok && strings.HasPrefix(d.text[from:], number)
}

// leadingNumber is a number with its sign as expressions begin with it.
var leadingNumber = regexp.MustCompile(`^\s*[-+]?\s*(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][-+]?[0-9]+)?`)

// loneNumber takes an expression apart that is nothing but a number with its sign and its unit.
func loneNumber(e *expression) (number, unit string, ok bool) {
	root := e.root
	if sign, signed := root.(*ast.UnaryNode); signed && sign.Operator != "not" {
		root = sign.Node
	}
	text := string(e.text)
	number = leadingNumber.FindString(text)
	if _, lone := root.(*ast.IdentifierNode); !lone || len(e.literals) != 1 || number == "" {
		return "", "", false
	}
	return number, strings.TrimSpace(text[len(number):]), true
}

// Rewrite gives the document with other numbers in place of those that make some of its values under an option. The
// numbers are in the units in which the values are [Written]; nothing else of the text changes, and a value that has its
// number already stays as it is written. The error is [machine.Faults]: there is no such value, an expression makes it,
// its number stands apart, or the new one is none.
func (d *Document) Rewrite(optionName string, to map[string]float64) (*Document, error) {
	values, err := d.Written(optionName)
	if err != nil {
		return nil, err
	}
	var edits []edit
	for name, at := range to {
		i := slices.IndexFunc(values, func(w Written) bool { return w.Name == name })
		if i < 0 {
			return nil, machine.Faults{{File: d.file, What: fmt.Sprintf("value %s is not known", machine.Quote(name))}}
		}
		e, fault := values[i].edit(at)
		if fault != nil {
			fault.File, fault.Pos = d.file, values[i].Pos
			return nil, machine.Faults{*fault}
		}
		edits = append(edits, e)
	}
	slices.SortFunc(edits, func(a, b edit) int { return a.from - b.from })
	var text strings.Builder
	last := 0
	for _, e := range edits {
		text.WriteString(d.text[last:e.from] + e.number)
		last = e.from + e.length
	}
	text.WriteString(d.text[last:])
	out, err := Parse(d.file, []byte(text.String()))
	if err != nil {
		return nil, err
	}
	out.standing, out.over = d.standing, d.over
	return out, nil
}

// edit puts a number in place of some bytes of a text.
type edit struct {
	from, length int
	number       string
}

// edit finds the bytes of a value's number; the fault has no place yet.
func (w Written) edit(at float64) (edit, *machine.Fault) {
	switch {
	case w.Made:
		return edit{}, &machine.Fault{What: fmt.Sprintf("%s is made by an expression, %s", w.Name, machine.Quote(w.text)),
			Hint: "an expression is not written over: change it in the file"}
	case w.Apart:
		return edit{}, &machine.Fault{What: fmt.Sprintf("the number of %s is not written in one piece behind its name", w.Name),
			Hint: "write it as " + w.Name + ": " + w.text}
	case math.IsNaN(at) || math.IsInf(at, 0):
		return edit{}, &machine.Fault{What: fmt.Sprintf("%g is no number that %s could be", at, w.Name)}
	case w.Whole && at != math.Round(at):
		return edit{}, &machine.Fault{What: fmt.Sprintf("value %s counts something: %g is not a whole number", w.Name, at)}
	}
	number := plainly(at)
	if at == w.At {
		number = w.number
	}
	return edit{w.from, len(w.number), number}, nil
}

// Bounds outside of which a number is written with a power of ten.
const (
	plainFrom = 1e-6
	plainTo   = 1e15
)

// plainly writes a number in the fewest digits that read back as it is.
func plainly(v float64) string {
	if a := math.Abs(v); v != 0 && (a < plainFrom || a >= plainTo) {
		return strconv.FormatFloat(v, 'e', -1, 64)
	}
	return strconv.FormatFloat(v+0, 'f', -1, 64)
}

// byteAt is the byte of a text at which a file position stands; false when there is none.
func byteAt(text string, at machine.FilePos) (int, bool) {
	i := 0
	if strings.HasPrefix(text, "\ufeff") {
		i = len("\ufeff")
	}
	for line := 1; line < at.Line; line++ {
		n := strings.IndexAny(text[i:], "\r\n")
		if n < 0 {
			return 0, false
		}
		i += n + 1
		if text[i-1] == '\r' && i < len(text) && text[i] == '\n' {
			i++
		}
	}
	for col := 1; col < at.Col; col++ {
		_, size := utf8.DecodeRuneInString(text[i:])
		if size == 0 {
			return 0, false
		}
		i += size
	}
	return i, true
}
