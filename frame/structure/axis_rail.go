package structure

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame/constant"
	"tiploop/frame/guide"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
	"tiploop/frame/solid"
)

// A rail of a known size is a steel bar along its seat, screwed down at its pitch: it stiffens what it lies on, bends
// it when both are warmed, and weighs. Its carriages run on the bar. Each screw is one as in a joint of two parts,
// over the ring that it presses; so the bar touches its seat at the screws alone. Between them the two faces meet
// without preload: they could press but not pull, and a linear spring there would do both. That leaves out what a
// carriage between two screws gains by being pressed onto the seat; a profile rail spans a pitch so stiffly that it is
// little.

// madeRail is a rail and what it is screwed to.
type madeRail struct {
	body   *body
	on     *body
	size   *guide.Carriage
	guide  *machine.Guide // the first that has it
	seat   seating
	screws madeJoint
	mounts []mountedAt // of the guides whose carriages run on it
}

// railMaterial is the hardened steel of rails and carriages.
func railMaterial() beam.Material {
	m, ok := beam.LookupMaterial("steel-hardened")
	if !ok {
		panic("structure: no material for rails")
	}
	return m
}

// fitGuides finds how the rails of all axes lie, and makes bodies of them and of their carriages.
func (m *Model) fitGuides() (faults machine.Faults) {
	m.guides = make([][]*madeGuide, len(m.machine.Axes))
	for i := range m.machine.Axes {
		a := &m.machine.Axes[i]
		for k := range a.Guides {
			g := &madeGuide{guide: &a.Guides[k]}
			g.on, g.part = m.bodies[g.guide.On], m.bodies[g.guide.Part]
			if f := m.fitGuide(a, g); f != nil {
				faults = append(faults, *f)
				continue
			}
			m.guides[i] = append(m.guides[i], g)
		}
	}
	return faults
}

func (m *Model) fitGuide(a *machine.FeedAxis, g *madeGuide) *machine.Fault {
	if g.guide.Slide != nil {
		return nil
	}
	seat, fault := m.railSeat(a, g)
	if fault != nil {
		return fault
	}
	g.seat = seat
	if f := m.checkRail(a, g); f != nil {
		return f
	}
	if g.guide.Rail != nil && !g.guide.RailIsBar {
		if f := m.fitRail(a, g); f != nil {
			return f
		}
		if g.guide.Own == nil { // or misfits and shims are in the own springs
			g.rail.mounts = append(g.rail.mounts, m.railMounted(a, g))
		}
	}
	for _, place := range g.guide.Carriages {
		if f := m.fitCarriage(a, g, place); f != nil {
			return f
		}
	}
	return nil
}

// fitRail makes a guide's rail, unless another guide has the same one.
func (m *Model) fitRail(a *machine.FeedAxis, g *madeGuide) *machine.Fault {
	same := slices.IndexFunc(m.rails, func(r *madeRail) bool {
		return r.on == g.on && r.size.Key == g.guide.Rail.Key && r.seat == g.seat && sameEnds(r.guide, g.guide)
	})
	if same >= 0 {
		g.rail = m.rails[same]
		return nil
	}
	b, err := railBody(a, g)
	if err != nil {
		f := m.fault(g.guide.Pos, "", "axis %s, %s: %v", a.Name, g.guide.Name, err)
		return &f
	}
	g.rail = &madeRail{body: b, on: g.on, size: g.guide.Rail, guide: g.guide, seat: g.seat}
	m.rails = append(m.rails, g.rail)
	m.fittings = append(m.fittings, b)
	return nil
}

// sameEnds tells whether two rails reach from the same place to the same place.
func sameEnds(a, b *machine.Guide) bool {
	apart := func(p, q r3.Vec) bool { return r3.Norm(r3.Sub(p, q)) > machine.Touching }
	return !apart(a.From, b.From) && !apart(a.To, b.To) || !apart(a.From, b.To) && !apart(a.To, b.From)
}

