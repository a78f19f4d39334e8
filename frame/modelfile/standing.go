package modelfile

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// standing is where the axes of a machine are asked to stand: in a position of the file, and where At says otherwise.
type standing struct {
	position string
	at       map[string]float64
}

// At gives the same document with its axes at other positions, mm: those of the named position of the file ("": none),
// then those of at. Whether there are such axes and positions is for [Document.Machine] to say.
func (d *Document) At(position string, at map[string]float64) *Document {
	moved := *d
	moved.standing = standing{position, maps.Clone(at)}
	return &moved
}

// of moves a machine.
func (s standing) of(m *machine.Machine) (*machine.Machine, error) {
	at := map[string]float64{}
	if s.position != "" {
		i := slices.IndexFunc(m.Positions, func(p machine.Position) bool { return p.Name == s.position })
		if i < 0 {
			var names []string
			for _, p := range m.Positions {
				names = append(names, p.Name)
			}
			hint := machine.Suggest(s.position, names)
			if names == nil {
				hint = "the model has no positions"
			}
			return nil, machine.Faults{{File: m.File, What: fmt.Sprintf("position %s is not known", machine.Quote(s.position)),
				Hint: hint}}
		}
		maps.Copy(at, m.Positions[i].At)
	}
	maps.Copy(at, s.at)
	if len(at) == 0 {
		return m, nil
	}
	return m.At(at)
}

// ParseAt reads where axes are asked to stand, "x=20, y=-1.5 in": lengths as the model file writes them, without
// values.
func ParseAt(text string) (map[string]float64, error) {
	at := map[string]float64{}
	for entry := range strings.SplitSeq(text, ",") {
		name, word, ok := strings.Cut(entry, "=")
		name = strings.TrimSpace(name)
		if !ok || name == "" {
			return nil, fmt.Errorf("%s is not an axis and its position, such as x=20", machine.Quote(strings.TrimSpace(entry)))
		}
		if _, twice := at[name]; twice {
			return nil, fmt.Errorf("axis %s is given twice", machine.Quote(name))
		}
		d := newDecoder("", nil)
		x, fits := d.number(&source.Node{Kind: source.Scalar, Text: strings.TrimSpace(word)}, aLength)
		if !fits {
			f := d.faults[0]
			return nil, fmt.Errorf("axis %s: %s", machine.Quote(name), strings.TrimSuffix(strings.Join([]string{f.What, f.Hint},
				"; "), "; "))
		}
		at[name] = x
	}
	return at, nil
}
