package modelfile

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// A value may say what it is worth trying at: {value: 280 mm, sweep: 200..400 mm}. Sliders and sweeps run over that. It
// says nothing of how sure the number is, as the range of a stiffness does: it never changes an answer.

// sweptKeys are the keys of a value in its long form.
var sweptKeys = Mapping{
	Name: "value", About: "A number with what it is worth trying at.",
	Keys: []Key{
		{Name: "value", Takes: anyNumber, About: "the number; an option may set another"},
		{Name: "sweep", Takes: span, About: "from where to where it is tried: sliders and tiploop sweep run over that. " +
			"It says nothing of how sure the number is"},
	},
}

// mostTried bounds a sweep of what has no bound of its own, so that its width is finite.
const mostTried = math.MaxFloat64 / 4

// sweepSlack is the part of a sweep's ends by which a number may lie beyond them: what units and the fifteen digits of a
// slider leave of an end.
const sweepSlack = 1e-12

const sweepForm = "write both ends, the lesser first: sweep: 200..400 mm"

// swept takes a value in its long form apart; what is wrong with it has been reported when the number is nil.
func (d *decoder) swept(name string, n *source.Node) (number, sweep *source.Node) {
	f, ok := d.fields(n, &sweptKeys, name)
	if !ok {
		return nil, nil
	}
	number, sweep = f.need("value"), f.need("sweep")
	if number == nil || !d.isKind(number, source.Scalar, "the number of "+name) {
		return nil, nil
	}
	return number, sweep
}

// decodeSweeps checks what values are worth trying at, once all of the file is read: a plain number has the unit of what
// it was used for.
func (d *decoder) decodeSweeps() {
	for _, name := range d.scope.names {
		if def := d.scope.definitions[name]; def.sweepNode != nil {
			d.decodeSweep(name, def)
		}
	}
}

func (d *decoder) decodeSweep(name string, def *definition) {
	n := def.sweepNode
	if def.word != "" || def.state == done && def.value.isTruth {
		d.fault(n.Pos, fmt.Sprintf("%s is %s, and is tried at no range of numbers", name, def.inWords()),
			"leave sweep out; an option can set another")
		return
	}
	ends, ok := d.span(n)
	if !ok || def.state != done {
		return
	}
	m := measureOf(d.dimensionOf(name, def))
	at := def.value.in(m.unit.dim)
	for i := range ends {
		end := ends[i].in(m.unit.dim)
		if end.dim != m.unit.dim {
			d.fault(n.Pos, fmt.Sprintf("%s where %s belongs", end, m.withArticle()), fmt.Sprintf("%s is %s", name, at))
			return
		}
		if most := cmp.Or(m.most, mostTried); math.Abs(end.x) > most {
			d.fault(n.Pos, fmt.Sprintf("%s of %s is beyond belief: at most %s", m.withArticle(), m.show(end.x), m.show(most)), "")
			return
		}
		ends[i] = end
	}
	from, to := ends[0].x, ends[1].x
	slack := sweepSlack * max(math.Abs(from), math.Abs(to))
	switch {
	case from > to:
		d.fault(n.Pos, fmt.Sprintf("the sweep of %s runs backwards: from %s to %s", name, m.show(from), m.show(to)), sweepForm)
	case from == to:
		d.fault(n.Pos, fmt.Sprintf("the sweep of %s has no width: %s", name, m.show(from)), sweepForm)
	case at.x < from-slack || at.x > to+slack:
		d.fault(def.node.Pos, fmt.Sprintf("%s is %s, outside its sweep from %s to %s", name, m.show(at.x), m.show(from), m.show(to)),
			"make the sweep wider")
	default:
		def.sweep = &ends
	}
}

// inWords says what a value is that is no number.
func (d *definition) inWords() string {
	if d.word != "" {
		return "the word " + machine.Quote(d.word)
	}
	return "true or false"
}

// dimensionOf is that of a value, of a plain number that of the one thing it was used for.
func (d *decoder) dimensionOf(name string, def *definition) dimension {
	if wants := d.scope.wants[name]; def.value.plain() && !def.value.ratio && len(wants) == 1 {
		for dim := range wants {
			return dim
		}
	}
	return def.value.dim
}

// span reads "from..to", two numbers or expressions; the first has the unit of the second where it is a number without
// one. What is read there counts as no use of a value.
func (d *decoder) span(n *source.Node) (ends [2]quantity, ok bool) {
	if !d.isKind(n, source.Scalar, "a range") {
		return ends, false
	}
	left, right, ok := strings.Cut(n.Text, betweenSign)
	if !ok {
		d.fault(n.Pos, fmt.Sprintf("there is no .. between two ends in %s", machine.Quote(n.Text)), sweepForm)
		return ends, false
	}
	from, to := n.Part(0, left), n.Part(len(left)+len(betweenSign), right)
	lendUnit(from, to)
	for i, end := range []*source.Node{from, to} {
		e, read := d.expression(end)
		if !read {
			return ends, false
		}
		v, bad := d.scope.evaluate(e)
		switch {
		case bad != nil:
			d.trouble(end, bad)
			return ends, false
		case v.isTruth:
			d.fault(end.Pos, fmt.Sprintf("%s where a number belongs", v), "")
			return ends, false
		}
		ends[i] = v.quantity
	}
	return ends, true
}

// lendUnit gives a number without a unit that of the other end of its range.
func lendUnit(from, to *source.Node) {
	if unit, is := unitOf(from); is && unit == "" {
		unit, _ = unitOf(to)
		from.Text += " " + unit
	}
}