// railBody is a rail as a bar along the middle of its section.
func railBody(a *machine.FeedAxis, g *madeGuide) (*body, error) {
	w, s := g.guide, g.seat
	section, err := w.Rail.RailSection(machine.ScrewNu)
	if err != nil {
		return nil, err
	}
	height := section.CentroidZ
	if w.Rail.Kind == guide.OpenBush {
		height = w.Rail.Rail.Height
	}
	from, to := array(w.From), array(w.To)
	from[s.out] = s.level + s.sign()*height
	to[s.out] = from[s.out]
	if from[a.Along] > to[a.Along] {
		from, to = to, from
	}
	made := railMaterial()
	made.Density = w.Rail.Rail.KgPerM / constant.MMPerM / constant.KgPerTonne / section.A
	b, err := newBody(&machine.Part{
		Name: w.Name + " of axis " + a.Name, Pos: w.Pos, Material: made,
		Bar: &machine.Bar{From: vector(from), To: vector(to), Up: r3.Scale(s.sign(), s.out.Direction()), Section: section},
	})
	if err != nil {
		return nil, err
	}
	b.fills, b.hasBox = g.railBox(), true // the support of a round rail, too
	b.mount, b.counted = g.on, guideSource(a, w)
	return b, nil
}

// screwGuides puts in the screws of rails and carriages, which stay where they are when an axis runs.
func (m *Model) screwGuides() (faults machine.Faults) {
	for _, r := range m.rails {
		if f := m.screwRail(r); f != nil {
			faults = append(faults, *f)
		}
	}
	for i, guides := range m.guides {
		for _, g := range guides {
			for _, c := range g.carriages {
				if f := m.screwCarriage(&m.machine.Axes[i], g, c); f != nil {
					faults = append(faults, *f)
				}
			}
		}
	}
	return faults
}

// twoRows is how far apart the rail's screws stand, as a share of the seat's width, where they stand in two rows beside
// the rail and not in one in its middle [common practice].
const twoRows = 0.75

// footprint is the part of its seat that a rail covers.
func (r *madeRail) footprint() touch {
	s, wide := r.seat, r.size.Rail.SeatWidth/2
	t := touch{kind: onFace, normal: s.out, aBelow: !s.far, box: around(r.body.from, r.body.to)}
	t.lo[s.out], t.hi[s.out] = s.level, s.level
	t.lo[s.across] = math.Max(s.line-wide, r.on.fills.lo[s.across])
	t.hi[s.across] = math.Min(s.line+wide, r.on.fills.hi[s.across])
	along := 3 - s.out - s.across
	t.lo[along] = math.Max(t.lo[along], r.on.fills.lo[along])
	t.hi[along] = math.Min(t.hi[along], r.on.fills.hi[along])
	return t
}

// places are those of the rail's screws, in the two axes of its seat.
func (r *madeRail) places() (list [][2]float64, err error) {
	s, p := r.seat, 0
	along := 3 - s.out - s.across
	if s.across < along {
		p = 1
	}
	from, rail := array(r.body.from)[along], r.size.Rail
	stations, err := rail.ScrewPlaces(r.body.length)
	if err != nil {
		return nil, err
	}
	rows := []float64{0}
	if rail.ScrewRows > 1 {
		lever := twoRows / 2 * rail.SeatWidth
		rows = []float64{-lever, lever}
	}
	for _, station := range stations {
		for _, row := range rows {
			var at [2]float64
			at[p], at[1-p] = from+station, s.line+row
			list = append(list, at)
		}
	}
	return list, nil
}

