package modelfile

import (
	"fmt"
	"slices"
	"strings"
)

// Mapping describes one mapping of the model file. What the decoder knows, what messages offer, what help prints: all
// comes from here.
type Mapping struct {
	Name    string     // as messages call it: "joint"
	About   string     // what it describes
	Keys    []Key      // in the order in which they are told
	Choices [][]string // of each of these sets of keys one is taken
}

// Key is one key of a mapping.
type Key struct {
	Name    string
	Takes   Type
	Default string   // what holds where it is not given; "": it must be given, or is one of a choice
	With    []string // it goes with one of these keys of the mapping, or these words of one; none: with any
	About   string
}

// Kind is the kind of value that a key takes.
type Kind int

// The kinds.
const (
	NumberKind    Kind = iota // of Measure, a plain one in Unit
	WholeKind                 // a number that counts, from 1
	TruthKind                 // true or false
	TrueKind                  // true, which chooses the key
	TextKind                  // any text
	WordKind                  // one of Words
	ReferenceKind             // a name that the file gives elsewhere, to what Names says
	RowKind                   // a list of as many entries as Labels, each of Items[0]
	ListKind                  // a list of any length, each entry of Items[0]
	MappingKind               // a mapping with known keys, Mapping
	NamedKind                 // a mapping whose keys are names, or references to what Names says; Items[0] each
	AnyNumberKind             // a number of any measure, plain or with its unit
	SpanKind                  // two numbers of one measure, from..to
	EitherKind                // any of Items
)

// Type says what a key takes, for people by String and for programs by its parts.
type Type struct {
	Kind    Kind
	Measure string // "length"
	Unit    string // of a plain number: "mm"; "" where it has none
	Ranged  bool   // of a number that may carry its range: 8 N/um +- 40 %, or 5..12 N/um
	Words   []string
	Table   string // the one that "tiploop tables" prints of the words; "": none
	Names   string // "part"
	Labels  []string
	Items   []Type
	Mapping *Mapping

	measure measure // of a number
}

// mostShown is how many words or keys of a type are told at once.
const mostShown = 12

// String says what is taken in a few words: "length in mm", "one of: slot, up".
func (t Type) String() string {
	switch t.Kind {
	case NumberKind:
		if t.Unit == "" {
			return "number"
		}
		if t.Ranged {
			return t.Measure + " or its range, in " + t.Unit
		}
		return t.Measure + " in " + t.Unit
	case WholeKind:
		return "whole number"
	case AnyNumberKind:
		return "number with its unit, or a plain one"
	case SpanKind:
		return "range, from..to"
	case TruthKind:
		return "true or false"
	case TrueKind:
		return "true"
	case TextKind:
		return "text"
	case WordKind:
		return t.words()
	case ReferenceKind:
		return "name of " + withArticle(t.Names)
	case RowKind:
		return t.row()
	case ListKind:
		return "list of: " + t.Items[0].String()
	case MappingKind:
		return "mapping of " + shortened(t.Mapping.names())
	case NamedKind:
		return fmt.Sprintf("by name of %s: %s", withArticle(t.Names), t.Items[0])
	case EitherKind:
		var ways []string
		for _, i := range t.Items {
			ways = append(ways, i.String())
		}
		return strings.Join(ways, "; or ")
	}
	panic(fmt.Sprintf("modelfile: a key takes the unknown kind %d", t.Kind))
}

func (t Type) words() string {
	if len(t.Words) == 1 {
		return t.Words[0]
	}
	text := "one of: " + shortened(t.Words)
	if t.Table != "" {
		text += fmt.Sprintf(" (tiploop tables %s)", t.Table)
	}
	return text
}

func (t Type) row() string {
	row := "[" + strings.Join(t.Labels, ", ") + "]"
	switch item := t.Items[0]; {
	case item.Kind == NumberKind && item.Unit != "":
		return row + " in " + item.Unit
	case item.Kind == NumberKind || item.Kind == WholeKind:
		return row
	default:
		return row + ", each " + item.String()
	}
}

