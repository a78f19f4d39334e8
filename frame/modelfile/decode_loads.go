package modelfile

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// loadKeys are the keys of what acts in a load.
var loadKeys = Mapping{
	Name:  "load",
	About: "What acts at once: one mapping, or a list of them. What acts on a part that is left out goes with it.",
	Keys: []Key{
		{Name: "tip", Takes: vectorOf(aForce), Default: "none",
			About: "force on the tool's tip, and its opposite on the work"},
		{Name: "tip_moment", Takes: vectorOf(aMoment), Default: "none",
			About: "moment on the tip, and its opposite on the work"},
		{Name: "at", Takes: either(nameOf("point"), vectorOf(aLength)), Default: "no point is pushed",
			About: "a point, or a place of part"},
		{Name: "part", Takes: nameOf("part"), With: []string{"at"}, About: "of a place; a named point has its own"},
		{Name: "patch", Takes: rowOf(sized(aLength), "a", "b"), Default: "a point", With: []string{"at"},
			About: "sides of the patch over which the load is spread; a named point has its own"},
		{Name: "force", Takes: vectorOf(aForce), Default: "none", With: []string{"at"}, About: "at the point"},
		{Name: "moment", Takes: vectorOf(aMoment), Default: "none", With: []string{"at"}, About: "at the point"},
		{Name: "along", Takes: nameOf("part"), Default: "no bar is loaded", About: "a bar with a load along it"},
		{Name: "from", Takes: sized(aLength), Default: "0", With: []string{"along"},
			About: "where the load begins, from the bar's from end"},
		{Name: "to", Takes: sized(aLength), Default: "the bar's length", With: []string{"along"}, About: "where it ends"},
		{Name: "load", Takes: vectorOf(aLineLoad), With: []string{"along"}, About: "per length of the bar"},
		{Name: "load_end", Takes: vectorOf(aLineLoad), Default: "as load", With: []string{"along"},
			About: "at its end, where it changes evenly along the bar"},
		{Name: "gravity", Takes: either(onlyTrue, vectorOf(anAccel)), Default: "none",
			About: "the machine's own weight; true is downwards"},
		{Name: "accelerate", Takes: byName("axis", sized(anAccel)), Default: "none",
			About: "axes that gain speed, or with a minus lose it: {x: 2 m/s2}, or 0.2 g. All that goes along with " +
				"the axis feels mass times acceleration backwards, its drive holds it, its guides hold the couple, " +
				"and the ground has it all"},
		{Name: "settle", Takes: byName("ground", either(vectorOf(aLength), keysOf(&settlementKeys))), Default: "none",
			About: "grounds that move"},
		{Name: "temperature", Takes: either(sized(aTemperature), keysOf(&temperatureKeys)), Default: "none",
			About: "by how much all of it is warmer, or one part"},
		{Name: "misfit", Takes: nameOf("misfit"), Default: "none", About: "one of the misfits, beside what else acts"},
	},
}

var settlementKeys = freedomKeys("settlement", "By how much a ground moves.", sized(aLength),
	sized(anAngle), "0")

var temperatureKeys = Mapping{
	Name: "temperature", About: "Warmth of a part.",
	Keys: []Key{
		{Name: "part", Takes: nameOf("part"), Default: "all parts", About: "which part is warmer"},
		{Name: "rise", Takes: sized(aTemperature), Default: "0", About: "by how much"},
		{Name: "across", Takes: vectorOf(aTemperature), Default: "[0, 0, 0]",
			About: "by how much more its face on the larger coordinate is warm than the opposite one"},
	},
}

// slightAcceleration is below what any machine is weighed with, mm/s²: less is meant in m/s².
const slightAcceleration = 100.0

