package modelfile

import (
	"fmt"

	"tiploop/frame/guide"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
)

// mostCarriages bounds the carriages on one rail.
const mostCarriages = 100

// guides reads the guides of an axis. Those on or under parts that are left out go with them.
func (d *decoder) guides(a *machine.FeedAxis, n *node, what string) {
	if n.kind == nothing || n.kind == list && len(n.items) == 0 {
		d.fault(n.pos, what+" has no guides", "give it a rail with carriages, or a slide")
		return
	}
	count := map[string]int{}
	d.listed(n, "guides", func(n *node) {
		f, ok := d.fields(n, "guide", "rail", "stiffness", "preload", "screw_pitch", "on", "part", "from", "to",
			"carriages", "length", "width", "surface", "slide", "between")
		if !ok {
			return
		}
		g := machine.Guide{Pos: n.pos}
		kind := "rail"
		if f.get("slide") != nil {
			kind = "slide"
		}
		count[kind]++
		g.Name = fmt.Sprintf("%s %d", kind, count[kind])
		d.rails[a.Name] = count["rail"]
		read := d.railGuide
		if kind == "slide" {
			read = d.slideGuide
		}
		if read(&g, a, f) == present {
			a.Guides = append(a.Guides, g)
		}
	})
}

// two reads two parts that belong together; absent when one of them is left out.
func (d *decoder) two(first, second *node) (parts [2]int, included presence) {
	included = present
	for i, n := range []*node{first, second} {
		part, ok := d.part(n)
		parts[i] = part
		included = presenceIf(included == present && ok && part != leftOut)
	}
	if included == present && parts[0] == parts[1] {
		d.fault(second.pos, fmt.Sprintf("both sides are part %s", machine.Quote(second.text)),
			"one side moves and the other does not")
		return parts, absent
	}
	return parts, included
}

func (d *decoder) slideGuide(g *machine.Guide, a *machine.FeedAxis, f fields) presence {
	f.only("slide", "slide", "between")
	g.Slide = &guide.Slide{}
	if n := f.get("slide"); n.kind != nothing && !(n.kind == scalar && n.text == "true") {
		if s, ok := d.fields(n, "slide", "backing", "pressure"); ok {
			if n := s.get("backing"); n != nil {
				if word, ok := d.word(n, "backing", []string{"stout", "bending", "gib"}); ok {
					g.Slide.Backing = map[string]guide.Backing{"stout": guide.Stout, "bending": guide.Bending, "gib": guide.Gib}[word]
				}
			}
			if n := s.get("pressure"); n != nil {
				g.Slide.Pressure, _ = d.positive(n, aModulus, "pressure")
			}
		}
	}
	between := f.need("between")
	if between == nil {
		return absent
	}
	if between.kind != list || len(between.items) != 2 {
		d.fault(between.pos, "between must be a list of two parts", "")
		return absent
	}
	parts, included := d.two(between.items[0], between.items[1])
	g.On, g.Part = parts[0], parts[1]
	return included
}

func (d *decoder) railGuide(g *machine.Guide, a *machine.FeedAxis, f fields) presence {
	rail, stiffness := f.get("rail"), f.get("stiffness")
	if rail == nil && stiffness == nil && !f.misspelt("rail", "stiffness") {
		d.fault(f.node.pos, "guide needs one of: rail, stiffness, slide", "rail: profile-15 for a size of the trade")
	}
	d.railSize(g, f, rail)
	if stiffness != nil {
		g.Own = d.carriageStiffness(stiffness)
	}
	for _, size := range []struct {
		key string
		to  *float64
	}{{"length", &g.Length}, {"width", &g.Width}} {
		if n := f.get(size.key); n != nil {
			*size.to, _ = d.positive(n, aLength, size.key)
		}
	}
	if n := f.get("surface"); n != nil {
		var known []string
		for _, s := range joint.Surfaces() {
			known = append(known, s.Key)
		}
		if key, ok := d.word(n, "surface", known); ok {
			g.Surface, _ = joint.LookupSurface(key)
		}
	}
	if n := f.need("carriages"); n != nil {
		d.carriages(g, n)
	}
	on, part := f.need("on"), f.need("part")
	if on == nil || part == nil {
		return absent
	}
	parts, included := d.two(on, part)
	if included == absent {
		return absent
	}
	g.On, g.Part = parts[0], parts[1]
	if f.get("from") == nil && f.get("to") == nil && d.m.Parts[g.On].Bar != nil {
		g.RailIsBar = true
		if n := f.get("screw_pitch"); n != nil {
			d.fault(n.pos, fmt.Sprintf("%s is itself the rail and spans freely: no screws hold it", d.m.Parts[g.On].Name),
				"leave screw_pitch out, or give the rail from and to on a face")
		}
		return present
	}
	var ok bool
	g.From, g.To, ok = d.line(f, a, "rail")
	return presenceIf(ok)
}

