package modelfile

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// defineValues takes in the names of the values and what stands for them in the file or, before that, in settings.
func (d *decoder) defineValues(n *source.Node, settings map[string]*source.Node) {
	d.named(n, "values", func(name string, at machine.FilePos, body *source.Node) {
		if hint, ok := d.usable(name); !ok {
			d.fault(at, fmt.Sprintf("%s cannot be the name of a value", machine.Quote(name)), hint)
		}
		def := &definition{node: body}
		if body.Kind == source.Mapping {
			if def.node, def.sweepNode = d.swept(name, body); def.node == nil {
				def.node, def.state = body, broken
			}
		}
		if other := settings[name]; other != nil {
			def.node, def.state = other, untouched
		}
		d.scope.definitions[name] = def
		d.scope.names = append(d.scope.names, name)
	})
	for _, name := range d.scope.names { // values may use those that stand further down
		def := d.scope.definitions[name]
		if def.state == broken {
			continue
		}
		if d.isWord(def.node) {
			def.word = def.node.Text
			continue
		}
		if def.node.Kind == source.Scalar && isRange(def.node.Text) {
			d.fault(def.node.Pos, fmt.Sprintf("%s is a range, and a value takes none", machine.Quote(def.node.Text)),
				"write the range where the stiffness stands: stiffness: "+name+" +- 40 %")
			continue
		}
		if e, ok := d.expression(def.node); ok {
			def.expr = e
		}
	}
}

// isWord tells whether a value reads like a word, such as a surface, a material or a screw's size: it begins with a
// letter, and nothing in it is a value, a function or an operator but the hyphen that names have. Whether it is one
// shows when it is used as such. The path of an outline is a word, too.
func (d *decoder) isWord(n *source.Node) bool {
	if n.Kind == source.Scalar && isPath(n.Text) {
		return true
	}
	if n.Kind != source.Scalar || source.NameTrouble(n.Text) != "" || !isLetter([]rune(n.Text)[0]) ||
		strings.ContainsAny(n.Text, "+*/()<>=?!,") {
		return false
	}
	for i, word := range strings.FieldsFunc(n.Text, func(r rune) bool { return !isLetter(r) && !isDigit(r) }) {
		_, isUnit := lookupUnit(word)
		if d.scope.definitions[word] != nil || i == 0 && (isUnit || reservedNames[word] || isNotFinite(word)) {
			return false
		}
	}
	return true
}

// wordsUsed reports the values that read like words and were never used as such: a name in them was meant to be a
// value's. What stands in quotes is a word whether it is used or not.
func (d *decoder) wordsUsed() {
	for _, name := range d.scope.names {
		if def := d.scope.definitions[name]; def.word != "" && !def.spelt && def.node.Verbatim {
			if d.misspelt(def.node) {
				continue
			}
			hint := "use it where a word belongs, or take it out"
			if truth := machine.Nearest(def.word, []string{"true", "false"}); truth != nil {
				hint = "did you mean " + truth[0] + "?"
			}
			d.fault(def.node.Pos, fmt.Sprintf("%s is no value, and as a word nothing uses %s", machine.Quote(def.word), name), hint)
		}
	}
}

// misspelt reports a word that is nearly the name of a value, and tells whether it is.
func (d *decoder) misspelt(n *source.Node) bool {
	if len(machine.Nearest(n.Text, d.scope.names)) == 0 {
		return false
	}
	d.fault(n.Pos, fmt.Sprintf("value %s is not known", machine.Quote(n.Text)), machine.Suggest(n.Text, d.scope.names))
	return true
}

// usable tells whether an expression can use the name, and why not.
func (d *decoder) usable(name string) (hint string, ok bool) {
	for i, r := range name {
		if !(r < unicode.MaxASCII && isLetter(r) || i > 0 && isDigit(r)) {
			return "letters a to z, digits and _ make a name, as in bed_length", false
		}
	}
	if _, isUnit := lookupUnit(name); isUnit && !slices.Contains(functionNames, name) {
		return "it is a unit", false
	}
	if reservedNames[name] || isNotFinite(name) {
		return "it means something else in an expression", false
	}
	return "", true
}

// evaluateValues works out every value, used or not.
func (d *decoder) evaluateValues() {
	for _, name := range d.scope.names {
		if d.scope.definitions[name].word == "" {
			d.scope.resolve(name)
		}
	}
}
