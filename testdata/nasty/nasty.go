// Package nasty breaks model files as a hurried or a hostile hand would, and knows of each what must be said about it.
// The same seed gives the same files.
package nasty

import (
	"fmt"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
)

// Want is what must come of a file.
type Want int

// What must come of a file.
const (
	Fault    Want = iota // refused, with a place and the words
	Told                 // refused so, or answered with a note that has the words
	Harmless             // refused with a place, or answered; what is printed has no control codes
	Answer               // answered
)

// File is one broken model file.
type File struct {
	Slip  string // which kind of slip it has
	Base  string // the file it was made of
	Text  string
	Want  Want
	Words []string // what the fault or the note must say, each somewhere in it; "a|b" is one of the two
}

// Base is a sound file to be broken.
type Base struct{ Name, Text string }

// slip is one way to break a file.
type slip struct {
	name string
	want Want
	edit func(*draw) bool // false when the file has nothing to be broken so
}

// draw is a file on its way to being broken.
type draw struct {
	*rand.Rand
	text  string
	words []string
}

// say adds words that must be said.
func (d *draw) say(words ...string) bool {
	d.words = append(d.words, words...)
	return true
}

// Files breaks each so many times in every way of the list, each time the next of the bases that can be broken so.
func Files(bases []Base, seed uint64, times int) (files []File) {
	for i, s := range slips() {
		r := rand.New(rand.NewPCG(seed, uint64(i)))
		start := r.IntN(len(bases))
		for n := range times {
			for k := range bases {
				base := bases[(start+n+k)%len(bases)]
				d := &draw{Rand: r, text: base.Text}
				if !s.edit(d) || slices.ContainsFunc(files, func(f File) bool { return f.Text == d.text && f.Slip == s.name }) {
					continue
				}
				files = append(files, File{s.name, base.Name, d.text, s.want, d.words})
				break
			}
		}
	}
	return files
}

// swap replaces one match of a pattern, drawn among all, by what by makes of its groups.
func (d *draw) swap(pattern string, by func(groups []string) string) bool {
	all := regexp.MustCompile("(?m)"+pattern).FindAllStringSubmatchIndex(d.text, -1)
	all = slices.DeleteFunc(all, func(at []int) bool { return d.idle(at[0], at[1]) })
	if len(all) == 0 {
		return false
	}
	at := all[d.IntN(len(all))]
	groups := make([]string, len(at)/2)
	for i := range groups {
		if at[2*i] >= 0 {
			groups[i] = d.text[at[2*i]:at[2*i+1]]
		}
	}
	d.text = d.text[:at[0]] + by(groups) + d.text[at[1]:]
	return true
}

// idle tells whether a stretch of the text says nothing of the machine as drawn: it is in a comment, or names a part that
// may be left out.
func (d *draw) idle(from, to int) bool {
	from = strings.LastIndexByte(d.text[:from], '\n') + 1
	line, _, _ := strings.Cut(d.text[from:], "\n")
	if i := strings.IndexByte(line, '#'); i >= 0 && from+i < to {
		return true
	}
	optional := regexp.MustCompile(`(?m)^  (\w+):.*\n    if: .*\n(    .*\n)*`)
	for _, m := range optional.FindAllStringSubmatchIndex(d.text, -1) {
		if m[0] <= from && from < m[1] || regexp.MustCompile(`\b`+d.text[m[2]:m[3]]+`\b`).MatchString(line) {
			return true
		}
	}
	return false
}

// put replaces one match by a text, in which $1 and so on stand for groups.
func (d *draw) put(pattern, by string) bool {
	return d.swap(pattern, func(groups []string) string {
		out := by
		for i, g := range groups {
			out = strings.ReplaceAll(out, fmt.Sprintf("$%d", i), g)
		}
		return out
	})
}

// oneOf draws a word.
func (d *draw) oneOf(words ...string) string { return words[d.IntN(len(words))] }

// under adds a line at the beginning of a section, which the file must have.
func (d *draw) under(section, line string) bool {
	return d.put("^"+section+":.*\n", "$0"+line+"\n")
}

// section adds a line to a section at the end of the file; the file must have none of that name yet.
func (d *draw) section(name, line string) bool {
	if regexp.MustCompile("(?m)^" + name + ":").MatchString(d.text) {
		return false
	}
	d.text += "\n" + name + ":\n" + line + "\n"
	return true
}

// mangled is a word with a slip of the finger.
func (d *draw) mangled(word string) string {
	i := 1 + d.IntN(len(word)-2)
	switch d.IntN(3) {
	case 0:
		return word[:i] + word[i+1:]
	case 1:
		return word[:i] + word[i:i+1] + word[i:]
	}
	return word[:i] + "q" + word[i+1:]
}

// plate is a plate of a file with plain numbers.
type plate struct {
	name string
	at   [6]float64 // from, to
}

const plateLine = `^  (\w+): +\{plate: \{from: \[([-\d. ,]+)\], to: \[([-\d. ,]+)\]\}(.*)$`

// plates are those of the file whose corners are plain numbers.
func (d *draw) plates() (list []plate) {
	for _, m := range regexp.MustCompile("(?m)"+plateLine).FindAllStringSubmatch(d.text, -1) {
		p := plate{name: m[1]}
		if _, err := fmt.Sscanf(m[2]+", "+m[3], "%g, %g, %g, %g, %g, %g", &p.at[0], &p.at[1], &p.at[2], &p.at[3], &p.at[4],
			&p.at[5]); err == nil {
			list = append(list, p)
		}
	}
	return list
}

// plate is one of them.
func (d *draw) plate() (plate, bool) {
	list := d.plates()
	if list == nil {
		return plate{}, false
	}
	return list[d.IntN(len(list))], true
}

// line is a part's line with corners.
func (p plate) line(name string) string {
	return fmt.Sprintf("  %s: {plate: {from: [%g, %g, %g], to: [%g, %g, %g]}, material: steel}", name, p.at[0], p.at[1],
		p.at[2], p.at[3], p.at[4], p.at[5])
}