func (d *decoder) railSize(g *machine.Guide, f fields, rail *node) {
	preload, pitch := f.get("preload"), f.get("screw_pitch")
	if rail == nil {
		if pitch != nil {
			d.fault(pitch.pos, "screw_pitch needs rail beside it", "rail: profile-15 for a size of the trade")
		}
		if preload != nil {
			d.fault(preload.pos, "preload needs rail beside it", "own numbers hold the preload already")
		}
		return
	}
	var known []string
	for _, c := range guide.Carriages() {
		known = append(known, c.Key)
	}
	key, ok := d.word(rail, "rail", known)
	if !ok {
		return
	}
	size, _ := guide.LookupCarriage(key)
	g.Rail, g.Preload = &size, guide.Light
	if preload != nil {
		known = nil
		for _, p := range guide.Preloads() {
			known = append(known, p.String())
		}
		if key, ok := d.word(preload, "preload", known); ok {
			g.Preload, _ = guide.LookupPreload(key)
		}
	}
	if _, err := size.Stiffness(g.Preload); err != nil {
		d.fault(preload.pos, fmt.Sprintf("preload %s: %v", preload.text, err), "")
	}
	if pitch != nil {
		d.screwPitch(&size.Rail, pitch)
	}
}

// screwPitch reads how far apart a rail's screws stand, which heads side by side bound.
func (d *decoder) screwPitch(r *guide.Rail, n *node) {
	pitch, ok := d.positive(n, aLength, "screw_pitch")
	if !ok {
		return
	}
	if screw, known := joint.LookupScrew(r.Screw); known && pitch < screw.HeadDiameter {
		d.misfit(n.pos, fmt.Sprintf("screws %g mm apart run into each other: the head of %s is %g mm wide", pitch, r.Screw,
			screw.HeadDiameter), fmt.Sprintf("makers drill this rail every %g mm", r.HolePitch))
		return
	}
	r.HolePitch = pitch
}

// carriageStiffness reads own numbers: pull and side are as press unless given, and no moment is resisted unless given.
func (d *decoder) carriageStiffness(n *node) *guide.Stiffness {
	f, ok := d.fields(n, "stiffness", "press", "pull", "side", "roll", "pitch", "yaw")
	if !ok {
		return nil
	}
	press := f.need("press")
	if press == nil {
		return nil
	}
	var k guide.Stiffness
	if k.Press, ok = d.positive(press, aStiffness, "press"); !ok {
		return nil
	}
	k.Pull, k.Side = k.Press, k.Press
	for _, s := range []struct {
		key string
		m   measure
		to  *float64
	}{
		{"pull", aStiffness, &k.Pull}, {"side", aStiffness, &k.Side}, {"roll", aTurning, &k.Roll},
		{"pitch", aTurning, &k.Pitch}, {"yaw", aTurning, &k.Yaw},
	} {
		if n := f.get(s.key); n != nil {
			x, fits := d.positive(n, s.m, s.key)
			*s.to, ok = x, ok && fits
		}
	}
	if !ok {
		return nil
	}
	return &k
}

// carriages reads where along the rail the carriages stand.
func (d *decoder) carriages(g *machine.Guide, n *node) {
	if !d.isKind(n, list, "carriages") {
		return
	}
	if len(n.items) == 0 || len(n.items) > mostCarriages {
		d.fault(n.pos, fmt.Sprintf("a rail has from 1 to %d carriages, not %d", mostCarriages, len(n.items)), "")
		return
	}
	for _, item := range n.items {
		at, ok := d.number(item, aLength)
		if !ok {
			continue
		}
		for _, other := range g.Carriages {
			if g.Collide(at, other) {
				d.misfit(item.pos, fmt.Sprintf("carriages at %g and %g mm run into each other: each is %g mm long", other, at,
					g.CarriageLength()), "move them apart")
			}
		}
		g.Carriages = append(g.Carriages, at)
	}
}