// screwRail holds a rail to its seat by the springs of each of its screws.
func (m *Model) screwRail(r *madeRail) *machine.Fault {
	fail := func(hint, format string, args ...any) *machine.Fault {
		f := m.fault(r.guide.Pos, hint, r.body.part.Name+": "+format, args...)
		return &f
	}
	places, err := r.places()
	if err != nil {
		return fail(fmt.Sprintf("make it at least %s long", machine.MM(2*r.size.Rail.EndDistance)), "%v", err)
	}
	if k := r.on.sawn(); k != nil {
		var at [3]float64
		p, q := r.seat.out.Others()
		for _, place := range places {
			at[r.seat.out], at[p], at[q] = r.seat.level, place[0], place[1]
			if room := k.room(vector(at)); room < -machine.Touching {
				return fail("move the rail, or leave more metal", "a screw at %s stands %s of %s", placeText(at), roomText(room),
					r.on.part.Name)
			}
		}
	}
	t := r.footprint()
	r.screws = madeJoint{name: r.body.part.Name, a: r.body, b: r.on, touch: t, drilled: r.body, tapped: r.on}
	steel := r.body.plate(t)
	if r.size.Kind == guide.OpenBush {
		steel.Depth = 0 // nothing is known of the support under the shaft
	}
	pinch, err := guideScrew(r.guide, r.size.Rail.Screw, steel, r.on.plate(t), r.on.part.Material.E)
	if err != nil {
		return fail("", "%v", err)
	}
	pinch.Drilled.Thickness = r.size.Rail.UnderHead
	var sheets []machine.Shim
	for _, on := range r.mounts {
		sheets = append(sheets, m.shimScrew(&pinch, on.at)...)
	}
	p, q := t.normal.Others()
	rect := joint.Rect2{Min: [2]float64{t.lo[p], t.lo[q]}, Max: [2]float64{t.hi[p], t.hi[q]}}
	r.screws.clamping = pinch
	inner, outer := pinch.Ring()
	for i, place := range places {
		zone := joint.PressureZone(rect, places, i, inner, outer)
		if pinch.ZoneArea = zone.Area; pinch.ZoneArea == 0 {
			return fail("move the rail inwards, or make its seat wider",
				"nothing of its seat is left under the screw at %s = %s, %s = %s", p, machine.MM(place[0]), q,
				machine.MM(place[1]))
		}
		k, err := pinch.Stiffness()
		if err != nil {
			return fail("", "%v", err)
		}
		at := t.lo
		at[p], at[q] = place[0], place[1]
		outline, first := joint.Outline(rect, places, i), len(m.links)
		m.addScrew(&r.screws, &spot{at: vector(at), zone: solid.Zone{
			At: vector(at), Normal: int(t.normal), Polygon: outline, Inner: inner, Outer: outer, Lone: true,
		}}, softened(k, sheets, zone.Area), joint.Pressed{Moments: zone, Outline: about(place, outline), Outer: outer},
			r.body.source())
		for _, on := range r.mounts {
			on.centre = r3.Add(vector(at), r3.Scale(guideRows(on.rail, r.seat), on.out)) // where its carriages run
			m.mount(first, len(m.ties), on)
		}
	}
	return nil
}

// checkRails looks at every rail against all that does not run against it: parts, and the other rails. What runs is
// looked at all over the work space.
func (m *Model) checkRails() (faults machine.Faults) {
	for i, r := range m.rails {
		others := slices.Clone(m.bodies)
		for _, o := range m.rails[:i] {
			others = append(others, o.body)
		}
		for _, o := range others {
			if o == r.on || !o.hasBox {
				continue
			}
			if depth, ok := overlap(o, r.body); ok {
				k := box{hi: depth}.shortest()
				faults = append(faults, m.fault(r.guide.Pos, fmt.Sprintf("moving one of them by %s along %s would part them; "+
					"or end the rail before it", machine.MM(depth[k]), k), "%s and %s run into each other: they share %s, from %s",
					r.body.part.Name, o.part.Name, sizes(depth), sharedText(o, r.body)))
			}
		}
	}
	return faults
}

// sharedText is the room that two boxes share: "[0, 0, 0] to [1, 1, 1]".
func sharedText(a, b *body) string {
	var lo, hi [3]float64
	for k := range lo {
		lo[k], hi[k] = math.Max(a.fills.lo[k], b.fills.lo[k]), math.Min(a.fills.hi[k], b.fills.hi[k])
	}
	return placeText(lo) + " to " + placeText(hi)
}

