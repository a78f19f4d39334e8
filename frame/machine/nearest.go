package machine

import (
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

// nearestWord gives the known word that the fewest slips of the keyboard separate from word: letters left out,
// put in, exchanged or swapped with their neighbour. When more than a third of the word would have to change, or
// all of a single letter, the likeness is chance; then only a word cut short or drawn out will do. Of several words
// equally near, it is the one that begins most like the word; when even that does not tell them apart, there is none.
func nearestWord(word string, known []string) (string, bool) {
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

// mostAlike gives the one of the words that has the longest beginning in common with w; none when several have.
func mostAlike(w []rune, words []string) (string, bool) {
	best, most, several := "", -1, false
	for _, k := range words {
		n := commonStart([]rune(strings.ToLower(k)), w)
		switch {
		case n > most:
			best, most, several = k, n, false
		case n == most && k != best:
			several = true
		}
	}
	if most < 0 || several {
		return "", false
	}
	return best, true
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

// suggest words the hint for an unknown word: the nearest known one, and all of them when they are few.
func suggest(word string, known []string) string {
	var hints []string
	if near, ok := nearestWord(word, known); ok {
		hints = append(hints, "did you mean "+clip(near)+"?")
	}
	if list := strings.Join(known, ", "); len(known) > 0 && len(known) <= listedWords && utf8.RuneCountInString(list) <= listedRunes {
		hints = append(hints, "one of: "+list)
	}
	return strings.Join(hints, " ")
}
