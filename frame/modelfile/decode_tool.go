package modelfile

import (
	"fmt"
	"math"
	"strings"

	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
	"tiploop/frame/spindle"
)

// toolKeys are the keys of the tool.
var toolKeys = Mapping{
	Name:  "tool",
	About: "What cuts. Stickout, diameter and material go together; without them the tip moves with its part.",
	Keys: []Key{
		{Name: "part", Takes: nameOf("part"), About: "what grips it; it cannot be left out"},
		{Name: "at", Takes: vectorOf(aLength), About: "its tip"},
		{Name: "stickout", Takes: sized(aLength), Default: "0: the tip moves with the part",
			About: "how far it stands out of its grip"},
		{Name: "diameter", Takes: sized(aLength), With: []string{"stickout"}, About: "over the flutes"},
		{Name: "material", Takes: nameOf("material"), With: []string{"stickout"}, About: "carbide, high-speed-steel"},
		{Name: "flutes", Takes: counted, Default: "a plain round bar", With: []string{"stickout"},
			About: "how many; its end bends like a fluted one"},
		{Name: "helix", Takes: sized(anAngle), Default: "0", With: []string{"flutes"},
			About: "of the flutes, from 0 to 60 degrees"},
		{Name: "entering", Takes: sized(anAngle), Default: "90", With: []string{"flutes"},
			About: "between the edge and the plane of the feed, from 10 to 90 degrees"},
		{Name: "core", Takes: sized(aLength), Default: "what is usual for so many flutes", With: []string{"stickout"},
			About: "diameter of the round bar that bends like the flutes"},
		{Name: "shank", Takes: keysOf(&shankKeys), Default: "as thick as the flutes", With: []string{"stickout"},
			About: "a thicker end next to the grip"},
		{Name: "holder", Takes: either(oneWord("spindle", holderWords...), keysOf(&holderKeys)),
			Default: "it does not give",
			With:    []string{"stickout"}, About: "what grips it; a collet gives by the flutes that it grips"},
	},
}

var shankKeys = Mapping{
	Name: "shank", About: "The thick end of a stepped tool.",
	Keys: []Key{
		{Name: "diameter", Takes: sized(aLength), About: "of the shank"},
		{Name: "length", Takes: sized(aLength), About: "what sticks out of it; the rest of the stickout is fluted"},
	},
}

var holderKeys = Mapping{
	Name: "holder", About: "Your own numbers. What is not said does not give.",
	Keys: stiffnessesOfTool,
}

// stiffnessesOfTool are the ways in which a spindle or a holder gives.
var stiffnessesOfTool = []Key{
	{Name: "radial", Takes: stiff(aStiffness), Default: "it does not give", About: "square to the tool"},
	{Name: "axial", Takes: stiff(aStiffness), Default: "it does not give", About: "along the tool"},
	{Name: "tilt", Takes: stiff(aTurning), Default: "it does not give", About: "against leaning"},
}

// workKeys are the keys of the work.
var workKeys = Mapping{
	Name: "work", About: "What is cut.",
	Keys: []Key{
		{Name: "part", Takes: nameOf("part"), About: "what it is clamped to; it cannot be left out"},
		{Name: "at", Takes: vectorOf(aLength), Default: "under the tool",
			About: "the spot on the part that the work stands on"},
		{Name: "height", Takes: sized(aLength), Default: "not said: up to the tip",
			About: "of the work with what holds it, over the spot"},
	},
}

// holderWords are the holders that are known by a word.
var holderWords = append([]string{colletWord},
	wordsOf(spindle.Tapers(), func(t spindle.Taper) string { return t.Key })...)

// mostFlutes is as many as any force of cutting is worked out for.
const mostFlutes = 32

// decodeTool reads the tool; the parts must have been read.
func (d *decoder) decodeTool(n *source.Node) {
	if n == nil {
		return
	}
	t := machine.Tool{Pos: n.Pos}
	d.m.Tool = &t
	f, ok := d.fields(n, &toolKeys)
	if !ok {
		return
	}
	if n := f.need("part"); n != nil {
		t.Part = d.needed(n, "tool")
	}
	if n := f.need("at"); n != nil {
		t.At, _ = d.vector(n, aLength, "at")
	}
	stickout, diameter, material := f.get("stickout"), f.get("diameter"), f.get("material")
	if stickout == nil && diameter == nil && material == nil {
		for _, key := range []string{"flutes", "helix", "entering", "core", "shank", "holder"} {
			if n := f.get(key); n != nil {
				d.fault(n.Pos, key+" needs stickout, diameter and material beside it", "")
			}
		}
		return
	}
	if stickout == nil || diameter == nil || material == nil {
		d.fault(n.Pos, "tool needs stickout, diameter and material together",
			"or none of them: then its tip moves with the part")
		return
	}
	var sized, thick, made bool
	t.Stickout, sized = d.positive(stickout, aLength, "stickout")
	t.Diameter, thick = d.positive(diameter, aLength, "diameter")
	t.Material, made = d.material(material)
	fluted := d.flutes(&t, f)
	if n := f.get("shank"); n != nil {
		d.shank(&t, n)
	}
	if n := f.get("holder"); n != nil {
		d.holder(&t, n, presenceIf(sized && thick && made && fluted))
	}
}

// angleSlack is how far beyond its bounds an angle of the cutter may be, rad: what the rounding of degrees leaves.
const angleSlack = 1e-9

