package modelfile

import (
	"fmt"
	"slices"

	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// option is a named set of values.
type option struct {
	name     string
	settings map[string]*source.Node
}

// decodeOptions reads the options; the values must have been defined.
func (d *decoder) decodeOptions(n *source.Node) []option {
	var options []option
	d.named(n, "options", func(name string, _ machine.FilePos, body *source.Node) {
		o := option{name: name, settings: map[string]*source.Node{}}
		if body.Kind != source.Nothing && !d.isKind(body, source.Mapping, fmt.Sprintf("option %s", machine.Quote(name))) {
			return
		}
		for _, p := range body.Pairs {
			if d.scope.definitions[p.Key.Text] == nil {
				d.fault(p.Key.Pos, fmt.Sprintf("value %s is not known", machine.Quote(p.Key.Text)), machine.Suggest(p.Key.Text,
					d.scope.names))
				continue
			}
			if !d.isWord(p.Value) {
				d.expression(p.Value)
			}
			o.settings[p.Key.Text] = p.Value
		}
		options = append(options, o)
	})
	return options
}

// settings gives what an option sets; "" sets nothing.
func (d *Document) settings(optionName string) (map[string]*source.Node, error) {
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