// railScrews is about the give of a rail on its screws under a carriage, wherever it stands on it, taken as a beam on
// an elastic bed; it is for show, and the rail itself is in the frame.
func railScrews(w *machine.Guide, on *body, t touch) (give [6]float64, err error) {
	rail := w.Rail.Rail
	seat := rail.SeatWidth / float64(rail.ScrewRows)
	steel := joint.Plate{E: machine.ScrewE, Nu: machine.ScrewNu, Thickness: rail.UnderHead}
	middle, pressed := [][2]float64{{0, 0}}, [2]float64{rail.HolePitch, seat}
	_, k, zone, err := mounted(w, rail.Screw, steel, on.plate(t), middle, pressed, on.part.Material.E)
	if err != nil {
		return give, err
	}
	rows := float64(rail.ScrewRows)
	tilt := (k.Normal - k.ScrewAxial) * zone.Moments.YY / zone.Moments.Area
	if rail.ScrewRows > 1 {
		lever := twoRows / 2 * rail.SeatWidth
		tilt += k.Normal * lever * lever
	}
	section, err := w.Rail.RailSection(machine.ScrewNu)
	if err != nil {
		return give, err
	}
	g := machine.ScrewE / (2 * (1 + machine.ScrewNu))
	bed := guide.RailBed{
		Normal: rows * k.Normal / rail.HolePitch, Along: rows * k.Tangential / rail.HolePitch,
		Tilt: rows * tilt / rail.HolePitch,
		EIz:  machine.ScrewE * section.Iy, EIy: machine.ScrewE * section.Iz, GJ: g * section.J,
	}
	vertical, side, roll, pitch, yaw := bed.Under(w.Rail.Body)
	return [6]float64{0, 1 / side, 1 / vertical, 1 / roll, 1 / pitch, 1 / yaw}, nil
}

// hangs is how much of a rail's seat may lie beside what it lies on, as a share of its width, before that is told: a
// chamfer is no more [common practice, no source].
const hangs = 0.1

// edgeNotes tell which rails lie over an edge, and which carriages have screws with no metal of their part round them;
// the sums of both take it that there is.
func (m *Model) edgeNotes() (notes []string) {
	for i, guides := range m.guides {
		a := &m.machine.Axes[i]
		for _, g := range guides {
			size := g.guide.Rail
			if size == nil {
				continue
			}
			seat := size.Rail.SeatWidth
			if over := beside(g.on, g.seat.across, g.seat.line, seat/2); !g.guide.RailIsBar && over > hangs*seat {
				notes = append(notes, fmt.Sprintf("axis %s, %s: %s of its seat, %s wide, lie beside %s. Move the rail inwards, or "+
					"make what it lies on wider.", a.Name, g.guide.Name, machine.MM(over), machine.MM(seat), g.on.part.Name))
			} else if g.rail != nil && g.rail.overGaps() > hangs {
				notes = append(notes, fmt.Sprintf("axis %s, %s: %.0f %% of its seat lie over a window of %s or beside its outline. "+
					"Move the rail, or leave more metal.", a.Name, g.guide.Name, 100*g.rail.overGaps(), g.on.part.Name))
			}
			if screw, ok := joint.LookupScrew(size.Screw); ok && !g.seat.around() {
				notes = append(notes, g.looseScrews(a, screw)...)
			}
		}
	}
	return notes
}

// overGaps is the share of a rail's seat that is no metal of a plate of any outline.
func (r *madeRail) overGaps() float64 {
	k, t := r.on.sawn(), r.footprint()
	if k == nil {
		return 0
	}
	face, ok := k.face(t)
	if !ok {
		return 1
	}
	t.shapes = face.shapes
	return 1 - t.area()/t.sideArea(t.normal)
}

// looseScrews tell of the first carriage with a screw that the part's metal does not go round.
func (g *madeGuide) looseScrews(a *machine.FeedAxis, screw joint.Screw) []string {
	size := g.guide.Rail
	for _, c := range g.carriages {
		over := math.Max(beside(g.part, g.seat.across, g.seat.line, (size.HolesAcross+screw.D)/2),
			beside(g.part, a.Along, c.place, (size.HolesAlong+screw.D)/2))
		if over > machine.Touching {
			return []string{fmt.Sprintf("axis %s, %s: screws of its carriage at %s are %s beyond the edge of %s, and are taken "+
				"to hold all the same. Move the carriage inwards, or make the part larger.", a.Name, g.guide.Name,
				machine.MM(c.place), machine.MM(over), g.part.part.Name)}
		}
	}
	return nil
}

// beside is how far what reaches to both sides of a place lies beside a body along an axis, mm; below zero: not at all.
func beside(b *body, k machine.Axis, at, reach float64) float64 {
	return math.Max(b.fills.lo[k]-(at-reach), at+reach-b.fills.hi[k])
}
