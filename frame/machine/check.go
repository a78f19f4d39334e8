package machine

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Check finds what no machine can be built from: indices of things that are not there, sizes that are none,
// directions that point nowhere, names that two things share. The error is [Faults], each of which names the thing by
// its number in its list, counted from 0, or by its name. Whether the parts touch where they are joined, and whether
// anything is loose, is for the building to say.
//
// A machine that was read from a file has passed this already; one built in Go is checked by all that builds it.
func (m *Machine) Check() error {
	if _, faults := m.complete(); faults != nil {
		return faults
	}
	return nil
}

// checker collects what is wrong with a machine.
type checker struct {
	m      *Machine
	faults Faults
}

// fault reports what is wrong with a thing; where it stands in a file, if it does, is told as well.
func (c *checker) fault(at FilePos, hint, format string, args ...any) {
	c.faults = append(c.faults, Fault{File: c.m.File, Pos: at, What: fmt.Sprintf(format, args...), Hint: hint})
}

// thing is something of a machine as faults name it. It becomes words only where there is a fault: nearly all machines
// have none, and every building asks.
type thing struct {
	of   *thing // what it belongs to; nil: the machine
	kind string // "joint"
	i    int    // its index; nameless: there is only one
	name string // ""; it goes by its index
	part string // "screws", of the thing; "": all of it is spoken of
}

// nameless is the index of what there is only one of.
const nameless = -1

func numbered(kind string, i int, name string) thing { return thing{kind: kind, i: i, name: name} }

func only(kind string) thing { return thing{kind: kind, i: nameless} }

// String names the thing: by its name if it has one.
func (t thing) String() string {
	s := t.kind
	switch {
	case t.name != "":
		s += " " + Quote(t.name)
	case t.i != nameless:
		s += fmt.Sprintf(" %d", t.i)
	}
	if t.of != nil {
		s = t.of.String() + ", " + s
	}
	if t.part != "" {
		s += ", " + t.part
	}
	return s
}

// and is the thing with one of its parts named.
func (t thing) and(part string) thing {
	t.part = part
	return t
}

// index reports an index beyond a list, and tells whether it is in it.
func (c *checker) index(at FilePos, what thing, kind string, i, n int) bool {
	if i >= 0 && i < n {
		return true
	}
	hint := fmt.Sprintf("they are counted from 0: 0 to %d", n-1)
	switch n {
	case 0:
		hint = fmt.Sprintf("add the %s to the machine, or take out what refers to it", kind)
	case 1:
		hint = "they are counted from 0: the only one is 0"
	}
	c.fault(at, hint, "%s: there is no %s %d; the machine has %d", what, kind, i, n)
	return false
}

func (c *checker) part(at FilePos, what thing, i int) bool {
	return c.index(at, what, "part", i, len(c.m.Parts))
}

// names reports names that are empty or stand twice; kind is what they name.
type names struct {
	c    *checker
	kind string
	seen map[string]bool
}

func (c *checker) names(kind string, count int) names {
	return names{c, kind, make(map[string]bool, count)}
}

func (n names) add(at FilePos, i int, name string) {
	switch {
	case name == "":
		n.c.fault(at, "give it one: answers speak of it by its name", "%s %d has no name", n.kind, i)
	case n.seen[name]:
		n.c.fault(at, "give one of them another name",
			"%s %d: the name %s stands here a second time", n.kind, i, Quote(name))
	}
	n.seen[name] = true
}

// positive reports a size that is none.
func (c *checker) positive(at FilePos, what thing, size string, v float64) {
	if !(v > 0) {
		c.fault(at, "", "%s: %s must be positive, not %g", what, size, v)
	}
}

// noneNegative reports components below zero, of springs by freedom or by axis; kind is what the numbers are.
func noneNegative[T fmt.Stringer](c *checker, at FilePos, what thing, kind string, k T, v float64) {
	if !(v >= 0) {
		c.notNegative(at, what, kind+" "+k.String(), v)
	}
}

// notNegative reports a size below zero; zero has a meaning of its own.
func (c *checker) notNegative(at FilePos, what thing, size string, v float64) {
	if !(v >= 0) {
		c.fault(at, "", "%s: %s must not be negative: %g", what, size, v)
	}
}

// err reports the error of another package's check.
func (c *checker) err(at FilePos, what thing, err error) {
	if err != nil {
		c.fault(at, "", "%s: %v", what, err)
	}
}

// unitSlack is how far the length of a unit vector may be from 1: what rounding leaves of a direction worked out by
// hand in six digits.
const unitSlack = 1e-6

// unit reports a direction whose length is not 1.
func (c *checker) unit(at FilePos, what thing, direction string, v r3.Vec) {
	if l := r3.Norm(v); !(math.Abs(l-1) <= unitSlack) {
		c.fault(at, "divide it by its length: r3.Unit", "%s: %s must have length 1, not %g", what, direction, l)
	}
}

// oneOf reports a thing that is of no kind, or of two; kinds are those that can be set, in the order of is.
func (c *checker) oneOf(at FilePos, what thing, kinds string, is ...bool) bool {
	n := 0
	for _, t := range is {
		if t {
			n++
		}
	}
	switch n {
	case 0:
		c.fault(at, "set one of them", "%s is none of %s", what, kinds)
	case 1:
		return true
	default:
		c.fault(at, "keep one of them", "%s is more than one of %s", what, kinds)
	}
	return false
}

// within reports a number that is none of an enumeration's, which has values from 0 on.
func within[T ~int](c *checker, at FilePos, what thing, kind string, v T, last T) bool {
	if v >= 0 && v <= last {
		return true
	}
	c.fault(at, "use one of the named constants", "%s: there is no %s %d", what, kind, int(v))
	return false
}
