package modelfile

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"tiploop/frame/modelfile/source"
)

// schema is what is used here of JSON Schema, 2020-12 (json-schema.org); only keywords that editors know.
type schema struct {
	Dialect     string             `json:"$schema,omitempty"`
	Title       string             `json:"title,omitempty"`
	Description string             `json:"description,omitempty"`
	Ref         string             `json:"$ref,omitempty"`
	Type        any                `json:"type,omitempty"` // a string or a list of them
	Enum        []any              `json:"enum,omitempty"`
	Pattern     string             `json:"pattern,omitempty"`
	MaxLength   int                `json:"maxLength,omitempty"`
	Minimum     *float64           `json:"minimum,omitempty"`
	Maximum     *float64           `json:"maximum,omitempty"`
	Items       *schema            `json:"items,omitempty"`
	MinItems    int                `json:"minItems,omitempty"`
	MaxItems    int                `json:"maxItems,omitempty"`
	Required    []string           `json:"required,omitempty"`
	Names       *schema            `json:"propertyNames,omitempty"`
	Properties  map[string]*schema `json:"properties,omitempty"`
	Additional  any                `json:"additionalProperties,omitempty"` // false, or of what
	Dependent   map[string]*schema `json:"dependentSchemas,omitempty"`
	If          *schema            `json:"if,omitempty"`
	Then        *schema            `json:"then,omitempty"`
	Else        *schema            `json:"else,omitempty"`
	AllOf       []*schema          `json:"allOf,omitempty"`
	AnyOf       []*schema          `json:"anyOf,omitempty"`
	OneOf       []*schema          `json:"oneOf,omitempty"`
	Not         *schema            `json:"not,omitempty"`
	Defs        map[string]*schema `json:"$defs,omitempty"`
}

// Schema returns the JSON Schema (2020-12) of the model file, made of what [Model] describes, as indented JSON. It
// accepts whatever the decoder accepts, but for sizes beyond belief of what is left out, and refuses of the rest what
// can be told of one place alone: unknown keys and words, wrong kinds, units of another dimension. What expressions come
// to, and whether parts fit together, is for [Parse] and [Document.Machine].
//
// A word may also be the name of a value that stands for it. A schema cannot look that up, so it has all mappings
// twice: words of the tables alone, as long as no value and no option sets a word, and names beside them otherwise.
func Schema() []byte {
	root := schema{
		Dialect: "https://json-schema.org/draft/2020-12/schema",
		Title:   "tiploop model", Description: Model().About,
		Type: "object",
		If:   noWordSet(),
		Defs: map[string]*schema{},
	}
	root.Then = schemaWriter{root.Defs, ""}.ref(Model())
	root.Else = schemaWriter{root.Defs, " or a value"}.ref(Model())
	var b bytes.Buffer
	encoder := json.NewEncoder(&b)
	encoder.SetEscapeHTML(false) // patterns with < and > are for people, too
	encoder.SetIndent("", " ")
	if err := encoder.Encode(root); err != nil {
		panic("modelfile: " + err.Error()) // of strings and numbers it cannot fail
	}
	return b.Bytes()
}

// noWordSet is met where no value and no option may be a word: that is text that begins with a letter and has no
// operator in it but the hyphen, as of [decoder.isWord].
func noWordSet() *schema {
	word := &schema{Type: "string", Pattern: `^\s*[A-Za-z_][^+*/()<>=!?,]*$`}
	noWord := &schema{Additional: &schema{Not: word}}
	return &schema{Properties: map[string]*schema{"values": noWord, "options": {Additional: noWord}}}
}

// schemaWriter makes schemas of what is described.
type schemaWriter struct {
	defs  map[string]*schema
	words string // "" where words are those of the tables; else names of values may stand for them, and names of defs end so
}

// strict tells that words are those of the tables alone.
func (w schemaWriter) strict() bool { return w.words == "" }

// ref refers to the schema of a mapping, and makes it when there is none yet.
func (w schemaWriter) ref(m *Mapping) *schema {
	return w.shared(w.name(m), func(s *schema) { w.fill(s, m) })
}

// shared refers to one of the defs, which fill makes when there is none of that name yet.
func (w schemaWriter) shared(name string, fill func(*schema)) *schema {
	name = strings.NewReplacer(" ", "_", "/", "_per_", ",", "", "+", "").Replace(name)
	if w.defs[name] == nil {
		w.defs[name] = &schema{} // before it is filled: a mapping may hold one of its kind
		fill(w.defs[name])
	}
	return &schema{Ref: "#/$defs/" + name}
}

