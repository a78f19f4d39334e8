package wrap

import (
	"regexp"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/width"
)

// units are the units of running text; a number and the one behind it stay on one line.
var units = []string{
	"%", "N", "kN", "N/µm", "N·mm", "mm", "mm²", "µm", "m", "kg", "g", "MPa", "GPa", "min", "hours", "K", "rad",
}

// number is a number as it stands in running text, perhaps the first word of a bracket or a quotation.
var number = regexp.MustCompile(`^[(“<]*[-−+]?\d[\d.]*(e-?\d+)?$`)

// isUnit says whether a word is a unit, whatever stop or bracket ends it.
func isUnit(word string) bool { return slices.Contains(units, strings.TrimRight(word, ".,;:)”")) }

// isTimes says whether a word stands between two numbers that are measures of one thing: 30 × 40.
func isTimes(word string) bool { return word == "×" || word == "x" }

// Words gives the words of s, a number with its unit and the measures of one thing each as one word.
func Words(s string) []string {
	var words []string
	bare := "" // the word before, before it was joined to what stands in front of it
	for _, word := range strings.Fields(OneLine(s)) {
		n := len(words)
		joined := n > 0 && (number.MatchString(bare) && (isUnit(word) || isTimes(word)) || isTimes(bare) &&
			bare != words[n-1])
		if joined {
			words[n-1] += " " + word
		} else {
			words = append(words, word)
		}
		bare = word
	}
	return words
}

// Lines breaks s between words into lines of at most width letters; a longer word stands alone.
func Lines(s string, width int) []string {
	var lines []string
	current := ""
	for _, word := range Words(s) {
		switch {
		case current == "":
			current = word
		case Letters(current)+1+Letters(word) <= width:
			current += " " + word
		default:
			lines = append(lines, current)
			current = word
		}
	}
	return append(lines, current)
}

// Letters counts the places that s takes on a line: two for a wide East Asian letter, none for a mark on another.
func Letters(s string) int {
	n := 0
	for _, r := range s {
		switch kind := width.LookupRune(r).Kind(); {
		case unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf):
		case kind == width.EastAsianWide || kind == width.EastAsianFullwidth:
			n += 2
		default:
			n++
		}
	}
	return n
}

// OneLine keeps a name that was written over several lines, or holds control codes, from breaking a table.
func OneLine(s string) string {
	return strings.Join(strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || steers(r) }), " ")
}

// Harmless replaces what steers a terminal or turns the direction of writing in a message, but for the ends of its
// lines and the tabs before them.
func Harmless(s string) string {
	return strings.Map(func(r rune) rune {
		if r != '\n' && r != '\t' && steers(r) {
			return unicode.ReplacementChar
		}
		return r
	}, s)
}

// steers tells control codes and the marks that turn the direction of writing.
func steers(r rune) bool { return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) }
