package structure

import (
	"fmt"
	"slices"

	"tiploop/frame"
	"tiploop/frame/chance"
	"tiploop/frame/doubt"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
	"tiploop/frame/spindle"
)

// What is not known of a model, and how its springs come from it. It is worked out from what was drawn when somebody
// asks, so that a model that is drawn for its answer alone carries none of it.

// doubts are what is not known of a model.
type doubts struct {
	unknowns []doubt.Unknown
	frame    frame.Doubts
	joints   []jointDoubts   // of Model.joints; with laws for whether screws hold
	cuts     [][]frame.Power // of each cut: what its forces go with
}

// jointDoubts is what becomes of the screws of a joint.
type jointDoubts struct {
	preloads [][]frame.Power // of each screw
	friction []frame.Power   // between the faces
}

// chances are the unknowns as they are drawn.
func (d *doubts) chances() (list []chance.Unknown) {
	for _, u := range d.unknowns {
		list = append(list, u.Unknown)
	}
	return list
}

// doubter collects what is not known of models that share their unknowns.
type doubter struct {
	list *doubt.List
	*Model
	laws map[int]frame.Law // by number in Model.links
}

// doubts works out what is not known of the model.
func (m *Model) doubts() *doubts {
	d := &doubter{list: &doubt.List{}, Model: m, laws: map[int]frame.Law{}}
	return d.finished(d.whole())
}

// whole goes through everything but the axes that the model is cut at; its numbers are those of the list.
func (d *doubter) whole() *doubts {
	out := &doubts{frame: frame.Doubts{Springs: map[int]frame.Law{}, Sources: map[string][]frame.Power{}}}
	for _, j := range d.joints {
		out.joints = append(out.joints, d.joint(j))
	}
	for _, r := range d.rails {
		d.screws(&r.screws)
	}
	for _, g := range d.grounds {
		d.ground(g)
	}
	for _, guides := range d.guides {
		for _, g := range guides {
			d.carriageScrews(g)
		}
	}
	d.feedAxes()
	for i, law := range d.laws {
		out.frame.Springs[d.links[i].spring] = law
	}
	for _, p := range d.points {
		for _, i := range p.hangs {
			out.frame.Springs[i] = doubt.Whole(d.frame.Springs()[i].Stiffness, d.under(p.body))
		}
	}
	d.chain(out.frame.Springs)
	d.metal(out.frame.Sources)
	for i := range d.machine.Cuts {
		out.cuts = append(out.cuts, d.list.With(doubt.Work(d.machine.Cuts[i].Material), 1))
	}
	return out
}

// finished puts the unknowns in the order in which they are drawn.
func (d *doubter) finished(out *doubts) *doubts {
	unknowns, place := d.list.InOrder()
	out.unknowns, out.frame.Unknowns = unknowns, len(unknowns)
	for i, law := range out.frame.Springs {
		out.frame.Springs[i] = doubt.Renumbered(law, place)
	}
	for source, powers := range out.frame.Sources {
		out.frame.Sources[source] = doubt.Moved(powers, place)
	}
	for i := range out.joints {
		j := &out.joints[i]
		j.friction = doubt.Moved(j.friction, place)
		for k := range j.preloads {
			j.preloads[k] = doubt.Moved(j.preloads[k], place)
		}
	}
	for i := range out.cuts {
		out.cuts[i] = doubt.Moved(out.cuts[i], place)
	}
	return out
}

// law keeps that of a link, unless all of it is known.
func (d *doubter) law(link int, law frame.Law) {
	if slices.ContainsFunc(law.Row, func(g frame.Give) bool { return len(g.Of) > 0 }) {
		d.laws[link] = law
	}
}

// stated are the powers of the builder's own number, if it has a range; of says of what it is.
func (d *doubter) stated(list []machine.Unsure, of, what string) []frame.Power {
	i := slices.IndexFunc(list, func(u machine.Unsure) bool { return u.What == what })
	if i < 0 {
		return nil
	}
	return d.list.With(doubt.Stated(of, list[i]), 1)
}

