package report

import (
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// unitWords are the units of heads in letters that every program takes.
var unitWords = strings.NewReplacer("N/µm", "n_per_um", "N·mm", "n_mm", "µm", "um", "mm²", "mm2", "%", "percent",
	// marks between words
	"’", "", "'", "")

// csvHeads gives each head of a CSV as small ASCII letters, numbers and underscores, with its unit at the end:
// "tip_size_um". A letter with a mark loses it, one of another alphabet is told by its number; of heads that come out
// alike the later ones get one.
func csvHeads(heads []string) []string {
	list := make([]string, len(heads))
	taken := map[string]bool{}
	for i, h := range heads {
		name := csvHead(h)
		list[i] = name
		for n := 2; taken[list[i]]; n++ {
			list[i] = fmt.Sprintf("%s_%d", name, n)
		}
		taken[list[i]] = true
	}
	return list
}

// csvHead is one head.
func csvHead(head string) string {
	var b strings.Builder
	gap := false
	for _, r := range norm.NFKD.String(unitWords.Replace(head)) {
		switch {
		case unicode.Is(unicode.Mn, r):
			continue
		case r < unicode.MaxASCII && (unicode.IsLetter(r) || unicode.IsDigit(r)):
			if gap && b.Len() > 0 {
				b.WriteByte('_')
			}
			gap = false
			b.WriteRune(unicode.ToLower(r))
		case r > unicode.MaxASCII && unicode.IsLetter(r):
			if b.Len() > 0 {
				b.WriteByte('_')
			}
			fmt.Fprintf(&b, "u%x", r)
			gap = true
		default:
			gap = true
		}
	}
	return b.String()
}
