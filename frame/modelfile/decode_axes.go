package modelfile

import (
	"fmt"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// axisKeys are the keys of an axis.
var axisKeys = Mapping{
	Name: "axis",
	About: "What moves. Commands put axes elsewhere than drawn: the same as drawing the machine there. Parts that run " +
		"into each other anywhere in the work space are an error.",
	Keys: []Key{
		{Name: "if", Takes: truth, Default: "true",
			About: "false leaves the axis out, with the paths that it runs; it goes with all it carries"},
		{Name: "along", Takes: oneWord("", axisNames...), About: "its direction"},
		{Name: "carries", Takes: listOf(nameOf("part")),
			About: "parts that move; what is joined to them, and what axes on them carry, goes along"},
		{Name: "travel", Takes: rowOf(sized(aLength), "from", "to"), About: "the two ends of its travel"},
		{Name: "at", Takes: sized(aLength), Default: "0", About: "the position as drawn"},
		{Name: "rapid", Takes: sized(aSpeed), Default: "not said",
			About: "its fastest move, for the whirling of its screw and life in hours"},
		{Name: "guides", Takes: listOf(keysOf(&guideKeys)), About: "rails with carriages, or slides"},
		{Name: "drive", Takes: either(keysOf(&driveKeys), listOf(keysOf(&driveKeys))),
			About: "what holds it along its travel: one, or several"},
	},
}

// decodeAxes reads the machine's axes; parts, joints and grounds must have been read.
func (d *decoder) decodeAxes(n *source.Node) {
	d.axes = map[string]int{}
	d.named(n, "axes", func(name string, at machine.FilePos, body *source.Node) {
		d.axisKeys = append(d.axisKeys, name)
		d.axes[name] = leftOut
		f, ok := d.fields(body, &axisKeys, name)
		if !ok {
			return
		}
		a := machine.FeedAxis{Name: name, Pos: at}
		included := d.included(f.get("if"))
		said := len(d.faults)
		if n := f.need("carries"); n != nil {
			a.Carries = d.carries(n, f.what)
		}
		included = included && (len(a.Carries) > 0 || len(d.faults) > said)
		d.inside(presenceIf(included), func() { d.fillAxis(&a, f, at) })
		if !included {
			return
		}
		d.axes[name] = len(d.m.Axes)
		d.m.Axes = append(d.m.Axes, a)
	})
}

// carries reads what an axis carries; parts that are left out are left out here, too.
func (d *decoder) carries(n *source.Node, what string) (parts []int) {
	if n.Kind == source.Nothing || n.Kind == source.List && len(n.Items) == 0 {
		d.fault(n.Pos, what+" carries nothing", "name the part that moves; parts joined to it move along")
		return nil
	}
	seen := map[string]bool{}
	d.listed(n, "carries", func(n *source.Node) {
		part, ok := d.part(n)
		switch {
		case !ok:
		case seen[n.Text]:
			d.fault(n.Pos, fmt.Sprintf("part %s stands here a second time", machine.Quote(n.Text)), "")
		case part != leftOut:
			parts = append(parts, part)
		}
		seen[n.Text] = true
	})
	return parts
}

func (d *decoder) fillAxis(a *machine.FeedAxis, f fields, at machine.FilePos) {
	if n := f.need("along"); n != nil {
		if word, ok := d.word(n, "axis", axisNames); ok {
			a.Along = machine.Axis(slices.Index(axisNames, word))
		}
	}
	if n := f.get("at"); n != nil {
		a.At, _ = d.number(n, aLength)
	}
	if n := f.need("travel"); n != nil {
		d.axisTravel(a, n, f.get("at"))
	}
	if n := f.get("rapid"); n != nil {
		a.Rapid, _ = d.positive(n, aSpeed, "rapid")
	}
	if n := f.need("guides"); n != nil {
		d.guides(a, n, f.what)
	}
	n := f.get("drive")
	if n == nil && !f.misspelt("drive") {
		d.fault(at, fmt.Sprintf("%s has no drive: it is loose along %s", f.what, a.Along),
			"give it one, drive: {screw: …}, belt, rack or stiffness: 30 N/um")
	}
	if n != nil {
		d.drives(a, n)
	}
}

// axisTravel reads the positions at the two ends; where the axis is drawn must lie between them.
func (d *decoder) axisTravel(a *machine.FeedAxis, n, at *source.Node) {
	x, ok := d.numbers(n, aLength, "travel", "from", "to")
	if !ok {
		return
	}
	a.Travel = [2]float64{x[0], x[1]}
	if !machine.GoesSomewhere(x[0], x[1]) {
		d.misfit(n.Pos, fmt.Sprintf("travel goes nowhere: from %g to %g mm", x[0], x[1]), "write [least, greatest]")
		return
	}
	if a.At >= x[0] && a.At <= x[1] {
		return
	}
	pos, hint := n.Pos, "say where it is drawn with at: …"
	if at != nil {
		pos, hint = at.Pos, "it must be drawn within its travel"
	}
	d.misfit(pos, fmt.Sprintf("axis %s is drawn at %g mm, beyond its travel from %g to %g mm", machine.Quote(a.Name),
		a.At, x[0], x[1]), hint)
}

// decodePositions reads named positions; the axes must have been read.
func (d *decoder) decodePositions(n *source.Node) {
	d.named(n, "positions", func(name string, _ machine.FilePos, body *source.Node) {
		what := "position " + machine.Quote(name)
		if !d.isKind(body, source.Mapping, what) {
			return
		}
		p := machine.Position{Name: name, At: map[string]float64{}}
		for _, entry := range body.Pairs {
			i, ok := d.reference(&source.Node{Pos: entry.Key.Pos, Kind: source.Scalar, Text: entry.Key.Text}, "axis", d.axes, d.axisKeys)
			if !ok || i == leftOut {
				continue
			}
			at, ok := d.number(entry.Value, aLength)
			if f := d.m.Axes[i].Beyond(d.file, at); ok && f != nil {
				d.misfit(entry.Value.Pos, f.What, f.Hint)
			}
			p.At[entry.Key.Text] = at
		}
		d.m.Positions = append(d.m.Positions, p)
	})
}

// line reads the two ends of a rail, a screw or a belt, which must run along the axis.
func (d *decoder) line(f fields, a *machine.FeedAxis, what string) (from, to r3.Vec, ok bool) {
	start, end := f.need("from"), f.need("to")
	if start == nil || end == nil {
		return from, to, false
	}
	from, fromOK := d.vector(start, aLength, "from")
	to, toOK := d.vector(end, aLength, "to")
	if !fromOK || !toOK {
		return from, to, false
	}
	p, q := a.Along.Others()
	run := r3.Sub(to, from)
	for _, k := range []machine.Axis{p, q} {
		if c := machine.Component(run, k); c > machine.Touching || c < -machine.Touching {
			d.misfit(end.Pos, fmt.Sprintf("the %s of axis %s must run along %s, and its ends differ by %s along %s", what,
				machine.Quote(a.Name), a.Along, machine.MM(max(c, -c)), k), "")
			return from, to, false
		}
	}
	if l := machine.Component(run, a.Along); l < aLength.least && l > -aLength.least {
		d.misfit(end.Pos, fmt.Sprintf("the %s of axis %s has no length", what, machine.Quote(a.Name)), "")
		return from, to, false
	}
	return from, to, true
}

// aSpeed is a speed.
var aSpeed = measure{"speed", "mm/s", unit{dimension{1, 0, -1}, 1, 1}, 1e-6, 1e5}