// decodeLoads reads the load cases; everything they act on must have been read.
func (d *decoder) decodeLoads(n *source.Node) {
	d.named(n, "loads", func(name string, at machine.FilePos, body *source.Node) {
		d.loadCaseNames = append(d.loadCaseNames, name)
		d.loads[name] = leftOut
		l := machine.Load{Name: name, Pos: at}
		said := len(d.faults)
		if body.Kind == source.List {
			for _, item := range body.Items {
				l.Actions = append(l.Actions, d.actions(item, name)...)
			}
			if len(body.Items) == 0 {
				d.fault(body.Pos, fmt.Sprintf("load %s is empty", machine.Quote(name)), "")
			}
		} else {
			l.Actions = d.actions(body, name)
		}
		if len(l.Actions) == 0 && len(d.faults) == said {
			return // all it acts on is left out, and it goes with them
		}
		d.loads[name] = len(d.m.Loads)
		d.m.Loads = append(d.m.Loads, l)
	})
}

// actions reads one mapping, which may hold several actions.
func (d *decoder) actions(n *source.Node, load string) (actions []machine.Action) {
	f, ok := d.fields(n, &loadKeys, load)
	if !ok {
		return nil
	}
	if len(n.Pairs) == 0 {
		d.fault(n.Pos, fmt.Sprintf("load %s is empty", machine.Quote(load)), "")
	}
	f.beside()
	for _, read := range []func(fields) []machine.Action{d.onTip, d.onPoint, d.alongBar, d.weight, d.accelerating,
		d.settling, d.warming, d.misfitting} {
		for _, a := range read(f) {
			a.Pos = n.Pos
			actions = append(actions, a)
		}
	}
	return actions
}

// optionalVector reads a vector that counts as zero when it is not there.
func (d *decoder) optionalVector(n *source.Node, m measure, what string) r3.Vec {
	if n == nil {
		return r3.Vec{}
	}
	v, _ := d.vector(n, m, what)
	return v
}

func (d *decoder) onTip(f fields) []machine.Action {
	force, moment := f.get("tip"), f.get("tip_moment")
	if force == nil && moment == nil {
		return nil
	}
	if d.m.Tool == nil {
		d.fault(f.node.Pos, f.what+" acts on the tip, but there is no tool", "")
	}
	return []machine.Action{{
		Kind: machine.OnTip, Force: d.optionalVector(force, aForce, "tip"), Moment: d.optionalVector(moment, aMoment,
			"tip_moment"),
	}}
}

func (d *decoder) onPoint(f fields) []machine.Action {
	at := f.get("at")
	if at == nil {
		return nil
	}
	force, moment := f.get("force"), f.get("moment")
	if force == nil && moment == nil {
		d.fault(f.node.Pos, f.what+" needs one of: force, moment", "")
	}
	a := machine.Action{Kind: machine.OnPoint, Point: leftOut}
	if at.Kind != source.List {
		for _, key := range []string{"part", "patch"} {
			if n := f.get(key); n != nil {
				d.fault(n.Pos, key+" has no place beside the name of a point", "")
			}
		}
		a.Point, _ = d.reference(at, "point", d.points, d.pointNames)
	}
	included := present
	if at.Kind == source.List {
		var p machine.Point
		if p, included = d.point(f); included == present {
			p.Pos = at.Pos
			a.Point = len(d.m.Points)
			d.m.Points = append(d.m.Points, p)
		}
	}
	included = presenceIf(a.Point != leftOut)
	d.inside(included, func() {
		a.Force, a.Moment = d.optionalVector(force, aForce, "force"), d.optionalVector(moment, aMoment, "moment")
	})
	if included == absent {
		return nil
	}
	return []machine.Action{a}
}

func (d *decoder) alongBar(f fields) []machine.Action {
	along := f.get("along")
	if along == nil {
		return nil
	}
	a := machine.Action{Kind: machine.AlongBar}
	part, known := d.part(along)
	a.Bar = part
	included := presenceIf(!known || part != leftOut)
	d.inside(included, func() {
		if known && part != leftOut {
			d.bounds(&a, f, along)
		}
		if n := f.need("load"); n != nil {
			a.Force, _ = d.vector(n, aLineLoad, "load")
		}
		if n := f.get("load_end"); n != nil {
			end, _ := d.vector(n, aLineLoad, "load_end")
			a.End = &end
		}
	})
	if included == absent {
		return nil
	}
	return []machine.Action{a}
}

