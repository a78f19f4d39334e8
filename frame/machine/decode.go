package machine

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
)

// decoder turns the tree of a model file into a Machine, and collects what is wrong with it. A method that finds
// something wrong reports it and returns false; the caller goes on to find the next.
type decoder struct {
	file   string
	faults Faults
	scope  *scope
	m      *Machine

	materials map[string]beam.Material // the model's own
	owned     []string                 // their names, in the order of the file

	// What the names of the model stand for: an index into the machine's lists, or leftOut.
	parts, points, grounds, loads                     map[string]int
	partNames, pointNames, groundNames, loadCaseNames []string

	// idle is set inside what an "if" leaves out: there, words must be right, but sizes may be anything, for
	// they may be the reason why it is left out.
	idle bool
}

// leftOut is the index of what is named in the model but not in the machine.
const leftOut = -1

func newDecoder(file string) *decoder {
	d := &decoder{
		file: file, m: &Machine{File: file}, materials: map[string]beam.Material{},
		parts: map[string]int{}, points: map[string]int{}, grounds: map[string]int{}, loads: map[string]int{},
	}
	d.scope = &scope{definitions: map[string]*definition{}, report: d.trouble}
	return d
}

// fault reports what is wrong whatever the values are.
func (d *decoder) fault(at Place, what, hint string) {
	d.faults = append(d.faults, Fault{File: d.file, Place: at, What: what, Hint: hint})
}

// misfit reports a value that is wrong, unless it belongs to something left out.
func (d *decoder) misfit(at Place, what, hint string) {
	if !d.idle {
		d.fault(at, what, hint)
	}
}

// trouble reports what is wrong with the expression at n.
func (d *decoder) trouble(n *node, bad *trouble) {
	at := n.place
	if n.verbatim {
		at.Col += bad.offset
	}
	if bad.numeric {
		d.misfit(at, bad.what, bad.hint)
	} else if !bad.reported {
		d.fault(at, bad.what, bad.hint)
	}
}

// isKind tells whether n is of that kind, and reports it when not.
func (d *decoder) isKind(n *node, kind nodeKind, what string) bool {
	if n.kind == kind {
		return true
	}
	d.fault(n.place, fmt.Sprintf("%s must be %s, not %s", what, kind, n.kind), "")
	return false
}

// fields is a mapping with known keys.
type fields struct {
	d    *decoder
	node *node
	what string
	keys []string
}

// fields checks that n is a mapping with no other keys than these.
func (d *decoder) fields(n *node, what string, keys ...string) (fields, bool) {
	if !d.isKind(n, mapping, what) {
		return fields{}, false
	}
	for _, p := range n.pairs {
		if !slices.Contains(keys, p.key.text) {
			d.fault(p.key.place, fmt.Sprintf("key %s is not known in %s", quote(p.key.text), what), suggest(p.key.text, keys))
		}
	}
	return fields{d, n, what, keys}, true
}

// get gives the value of a key, nil when it is not there.
func (f fields) get(key string) *node {
	if p := f.node.find(key); p != nil {
		return p.value
	}
	return nil
}

// need gives the value of a key, and reports it when it is not there.
func (f fields) need(key string) *node {
	n := f.get(key)
	if n == nil && !f.misspelt(key) {
		f.d.fault(f.node.place, fmt.Sprintf("%s has no %s", f.what, key), "")
	}
	return n
}

// oneOf gives the one of the keys that is there, and reports when there is none, or more than one.
func (f fields) oneOf(keys ...string) (string, *node) {
	var found *pair
	for i, p := range f.node.pairs {
		switch {
		case !slices.Contains(keys, p.key.text):
		case found != nil:
			f.d.fault(p.key.place, fmt.Sprintf("%s has both %s and %s", f.what, found.key.text, p.key.text), "keep one of them")
			return "", nil
		default:
			found = &f.node.pairs[i]
		}
	}
	if found == nil {
		if !f.misspelt(keys...) {
			f.d.fault(f.node.place, fmt.Sprintf("%s needs one of: %s", f.what, commaList(keys)), "")
		}
		return "", nil
	}
	return found.key.text, found.value
}

