package modelfile

import (
	"fmt"
	"slices"

	"tiploop/frame/guide"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// guideKeys are the keys of a guide.
var guideKeys = Mapping{
	Name: "guide", About: "What an axis runs on: a rail with carriages, or a slide. It goes with either of its parts.",
	Keys: []Key{
		{Name: "rail", Takes: oneWord("carriage",
			wordsOf(guide.Carriages(), func(c guide.Carriage) string { return c.Key })...),
			About: "a size of the trade"},
		{Name: "stiffness", Takes: keysOf(&carriageKeys), About: "your own numbers of a carriage, in place of the rail's"},
		{Name: "slide", Takes: either(onlyTrue, keysOf(&slideKeys)), About: "faces that slide on each other"},
		{Name: "preload", Takes: oneWord("", wordsOf(guide.Preloads(), guide.Preload.String)...),
			Default: guide.Light.String(),
			With:    []string{"rail"}, About: "of the carriages; clearance leaves play"},
		{Name: "screw_pitch", Takes: sized(aLength), Default: "as makers drill that rail", With: []string{"rail"},
			About: "how far apart the screws of the rail stand"},
		{Name: "on", Takes: nameOf("part"), With: rails, About: "the part with the rail; a bar that is the rail itself"},
		{Name: "part", Takes: nameOf("part"), With: rails, About: "the part with the carriages"},
		{Name: "from", Takes: vectorOf(aLength), Default: "on is the rail itself, a bar", With: rails,
			About: "one end of the rail, on a face"},
		{Name: "to", Takes: vectorOf(aLength), Default: "on is the rail itself, a bar", With: rails,
			About: "its other end"},
		{Name: "carriages", Takes: listOf(sized(aLength)), With: rails,
			About: "the middles of the carriages along the axis, as drawn"},
		{Name: "length", Takes: sized(aLength), Default: "that of the rail's", With: rails, About: "of a carriage"},
		{Name: "width", Takes: sized(aLength), Default: "that of the rail's", With: rails, About: "of a carriage"},
		{Name: "surface", Takes: oneWord("surfaces", surfaceWords...), Default: machine.DefaultGuideSurface, With: rails,
			About: "of the faces that rail and carriages are screwed to"},
		{Name: "between", Takes: rowOf(nameOf("part"), "first", "second"), With: []string{"slide"},
			About: "the two parts that slide"},
	},
	Choices: [][]string{{"rail", "stiffness", "slide"}},
}

// rails are the keys of which a guide on a rail has one or both.
var rails = []string{"rail", "stiffness"}

// backings are the words for what a sliding face is backed by, in the order of [guide.Backing].
var backings = []string{guide.Stout: "stout", guide.Bending: "bending", guide.Gib: "gib"}

var slideKeys = Mapping{
	Name: "slide", About: "A slide; its size is that of the faces' overlap.",
	Keys: []Key{
		{Name: "backing", Takes: oneWord("", backings...), Default: "stout", About: "what is behind the face"},
		{Name: "pressure", Takes: sized(aModulus), Default: "that of a snug gib or a light table",
			About: "mean pressure between the faces"},
	},
}

var carriageKeys = Mapping{
	Name: "stiffness", About: "Of one carriage as it is mounted.",
	Keys: []Key{
		{Name: "press", Takes: stiff(aStiffness), About: "onto the rail"},
		{Name: "pull", Takes: stiff(aStiffness), Default: "as press", About: "off the rail"},
		{Name: "side", Takes: stiff(aStiffness), Default: "as press", About: "square to both"},
		{Name: "roll", Takes: stiff(aTurning), Default: "free", About: "about the rail"},
		{Name: "pitch", Takes: stiff(aTurning), Default: "free", About: "nodding along the rail"},
		{Name: "yaw", Takes: stiff(aTurning), Default: "free", About: "steering on the rail"},
	},
}

// mostCarriages bounds the carriages on one rail.
const mostCarriages = 100

// guides reads the guides of an axis. Those on or under parts that are left out go with them.
func (d *decoder) guides(a *machine.FeedAxis, n *source.Node, what string) {
	if n.Kind == source.Nothing || n.Kind == source.List && len(n.Items) == 0 {
		d.fault(n.Pos, what+" has no guides", "give it a rail with carriages, or a slide")
		return
	}
	count := map[string]int{}
	d.listed(n, "guides", func(n *source.Node) {
		f, ok := d.fields(n, &guideKeys)
		if !ok {
			return
		}
		g := machine.Guide{Pos: n.Pos}
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
func (d *decoder) two(first, second *source.Node) (parts [2]int, included presence) {
	included = present
	for i, n := range []*source.Node{first, second} {
		part, ok := d.part(n)
		parts[i] = part
		included = presenceIf(included == present && ok && part != leftOut)
	}
	if included == present && parts[0] == parts[1] {
		d.fault(second.Pos, fmt.Sprintf("both sides are part %s", machine.Quote(second.Text)),
			"one side moves and the other does not")
		return parts, absent
	}
	return parts, included
}

func (d *decoder) slideGuide(g *machine.Guide, a *machine.FeedAxis, f fields) presence {
	f.only("slide")
	g.Slide = &guide.Slide{}
	if n := f.get("slide"); n.Kind != source.Nothing && !(n.Kind == source.Scalar && n.Text == "true") {
		if s, ok := d.fields(n, &slideKeys); ok {
			if word := s.word("backing", "backing"); word != "" {
				g.Slide.Backing = guide.Backing(slices.Index(backings, word))
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
	if between.Kind != source.List || len(between.Items) != 2 {
		d.fault(between.Pos, "between must be a list of two parts", "")
		return absent
	}
	parts, included := d.two(between.Items[0], between.Items[1])
	g.On, g.Part = parts[0], parts[1]
	return included
}

func (d *decoder) railGuide(g *machine.Guide, a *machine.FeedAxis, f fields) presence {
	rail, stiffness := f.get("rail"), f.get("stiffness")
	if rail == nil && stiffness == nil && !f.misspelt("rail", "stiffness") {
		d.fault(f.node.Pos, "guide needs one of: rail, stiffness, slide", "rail: profile-15 for a size of the trade")
	}
	d.railSize(g, f, rail)
	if stiffness != nil {
		g.Own = d.carriageStiffness(&g.Unsure, stiffness)
	}
	for _, size := range []struct {
		key string
		to  *float64
	}{{"length", &g.Length}, {"width", &g.Width}} {
		if n := f.get(size.key); n != nil {
			*size.to, _ = d.positive(n, aLength, size.key)
		}
	}
	if key := f.word("surface", "surface"); key != "" {
		g.Surface, _ = joint.LookupSurface(key)
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
			d.fault(n.Pos, fmt.Sprintf("%s is itself the rail and spans freely: no screws hold it", d.m.Parts[g.On].Name),
				"leave screw_pitch out, or give the rail from and to on a face")
		}
		return present
	}
	var ok bool
	g.From, g.To, ok = d.line(f, a, "rail")
	return presenceIf(ok)
}

func (d *decoder) railSize(g *machine.Guide, f fields, rail *source.Node) {
	preload, pitch := f.get("preload"), f.get("screw_pitch")
	if rail == nil {
		if pitch != nil {
			d.fault(pitch.Pos, "screw_pitch needs rail beside it", "rail: profile-15 for a size of the trade")
		}
		if preload != nil {
			d.fault(preload.Pos, "preload needs rail beside it", "own numbers hold the preload already")
		}
		return
	}
	key := f.word("rail", "rail")
	if key == "" {
		return
	}
	size, _ := guide.LookupCarriage(key)
	g.Rail, g.Preload = &size, guide.Light
	if key := f.word("preload", "preload"); key != "" {
		g.Preload, _ = guide.LookupPreload(key)
	}
	if _, err := size.Stiffness(g.Preload); err != nil {
		d.fault(preload.Pos, fmt.Sprintf("preload %s: %v", preload.Text, err), "")
	}
	if pitch != nil {
		d.screwPitch(&size.Rail, pitch)
	}
}

// screwPitch reads how far apart a rail's screws stand, which heads side by side bound.
func (d *decoder) screwPitch(r *guide.Rail, n *source.Node) {
	pitch, ok := d.positive(n, aLength, "screw_pitch")
	if !ok {
		return
	}
	if screw, known := joint.LookupScrew(r.Screw); known && pitch < screw.HeadDiameter {
		d.misfit(n.Pos, fmt.Sprintf("screws %g mm apart run into each other: the head of %s is %g mm wide", pitch, r.Screw,
			screw.HeadDiameter), fmt.Sprintf("makers drill this rail every %g mm", r.HolePitch))
		return
	}
	r.HolePitch = pitch
}

// carriageStiffness reads own numbers: pull and side are as press unless given, and no moment is resisted unless given.
func (d *decoder) carriageStiffness(unsure *[]machine.Unsure, n *source.Node) *guide.Stiffness {
	f, ok := d.fields(n, &carriageKeys)
	if !ok {
		return nil
	}
	press := f.need("press")
	if press == nil {
		return nil
	}
	var k guide.Stiffness
	if k.Press, ok = d.unsure(unsure, press, aStiffness, "press", "press"); !ok {
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
			x, fits := d.unsure(unsure, n, s.m, s.key, s.key)
			*s.to, ok = x, ok && fits
		}
	}
	if !ok {
		return nil
	}
	return &k
}

// carriages reads where along the rail the carriages stand.
func (d *decoder) carriages(g *machine.Guide, n *source.Node) {
	if !d.isKind(n, source.List, "carriages") {
		return
	}
	if len(n.Items) == 0 || len(n.Items) > mostCarriages {
		d.fault(n.Pos, fmt.Sprintf("a rail has from 1 to %d carriages, not %d", mostCarriages, len(n.Items)), "")
		return
	}
	for _, item := range n.Items {
		at, ok := d.number(item, aLength)
		if !ok {
			continue
		}
		for _, other := range g.Carriages {
			if g.Collide(at, other) {
				d.misfit(item.Pos, fmt.Sprintf("carriages at %g and %g mm run into each other: each is %g mm long", other, at,
					g.CarriageLength()), "move them apart")
			}
		}
		g.Carriages = append(g.Carriages, at)
	}
}
