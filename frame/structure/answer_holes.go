package structure

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
	"tiploop/frame/shopwork"
)

// hole is one hole on its way into the list, and the part that it is in.
type hole struct {
	shopwork.Hole
	body *body
}

// holes are those of everything that is screwed on and of which the places are known: joints, rails, carriages, nuts,
// bearings and motors; arranged and numbered. Of what is open nothing is drilled.
func (m *Model) holes() (list []*shopwork.Hole, open []answer.OpenHoles) {
	order := map[*body]int{}
	for i, b := range m.bodies {
		order[b] = i
	}
	add := func(h *hole) {
		h.Part = order[h.body]
		list = append(list, &h.Hole)
	}
	for _, j := range m.joints {
		for _, s := range j.screws {
			add(j.throughHoleAt(s.at))
			add(j.tappedHoleAt(s.at))
		}
	}
	open = slices.Concat(m.railHoles(add), m.carriageHoles(add), m.feetHoles(), m.driveHoles(add), m.massHoles())
	shopwork.Arrange(list)
	return list, open
}

// newHole is a hole on a face of a part at a place, without its sizes.
func newHole(b *body, normal machine.Axis, far bool, at r3.Vec, screw joint.Screw, of string) *hole {
	p, q := normal.Others()
	h := &hole{body: b, Hole: shopwork.Hole{Normal: normal, Far: far, FaceMM2: b.fills.sideArea(normal),
		Sloped: b.legFace(normal)}}
	datum, spot := b.datum(), array(at)
	h.Line = answer.HoleLine{Part: b.part.Name, Face: machine.FaceOf(normal, far).String(), AtMM: spot, Screw: screw.Size, For: of,
		XMM: math.Abs(spot[p] - datum[p]), YMM: math.Abs(spot[q] - datum[q])}
	h.Line.EdgeMM = b.toEdge(normal, at)
	return h
}

// toEdge is how far a place on a face of the part is from that face's nearest edge; below zero beside it.
func (b *body) toEdge(normal machine.Axis, at r3.Vec) float64 {
	if k := b.sawn(); k != nil {
		return k.toEdge(normal, at)
	}
	edge := b.fills.toEdge(normal, at)
	if slope, ok := b.toSlope(at); ok && !b.legFace(normal) {
		edge = math.Min(edge, slope)
	}
	return edge
}

// toEdge is how far a place on the side of a box that looks along an axis is from that side's nearest edge.
func (b box) toEdge(normal machine.Axis, at r3.Vec) float64 {
	p, q := normal.Others()
	spot := array(at)
	return math.Min(math.Min(spot[p]-b.lo[p], b.hi[p]-spot[p]), math.Min(spot[q]-b.lo[q], b.hi[q]-spot[q]))
}

// datum is the corner of a part that its holes are measured from.
func (b *body) datum() [3]float64 {
	at := b.fills.lo
	for k, high := range b.part.DatumHigh() {
		if high {
			at[k] = b.fills.hi[k]
		}
	}
	return at
}

// legFace tells whether a face that looks along an axis is one of a gusset's along its legs.
func (b *body) legFace(normal machine.Axis) bool {
	return b.part.Gusset != nil && array(b.part.Gusset.Thickness)[normal] == 0
}

// toSlope is how far a place of a gusset is from its slope, mm.
func (b *body) toSlope(at r3.Vec) (mm float64, ok bool) {
	g := b.part.Gusset
	if g == nil {
		return 0, false
	}
	from := r3.Sub(at, g.Corner)
	share := r3.Dot(from, g.Legs[0])/r3.Norm2(g.Legs[0]) + r3.Dot(from, g.Legs[1])/r3.Norm2(g.Legs[1])
	u, v := r3.Norm(g.Legs[0]), r3.Norm(g.Legs[1])
	return (1 - share) * u * v / math.Hypot(u, v), true
}

// metalUnder is how much metal there is along a hole of a radius, mm; 0 when it is not known, of a hollow bar.
func (b *body) metalUnder(normal machine.Axis, at r3.Vec, radius float64) float64 {
	if b.hollow() {
		return 0
	}
	if !b.legFace(normal) {
		return b.metalAlong(normal, at)
	}
	// From a leg to the slope, where the hole's rim is nearest to it.
	var across, along float64
	for _, leg := range b.part.Gusset.Legs {
		k, _ := along1(leg)
		if k == normal {
			along = r3.Norm(leg)
		} else {
			across = 1 - (math.Abs(array(at)[k]-array(b.part.Gusset.Corner)[k])+radius)/r3.Norm(leg)
		}
	}
	return math.Max(0, across*along)
}