// misspelt tells whether an unknown key is probably one of these: then it has been reported, and none is missing.
func (f fields) misspelt(keys ...string) bool {
	return slices.ContainsFunc(f.node.pairs, func(p pair) bool {
		near, ok := nearestWord(p.key.text, f.keys)
		return ok && !slices.Contains(f.keys, p.key.text) && slices.Contains(keys, near)
	})
}

// only reports every known key there is that is not among keys, as having no place beside the one that decides the kind.
func (f fields) only(beside string, keys ...string) {
	for _, p := range f.node.pairs {
		if slices.Contains(f.keys, p.key.text) && !slices.Contains(keys, p.key.text) {
			f.d.fault(p.key.place, fmt.Sprintf("%s has no place beside %s", p.key.text, beside), "")
		}
	}
}

// named calls each for every entry of a mapping of names, in the order of the file. A missing or empty one has none.
func (d *decoder) named(n *node, what string, each func(name string, at Place, body *node)) {
	if n == nil || n.kind == nothing || !d.isKind(n, mapping, what) {
		return
	}
	for _, p := range n.pairs {
		each(p.key.text, p.key.place, p.value)
	}
}

// listed calls each for every entry of a list. A missing or empty one has none.
func (d *decoder) listed(n *node, what string, each func(n *node)) {
	if n == nil || n.kind == nothing || !d.isKind(n, list, what) {
		return
	}
	for _, item := range n.items {
		each(item)
	}
}

// single gives the text of n, which must be a single value.
func (d *decoder) single(n *node, what string) (string, bool) {
	if !d.isKind(n, scalar, what) {
		return "", false
	}
	return n.text, true
}

// name gives the text of n, which must be a name: one line that is not empty.
func (d *decoder) name(n *node, what string) (string, bool) {
	text, ok := d.single(n, what)
	if !ok {
		return "", false
	}
	if bad := nameTrouble(text); bad != "" {
		d.fault(n.place, fmt.Sprintf("%s %s %s", what, quote(text), bad), "")
		return "", false
	}
	return text, true
}

// word gives the text of n, which must be one of the known words.
func (d *decoder) word(n *node, what string, known []string) (string, bool) {
	text, ok := d.single(n, what)
	if !ok {
		return "", false
	}
	if !slices.Contains(known, text) {
		d.fault(n.place, fmt.Sprintf("%s %s is not known", what, quote(text)), suggest(text, known))
		return "", false
	}
	return text, true
}

// expression reads the expression at n and checks that it uses known values only.
func (d *decoder) expression(n *node) (*expression, bool) {
	if !d.isKind(n, scalar, "a number") {
		return nil, false
	}
	e, bad := parseExpression(n.text)
	if bad != nil {
		d.trouble(n, bad)
		return nil, false
	}
	ok := true
	for _, r := range e.names {
		if d.scope.definitions[r.name] == nil {
			d.trouble(n, &trouble{offset: r.offset, what: fmt.Sprintf("value %s is not known", quote(r.name)), hint: suggest(r.name, d.scope.names)})
			ok = false
		}
	}
	return e, ok
}

// value works out the expression at n.
func (d *decoder) value(n *node) (value, bool) {
	e, ok := d.expression(n)
	if !ok {
		return value{}, false
	}
	v, bad := d.scope.evaluate(e)
	if bad != nil {
		d.trouble(n, bad)
		return value{}, false
	}
	return v, true
}

// number gives the number at n in the consistent set of units.
func (d *decoder) number(n *node, m measure) (float64, bool) {
	v, ok := d.value(n)
	if !ok {
		return 0, false
	}
	if v.isTruth || !v.plain() && v.dim != m.unit.dim {
		what := v.String()
		if !v.isTruth {
			given := measureOf(v.dim)
			what = fmt.Sprintf("%s (%s)", given.withArticle(), clip(n.text))
		}
		hint := ""
		if v.dim.times(m.unit.dim, 1) == (dimension{}) && !v.isTruth {
			hint = "a unit belongs to the number right before it: 0.5 in, not 1/2 in"
		}
		d.fault(n.place, fmt.Sprintf("%s where %s belongs", what, m.withArticle()), hint)
		return 0, false
	}
	x := v.x
	if v.plain() {
		x = x * m.unit.num / m.unit.den
	}
	if !(math.Abs(x) <= m.most) {
		hint := ""
		switch {
		case m.label == "":
		case v.plain():
			hint = fmt.Sprintf("a plain number is in %s here", m.label)
		default:
			hint = fmt.Sprintf("did you mean %s?", m.label)
		}
		d.misfit(n.place, fmt.Sprintf("%s of %s is beyond belief: at most %s", m.withArticle(), m.show(x), m.show(m.most)), hint)
		return 0, false
	}
	return x + 0, true // + 0 turns −0 into 0
}

