package modelfile

import (
	"fmt"
	"strings"

	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
	"tiploop/frame/spindle"
)

// spindleKeys are the keys of the spindle.
var spindleKeys = Mapping{
	Name: "spindle", About: "What carries the tool.",
	Keys: []Key{
		{Name: "class", Takes: oneWord("spindle",
			wordsOf(spindle.Classes(), func(c spindle.Class) string { return c.Key })...),
			Default: "bearings that do not give", About: "bearings as spindles of a kind have them; or else bearings"},
		{Name: "bearings", Takes: either(keysOf(&noseKeys), keysOf(&bearingPairKeys)), Default: "those of class",
			About: "your own numbers"},
		{Name: "power", Takes: sized(aPower), Default: "not known", About: "of its motor, for cuts that ask for more"},
		{Name: "torque", Takes: sized(aMoment), Default: "not known", About: "of its motor"},
		{Name: "efficiency", Takes: sized(aNumber), Default: "1",
			About: "power at the cutter over that of the motor, from 0.01 to 1"},
		{Name: "speed", Takes: rowOf(sized(aSpin), "slowest", "fastest"), Default: "any",
			About: "how slow and how fast it turns"},
	},
}

var noseKeys = Mapping{
	Name: "bearings", About: "At the spindle's nose. What is not said does not give.",
	Keys: stiffnessesOfTool,
}

var bearingPairKeys = Mapping{
	Name: "bearings", About: "Of the front and the rear bearing.",
	Keys: []Key{
		{Name: "front", Takes: stiff(aStiffness), About: "radial, of the front bearing"},
		{Name: "rear", Takes: stiff(aStiffness), About: "radial, of the rear one"},
		{Name: "span", Takes: sized(aLength), About: "between the two"},
		{Name: "overhang", Takes: sized(aLength), Default: "0",
			About: "how far the nose stands in front of the front bearing"},
		{Name: "axial", Takes: stiff(aStiffness), Default: "it does not give", About: "along the spindle, of both"},
	},
}

// leastEfficiency is below that of any drive that turns.
const leastEfficiency = 0.01

// decodeSpindle reads what carries the tool; the tool must have been read.
func (d *decoder) decodeSpindle(n *source.Node) {
	if n == nil {
		return
	}
	s := machine.Spindle{Pos: n.Pos}
	d.m.Spindle = &s
	f, ok := d.fields(n, &spindleKeys)
	if !ok {
		return
	}
	switch {
	case d.m.Tool == nil:
		d.fault(n.Pos, "there is a spindle, but no tool in it",
			"tool: {part: …, at: […], stickout: …, diameter: …, material: …}")
	case d.m.Tool.Stickout == 0 && (f.get("class") != nil || f.get("bearings") != nil):
		d.fault(n.Pos, "the spindle's bearings need a tool that sticks out of them",
			"give the tool its stickout, diameter and material")
	}
	if len(n.Pairs) == 0 {
		d.fault(n.Pos, "spindle is empty", "some of: "+strings.Join(f.of.names(), ", "))
	}
	if f.get("class") != nil && f.get("bearings") != nil {
		f.oneOf("class", "bearings")
	}
	if n := f.get("class"); n != nil {
		d.spindleClass(&s, n)
	}
	if n := f.get("bearings"); n != nil {
		s.Stiffness, _ = d.bearings(&s.Unsure, n)
	}
	if n := f.get("power"); n != nil {
		w, _ := d.positive(n, aPower, "power")
		s.PowerW = w * aPower.unit.den / aPower.unit.num
	}
	if n := f.get("torque"); n != nil {
		s.TorqueNmm, _ = d.positive(n, aMoment, "torque")
	}
	if n := f.get("efficiency"); n != nil {
		if s.Efficiency, ok = d.number(n, aNumber); ok && !(s.Efficiency >= leastEfficiency && s.Efficiency <= 1) {
			d.misfit(n.Pos, fmt.Sprintf("efficiency must be from %g to 1, not %g", leastEfficiency, s.Efficiency), "")
		}
	}
	if n := f.get("speed"); n != nil {
		d.speeds(&s, n)
	}
}

func (d *decoder) spindleClass(s *machine.Spindle, n *source.Node) {
	word, ok := d.word(n, "class of spindle", spindleKeys.key("class").Takes.Words)
	if !ok {
		return
	}
	class, _ := spindle.LookupClass(word)
	k := class.Springs().Typical
	s.Name, s.Stiffness = word, machine.Stiffness{Radial: k.Radial, Axial: k.Axial, Tilt: k.Tilt}
}

// bearings reads the builder's own numbers of a spindle: at its nose, or of its front and rear bearings.
func (d *decoder) bearings(unsure *[]machine.Unsure, n *source.Node) (g machine.Stiffness, ok bool) {
	if n.Kind != source.Mapping || n.Find("front") == nil && n.Find("rear") == nil {
		return d.toolStiffness(unsure, n, &noseKeys)
	}
	f, ok := d.fields(n, &bearingPairKeys)
	if !ok {
		return g, false
	}
	b := &machine.BearingPair{}
	for _, k := range []struct {
		key  string
		into *float64
	}{{"front", &b.Front}, {"rear", &b.Rear}, {"span", &b.Span}} {
		n, read := f.need(k.key), false
		switch {
		case n == nil:
		case k.key == "span":
			*k.into, read = d.positive(n, aLength, k.key)
		default:
			*k.into, read = d.unsure(unsure, n, aStiffness, k.key, k.key)
		}
		ok = ok && read
	}
	if n := f.get("overhang"); n != nil {
		var read bool
		if b.Overhang, read = d.number(n, aLength); read && b.Overhang < 0 {
			d.misfit(n.Pos, fmt.Sprintf("overhang must not be negative: %s", aLength.show(b.Overhang)),
				"it is how far the nose stands in front of the front bearing")
			read = false
		}
		ok = ok && read
	}
	if n := f.get("axial"); n != nil {
		var read bool
		g.Axial, read = d.unsure(unsure, n, aStiffness, "axial", "axial")
		ok = ok && read
	}
	g.Bearings = b
	return g, ok
}

// speeds reads the slowest and the fastest a spindle turns.
func (d *decoder) speeds(s *machine.Spindle, n *source.Node) {
	x, ok := d.numbers(n, aSpin, "speed", "slowest", "fastest")
	if !ok {
		return
	}
	s.SlowestRPM, s.FastestRPM = inRPM(x[0]), inRPM(x[1])
	if x[0] < 0 || x[1] <= x[0] {
		d.misfit(n.Pos, fmt.Sprintf("speed from %s to %s is no range", aSpin.show(x[0]), aSpin.show(x[1])),
			"[slowest, fastest]")
	}
}

// inRPM turns revolutions a second into revolutions a minute.
func inRPM(speed float64) float64 { return speed * aSpin.unit.den / aSpin.unit.num }
