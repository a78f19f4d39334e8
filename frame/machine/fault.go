package machine

import (
	"fmt"
	"sort"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Fault is one thing wrong with a machine, or with the file it was read from.
type Fault struct {
	File string  // "": none
	Pos  FilePos // in the file; zero: none
	What string  // "part \"rib_lft\" is not known"
	Hint string  // "did you mean rib_left?"
}

// Error gives the fault as file:line:col: what, and on a second line what to do. Without a file it begins with what.
func (f Fault) Error() string {
	var b strings.Builder
	if f.File != "" {
		b.WriteString(f.File)
		if f.Pos.Line > 0 {
			fmt.Fprintf(&b, ":%d:%d", f.Pos.Line, f.Pos.Col)
		}
		b.WriteString(": ")
	}
	b.WriteString(f.What)
	if f.Hint != "" {
		b.WriteString("\n\t")
		b.WriteString(f.Hint)
	}
	return b.String()
}

// Faults is everything found wrong in one reading, in the order of the file.
type Faults []Fault

// mostFaults is how many faults are printed: beyond that the first ones are usually the cause of the rest.
const mostFaults = 10

// Error prints the faults, one below the other, at most ten.
func (fs Faults) Error() string {
	var b strings.Builder
	for i, f := range fs {
		if i == mostFaults {
			fmt.Fprintf(&b, "\nand %d more", len(fs)-mostFaults)
			break
		}
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(f.Error())
	}
	return b.String()
}

// Sorted puts the faults in the order of the file.
func (fs Faults) Sorted() Faults {
	sort.SliceStable(fs, func(i, j int) bool {
		a, b := fs[i].Pos, fs[j].Pos
		if a.Line != b.Line {
			return a.Line < b.Line
		}
		return a.Col < b.Col
	})
	return fs
}

// MM prints a length for a message.
func MM(v float64) string { return fmt.Sprintf("%.4g mm", v) }

// Distinct drops what is said twice of the same position.
func (fs Faults) Distinct() Faults {
	seen := map[Fault]bool{}
	out := fs[:0]
	for _, f := range fs {
		if !seen[f] {
			seen[f] = true
			out = append(out, f)
		}
	}
	return out
}

// mostQuoted is how much of an offending text is shown, in runes: enough to find it.
const mostQuoted = 40

// Clip cuts a text to what is shown of it.
func Clip(s string) string {
	if utf8.RuneCountInString(s) <= mostQuoted {
		return s
	}
	return string([]rune(s)[:mostQuoted]) + "…"
}

// Quote shows a text from the file, cut, and with nothing in it that a terminal could take for a command.
func Quote(s string) string { return strconv.Quote(Clip(s)) }

// Before reports whether a position stands before another one in the file.
func (p FilePos) Before(q FilePos) bool { return p.Line < q.Line || p.Line == q.Line && p.Col < q.Col }
