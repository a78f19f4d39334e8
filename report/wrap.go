package report

import (
	"regexp"
	"slices"
	"strings"
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

// unbroken gives the words of s, a number with its unit and the measures of one thing each as one word.
func unbroken(s string) []string {
	var words []string
	bare := "" // the word before, before it was joined to what stands in front of it
	for _, word := range strings.Fields(oneLine(s)) {
		n := len(words)
		joined := n > 0 && (number.MatchString(bare) && (isUnit(word) || isTimes(word)) || isTimes(bare) && bare != words[n-1])
		if joined {
			words[n-1] += " " + word
		} else {
			words = append(words, word)
		}
		bare = word
	}
	return words
}

// wrapWords breaks s between words into lines of at most width letters; a longer word stands alone.
func wrapWords(s string, width int) []string {
	var lines []string
	current := ""
	for _, word := range unbroken(s) {
		switch {
		case current == "":
			current = word
		case letters(current)+1+letters(word) <= width:
			current += " " + word
		default:
			lines = append(lines, current)
			current = word
		}
	}
	return append(lines, current)
}