// shortened lists words, the first of them where they are many.
func shortened(words []string) string {
	if len(words) > mostShown {
		return strings.Join(words[:mostShown], ", ") + ", …"
	}
	return strings.Join(words, ", ")
}

// withArticle puts the article before a noun.
func withArticle(noun string) string {
	if strings.ContainsRune("aeiou", rune(noun[0])) {
		return "an " + noun
	}
	return "a " + noun
}

// sized is the type of a number of that measure.
func sized(m measure) Type { return Type{Kind: NumberKind, Measure: m.name, Unit: m.label, measure: m} }

// The types without parts.
var (
	counted   = Type{Kind: WholeKind}
	truth     = Type{Kind: TruthKind}
	onlyTrue  = Type{Kind: TrueKind}
	anyText   = Type{Kind: TextKind}
	anyNumber = Type{Kind: AnyNumberKind}
	span      = Type{Kind: SpanKind}
)

// oneWord is the type of a word, from is the table that tells them, if there is one.
func oneWord(from string, words ...string) Type {
	return Type{Kind: WordKind, Words: words, Table: from}
}

// nameOf is the type of a name that the file gives elsewhere.
func nameOf(what string) Type { return Type{Kind: ReferenceKind, Names: what} }

// rowOf is the type of a list with one entry for each label.
func rowOf(item Type, labels ...string) Type {
	return Type{Kind: RowKind, Labels: labels, Items: []Type{item}}
}

// vectorOf is the type of a list of x, y and z.
func vectorOf(m measure) Type { return rowOf(sized(m), "x", "y", "z") }

// listOf is the type of a list of any length.
func listOf(item Type) Type { return Type{Kind: ListKind, Items: []Type{item}} }

// keysOf is the type of a mapping with known keys.
func keysOf(m *Mapping) Type { return Type{Kind: MappingKind, Mapping: m} }

// byName is the type of a mapping from names, new ones or those of what the file has elsewhere.
func byName(what string, item Type) Type {
	return Type{Kind: NamedKind, Names: what, Items: []Type{item}}
}

// either is the type of what may be written in several ways.
func either(ways ...Type) Type { return Type{Kind: EitherKind, Items: ways} }

// wordsOf lists the words of a table of the trade.
func wordsOf[T any](table []T, word func(T) string) (words []string) {
	for _, entry := range table {
		words = append(words, word(entry))
	}
	return words
}

// names lists the mapping's keys.
func (m *Mapping) names() []string { return wordsOf(m.Keys, func(k Key) string { return k.Name }) }

// key gives the key of that name. It panics when there is none: the decoder asks for what it has not described.
func (m *Mapping) key(name string) *Key {
	for i := range m.Keys {
		if m.Keys[i].Name == name {
			return &m.Keys[i]
		}
	}
	panic(fmt.Sprintf("modelfile: %s has no key %s", m.Name, name))
}

// choice gives the set of keys of which that one is taken; nil when it is in none.
func (m *Mapping) choice(key string) []string {
	for _, c := range m.Choices {
		if slices.Contains(c, key) {
			return c
		}
	}
	return nil
}

// Needed tells whether the mapping must have that key.
func (m *Mapping) Needed(k Key) bool {
	return k.Default == "" && len(k.With) == 0 && m.choice(k.Name) == nil
}

// Within lists the mappings that a key's value is made of, the outermost first, each once.
func (t Type) Within() (found []*Mapping) {
	add := func(m *Mapping) {
		if !slices.Contains(found, m) {
			found = append(found, m)
		}
	}
	for _, i := range t.Items {
		for _, m := range i.Within() {
			add(m)
		}
	}
	if t.Mapping != nil {
		add(t.Mapping)
		for _, k := range t.Mapping.Keys {
			for _, m := range k.Takes.Within() {
				add(m)
			}
		}
	}
	return found
}

// Model describes the model file: the mapping that all of it is.
func Model() *Mapping { return &modelKeys }