func (d *doubter) joint(j *madeJoint) (out jointDoubts) {
	switch {
	case j.joint.Screws != nil:
		out.preloads = d.screws(j)
		a, b := j.a.part.Material.Key, j.b.part.Material.Key
		out.friction = d.list.With(doubt.FaceFriction(a, b, j.clamping.Friction()), 1)
	case j.joint.Sprung != nil:
		for i := j.links[0]; i < j.links[1]; i++ {
			l := &d.links[i]
			d.law(i, doubt.Whole(l.stiffness, d.stated(j.joint.Sprung.Unsure, j.source(), freedomOf(l).String())))
		}
	default:
		of := d.seats(j)
		for i := j.links[0]; i < j.links[1]; i++ {
			d.law(i, doubt.Whole(d.links[i].stiffness, of))
		}
	}
	return out
}

// freedomOf is the freedom that a link along or about an axis acts in.
func freedomOf(l *link) machine.Freedom {
	f := machine.MoveX
	for k := machine.X; k <= machine.Z; k++ {
		if l.direction == k.Direction() {
			f = machine.Freedom(k)
		}
	}
	if l.turning {
		f += machine.TurnX
	}
	return f
}

// seats are what the give of the metal on both sides of a bonded face goes with: the spreading under the face, and the
// two moduli by their shares square to it.
func (d *doubter) seats(j *madeJoint) []frame.Power {
	a, b := 1/j.a.part.Material.E, 1/j.b.part.Material.E // about, of a bar in its hole
	if j.touch.kind == onFace {
		thin := thinner(j.a, j.b, j.touch.normal)
		a, b = j.a.seat(j.touch, thin).normal, j.b.seat(j.touch, thin).normal
	}
	if a+b == 0 {
		return nil // both are meshed, or end to end
	}
	return slices.Concat(d.list.With(doubt.Spreading(), 1), d.list.With(doubt.Material(j.a.part.Material), a/(a+b)),
		d.list.With(doubt.Material(j.b.part.Material), b/(a+b)))
}

// screws gives the six springs of each screw their laws, and tells what their preloads go with. Those against turning
// are put together of the zone's own stiffness and of the screw's pull beside the zone's middle, which is known, as it
// is along the screw. How the place between the two at which the springs stand goes with their stiffness is left out;
// it moves by hundredths of the zone's width.
func (d *doubter) screws(j *madeJoint) (preloads [][]frame.Power) {
	p, q := j.touch.normal.Others()
	for i, s := range j.screws {
		c := doubt.Clamped{Clamping: j.clamping, K: s.pinch, Drilled: j.drilled.part.Material,
			Tapped: j.tapped.part.Material, Faces: j.name}
		c.Clamping.ZoneArea, c.Zone = s.zone.Moments.Area, s.zone
		if j.drilled.mesh() != nil {
			c.Meshed = append(c.Meshed, j.clamping.Drilled)
		}
		if j.tapped.mesh() != nil {
			c.Meshed = append(c.Meshed, j.clamping.Tapped)
		}
		at := array(s.at)
		c.Place = fmt.Sprintf("%s [%.4g, %.4g]", j.name, at[p]-j.touch.lo[p], at[q]-j.touch.lo[q])
		c.Screw = fmt.Sprintf("screw %d of %s", i+1, j.name)
		laws := d.list.Clamping(c)
		preloads = append(preloads, laws.Preload)
		turning := func(n int, law frame.Law, arms func(zone joint.Moments) float64) frame.Law {
			own := doubt.Typical(law) * arms(s.zone.Moments)
			return partly(d.list.Widened(law, c, arms), own, d.links[s.normal+n].stiffness)
		}
		for n, law := range []frame.Law{laws.Normal, laws.Tangential, laws.Tangential, turning(3, laws.Tilt, armsP),
			turning(4, laws.Tilt, armsQ), d.list.Widened(laws.Spin, c, armsSpun)} {
			d.law(s.normal+n, doubt.Scaled(law, d.links[s.normal+n].stiffness))
		}
	}
	return preloads
}

// armsP, armsQ and armsSpun are the squares of the arms at which a zone's stiffness acts against turning, in the mean over
// its area: about the leaning axis and the other one of addScrew, and about the screw.
func armsP(zone joint.Moments) float64 {
	_, xy, yy := zone.Central()
	return (yy + xy*xy/yy) / zone.Area
}

func armsQ(zone joint.Moments) float64 {
	xx, xy, yy := zone.Central()
	return (xx - xy*xy/yy) / zone.Area
}

func armsSpun(zone joint.Moments) float64 {
	xx, _, yy := zone.Central()
	return (xx + yy) / zone.Area
}

// partly is a law of which a spring has so much stiffness, and the rest is known.
func partly(law frame.Law, own, whole float64) frame.Law {
	law = doubt.Scaled(law, min(own, whole))
	law.Beside += whole - min(own, whole)
	return law
}

