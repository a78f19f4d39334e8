package modelfile

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// Setting is a number that stands in place of one of the file's values. A [Range] makes them.
type Setting struct {
	Name string
	to   quantity
}

// String writes the setting as "thickness = a length (12 mm)".
func (s Setting) String() string { return fmt.Sprintf("%s = %s", s.Name, s.to) }

// fix puts numbers in place of values before these are worked out. It panics on one that the file has not.
func (d *decoder) fix(set []Setting) {
	for _, s := range set {
		def := d.scope.definitions[s.Name]
		if def == nil {
			panic(fmt.Sprintf("modelfile: a setting of %q, which is no value of the file", s.Name))
		}
		def.value, def.state = value{quantity: s.to}, done
	}
}

// Value is one of the numbers under "values" as an option makes it.
type Value struct {
	Name  string
	Unit  string // of At as it is shown: "mm"; "" for a plain number
	At    float64
	Whole bool // it counts something, such as screws
	Made  bool // an expression over other values makes it

	Sweep *Sweep // what the file says that it is worth trying at; nil where it does not

	used    bool // something is drawn with it
	is      quantity
	measure measure
}

// Sweep is what a value is worth trying at, from its lesser end to its greater.
type Sweep struct{ From, To float64 }

// String writes the value as the file could: "thickness = 12 mm".
func (v Value) String() string { return fmt.Sprintf("%s = %s", v.Name, v.measure.show(v.is.x)) }

// Setting is the value at another number of its own unit.
func (v Value) Setting(at float64) Setting {
	return Setting{v.Name, quantity{x: at * v.measure.unit.num / v.measure.unit.den, dim: v.is.dim}}
}

// Values lists the numbers under "values" under an option, in the order of the file. What is true or false is left out.
// The error is [machine.Faults].
func (d *Document) Values(optionName string) ([]Value, error) {
	c, err := d.decode(optionName)
	if err != nil {
		return nil, err
	}
	if len(c.faults) > 0 {
		return nil, c.faults.Sorted().Distinct()
	}
	var list []Value
	for _, name := range c.scope.names {
		def := c.scope.definitions[name]
		if def.value.isTruth || def.word != "" {
			continue
		}
		v := d.describe(optionName, name, def, c.scope.wants[name])
		if v.Whole && v.Sweep != nil && (v.Sweep.From != math.Round(v.Sweep.From) || v.Sweep.To != math.Round(v.Sweep.To)) {
			c.fault(def.sweepNode.Pos, fmt.Sprintf("%s counts something: its sweep from %g to %g does not go from a whole number to "+
				"a whole number", name, v.Sweep.From, v.Sweep.To), "")
			return nil, c.faults
		}
		list = append(list, v)
	}
	return list, nil
}

// Variables lists what a machine of the document is drawn with under an option: its values, but for those that
// expressions make of others. The error is [machine.Faults].
func (d *Document) Variables(optionName string) (list []machine.Variable, err error) {
	values, err := d.Values(optionName)
	if err != nil {
		return nil, err
	}
	for _, v := range values {
		if v.Made { // what is made of others goes with them
			continue
		}
		list = append(list, machine.Variable{
			Name: v.Name, Unit: v.Unit, At: v.At, Whole: v.Whole,
			PerUnit: v.measure.unit.num / v.measure.unit.den, Length: v.is.dim == lengthDim, Unused: !v.used,
			More: func(by float64) (*machine.Machine, error) {
				return d.Machine(optionName, Setting{v.Name, quantity{x: v.is.x + by, dim: v.is.dim}})
			},
		})
	}
	return list, nil
}

// describe says in which unit a value is told and whether it counts. A plain number has the unit of what it is used
// for: the only one that the model still makes sense with. Only what it was taken for is tried; with hundreds of values
// each trial of all the others would cost a reading of the file.
func (d *Document) describe(optionName, name string, def *definition, wants map[dimension]bool) Value {
	v := Value{Name: name, Made: len(def.expr.names) > 0, used: def.used, is: def.value.quantity}
	if v.is.plain() {
		var fitting []measure
		for _, m := range measures[1:] {
			if wants[m.unit.dim] && d.makesSense(optionName, Setting{name, v.is.in(m.unit.dim)}) {
				fitting = append(fitting, m)
			}
		}
		if len(fitting) == 1 {
			v.is = v.is.in(fitting[0].unit.dim)
		}
	}
	v.measure = measureOf(v.is.dim)
	v.Unit = v.measure.label
	v.At = v.shown(v.is)
	if def.sweep != nil {
		v.Sweep = &Sweep{v.shown(def.sweep[0]), v.shown(def.sweep[1])}
	}
	if v.used && v.is.plain() && v.is.x == float64(int(v.is.x)) {
		v.Whole = !d.makesSense(optionName, v.Setting(v.At+0.5)) && (d.makesSense(optionName, v.Setting(v.At+1)) ||
			d.makesSense(optionName, v.Setting(v.At-1)))
	}
	return v
}

// shown is a quantity like the value's in the unit in which that is told.
func (v Value) shown(q quantity) float64 {
	return q.in(v.is.dim).x * v.measure.unit.den / v.measure.unit.num
}

// makesSense tells whether the file can be read with a number in place of a value.
func (d *Document) makesSense(optionName string, set Setting) bool {
	_, err := d.Machine(optionName, set)
	return err == nil
}

