package modelfile

import (
	"fmt"
	"slices"

	"tiploop/frame/machine"
)

// option is a named set of values.
type option struct {
	name     string
	settings map[string]*node
}

// decodeOptions reads the options; the values must have been defined.
func (d *decoder) decodeOptions(n *node) []option {
	var options []option
	d.named(n, "options", func(name string, _ machine.FilePos, body *node) {
		o := option{name: name, settings: map[string]*node{}}
		if body.kind != nothing && !d.isKind(body, mapping, fmt.Sprintf("option %s", machine.Quote(name))) {
			return
		}
		for _, p := range body.pairs {
			if d.scope.definitions[p.key.text] == nil {
				d.fault(p.key.pos, fmt.Sprintf("value %s is not known", machine.Quote(p.key.text)), machine.Suggest(p.key.text,
					d.scope.names))
				continue
			}
			if !d.isWord(p.value) {
				d.expression(p.value)
			}
			o.settings[p.key.text] = p.value
		}
		options = append(options, o)
	})
	return options
}

// settings gives what an option sets; "" sets nothing.
func (d *Document) settings(optionName string) (map[string]*node, error) {
	if optionName == "" {
		return nil, nil
	}
	names := d.OptionNames()
	i := slices.Index(names, optionName)
	if i < 0 {
		hint := machine.Suggest(optionName, names)
		if len(names) == 0 {
			hint = "the model has no options"
		}
		return nil, machine.Faults{{File: d.file, What: fmt.Sprintf("option %s is not known", machine.Quote(optionName)),
			Hint: hint}}
	}
	return d.options[i].settings, nil
}
