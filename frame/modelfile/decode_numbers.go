package modelfile

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// expression reads the expression at n and checks that it uses known values only.
func (d *decoder) expression(n *source.Node) (*expression, bool) {
	if !d.isKind(n, source.Scalar, "a number") {
		return nil, false
	}
	e, bad := parseExpression(n.Text)
	if bad != nil {
		d.trouble(n, bad)
		return nil, false
	}
	ok := true
	for _, r := range e.names {
		if d.scope.definitions[r.name] == nil {
			d.trouble(n, &trouble{offset: r.offset, what: fmt.Sprintf("value %s is not known", machine.Quote(r.name)),
				hint: machine.Suggest(r.name, d.scope.names)})
			ok = false
		}
	}
	return e, ok
}

// value works out the expression at n.
func (d *decoder) value(n *source.Node) (value, bool) {
	v, _, ok := d.valueOf(n)
	return v, ok
}

// valueOf is value with the expression.
func (d *decoder) valueOf(n *source.Node) (value, *expression, bool) {
	e, ok := d.expression(n)
	if !ok {
		return value{}, nil, false
	}
	d.scope.use(e)
	v, bad := d.scope.evaluate(e)
	if bad != nil {
		d.trouble(n, bad)
		return value{}, nil, false
	}
	return v, e, true
}

// number gives the number at n in the consistent set of units.
func (d *decoder) number(n *source.Node, m measure) (float64, bool) { return d.numberNot(n, m, nil) }

// numberNot is number with what to do about a quantity of another dimension that is likely to be mistaken for it.
func (d *decoder) numberNot(n *source.Node, m measure, mistaken map[dimension]string) (float64, bool) {
	if d.noRange(n, m) {
		return 0, false
	}
	v, e, ok := d.valueOf(n)
	if !ok {
		return 0, false
	}
	if v.plain() && !v.isTruth {
		d.scope.want(e, m.unit.dim)
	}
	if v.isTruth || v.ratio && v.dim != m.unit.dim || !v.plain() && v.dim != m.unit.dim {
		what := v.String()
		if !v.isTruth && !v.plain() {
			given := measureOf(v.dim)
			what = fmt.Sprintf("%s (%s)", given.withArticle(), machine.Clip(n.Text))
		}
		hint := mistaken[v.dim]
		switch {
		case v.ratio:
			hint = fmt.Sprintf("its units cancel; write * 1 %s if it is one", m.label)
		case v.dim.times(m.unit.dim, 1) == (dimension{}) && !v.isTruth:
			hint = "a unit belongs to the number right before it: 0.5 in, not 1/2 in"
		}
		d.fault(n.Pos, fmt.Sprintf("%s where %s belongs", what, m.withArticle()), hint)
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
		d.misfit(n.Pos, fmt.Sprintf("%s of %s is beyond belief: at most %s", m.withArticle(), m.show(x), m.show(m.most)),
			hint)
		return 0, false
	}
	if m.name == aStiffness.name && v.plain() && 0 < x && x < leastUnitless {
		d.misfit(n.Pos, fmt.Sprintf("stiffness of %s is %.4g N/um, softer than any support or bearing", m.show(x), x/1000),
			fmt.Sprintf("a plain number is in %s; write %s N/um, or %s %s if that is meant", m.label, n.Text, n.Text, m.label))
		return 0, false
	}
	return x + 0, true // + 0 turns −0 into 0
}

// leastUnitless is the softest stiffness, N/mm, that is believed without its unit: 1 N/um, which a builder who leaves
// the unit out nearly always means. Common practice, no source.
const leastUnitless = 1000

// positive gives the number at n, which must be above zero; what says of what, "the wall".
func (d *decoder) positive(n *source.Node, m measure, what string) (float64, bool) {
	x, ok := d.number(n, m)
	if !ok {
		return 0, false
	}
	if x < m.least {
		text := fmt.Sprintf("%s must be positive, not %s", what, m.show(x))
		if x > 0 {
			text = fmt.Sprintf("%s is too small: %s, at least %s", what, m.show(x), m.show(m.least))
		}
		d.misfit(n.Pos, text, "")
		return 0, false
	}
	return x, true
}

// count gives the number at n, which must be a whole one from 1 to most.
func (d *decoder) count(n *source.Node, what string, most int) (int, bool) {
	x, ok := d.number(n, aNumber)
	if !ok {
		return 0, false
	}
	if x != math.Round(x) || x < 1 || x > float64(most) {
		d.misfit(n.Pos, fmt.Sprintf("%s must be a whole number from 1 to %d, not %g", what, most, x), "")
		return 0, false
	}
	return int(x), true
}

// truth gives the condition at n.
func (d *decoder) truth(n *source.Node) (bool, bool) {
	v, ok := d.value(n)
	if !ok {
		return false, false
	}
	if !v.isTruth {
		d.fault(n.Pos, fmt.Sprintf("%s where true or false belongs", v), "")
		return false, false
	}
	return v.truth, true
}

// isTrue reports a way that is chosen by "key: true" when it is said to be anything else.
func (d *decoder) isTrue(n *source.Node, key string) {
	if t, ok := d.truth(n); ok && !t {
		d.misfit(n.Pos, fmt.Sprintf("%s: false says nothing", key), "leave it out, or write true")
	}
}