// flutes reads the cutting end of the tool, and tells whether it could.
func (d *decoder) flutes(t *machine.Tool, f fields) (ok bool) {
	ok = true
	if n := f.get("flutes"); n != nil {
		t.Flutes, ok = d.count(n, "flutes", mostFlutes)
	}
	angle := func(key string, least, most float64) float64 {
		n := f.get(key)
		if n == nil {
			return 0
		}
		if f.get("flutes") == nil {
			d.fault(n.Pos, key+" needs flutes beside it", "")
		}
		a, read := d.number(n, anAngle)
		if read && !(a >= least-angleSlack && a <= most+angleSlack) {
			d.misfit(n.Pos, fmt.Sprintf("%s must be from %s to %s, not %s", key, anAngle.show(least), anAngle.show(most),
				anAngle.show(a)), "")
		}
		return a
	}
	const degree = math.Pi / 180
	t.Helix = angle("helix", 0, 60*degree)
	t.Entering = angle("entering", 10*degree, 90*degree)
	if n := f.get("core"); n != nil {
		core, read := d.positive(n, aLength, "core")
		if read && t.Diameter > 0 && core > t.Diameter {
			d.misfit(n.Pos, fmt.Sprintf("core of %s in a tool of %s", aLength.show(core), aLength.show(t.Diameter)),
				"core is the diameter of the round bar that bends like the flutes, about 0.8 of the diameter")
		}
		t.Core = core
	}
	return ok
}

// shank reads the thick end of a stepped tool.
func (d *decoder) shank(t *machine.Tool, n *source.Node) {
	f, ok := d.fields(n, &shankKeys)
	if !ok {
		return
	}
	diameter, length := f.need("diameter"), f.need("length")
	if diameter == nil || length == nil {
		return
	}
	s := machine.Shank{}
	s.Diameter, _ = d.positive(diameter, aLength, "diameter")
	if s.Length, ok = d.positive(length, aLength, "length"); ok && t.Stickout > 0 && s.Length > t.Stickout-aLength.least {
		d.misfit(length.Pos, fmt.Sprintf("a shank of %s leaves nothing of the %s that stick out", aLength.show(s.Length),
			aLength.show(t.Stickout)),
			"length is what sticks out of the shank; the rest of the stickout is fluted")
		return
	}
	t.Shank = &s
}

// The words for a holder.
const colletWord = machine.ColletHolder

// holder reads what grips the tool; the tool must have been read.
func (d *decoder) holder(t *machine.Tool, n *source.Node, tool presence) {
	h := machine.Holder{Name: n.Text}
	if n.Kind == source.Mapping {
		h.Name = "own numbers"
		give, ok := d.toolStiffness(&h.Unsure, n, &holderKeys)
		if !ok {
			return
		}
		h.Stiffness = give
		t.Holder = &h
		return
	}
	word, ok := d.word(n, "holder", holderWords)
	if !ok || tool == absent {
		return
	}
	if p, isTaper := spindle.LookupTaper(word); isTaper {
		h.Stiffness.Tilt = p.Tilt.Typical
		t.Holder = &h
		return
	}
	if t.Flutes == 0 {
		d.fault(n.Pos, "a collet's give is told by the cutter's flutes, and the tool says none",
			"flutes: 2, or holder: {tilt: …} with your own number")
		return
	}
	tilt, err := spindle.Cutter{Diameter: t.Diameter, Flutes: t.Flutes, Stickout: t.Stickout, FluteLength: t.Stickout,
		E: t.Material.E}.ColletTilt()
	if err != nil {
		d.misfit(n.Pos, fmt.Sprintf("collet: %v", err), "")
		return
	}
	h.Stiffness.Tilt = tilt.Typical
	t.Holder = &h
}

// toolStiffness reads stiffnesses of the builder's own; what is not said does not give.
func (d *decoder) toolStiffness(unsure *[]machine.Unsure, n *source.Node, of *Mapping) (g machine.Stiffness, ok bool) {
	f, ok := d.fields(n, of)
	if !ok {
		return g, false
	}
	if len(n.Pairs) == 0 {
		d.fault(n.Pos, of.Name+" is empty", "some of: "+strings.Join(of.names(), ", "))
		return g, false
	}
	for _, k := range []struct {
		key  string
		m    measure
		into *float64
	}{{"radial", aStiffness, &g.Radial}, {"axial", aStiffness, &g.Axial}, {"tilt", aTurning, &g.Tilt}} {
		if n := f.get(k.key); n != nil {
			var read bool
			*k.into, read = d.unsure(unsure, n, k.m, k.key, k.key)
			ok = ok && read
		}
	}
	return g, ok
}

// decodeWork reads what the work is clamped to; the tool must have been read.
func (d *decoder) decodeWork(n *source.Node) {
	if n == nil {
		if d.m.Tool != nil {
			d.fault(d.m.Tool.Pos, "there is a tool, but no work", "say which part the work is clamped to, work: {part: …}")
		}
		return
	}
	w := machine.Work{Pos: n.Pos}
	d.m.Work = &w
	if d.m.Tool == nil {
		d.fault(n.Pos, "there is work, but no tool", "")
	}
	f, ok := d.fields(n, &workKeys)
	if !ok {
		return
	}
	if n := f.need("part"); n != nil {
		w.Part = d.needed(n, "work")
	}
	if n := f.get("at"); n != nil {
		if at, ok := d.vector(n, aLength, "at"); ok {
			w.At = &at
		}
	}
	if n := f.get("height"); n != nil {
		w.Height, _ = d.positive(n, aLength, "height")
	}
}

// needed gives the index of a part that must not be left out.
func (d *decoder) needed(n *source.Node, what string) int {
	part, ok := d.part(n)
	if ok && part == leftOut {
		d.fault(n.Pos, fmt.Sprintf("%s is on part %s, which is left out", what, machine.Quote(n.Text)), "see its if")
	}
	return part
}