// Range is a stretch of numbers that a value may run over.
type Range struct {
	Value
	From, To float64 // of the value's unit; From is the lesser
}

// String writes the range as [Document.Range] reads it: "thickness = 10..20 mm".
func (r Range) String() string {
	return strings.TrimSpace(fmt.Sprintf("%s = %g..%g %s", r.Name, r.From, r.To, r.Unit))
}

// RangeError is what is wrong with the text of a range; the File of its faults is that text.
type RangeError struct {
	machine.Faults
	Truth bool // the value is true or false: only an option can set it
}

// Unwrap returns the faults.
func (e *RangeError) Unwrap() error { return e.Faults }

// Range reads "value=from..to", in which the two ends are numbers or expressions as the file may have them, or "value" alone
// for the range that the file gives it. The error is a [RangeError], or Faults of the file.
func (d *Document) Range(optionName, text string) (*Range, error) {
	values, err := d.Values(optionName)
	if err != nil {
		return nil, err
	}
	fail := func(hint, format string, args ...any) (*Range, error) {
		return nil, rangeError(text, hint, format, args...)
	}
	name, ends, given := strings.Cut(text, "=")
	name = strings.TrimSpace(name)
	c, _ := d.decode(optionName) // it was decoded a moment ago
	i := slices.IndexFunc(values, func(v Value) bool { return v.Name == name })
	if i < 0 {
		wrong := notAmong(values, name, text)
		if c.scope.definitions[name] != nil {
			wrong = rangeError(text, "set it in an option", "value %s is a word, or true or false, and runs over no range",
				machine.Quote(name))
			wrong.Truth = true
		}
		return nil, wrong
	}
	r := &Range{Value: values[i]}
	switch {
	case !given && r.Sweep == nil:
		return fail("write "+name+"=from..to, or in the file what it is worth trying at: "+name+": {value: …, sweep: from..to}",
			"the file gives %s no range", name)
	case !given:
		r.From, r.To = r.Sweep.From, r.Sweep.To
		return r, nil
	case !strings.Contains(ends, betweenSign):
		return fail("write it as name=from..to, for instance gusset_leg=30..130", "there is no .. between two ends")
	}
	c.file = machine.Clip(text)
	both, ok := c.span(&source.Node{Kind: source.Scalar, Text: ends})
	if !ok {
		return nil, &RangeError{Faults: c.faults.Distinct()}
	}
	for k, end := range both {
		if end.in(r.is.dim).dim != r.is.dim {
			return fail("", "%s where %s belongs", end, r.measure.withArticle())
		}
		at := r.shown(end)
		if r.Whole && at != float64(int(at)) {
			return fail("", "value %s counts something: %g is not a whole number", name, at)
		}
		*[]*float64{&r.From, &r.To}[k] = at
	}
	if r.From > r.To {
		r.From, r.To = r.To, r.From
	}
	if r.From == r.To {
		return fail("", "the range has no width")
	}
	return r, nil
}

// rangeError says what is wrong with the text of a range.
func rangeError(text, hint, format string, args ...any) *RangeError {
	return &RangeError{Faults: machine.Faults{{File: machine.Clip(text), What: fmt.Sprintf(format, args...), Hint: hint}}}
}

// notAmong says that a range's value is none of those that there are.
func notAmong(values []Value, name, text string) *RangeError {
	var names []string
	for _, v := range values {
		names = append(names, v.Name)
	}
	hint := machine.Suggest(name, names)
	if len(names) == 0 {
		hint = "the model has no values"
	}
	return rangeError(text, hint, "value %s is not known", machine.Quote(name))
}

// Swept lists the values that the file gives a range, under an option. The error is [machine.Faults].
func (d *Document) Swept(optionName string) (names []string, err error) {
	values, err := d.Values(optionName)
	for _, v := range values {
		if v.Sweep != nil {
			names = append(names, v.Name)
		}
	}
	return names, err
}

// MachineAt gives the machine as an option makes it with values at numbers of their ranges, one each. The error is
// [machine.Faults]. It panics unless there are as many numbers as ranges.
func (d *Document) MachineAt(optionName string, ranges []*Range, at []float64) (*machine.Machine, error) {
	if len(at) != len(ranges) {
		panic(fmt.Sprintf("modelfile: %d numbers for %d ranges", len(at), len(ranges)))
	}
	set := make([]Setting, len(ranges))
	for k, r := range ranges {
		set[k] = r.Setting(at[k])
	}
	return d.Machine(optionName, set...)
}

// steps is how many of at most n places the range has: no more than there are whole numbers, for what counts.
func (r *Range) steps(n int) int {
	if r.Whole {
		return min(n, int(r.To-r.From)+1)
	}
	return n
}

// Places are at most n numbers evenly spread over the range, both ends among them; whole ones for what counts. One
// alone is From. It panics when n is below 1.
func (r *Range) Places(n int) []float64 {
	if n < 1 {
		panic(fmt.Sprintf("modelfile: %d places of a range", n))
	}
	if n = r.steps(n); n == 1 {
		return []float64{r.From}
	}
	list := make([]float64, n)
	for i := range list {
		share := float64(i) / float64(n-1)
		list[i] = r.From*(1-share) + r.To*share
		if r.Whole {
			list[i] = float64(int(r.From) + (i*int(r.To-r.From)+(n-1)/2)/(n-1))
		}
	}
	return list
}
