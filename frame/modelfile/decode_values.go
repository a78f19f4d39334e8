package modelfile

import (
	"fmt"
	"slices"
	"unicode"

	"tiploop/frame/machine"
)

// defineValues takes in the names of the values and what stands for them in the file or, before that, in settings.
func (d *decoder) defineValues(n *node, settings map[string]*node) {
	d.named(n, "values", func(name string, at machine.FilePos, body *node) {
		if hint, ok := d.usable(name); !ok {
			d.fault(at, fmt.Sprintf("%s cannot be the name of a value", machine.Quote(name)), hint)
		}
		if other := settings[name]; other != nil {
			body = other
		}
		d.scope.definitions[name] = &definition{node: body}
		d.scope.names = append(d.scope.names, name)
	})
	for _, name := range d.scope.names { // values may use those that stand further down
		def := d.scope.definitions[name]
		if e, ok := d.expression(def.node); ok {
			def.expr = e
		}
	}
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
		d.scope.resolve(name)
	}
}
