package machine

import (
	"fmt"
	"sort"
	"strings"
)

// Fault is one thing wrong with a model file.
type Fault struct {
	File  string
	Place Place
	What  string // "part \"rib_lft\" is not known"
	Hint  string // "did you mean rib_left?"
}

// Error gives the fault as file:line:col: what, and on a second line what to do.
func (f Fault) Error() string {
	var b strings.Builder
	b.WriteString(f.File)
	if f.Place.Line > 0 {
		fmt.Fprintf(&b, ":%d:%d", f.Place.Line, f.Place.Col)
	}
	b.WriteString(": ")
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

// sorted puts the faults in the order of the file.
func (fs Faults) sorted() Faults {
	sort.SliceStable(fs, func(i, j int) bool {
		a, b := fs[i].Place, fs[j].Place
		if a.Line != b.Line {
			return a.Line < b.Line
		}
		return a.Col < b.Col
	})
	return fs
}