func (d *doubter) ground(g *madeGround) {
	w := g.ground
	house := func(what string) []frame.Power {
		if of := d.stated(w.Unsure, g.source(), what); of != nil {
			return of
		}
		return d.list.With(doubt.Ground(g.source()), 1)
	}
	for n, i := range g.links {
		l := &d.links[i]
		switch g.kind {
		case "feet":
			stiffness, of := w.Normal, house("stiffness")
			if n%3 > 0 { // the first of each foot's springs is square to its face
				if stiffness = w.Side; slices.ContainsFunc(w.Unsure, isSide) {
					of = house("side")
				}
			}
			d.law(i, inRowWith(l.stiffness, frame.Give{Typical: 1 / stiffness, Of: of}))
		case "bed":
			d.law(i, doubt.Whole(l.stiffness, house("bed")))
		case "spring":
			what := "stiffness"
			if w.Skew == nil {
				what = freedomOf(l).String()
			}
			d.law(i, doubt.Whole(l.stiffness, d.stated(w.Unsure, g.source(), what)))
		default:
			d.law(i, doubt.Whole(l.stiffness, d.under(g.body)))
		}
	}
}

// under is what the metal under a face of one part goes with.
func (d *doubter) under(b *body) []frame.Power {
	return slices.Concat(d.list.With(doubt.Spreading(), 1), d.list.With(doubt.Material(b.part.Material), 1))
}

func isSide(u machine.Unsure) bool { return u.What == "side" }

// inRowWith is a spring in which some gives are in a row with what is known.
func inRowWith(stiffness float64, gives ...frame.Give) frame.Law {
	law, known := frame.Law{Row: gives}, 1/stiffness
	for _, g := range gives {
		known -= g.Typical
	}
	if known > rowRounding/stiffness {
		law.Row = append(law.Row, frame.Give{Typical: known})
	}
	return doubt.Scaled(law, stiffness)
}

// chain gives the springs of spindle and holder their laws.
func (d *doubter) chain(laws map[int]frame.Law) {
	if d.tool == nil {
		return
	}
	for _, s := range d.tool.springs {
		var of []frame.Power
		if s.source == spindleSource {
			w := d.machine.Spindle
			if class, known := spindle.LookupClass(w.Name); known {
				of = d.list.With(doubt.Spindles(class), 1)
			} else {
				of = d.stated(w.Unsure, spindleSource, s.what)
			}
		} else if w := d.machine.Tool.Holder; w != nil {
			of = d.holder(w, s.what)
		}
		if of != nil {
			laws[s.spring] = doubt.Whole(d.frame.Springs()[s.spring].Stiffness, of)
		}
	}
}

func (d *doubter) holder(w *machine.Holder, what string) []frame.Power {
	if taper, known := spindle.LookupTaper(w.Name); known {
		return d.list.With(doubt.Tapers(taper), 1)
	}
	if w.Name == machine.ColletHolder {
		return d.list.With(doubt.Collets(), 1)
	}
	return d.stated(w.Unsure, holderSource, what)
}

// metal says what members and blocks go with: the modulus of their material, and how right the model of a plate or
// gusset is. A straight bar of constant section is its own model, and the elastic bed under one, which a member holds,
// goes with it. A cutter bends as its flutes usually do, but for a shank or a core that the file gives it.
func (d *doubter) metal(sources map[string][]frame.Power) {
	for _, b := range d.allBodies() {
		of := d.list.With(doubt.Material(b.part.Material), 1)
		switch {
		case b.mesh() != nil:
			of = append(of, d.list.With(doubt.Mesh(b.part.Name, d.builder.mesh(), QuickMesh), 1)...)
		case b.part.Bar == nil && b.mount == nil:
			of = append(of, d.list.With(doubt.Beams(b.part.Name), 1)...)
		}
		sources[b.source()] = of
	}
	t := d.tool
	if t == nil || t.node < 0 {
		return
	}
	of := d.list.With(doubt.Material(t.tool.Material), 1)
	if t.tool.Flutes > 0 && t.tool.Shank == nil &&
		t.tool.Core == spindle.EffectiveShare(t.tool.Flutes).Typical*t.tool.Diameter {
		of = append(of, d.list.With(doubt.Flutes(t.tool.Flutes), 4)...)
	}
	sources[toolSource] = of
}