// numbers gives the numbers of the list at n, which must be as many as names.
func (d *decoder) numbers(n *source.Node, m measure, what string, names ...string) ([]float64, bool) {
	if n.Kind != source.List || len(n.Items) != len(names) {
		d.fault(n.Pos, fmt.Sprintf("%s must be a list [%s]", what, strings.Join(names, ", ")), "")
		return nil, false
	}
	xs, all := make([]float64, len(names)), true
	for i, item := range n.Items {
		x, ok := d.number(item, m)
		xs[i], all = x, all && ok
	}
	return xs, all
}

// vector gives the three numbers at n.
func (d *decoder) vector(n *source.Node, m measure, what string) (r3.Vec, bool) {
	x, ok := d.numbers(n, m, what, "x", "y", "z")
	if !ok {
		return r3.Vec{}, false
	}
	return r3.Vec{X: x[0], Y: x[1], Z: x[2]}, true
}

// direction gives the vector at n made one long; its length is of no account, but must not be zero.
func (d *decoder) direction(n *source.Node, what string) (r3.Vec, bool) {
	v, ok := d.vector(n, aNumber, what)
	if !ok {
		return r3.Vec{}, false
	}
	if r3.Norm(v) < aNumber.least {
		d.misfit(n.Pos, fmt.Sprintf("%s is zero, and points nowhere", what), "")
		return r3.Vec{}, false
	}
	return r3.Unit(v), true
}

// places gives a list of places on a face.
func (d *decoder) places(n *source.Node, what string) ([][2]float64, bool) {
	if !d.isKind(n, source.List, what) {
		return nil, false
	}
	if len(n.Items) == 0 || len(n.Items) > mostPlaces {
		d.fault(n.Pos, fmt.Sprintf("%s must be from 1 to %d places, not %d", what, mostPlaces, len(n.Items)), "")
		return nil, false
	}
	places, all := make([][2]float64, 0, len(n.Items)), true
	for _, item := range n.Items {
		x, ok := d.numbers(item, aLength, "a place on a face", "a", "b")
		if !ok {
			all = false
			continue
		}
		at := [2]float64{x[0], x[1]}
		if slices.Contains(places, at) {
			d.misfit(item.Pos, fmt.Sprintf("place [%g, %g] stands here a second time", at[0], at[1]), "")
			all = false
		}
		places = append(places, at)
	}
	return places, all
}

// mostPlaces bounds screws in a joint and feet under a part.
const mostPlaces = 1000

// freedomKeys describes a mapping from freedoms to sizes, translations of one type and rotations of another, behind other
// keys.
func freedomKeys(name, about string, move, turn Type, otherwise string, before ...Key) Mapping {
	m := Mapping{Name: name, About: about, Keys: before}
	for i, freedom := range machine.FreedomNames {
		k := Key{Name: freedom, Takes: move, Default: otherwise, About: "along " + freedom}
		if machine.Freedom(i) >= machine.TurnX {
			k.Takes, k.About = turn, "about "+freedom[1:]
		}
		m.Keys = append(m.Keys, k)
	}
	return m
}

// freedoms reads a mapping from freedoms to sizes, translations as move and rotations as turn.
func (d *decoder) freedoms(n *source.Node, of *Mapping, move, turn measure) (sizes [6]float64, ok bool) {
	f, ok := d.fields(n, of)
	if !ok {
		return sizes, false
	}
	if len(n.Pairs) == 0 {
		d.fault(n.Pos, fmt.Sprintf("%s is empty", of.Name), "one of: "+strings.Join(machine.FreedomNames[:], ", "))
		return sizes, false
	}
	all := true
	for i, name := range machine.FreedomNames {
		value := f.get(name)
		if value == nil {
			continue
		}
		m := move
		if machine.Freedom(i) >= machine.TurnX {
			m = turn
		}
		x, ok := d.number(value, m)
		sizes[i], all = x, all && ok
	}
	return sizes, all
}

// stiffnesses reads those against freedoms of a mapping, all above zero, and adds to a list how far they may be off.
func (d *decoder) stiffnesses(unsure *[]machine.Unsure, f fields) (k [6]float64) {
	for i, name := range machine.FreedomNames {
		if n := f.get(name); n != nil {
			k[i], _ = d.unsure(unsure, n, stiffnessOf(machine.Freedom(i)), "stiffness "+name, name)
		}
	}
	return k
}

// freedomList reads a list of freedoms.
func (d *decoder) freedomList(n *source.Node, what string) (set [6]bool, ok bool) {
	if !d.isKind(n, source.List, what) {
		return set, false
	}
	if len(n.Items) == 0 {
		d.fault(n.Pos, fmt.Sprintf("%s is empty", what), "some of: "+strings.Join(machine.FreedomNames[:], ", "))
		return set, false
	}
	all := true
	for _, item := range n.Items {
		word, ok := d.word(item, "freedom", machine.FreedomNames[:])
		if !ok {
			all = false
			continue
		}
		i := slices.Index(machine.FreedomNames[:], word)
		if set[i] {
			d.fault(item.Pos, fmt.Sprintf("freedom %s stands here a second time", word), "")
		}
		set[i] = true
	}
	return set, all
}