// fullOfMetal is the share of its box from which on a bar counts as solid: a round one fills π/4 of it.
const fullOfMetal = 0.75

// hollow tells whether nothing is known of the metal along a hole: in a bar that does not fill the box round it.
func (b *body) hollow() bool {
	if b.part.Bar == nil {
		return false
	}
	if b.axis == noAxis {
		return true
	}
	p, q := b.axis.Others()
	return b.section.A < fullOfMetal*b.fills.size(p)*b.fills.size(q)
}

// clear makes the hole one through the part for the screw's shank, with a counterbore where the head is sunk.
func (h *hole) clear(screw joint.Screw, head joint.Head, at r3.Vec) *hole {
	h.through(joint.Clearance, screw.Clearance, at, joint.ClearanceSource)
	l := &h.Line
	if metal := h.body.metalAlong(h.Normal, at); head.ThroughHole(screw, metal) == joint.Counterbored {
		l.Kind = joint.Counterbored.String()
		l.SinkMM, l.SinkDepthMM = screw.Counterbore, metal-head.ClampedLength(screw, metal)
	}
	return h
}

// tap makes the hole one for the screw's thread.
func (h *hole) tap(screw joint.Screw, at r3.Vec) *hole {
	l := &h.Line
	l.Kind, l.DrillMM, l.Source = answer.TappedHole, screw.TapDrill, joint.TappingSource
	metal := h.body.metalUnder(h.Normal, at, screw.D/2)
	if metal == 0 {
		return h
	}
	t := screw.TapInto(metal, h.body.part.Material.E, h.body.legFace(h.Normal))
	l.DepthMM, l.ThreadMM = t.Depth, t.Thread
	if t.Through {
		l.OutOn = h.opposite()
	}
	return h
}

// throughHoleAt is the hole of a joint's screw in the drilled part, tappedHoleAt that in the other one. Both open where
// the two parts touch.
func (j *madeJoint) throughHoleAt(at r3.Vec) *hole {
	screw := j.joint.Screws.Size
	return newHole(j.drilled, j.touch.normal, !j.drilledFar(), at, screw, j.source()).clear(screw, j.head, at)
}

func (j *madeJoint) tappedHoleAt(at r3.Vec) *hole {
	screw := j.joint.Screws.Size
	return newHole(j.tapped, j.touch.normal, j.drilledFar(), at, screw, j.source()).tap(screw, at)
}

// bore makes the hole a wide one through the part.
func (h *hole) bore(diameter float64, at r3.Vec, source string) *hole {
	h.through(joint.Bored, diameter, at, source)
	return h
}

// through makes the hole one from its face to where the part ends.
func (h *hole) through(kind joint.HoleKind, diameter float64, at r3.Vec, source string) {
	l := &h.Line
	l.Kind, l.DrillMM, l.Source = kind.String(), diameter, source
	l.DepthMM = h.body.metalUnder(h.Normal, at, 0)
	if l.OutOn = h.opposite(); h.body.legFace(h.Normal) {
		l.OutOn = "slope"
	}
}

// opposite is the name of the face opposite to the hole's.
func (h *hole) opposite() string { return machine.FaceOf(h.Normal, !h.Far).String() }

// offFace tells whether a hole is not on its face: then nothing is drilled.
func (h *hole) offFace() bool { return h.Line.EdgeMM < h.Line.DrillMM/2 }

// railHoles adds the tapped holes of rails. Those of a known size are where its screws are.
func (m *Model) railHoles(add func(*hole)) (open []answer.OpenHoles) {
	for _, r := range m.rails {
		screw, ok := joint.LookupScrew(r.size.Rail.Screw)
		name, beside := r.body.part.Name, 0
		for _, s := range r.screws.screws {
			h := newHole(r.on, r.seat.out, r.seat.far, s.at, screw, name).tap(screw, s.at)
			h.Line.Typical = true
			if !ok || h.offFace() {
				beside++
				continue
			}
			add(h)
		}
		if beside > 0 {
			open = append(open, answer.OpenHoles{What: "rail", For: name, Part: r.on.part.Name, PlacesMM: placesOf(r.body.from),
				Why: fmt.Sprintf("%d of its holes lie beside the part", beside)})
		}
	}
	return open
}

