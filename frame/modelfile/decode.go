package modelfile

import (
	"fmt"
	"slices"
	"strings"

	"tiploop/beam"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// decoder turns the tree of a model file into a Machine, and collects what is wrong with it. A method that finds
// something wrong reports it and returns false; the caller goes on to find the next.
type decoder struct {
	file     string
	faults   machine.Faults
	scope    *scope
	sections *sectionCache
	m        *machine.Machine

	materials map[string]beam.Material // the model's own
	owned     []string                 // their names, in the order of the file

	// What the names of the model stand for: an index into the machine's lists, or leftOut.
	parts, points, grounds, loads                     map[string]int
	partNames, pointNames, groundNames, loadCaseNames []string

	axes     map[string]int
	axisKeys []string // names of the axes

	driven        map[string][]int // where each axis has the drives that the file gives it, or leftOut
	rails         map[string]int   // how many rails the file gives an axis, those that are left out among them
	leftOutJoints [][2]int         // joints between parts of the machine that are left out themselves
	misfits       map[string]int
	misfitNames   []string

	// idle is set inside what an "if" leaves out: there, words must be right, but sizes may be anything, for
	// they may be the reason why it is left out.
	idle bool
}

// leftOut is the index of what is named in the model but not in the machine.
const leftOut = -1

func newDecoder(file string, sections *sectionCache) *decoder {
	d := &decoder{
		file: file, sections: sections, m: &machine.Machine{File: file}, materials: map[string]beam.Material{},
		parts: map[string]int{}, points: map[string]int{}, grounds: map[string]int{}, loads: map[string]int{},
		rails: map[string]int{}, driven: map[string][]int{}, misfits: map[string]int{},
	}
	d.scope = &scope{definitions: map[string]*definition{}, report: d.trouble}
	return d
}

// fault reports what is wrong whatever the values are.
func (d *decoder) fault(at machine.FilePos, what, hint string) {
	d.faults = append(d.faults, machine.Fault{File: d.file, Pos: at, What: what, Hint: hint})
}

// misfit reports a value that is wrong, unless it belongs to something left out.
func (d *decoder) misfit(at machine.FilePos, what, hint string) {
	if !d.idle {
		d.fault(at, what, hint)
	}
}

// trouble reports what is wrong with the expression at n.
func (d *decoder) trouble(n *source.Node, bad *trouble) {
	at := n.Pos
	if n.Verbatim {
		at.Col += bad.offset
	}
	if bad.numeric {
		d.misfit(at, bad.what, bad.hint)
	} else if !bad.reported {
		d.fault(at, bad.what, bad.hint)
	}
}

// isKind tells whether n is of that kind, and reports it when not.
func (d *decoder) isKind(n *source.Node, kind source.Kind, what string) bool {
	if n.Kind == kind {
		return true
	}
	d.fault(n.Pos, fmt.Sprintf("%s must be %s, not %s", what, kind, n.Kind), "")
	return false
}

// named calls each for every entry of a mapping of names, in the order of the file. A missing or empty one has none.
func (d *decoder) named(n *source.Node, what string, each func(name string, at machine.FilePos, body *source.Node)) {
	if n == nil || n.Kind == source.Nothing || !d.isKind(n, source.Mapping, what) {
		return
	}
	for _, p := range n.Pairs {
		each(p.Key.Text, p.Key.Pos, p.Value)
	}
}

// listed calls each for every entry of a list. A missing or empty one has none.
func (d *decoder) listed(n *source.Node, what string, each func(n *source.Node)) {
	if n == nil || n.Kind == source.Nothing || !d.isKind(n, source.List, what) {
		return
	}
	for _, item := range n.Items {
		each(item)
	}
}

// single gives the text of n, which must be a single value.
func (d *decoder) single(n *source.Node, what string) (string, bool) {
	if !d.isKind(n, source.Scalar, what) {
		return "", false
	}
	return n.Text, true
}

// name gives the text of n, which must be a name: one line that is not empty.
func (d *decoder) name(n *source.Node, what string) (string, bool) {
	text, ok := d.single(n, what)
	if !ok {
		return "", false
	}
	if bad := source.NameTrouble(text); bad != "" {
		d.fault(n.Pos, fmt.Sprintf("%s %s %s", what, machine.Quote(text), bad), "")
		return "", false
	}
	return text, true
}

// word gives the text of n, which must be one of the known words.
func (d *decoder) word(n *source.Node, what string, known []string) (string, bool) {
	text, ok := d.single(n, what)
	if !ok {
		return "", false
	}
	if slices.Contains(known, text) {
		return text, true
	}
	if word, ok := d.spelled(text); ok {
		if !slices.Contains(known, word) {
			d.fault(n.Pos, fmt.Sprintf("%s %s, which value %s stands for, is not known", what, machine.Quote(word),
				machine.Quote(text)), oneOfThese(word, known))
			return "", false
		}
		return word, true
	}
	d.fault(n.Pos, fmt.Sprintf("%s %s is not known", what, machine.Quote(text)), oneOfThese(text, known))
	return "", false
}

// oneOfThese is the hint for a word that is none of a vocabulary: what is near it, or else all there is.
func oneOfThese(word string, known []string) string {
	if hint := machine.Suggest(word, known); hint != "" {
		return hint
	}
	return "one of: " + strings.Join(known, ", ")
}

// spelled gives the word that a value of that name stands for.
func (d *decoder) spelled(name string) (word string, ok bool) {
	def := d.scope.definitions[name]
	if def == nil || def.word == "" {
		return "", false
	}
	def.spelt = true
	return def.word, true
}

// spellings are the words that n may be: its text, and what that stands for as the name of a value.
func (d *decoder) spellings(n *source.Node) []string {
	if n.Kind != source.Scalar {
		return nil
	}
	if word, ok := d.spelled(n.Text); ok {
		return []string{n.Text, word}
	}
	return []string{n.Text}
}

// included tells whether the condition at n, if there is one, holds. One that cannot be read counts as true.
func (d *decoder) included(n *source.Node) bool {
	if n == nil {
		return true
	}
	t, ok := d.truth(n)
	return t || !ok
}

// inside runs decode on something; when that is absent, its sizes are left unchecked.
func (d *decoder) inside(something presence, decode func()) {
	outer := d.idle
	d.idle = d.idle || something == absent
	decode()
	d.idle = outer
}

// presence tells whether something is in the machine.
type presence int

const (
	absent presence = iota
	present
)

func presenceIf(t bool) presence {
	if t {
		return present
	}
	return absent
}

// reference gives the index of a name of the model: leftOut when it is not in the machine.
func (d *decoder) reference(n *source.Node, what string, index map[string]int, names []string) (int, bool) {
	if n.Kind == source.Scalar && len(names) == 0 {
		d.fault(n.Pos, fmt.Sprintf("%s %s is not known", what, machine.Quote(n.Text)), "the model names none")
		return leftOut, false
	}
	word, ok := d.word(n, what, names)
	if !ok {
		return leftOut, false
	}
	return index[word], true
}

// part gives the index of the part named at n.
func (d *decoder) part(n *source.Node) (int, bool) {
	return d.reference(n, "part", d.parts, d.partNames)
}
