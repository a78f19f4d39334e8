package machine

import (
	"fmt"
	"slices"
)

var axisNames = []string{"x", "y", "z"}

// decodeTravel reads the paths of the work spot; tool, work and loads must have been read.
func (d *decoder) decodeTravel(n *node) {
	d.named(n, "travel", func(name string, at Place, body *node) {
		what := "travel " + quote(name)
		f, ok := d.fields(body, what, "along", "from", "to", "tolerance", "loads")
		if !ok {
			return
		}
		if d.m.Work == nil {
			d.fault(at, what+" has no work to move", "say where the tool and the work are: tool: …, work: …")
		}
		p := Path{Name: name, Place: at}
		if n := f.need("along"); n != nil {
			if word, ok := d.word(n, "axis", axisNames); ok {
				p.Along = Axis(slices.Index(axisNames, word))
			}
		}
		d.stretch(&p, f)
		if n := f.get("tolerance"); n != nil {
			p.Tolerance, _ = d.positive(n, aTolerance, "tolerance")
		}
		p.Loads = d.pathLoads(f, at, what)
		d.m.Travel = append(d.m.Travel, p)
	})
}

// stretch reads where a path begins and ends.
func (d *decoder) stretch(p *Path, f fields) {
	from, to := f.need("from"), f.need("to")
	if from == nil || to == nil {
		return
	}
	var fromOK, toOK bool
	p.From, fromOK = d.number(from, aLength)
	p.To, toOK = d.number(to, aLength)
	if fromOK && toOK && p.To-p.From < aLength.least {
		d.misfit(to.place, fmt.Sprintf("%s goes nowhere: from %g to %g mm", f.what, p.From, p.To), "from must be less than to")
	}
}

// pathLoads gives the loads under which a path is followed: those it names, or all that act on the tip.
func (d *decoder) pathLoads(f fields, at Place, what string) (loads []int) {
	n := f.get("loads")
	if n == nil {
		for i := range d.m.Loads {
			if d.m.Loads[i].onTip() {
				loads = append(loads, i)
			}
		}
		if len(loads) == 0 {
			d.fault(at, what+" has no load on the tip", "give one under loads: a name with tip: [x, y, z]")
		}
		return loads
	}
	d.listed(n, "loads", func(n *node) {
		i, ok := d.reference(n, "load", d.loads, d.loadCaseNames)
		switch {
		case !ok || i == leftOut:
		case !d.m.Loads[i].onTip():
			d.fault(n.place, fmt.Sprintf("load %s does not act on the tip", quote(n.text)), "")
		case slices.Contains(loads, i):
			d.fault(n.place, fmt.Sprintf("load %s stands here a second time", quote(n.text)), "")
		default:
			loads = append(loads, i)
		}
	})
	if len(n.items) == 0 {
		d.fault(n.place, what+" names no load", "leave loads out for all that act on the tip")
	}
	return loads
}

// onTip tells whether something in the load acts on the tool's tip.
func (l Load) onTip() bool {
	return slices.ContainsFunc(l.Actions, func(a Action) bool { return a.Kind == OnTip })
}