// name is that of a mapping among the defs; two mappings of one name, as both kinds of spring, are told apart by their
// keys.
func (w schemaWriter) name(m *Mapping) string {
	for _, other := range keysOf(Model()).Within() {
		if other.Name == m.Name && other != m {
			return fmt.Sprintf("%s of %s%s", m.Name, strings.Join(m.names(), " "), w.words)
		}
	}
	return m.Name + w.words
}

// fill makes the schema of a mapping.
func (w schemaWriter) fill(s *schema, m *Mapping) {
	s.Description, s.Type, s.Additional = m.About, "object", false
	s.Properties = map[string]*schema{}
	for _, k := range m.Keys {
		p := w.of(k.Takes)
		if p.Ref != "" {
			p = &schema{AllOf: []*schema{p}} // so that a description may stand beside it
		}
		if k.Default != "" && (k.Takes.Kind == NamedKind || k.Takes.Kind == ListKind) {
			p = &schema{AnyOf: []*schema{p, {Type: "null"}}} // a key with nothing behind it is one of no entries
		}
		p.Description = k.describe()
		s.Properties[k.Name] = p
		if m.Needed(k) {
			s.Required = append(s.Required, k.Name)
		}
		if with := w.with(m, k); with != nil {
			if s.Dependent == nil {
				s.Dependent = map[string]*schema{}
			}
			s.Dependent[k.Name] = with
		}
	}
	for _, choice := range m.Choices {
		s.AllOf = append(s.AllOf, m.oneOf(choice))
	}
}

// oneOf is met where one of these keys stands; or none, when they go with another that may not stand there.
func (m *Mapping) oneOf(choice []string) *schema {
	var one, some schema
	for _, key := range choice {
		one.OneOf = append(one.OneOf, &schema{Required: []string{key}})
	}
	if len(m.key(choice[0]).With) > 0 {
		some.AnyOf = one.OneOf
		one.OneOf = append(slices.Clone(one.OneOf), &schema{Not: &some})
	}
	return &one
}

// describe says in words what an editor shows of a key.
func (k Key) describe() string {
	text := k.About + ". Takes: " + k.Takes.String() + "."
	if len(k.With) > 0 {
		text += " With " + strings.Join(k.With, " or ") + "."
	}
	if k.Default != "" {
		text += " Else: " + k.Default + "."
	}
	return text
}

// with is met where one of the keys or words stands that a key goes with; nil when it goes with any, or when a word
// may hide behind a value.
func (w schemaWriter) with(m *Mapping, k Key) *schema {
	var some schema
	for _, with := range k.With {
		if slices.Contains(m.names(), with) {
			some.AnyOf = append(some.AnyOf, &schema{Required: []string{with}})
			continue
		}
		if !w.strict() {
			return nil
		}
		for _, other := range m.Keys {
			if slices.Contains(other.Takes.Words, with) {
				some.AnyOf = append(some.AnyOf, &schema{Required: []string{other.Name},
					Properties: map[string]*schema{other.Name: {Enum: []any{with}}}})
			}
		}
	}
	if some.AnyOf == nil {
		return nil
	}
	return &some
}

// of makes the schema of what a key takes.
func (w schemaWriter) of(t Type) *schema {
	switch t.Kind {
	case NumberKind:
		return w.quantity(t)
	case WholeKind:
		return &schema{AnyOf: []*schema{{Type: "integer", Minimum: at(1)}, numberText(""), w.expression()}}
	case AnyNumberKind:
		return &schema{AnyOf: []*schema{{Type: "number"}, numberText(`(\s*[A-Za-zµμ].*)?`), w.expression()}}
	case SpanKind:
		return &schema{Type: "string", Pattern: spanPattern}
	case TruthKind:
		return &schema{AnyOf: []*schema{{Type: "boolean"}, w.expression()}}
	case TrueKind:
		return &schema{AnyOf: []*schema{{Enum: []any{true}}, w.expression()}}
	case WordKind:
		return w.word(t)
	case TextKind, ReferenceKind:
		return &schema{Type: []string{"string", "number", "boolean"}} // a name may look like a number
	case RowKind:
		return &schema{Type: "array", Items: w.of(t.Items[0]), MinItems: len(t.Labels), MaxItems: len(t.Labels)}
	case ListKind:
		return &schema{Type: "array", Items: w.of(t.Items[0])}
	case MappingKind:
		return w.ref(t.Mapping)
	case NamedKind:
		return &schema{Type: "object", Names: &schema{Pattern: `\S`, MaxLength: source.MostName}, Additional: w.of(t.Items[0])}
	case EitherKind:
		var any schema
		for _, way := range t.Items {
			any.AnyOf = append(any.AnyOf, w.of(way))
		}
		return &any
	}
	panic(fmt.Sprintf("modelfile: no schema of the kind %d", t.Kind))
}

