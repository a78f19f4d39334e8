package modelfile

import (
	"fmt"
	"strings"

	"tiploop/frame/machine"
	"tiploop/frame/spindle"
)

// leastEfficiency is below that of any drive that turns.
const leastEfficiency = 0.01

// decodeSpindle reads what carries the tool; the tool must have been read.
func (d *decoder) decodeSpindle(n *node) {
	if n == nil {
		return
	}
	s := machine.Spindle{Pos: n.pos}
	d.m.Spindle = &s
	f, ok := d.fields(n, "spindle", "class", "bearings", "power", "torque", "efficiency", "speed")
	if !ok {
		return
	}
	switch {
	case d.m.Tool == nil:
		d.fault(n.pos, "there is a spindle, but no tool in it",
			"tool: {part: …, at: […], stickout: …, diameter: …, material: …}")
	case d.m.Tool.Stickout == 0 && (f.get("class") != nil || f.get("bearings") != nil):
		d.fault(n.pos, "the spindle's bearings need a tool that sticks out of them",
			"give the tool its stickout, diameter and material")
	}
	if len(n.pairs) == 0 {
		d.fault(n.pos, "spindle is empty", "some of: "+strings.Join(f.keys, ", "))
	}
	if f.get("class") != nil && f.get("bearings") != nil {
		f.oneOf("class", "bearings")
	}
	if n := f.get("class"); n != nil {
		d.spindleClass(&s, n)
	}
	if n := f.get("bearings"); n != nil {
		s.Stiffness, _ = d.bearings(n)
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
			d.misfit(n.pos, fmt.Sprintf("efficiency must be from %g to 1, not %g", leastEfficiency, s.Efficiency), "")
		}
	}
	if n := f.get("speed"); n != nil {
		d.speeds(&s, n)
	}
}

func (d *decoder) spindleClass(s *machine.Spindle, n *node) {
	var known []string
	for _, c := range spindle.Classes() {
		known = append(known, c.Key)
	}
	word, ok := d.word(n, "class of spindle", known)
	if !ok {
		return
	}
	class, _ := spindle.LookupClass(word)
	k := class.Springs().Typical
	s.Name, s.Stiffness = word, machine.Stiffness{Radial: k.Radial, Axial: k.Axial, Tilt: k.Tilt}
}

// bearings reads the builder's own numbers of a spindle: at its nose, or of its front and rear bearings.
func (d *decoder) bearings(n *node) (g machine.Stiffness, ok bool) {
	if n.kind != mapping || n.find("front") == nil && n.find("rear") == nil {
		return d.toolStiffness(n, "bearings")
	}
	f, ok := d.fields(n, "bearings", "front", "rear", "span", "overhang", "axial")
	if !ok {
		return g, false
	}
	sizes := map[string]float64{}
	for _, k := range []struct {
		key string
		m   measure
	}{{"front", aStiffness}, {"rear", aStiffness}, {"span", aLength}} {
		n := f.need(k.key)
		read := false
		if n != nil {
			sizes[k.key], read = d.positive(n, k.m, k.key)
		}
		ok = ok && read
	}
	overhang := 0.0
	if n := f.get("overhang"); n != nil {
		var read bool
		if overhang, read = d.number(n, aLength); read && overhang < 0 {
			d.misfit(n.pos, fmt.Sprintf("overhang must not be negative: %s", aLength.show(overhang)),
				"it is how far the nose stands in front of the front bearing")
			read = false
		}
		ok = ok && read
	}
	if n := f.get("axial"); n != nil {
		var read bool
		g.Axial, read = d.positive(n, aStiffness, "axial")
		ok = ok && read
	}
	g.Bearings = &machine.BearingPair{Front: sizes["front"], Rear: sizes["rear"], Span: sizes["span"], Overhang: overhang}
	return g, ok
}

// speeds reads the slowest and the fastest a spindle turns.
func (d *decoder) speeds(s *machine.Spindle, n *node) {
	x, ok := d.numbers(n, aSpin, "speed", "slowest", "fastest")
	if !ok {
		return
	}
	s.SlowestRPM, s.FastestRPM = inRPM(x[0]), inRPM(x[1])
	if x[0] < 0 || x[1] <= x[0] {
		d.misfit(n.pos, fmt.Sprintf("speed from %s to %s is no range", aSpin.show(x[0]), aSpin.show(x[1])),
			"[slowest, fastest]")
	}
}

// inRPM turns revolutions a second into revolutions a minute.
func inRPM(speed float64) float64 { return speed * aSpin.unit.den / aSpin.unit.num }
