package modelfile

import (
	"fmt"
	"slices"

	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// pathKeys are the keys of a path.
var pathKeys = Mapping{
	Name: "travel",
	About: "A path along which the tip is followed. At each position of an axis the machine is the one that would be " +
		"drawn there, with the guides, the bearings and the length of screw or belt that it has there. A path goes " +
		"with its axes.",
	Keys: []Key{
		{Name: "along", Takes: oneWord("", axisNames...), About: "the work spot goes along x, y or z; the machine stands"},
		{Name: "axis", Takes: nameOf("axis"), About: "the axis that runs"},
		{Name: "axes", Takes: rowOf(nameOf("axis"), "first", "second"), About: "two axes that span a plane"},
		{Name: "from", Takes: sized(aLength), Default: "the axis's end of travel; along x, y or z it must be given",
			With: []string{"along", "axis"}, About: "where the path begins"},
		{Name: "to", Takes: sized(aLength), Default: "the axis's end of travel; along x, y or z it must be given",
			With: []string{"along", "axis"}, About: "where it ends"},
		{Name: "tolerance", Takes: sized(aTolerance), Default: "none", About: "how far the tip may move"},
		{Name: "loads", Takes: listOf(nameOf("load")), Default: "all that act on the tip",
			About: "under which it is followed"},
	},
	Choices: [][]string{{"along", "axis", "axes"}},
}

var axisNames = []string{"x", "y", "z"}

// decodeTravel reads the paths of the work spot and of the axes; axes, tool, work and loads must have been read.
func (d *decoder) decodeTravel(n *source.Node) {
	d.named(n, "travel", func(name string, at machine.FilePos, body *source.Node) {
		f, ok := d.fields(body, &pathKeys, name)
		if !ok {
			return
		}
		way, n := f.choose("along")
		if d.m.Work == nil {
			d.fault(at, f.what+" has no work to move", "say where the tool and the work are: tool: …, work: …")
		}
		p := machine.Path{Name: name, Pos: at}
		included := true
		switch way {
		case "along":
			if word, ok := d.word(n, "axis", axisNames); ok {
				p.Along = machine.Axis(slices.Index(axisNames, word))
			}
		case "axis":
			p.Axes, included = d.pathAxes(n)
		case "axes":
			p.Axes, included = d.planeAxes(n, f.what)
			f.only("axes, which run through all their travel")
		}
		d.inside(presenceIf(included), func() { d.fillPath(&p, f, way) })
		if included {
			d.m.Travel = append(d.m.Travel, p)
		}
	})
}

// fillPath reads how far a path goes, its tolerance and its loads.
func (d *decoder) fillPath(p *machine.Path, f fields, way string) {
	switch way {
	case "along":
		d.stretch(p, f)
	case "axis":
		d.axisStretch(p, f)
	}
	if n := f.get("tolerance"); n != nil {
		p.Tolerance, _ = d.positive(n, aTolerance, "tolerance")
	}
	p.Loads = d.pathLoads(f, p, way)
}

// pathAxes reads the name of an axis or a list of names. An axis that is left out leaves its path out, and so does one
// that is not known, after it was reported.
func (d *decoder) pathAxes(names ...*source.Node) (axes []int, included bool) {
	included = true
	for _, n := range names {
		i, ok := d.reference(n, "axis", d.axes, d.axisKeys)
		included = included && ok && i != leftOut
		axes = append(axes, i)
	}
	return axes, included
}

// planeAxes reads the two axes that span a plane.
func (d *decoder) planeAxes(n *source.Node, what string) (axes []int, included bool) {
	if !d.isKind(n, source.List, "axes") {
		return nil, false
	}
	axes, included = d.pathAxes(n.Items...)
	switch {
	case len(n.Items) == 1:
		d.fault(n.Pos, what+" names one axis, and two span a plane", fmt.Sprintf("for a path along one axis write axis: %s",
			n.Items[0].Text))
		return nil, false
	case len(n.Items) != 2:
		d.fault(n.Pos, fmt.Sprintf("%s names %d axes, and two span a plane", what, len(n.Items)),
			"write axes: [first, second]")
		return nil, false
	case n.Items[0].Kind == source.Scalar && n.Items[0].Text == n.Items[1].Text:
		d.fault(n.Items[1].Pos, fmt.Sprintf("axis %s stands here a second time", machine.Quote(n.Items[1].Text)),
			"two different axes span a plane")
		return nil, false
	}
	return axes, included
}

// stretch reads where a path of the work spot begins and ends.
func (d *decoder) stretch(p *machine.Path, f fields) {
	from, to := f.need("from"), f.need("to")
	if from == nil || to == nil {
		return
	}
	var fromOK, toOK bool
	p.From, fromOK = d.number(from, aLength)
	p.To, toOK = d.number(to, aLength)
	if fromOK && toOK {
		d.goesSomewhere(p, f, to)
	}
}

// axisStretch reads between which positions an axis runs: those of its travel, unless the path says otherwise.
func (d *decoder) axisStretch(p *machine.Path, f fields) {
	if p.Axes == nil || p.Axes[0] == leftOut {
		return
	}
	a := &d.m.Axes[p.Axes[0]]
	if f.get("from") == nil && f.get("to") == nil {
		return // all its travel
	}
	p.From, p.To = a.Travel[0], a.Travel[1]
	said := len(d.faults)
	var last *source.Node
	for i, end := range []*float64{&p.From, &p.To} {
		n := f.get([...]string{"from", "to"}[i])
		if n == nil {
			continue
		}
		at, ok := d.number(n, aLength)
		if bad := a.Beyond(d.file, at); ok && bad != nil {
			d.misfit(n.Pos, bad.What, bad.Hint)
		}
		*end, last = at, n
	}
	if last != nil && len(d.faults) == said {
		d.goesSomewhere(p, f, last)
	}
}

// goesSomewhere reports a path that ends where it begins, or before; n is where the file says so.
func (d *decoder) goesSomewhere(p *machine.Path, f fields, n *source.Node) {
	if !machine.GoesSomewhere(p.From, p.To) {
		d.misfit(n.Pos, fmt.Sprintf("%s goes nowhere: from %g to %g mm", f.what, p.From, p.To), "from must be less than to")
	}
}

// pathLoads gives the loads under which a path is followed: those it names, or all that act on the tip. A path of axes
// is followed under any load.
func (d *decoder) pathLoads(f fields, p *machine.Path, way string) (loads []int) {
	ofAxes := way == "axis" || way == "axes"
	n := f.get("loads")
	if n == nil {
		switch loads = d.m.FollowedUnder(p); {
		case len(loads) > 0:
		case ofAxes:
			d.fault(p.Pos, f.what+" has no load to be followed under", noLoad)
		default:
			d.fault(p.Pos, f.what+" has no load on the tip", noLoad)
		}
		return loads
	}
	d.listed(n, "loads", func(n *source.Node) {
		i, ok := d.reference(n, "load", d.loads, d.loadCaseNames)
		switch {
		case !ok || i == leftOut:
		case !ofAxes && !d.m.Loads[i].OnTip():
			d.fault(n.Pos, fmt.Sprintf("load %s does not act on the tip", machine.Quote(n.Text)), "")
		case slices.Contains(loads, i):
			d.fault(n.Pos, fmt.Sprintf("load %s stands here a second time", machine.Quote(n.Text)), "")
		default:
			loads = append(loads, i)
		}
	})
	if len(n.Items) == 0 && ofAxes {
		d.fault(n.Pos, f.what+" names no load", "leave loads out for all there are")
	} else if len(n.Items) == 0 {
		d.fault(n.Pos, f.what+" names no load", "leave loads out for all that act on the tip")
	}
	return loads
}

// noLoad is what to do about a path without a load.
const noLoad = "give one under loads: a name with tip: [x, y, z]"
