package phrase

import (
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"tiploop/report/number"
	"tiploop/report/wrap"
)

// Lines are the world's axes as lines, in the builder's words.
var Lines = [3]string{"left–right (x)", "towards/away from you (y)", "up–down (z)"}

// wayWords are the two ways along each axis, the positive one first.
var wayWords = [3][2]string{{"right (+x)", "left (−x)"}, {"away from you (+y)", "towards you (−y)"},
	{"up (+z)", "down (−z)"}}

// Bounds for the words of a direction, as cosines. A direction within 18 degrees of an axis is called by that axis; a
// component of less than 0.3 (under 17 degrees) is not mentioned; two within a fifth of each other are "between".
const (
	cosAlong   = 0.95
	cosPartly  = 0.3
	evenEnough = 0.8
)

// byWeight gives the axes of d, the largest component first, and the components' sizes as parts of d's length.
func byWeight(d [3]float64) (order [3]int, part [3]float64) {
	order = [3]int{0, 1, 2}
	length := number.Norm(d)
	if length == 0 {
		return order, part
	}
	for i := range d {
		part[i] = math.Abs(d[i]) / length
	}
	// Compared by more than rounding, so that two equal components keep the order x, y, z on every processor.
	sort.SliceStable(order[:], func(a, b int) bool { return part[order[a]] > part[order[b]]*(1+number.NoiseInVector) })
	return order, part
}

// Line says along which line d points, without regard to which way.
func Line(d [3]float64) string {
	return inWords(d, func(axis int) string { return Lines[axis] })
}

// Way says which way d points.
func Way(d [3]float64) string {
	return inWords(d, func(axis int) string {
		if d[axis] < 0 {
			return wayWords[axis][1]
		}
		return wayWords[axis][0]
	})
}

// shortWays are the ways along each axis in as few words as there are, the positive one first.
var shortWays = [3][2]string{{"right", "left"}, {"away from you", "towards you"}, {"up", "down"}}

// ShortWay says which way d points in few words: "up, partly right".
func ShortWay(d [3]float64) string {
	order, part := byWeight(d)
	word := func(axis int) string {
		if d[axis] < 0 {
			return shortWays[axis][1]
		}
		return shortWays[axis][0]
	}
	first, second := order[0], order[1]
	switch {
	case part[first] == 0:
		return "nowhere"
	case part[second] < cosPartly:
		return word(first)
	case part[second] >= evenEnough*part[first]:
		return word(first) + " and " + word(second)
	}
	return word(first) + ", partly " + word(second)
}

// inWords builds the words for d from those for single axes.
func inWords(d [3]float64, word func(axis int) string) string {
	order, part := byWeight(d)
	first, second := order[0], order[1]
	switch {
	case part[first] == 0:
		return "nowhere"
	case part[first] >= cosAlong:
		return word(first)
	case part[second] >= evenEnough*part[first] && part[order[2]] < cosPartly:
		return "between " + word(first) + " and " + word(second)
	}
	partly := []string{word(second)}
	if part[order[2]] >= cosPartly {
		partly = append(partly, word(order[2]))
	}
	return "mostly " + word(first) + ", partly " + strings.Join(partly, " and ")
}

// List joins words as a sentence does: "a, b and c".
func List(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " and " + words[last]
}

// Capital begins a sentence.
func Capital(words string) string {
	first, size := utf8.DecodeRuneInString(words)
	if size == 0 {
		return ""
	}
	return string(unicode.ToUpper(first)) + words[size:]
}

// Count puts a number before a noun in the right form: "no screws", "1 screw", "4 screws".
func Count(n int, noun string) string {
	switch n {
	case 0:
		return "no " + noun + "s"
	case 1:
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// NoneOr writes how many of what was named before: "none", "4".
func NoneOr(n int) string {
	if n == 0 {
		return "none"
	}
	return fmt.Sprint(n)
}

// Quoted sets a name off from the words around it.
func Quoted(name string) string { return "“" + wrap.OneLine(name) + "”" }

// WithUnit puts a unit behind a number; a plain one has none.
func WithUnit(number, unit string) string {
	if unit == "" {
		return number
	}
	return number + " " + unit
}

// The steps in which a time at the drill press is said: the times of single operations are known to a third at best.
const (
	minutesPerStep     = 5
	minutesPerHalfHour = 30
	longTime           = 60 // minutes from which a time is said in half hours
)

// Duration writes a time as a person would say it: in half hours from one hour on, below in steps of five minutes.
func Duration(minutes float64) string {
	if steps := math.Round(minutes / minutesPerStep); steps*minutesPerStep < longTime {
		return fmt.Sprintf("%.0f min", max(steps, 1)*minutesPerStep)
	}
	if hours := math.Round(minutes/minutesPerHalfHour) / 2; hours != 1 {
		return number.Length(hours) + " hours"
	}
	return "1 hour"
}

// Verb fills a sentence about so many with their number and the form of its verb: "1 more is near", "2 more are near".
func Verb(n int, sentence, one, several string) string {
	if n == 1 {
		return fmt.Sprintf(sentence, n, one)
	}
	return fmt.Sprintf(sentence, n, several)
}

// MoreMass says how much more there is to carry, kg: "96 g more", "1.82 kg less".
func MoreMass(kg float64) string {
	const gramsBelow = 0.1 // kg
	switch size := math.Abs(kg); {
	case size == 0:
		return "no more mass"
	case size < gramsBelow:
		return fmt.Sprintf("%s g %s", number.Digits(1000*size, 2), MoreOrLess(kg))
	default:
		return fmt.Sprintf("%s kg %s", number.Significant(size), MoreOrLess(kg))
	}
}

// Option names the option with index i where its name is too long: A to Z, then A2 and so on.
func Option(i int) string {
	const alphabet = 26
	letter := string(rune('A' + i%alphabet))
	if i >= alphabet {
		letter += fmt.Sprint(i/alphabet + 1)
	}
	return letter
}

// timesFrom is the ratio from which "times as much" is plainer than a percentage.
const timesFrom = 2

// Times writes a ratio of two or more, of which the joints' scatter leaves no more than two digits: "3.2"; false of a
// smaller one, that is plainer as a percentage.
func Times(ratio float64) (words string, ok bool) {
	const wholeFrom = 9.95
	switch {
	case ratio < timesFrom:
		return "", false
	case ratio < wholeFrom:
		return strconv.FormatFloat(ratio, 'f', 1, 64), true
	}
	return strconv.FormatFloat(ratio, 'f', 0, 64), true
}

// MoreOrLess gives the word for the sign of a change.
func MoreOrLess(change float64) string {
	if change < 0 {
		return "less"
	}
	return "more"
}