// positive gives the number at n, which must be above zero; what says of what, "the wall".
func (d *decoder) positive(n *node, m measure, what string) (float64, bool) {
	x, ok := d.number(n, m)
	if !ok {
		return 0, false
	}
	if x < m.least {
		text := fmt.Sprintf("%s must be positive, not %s", what, m.show(x))
		if x > 0 {
			text = fmt.Sprintf("%s is too small: %s, at least %s", what, m.show(x), m.show(m.least))
		}
		d.misfit(n.place, text, "")
		return 0, false
	}
	return x, true
}

// count gives the number at n, which must be a whole one from 1 to most.
func (d *decoder) count(n *node, what string, most int) (int, bool) {
	x, ok := d.number(n, aNumber)
	if !ok {
		return 0, false
	}
	if x != math.Round(x) || x < 1 || x > float64(most) {
		d.misfit(n.place, fmt.Sprintf("%s must be a whole number from 1 to %d, not %g", what, most, x), "")
		return 0, false
	}
	return int(x), true
}

// truth gives the condition at n.
func (d *decoder) truth(n *node) (bool, bool) {
	v, ok := d.value(n)
	if !ok {
		return false, false
	}
	if !v.isTruth {
		d.fault(n.place, fmt.Sprintf("%s where true or false belongs", v.quantity), "")
		return false, false
	}
	return v.truth, true
}

// isTrue reports a way that is chosen by "key: true" when it is said to be anything else.
func (d *decoder) isTrue(n *node, key string) {
	if t, ok := d.truth(n); ok && !t {
		d.misfit(n.place, fmt.Sprintf("%s: false says nothing", key), "leave it out, or write true")
	}
}

// included tells whether the condition at n, if there is one, holds. One that cannot be read counts as true.
func (d *decoder) included(n *node) bool {
	if n == nil {
		return true
	}
	t, ok := d.truth(n)
	return t || !ok
}

// inside runs decode on something; when that is absent, its sizes are left unchecked.
func (d *decoder) inside(something presence, decode func()) {
	outer := d.idle
	d.idle = d.idle || something == absent
	decode()
	d.idle = outer
}

// presence tells whether something is in the machine.
type presence int

const (
	absent presence = iota
	present
)

func presenceIf(t bool) presence {
	if t {
		return present
	}
	return absent
}

// numbers gives the numbers of the list at n, which must be as many as names.
func (d *decoder) numbers(n *node, m measure, what string, names ...string) ([]float64, bool) {
	if n.kind != list || len(n.items) != len(names) {
		d.fault(n.place, fmt.Sprintf("%s must be a list [%s]", what, commaList(names)), "")
		return nil, false
	}
	xs, all := make([]float64, len(names)), true
	for i, item := range n.items {
		x, ok := d.number(item, m)
		xs[i], all = x, all && ok
	}
	return xs, all
}

// vector gives the three numbers at n.
func (d *decoder) vector(n *node, m measure, what string) (r3.Vec, bool) {
	x, ok := d.numbers(n, m, what, "x", "y", "z")
	if !ok {
		return r3.Vec{}, false
	}
	return r3.Vec{X: x[0], Y: x[1], Z: x[2]}, true
}

// direction gives the vector at n made one long; its length is of no account, but must not be zero.
func (d *decoder) direction(n *node, what string) (r3.Vec, bool) {
	v, ok := d.vector(n, aNumber, what)
	if !ok {
		return r3.Vec{}, false
	}
	if r3.Norm(v) < aNumber.least {
		d.misfit(n.place, fmt.Sprintf("%s is zero, and points nowhere", what), "")
		return r3.Vec{}, false
	}
	return r3.Unit(v), true
}

