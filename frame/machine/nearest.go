package machine

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// listedWords and listedRunes bound a list of right words in a hint, to what the eye takes in on one line.
const (
	listedWords = 12
	listedRunes = 100
)

// leastStem is how many letters two words must begin with in common for the one to count as the other cut short.
const leastStem = 3

// Nearest gives the known words that the fewest slips of the keyboard separate from word: letters left out,
// put in, exchanged or swapped with their neighbour. When more than a third of the word would have to change, or
// all of a single letter, the likeness is chance; then only a word cut short or drawn out will do. Of several words
// equally near, it gives those that begin most like the word, and of those the ones that are as long, if there are any.
func Nearest(word string, known []string) []string {
	w := []rune(strings.ToLower(word))
	var near, stems []string
	least := min(max(1, len(w)/3)+1, len(w))
	for _, k := range known {
		runes := []rune(strings.ToLower(k))
		if n := min(len(runes), len(w)); n >= leastStem && commonStart(runes, w) == n {
			stems = append(stems, k)
		}
		if d := len(runes) - len(w); d > least || -d > least {
			continue // even if all their letters agreed
		}
		switch d := slips(w, runes); {
		case d < least:
			least, near = d, []string{k}
		case d == least && near != nil:
			near = append(near, k)
		}
	}
	if near == nil {
		near = stems
	}
	return mostAlike(w, near)
}

// family gives the known words whose first part, before a hyphen, is what word is nearest to: aluminium-5083 and its
// like for "aluminum".
func family(word string, known []string) (near []string) {
	var heads []string
	for _, k := range known {
		if head, _, several := strings.Cut(k, "-"); several && !slices.Contains(heads, head) {
			heads = append(heads, head)
		}
	}
	if heads == nil {
		return nil
	}
	heads = Nearest(word, heads)
	for _, k := range known {
		if head, _, several := strings.Cut(k, "-"); several && slices.Contains(heads, head) {
			near = append(near, k)
		}
	}
	return near
}

// mostAlike gives those of the words, each once, that have the longest beginning in common with w, and of those the
// ones as long as w, if there are any.
func mostAlike(w []rune, words []string) []string {
	var alike []string
	most := 0
	for _, k := range words {
		runes := []rune(strings.ToLower(k))
		likeness := 2*commonStart(runes, w) + 1
		if len(runes) == len(w) {
			likeness++
		}
		if likeness > most {
			alike, most = nil, likeness
		}
		if likeness == most && !slices.Contains(alike, k) {
			alike = append(alike, k)
		}
	}
	return alike
}

// commonStart counts the letters with which two words begin alike.
func commonStart(a, b []rune) int {
	n := 0
	for n < min(len(a), len(b)) && a[n] == b[n] {
		n++
	}
	return n
}

// slips is the Damerau-Levenshtein distance of two words, restricted to swaps of letters that stand side by
// side (optimal string alignment).
func slips(a, b []rune) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range row {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			change := 1
			if a[i-1] == b[j-1] {
				change = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+change)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}

// Suggest words the hint for an unknown word: the nearest known one, and all of them when they are few. Several that
// are equally near are a guess, and named only when there is no list of all.
func Suggest(word string, known []string) string {
	var hints []string
	list := strings.Join(known, ", ")
	listed := len(known) > 0 && len(known) <= listedWords && utf8.RuneCountInString(list) <= listedRunes
	if near := Nearest(word, known); len(near) == 1 || len(near) > 0 && len(near) <= mostGuesses && !listed {
		for i, n := range near {
			near[i] = Clip(n)
		}
		last := len(near) - 1
		if last > 0 {
			near = []string{strings.Join(near[:last], ", ") + " or " + near[last]}
		}
		hints = append(hints, "did you mean "+near[0]+"?")
	}
	if kin := family(word, known); hints == nil && !listed && kin != nil {
		hints = append(hints, "did you mean one of: "+strings.Join(kin, ", ")+"?")
	}
	if listed {
		hints = append(hints, "one of: "+list)
	}
	return strings.Join(hints, " ")
}

// mostGuesses is how many words a hint offers as equally near.
const mostGuesses = 3
