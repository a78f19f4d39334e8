package modelfile

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// Patterns of text that may stand for a number, in what all dialects of patterns have in common.
const (
	digitsPattern = `(\d+\.?\d*|\.\d+)([eE][-+]?\d+)?`
	powerPattern  = `(\^?[2-4]|[²³⁴])?`
	// One number with one word behind it, whose unit is told by a pattern of its own; what is no finite number.
	lonePattern = `^\s*[-+]?\s*` + digitsPattern + `(\s*[A-Za-zµμ]+` + powerPattern + `)?\s*$|^\s*[-+.]*(inf|nan|infinity)\s*$`
	// Both ways to write a range.
	rangePattern = `^[^%]+(\+/-|\+-|±)[^%]+%\s*$|^[^%]*[^%.]\.\.[^%.][^%]*$`
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