// places gives a list of places on a face.
func (d *decoder) places(n *node, what string) ([][2]float64, bool) {
	if !d.isKind(n, list, what) {
		return nil, false
	}
	if len(n.items) == 0 || len(n.items) > mostPlaces {
		d.fault(n.place, fmt.Sprintf("%s must be from 1 to %d places, not %d", what, mostPlaces, len(n.items)), "")
		return nil, false
	}
	places, all := make([][2]float64, 0, len(n.items)), true
	for _, item := range n.items {
		x, ok := d.numbers(item, aLength, "a place on a face", "a", "b")
		if !ok {
			all = false
			continue
		}
		at := [2]float64{x[0], x[1]}
		if slices.Contains(places, at) {
			d.misfit(item.place, fmt.Sprintf("place [%g, %g] stands here a second time", at[0], at[1]), "")
			all = false
		}
		places = append(places, at)
	}
	return places, all
}

// mostPlaces bounds screws in a joint and feet under a part.
const mostPlaces = 1000

// freedoms reads a mapping from freedoms to sizes, translations as move and rotations as turn.
func (d *decoder) freedoms(n *node, what string, move, turn measure) (sizes [6]float64, ok bool) {
	f, ok := d.fields(n, what, freedomNames[:]...)
	if !ok {
		return sizes, false
	}
	if len(n.pairs) == 0 {
		d.fault(n.place, fmt.Sprintf("%s is empty", what), "one of: "+commaList(freedomNames[:]))
		return sizes, false
	}
	all := true
	for i, name := range freedomNames {
		value := f.get(name)
		if value == nil {
			continue
		}
		m := move
		if Freedom(i) >= TurnX {
			m = turn
		}
		x, ok := d.number(value, m)
		sizes[i], all = x, all && ok
	}
	return sizes, all
}

// stiffnesses reads a mapping from freedoms to stiffnesses, all above zero.
func (d *decoder) stiffnesses(n *node, what string) ([6]float64, bool) {
	k, ok := d.freedoms(n, what, aStiffness, aTurning)
	if !ok {
		return k, false
	}
	for i, name := range freedomNames {
		if p := n.find(name); p != nil && k[i] < aStiffness.least {
			d.misfit(p.value.place, fmt.Sprintf("stiffness %s must be positive, not %s", name, clip(p.value.text)), "")
			ok = false
		}
	}
	return k, ok
}

// freedomList reads a list of freedoms.
func (d *decoder) freedomList(n *node, what string) (set [6]bool, ok bool) {
	if !d.isKind(n, list, what) {
		return set, false
	}
	if len(n.items) == 0 {
		d.fault(n.place, fmt.Sprintf("%s is empty", what), "some of: "+commaList(freedomNames[:]))
		return set, false
	}
	all := true
	for _, item := range n.items {
		word, ok := d.word(item, "freedom", freedomNames[:])
		if !ok {
			all = false
			continue
		}
		i := slices.Index(freedomNames[:], word)
		if set[i] {
			d.fault(item.place, fmt.Sprintf("freedom %s stands here a second time", word), "")
		}
		set[i] = true
	}
	return set, all
}

// reference gives the index of a name of the model: leftOut when it is not in the machine.
func (d *decoder) reference(n *node, what string, index map[string]int, names []string) (int, bool) {
	if n.kind == scalar && len(names) == 0 {
		d.fault(n.place, fmt.Sprintf("%s %s is not known", what, quote(n.text)), "the model names none")
		return leftOut, false
	}
	word, ok := d.word(n, what, names)
	if !ok {
		return leftOut, false
	}
	return index[word], true
}

// part gives the index of the part named at n.
func (d *decoder) part(n *node) (int, bool) {
	return d.reference(n, "part", d.parts, d.partNames)
}

// component gives one of the three components of a vector.
func component(v r3.Vec, a Axis) float64 { return [...]float64{v.X, v.Y, v.Z}[a] }

// commaList puts words in a row.
func commaList(words []string) string { return strings.Join(words, ", ") }