// bounds reads which stretch of a bar is loaded.
func (d *decoder) bounds(a *machine.Action, f fields, along *source.Node) {
	part := d.m.Parts[a.Bar]
	if part.Bar == nil {
		if part.Kind() != nil {
			d.fault(along.Pos, fmt.Sprintf("load along part %s, which is not a bar", machine.Quote(part.Name)),
				"a plate can be loaded at a point, over a patch")
		}
		return
	}
	length := r3.Norm(r3.Sub(part.Bar.To, part.Bar.From))
	a.To = length
	from, to := f.get("from"), f.get("to")
	pos, ok := along.Pos, true
	if from != nil {
		a.From, ok = d.number(from, aLength)
		pos = from.Pos
	}
	if to != nil && ok {
		a.To, ok = d.number(to, aLength)
		pos = to.Pos
	}
	if !ok {
		return
	}
	if !machine.LiesOnBar(a.From, a.To, length) {
		d.misfit(pos, fmt.Sprintf("load from %g to %g mm does not lie on the bar, which is %g mm long", a.From, a.To,
			length), "from and to are measured from the bar's from end")
	}
}

func (d *decoder) weight(f fields) []machine.Action {
	n := f.get("gravity")
	if n == nil {
		return nil
	}
	a := machine.Action{Kind: machine.Weight}
	if n.Kind != source.List {
		d.isTrue(n, "gravity")
		return []machine.Action{a}
	}
	var ok bool
	if a.Force, ok = d.vector(n, anAccel, "gravity"); ok && r3.Norm(a.Force) < slightAcceleration {
		d.misfit(n.Pos, fmt.Sprintf("gravity of %s is next to none", anAccel.show(r3.Norm(a.Force))),
			"a plain number is in mm/s2; write 9.81 m/s2")
	}
	return []machine.Action{a}
}

// settling reads by how much grounds move.
func (d *decoder) settling(f fields) (actions []machine.Action) {
	n := f.get("settle")
	if n == nil {
		return nil
	}
	if n.Kind == source.Mapping && len(n.Pairs) == 0 || n.Kind == source.Nothing {
		d.fault(n.Pos, "settle names no ground", "")
	}
	d.named(n, "settle", func(name string, at machine.FilePos, body *source.Node) {
		i, ok := d.reference(&source.Node{Pos: at, Kind: source.Scalar, Text: name}, "ground", d.grounds, d.groundNames)
		a := machine.Action{Kind: machine.Settling, Ground: i}
		included := presenceIf(!ok || i != leftOut)
		d.inside(included, func() {
			if body.Kind == source.List {
				by, _ := d.vector(body, aLength, "settlement")
				a.By = [6]float64{by.X, by.Y, by.Z}
				return
			}
			a.By, _ = d.freedoms(body, &settlementKeys, aLength, anAngle)
		})
		if included == present {
			actions = append(actions, a)
		}
	})
	return actions
}

func (d *decoder) warming(f fields) []machine.Action {
	n := f.get("temperature")
	if n == nil {
		return nil
	}
	a := machine.Action{Kind: machine.Warming}
	if n.Kind != source.Mapping {
		a.Rise, _ = d.number(n, aTemperature)
		return []machine.Action{a}
	}
	t, ok := d.fields(n, &temperatureKeys)
	if !ok {
		return nil
	}
	included := present
	if part := t.get("part"); part != nil {
		i, ok := d.part(part)
		a.Part, included = &i, presenceIf(!ok || i != leftOut)
	}
	rise, across := t.get("rise"), t.get("across")
	if rise == nil && across == nil {
		d.fault(n.Pos, "temperature needs one of: rise, across", "")
	}
	d.inside(included, func() {
		if rise != nil {
			a.Rise, _ = d.number(rise, aTemperature)
		}
		a.Across = d.optionalVector(across, aTemperature, "across")
	})
	if included == absent {
		return nil
	}
	return []machine.Action{a}
}

// misfitting reads a misfit that acts in a load.
func (d *decoder) misfitting(f fields) []machine.Action {
	n := f.get("misfit")
	if n == nil {
		return nil
	}
	if i, ok := d.reference(n, "misfit", d.misfits, d.misfitNames); ok && i != leftOut {
		return []machine.Action{{Kind: machine.Misfitting, Misfit: i}}
	}
	return nil
}