// carriageHoles adds the holes through the parts that carriages of a known size are screwed to: four each.
func (m *Model) carriageHoles(add func(*hole)) (open []answer.OpenHoles) {
	for _, a := range m.axes {
		for _, g := range a.guides {
			name := g.guide.Name + " of axis " + a.axis.Name
			unknown := func(at r3.Vec, why string) {
				open = append(open, answer.OpenHoles{What: "carriage", For: "carriages on " + name, Part: g.part.part.Name,
					PlacesMM: placesOf(at), Why: why})
			}
			switch {
			case g.guide.Slide != nil || len(g.carriages) == 0:
				continue
			case g.guide.Rail == nil:
				unknown(g.carriages[0].face, "own numbers: the model does not say which carriage")
				if !g.guide.RailIsBar {
					open = append(open, answer.OpenHoles{What: "rail", For: name, Part: g.on.part.Name,
						PlacesMM: placesOf(g.guide.From), Why: "own numbers: the model does not say which rail"})
				}
				continue
			case g.seat.around():
				unknown(g.carriages[0].face, "the part is drawn round its rail: bore it for the bushes in hand")
				continue
			}
			beside := 0
			for i, c := range g.carriages {
				beside += g.screwsOf(c, fmt.Sprintf("carriage %d on %s", i+1, name), add)
			}
			if beside > 0 {
				unknown(g.carriages[0].face, fmt.Sprintf("%d of their holes lie beside the part", beside))
			}
		}
	}
	return open
}

// screwsOf adds the holes of one carriage and says how many lie beside its part.
func (g *madeGuide) screwsOf(c *madeCarriage, name string, add func(*hole)) (beside int) {
	size := g.guide.Rail
	screw, ok := joint.LookupScrew(size.Screw)
	for _, along := range []float64{-size.HolesAlong / 2, size.HolesAlong / 2} {
		for _, across := range []float64{-size.HolesAcross / 2, size.HolesAcross / 2} {
			at := r3.Add(c.face, r3.Add(r3.Scale(along, c.axes[0]), r3.Scale(across, c.axes[1])))
			h := newHole(g.part, g.seat.out, !g.seat.far, at, screw, name).clear(screw, joint.Proud, at)
			h.Line.Typical = true
			if !ok || h.offFace() {
				beside++
				continue
			}
			add(h)
		}
	}
	return beside
}

// placesOf are places as an answer has them.
func placesOf(places ...r3.Vec) (list [][3]float64) {
	for _, p := range places {
		list = append(list, array(p))
	}
	return list
}

// pieces are the parts as pieces of stock.
func (m *Model) pieces() (list []answer.CutLine) {
	for _, b := range m.bodies {
		list = append(list, b.piece())
	}
	return list
}

// piece is a part as it is sawn: a plate by its three sides, the longest first; a gusset by its two legs and its
// thickness; a bar by its length.
func (b *body) piece() answer.CutLine {
	tonne, _ := b.mass()
	l := answer.CutLine{Kind: b.part.Kind().KindName(), Material: b.part.Material.Key, Parts: []string{b.part.Name},
		MassKg: tonne * constant.KgPerTonne}
	if b.part.Bar != nil {
		l.Section, l.SizeMM = b.section.Name, [3]float64{b.length}
		return l
	}
	for k := machine.X; k <= machine.Z; k++ {
		l.SizeMM[k] = b.fills.size(k)
	}
	if g := b.part.Gusset; g != nil {
		k, thick := along1(g.Thickness)
		p, q := k.Others()
		legs := [2]float64{b.fills.size(p), b.fills.size(q)}
		l.SizeMM = [3]float64{math.Max(legs[0], legs[1]), math.Min(legs[0], legs[1]), math.Abs(thick)}
		return l
	}
	slices.SortFunc(l.SizeMM[:], func(x, y float64) int { return cmp.Compare(y, x) })
	if k := b.sawn(); k != nil {
		l.Outline = k.drawn.Outline.Path()
	}
	return l
}