// word makes the schema of a word: one of those known, or where values may stand for them any name.
func (w schemaWriter) word(t Type) *schema {
	known := &schema{}
	for _, word := range t.Words {
		known.Enum = append(known.Enum, word)
		if x, err := strconv.ParseFloat(word, 64); err == nil { // 8.8 without quotes, which YAML calls a number
			known.Enum = append(known.Enum, x)
		}
	}
	if w.strict() {
		return known
	}
	return &schema{AnyOf: []*schema{known, {Type: "string", Pattern: `^[A-Za-z_][A-Za-z_0-9]*$`}}}
}

func at(x float64) *float64 { return &x }

// Patterns of text that may stand for a number, in what all dialects of patterns have in common.
const (
	digitsPattern = `(\d+\.?\d*|\.\d+)([eE][-+]?\d+)?`
	powerPattern  = `(\^?[2-4]|[²³⁴])?`
	// One number with one word behind it, whose unit is told by a pattern of its own; what is no finite number.
	lonePattern = `^\s*[-+]?\s*` + digitsPattern + `(\s*[A-Za-zµμ]+` + powerPattern + `)?\s*$|^\s*[-+.]*(inf|nan|infinity)\s*$`
	// Both ways to write a range.
	rangePattern = `^[^%]+(\+/-|\+-|±)[^%]+%\s*$|^[^%]*[^%.]\.\.[^%.][^%]*$`
	// From one end to the other.
	spanPattern = `^[^%]*[^%.]\.\.\.?[^%.][^%]*$`
)

// expressionPattern is met by names, and by numbers with units, that have operators between them; no two stand side by
// side but a number and its unit.
var expressionPattern = func() string {
	const operators = `[-+*/()<>=!?:,\s]*`
	unit := `(` + strings.Join(slices.Sorted(maps.Keys(units)), "|") + `)` + powerPattern
	operand := `(not\s+)*([A-Za-z_][A-Za-z_0-9]*|` + digitsPattern + `(\s*` + unit + `(\s*[*/·]?\s*` + unit + `)*)?)`
	return `^` + operators + operand + `(\s*([-+*/()<>=!?:,]` + operators + `|(and|or)\s+)(` + operand + `)?)*\s*$`
}()

// quantity makes the schema of a number: a plain one that can be believed, one with a unit of its dimension, or an
// expression; and a range where it may carry one.
func (w schemaWriter) quantity(t Type) *schema {
	most := t.measure.most * t.measure.unit.den / t.measure.unit.num
	return w.shared(fmt.Sprintf("%s to %g", t, most), func(s *schema) {
		s.AnyOf = []*schema{{Type: "number", Minimum: at(-most), Maximum: at(most)}, numberText(t.measure.unitPattern()),
			w.expression()}
		if t.Ranged {
			s.AnyOf = append(s.AnyOf, &schema{Type: "string", Pattern: rangePattern})
		}
	})
}

// numberText is met by text that is one number with such a unit.
func numberText(unit string) *schema {
	return &schema{Type: "string", Pattern: `^\s*[-+]?\s*` + digitsPattern + unit + `\s*$`}
}

// expression is met by text that may be an expression, or a number with a unit that is made of several; not by one with
// one word behind it.
func (w schemaWriter) expression() *schema {
	return w.shared("expression", func(s *schema) {
		s.Type, s.Pattern, s.Not = "string", expressionPattern, &schema{Pattern: lonePattern}
	})
}

// unitPattern is met by the units of one word that have the measure's dimension, and by nothing.
func (m measure) unitPattern() string {
	var known []string
	for _, word := range slices.Sorted(maps.Keys(units)) {
		if units[word].dim == m.unit.dim {
			known = append(known, word)
		}
		for _, p := range unitPowers {
			if u, _ := lookupUnit(word + p.suffix); u.dim == m.unit.dim {
				known = append(known, strings.ReplaceAll(word+p.suffix, "^", `\^`))
			}
		}
	}
	if m.unit.dim == anAccel.unit.dim {
		known = append(known, "g") // free fall, where an axis gains speed
	}
	if known == nil {
		return ""
	}
	return `\s*(` + strings.Join(known, "|") + `)?`
}
