package structure

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame"
	"tiploop/frame/constant"
	"tiploop/frame/guide"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
)

// inRail is where along the height of a profile rail its balls run, as a share of it: in the waist, see guide's
// outline.
const inRail = 0.5

// guideRows is how high over the seat the middle of a carriage's rows is.
func guideRows(g *machine.Guide, s seating) float64 {
	switch {
	case s.bar:
		return 0
	case g.Rail == nil:
		return s.gap / 2
	case g.Rail.Kind == guide.OpenBush:
		return g.Rail.Rail.Height
	}
	return inRail * g.Rail.Rail.Height
}

// A carriage of a known size is a rigid block between two things that give: the rows of balls, where they run in its
// rail, and the four screws in its top, where they hold it to its part. The rail's own screws are a third, at its seat.
// Each is at its height, so a push from the side also rolls what it passes through. What bends in the block itself is
// in the number of its size.

// madeCarriage is one carriage.
type madeCarriage struct {
	at      r3.Vec // middle of its rows
	place   float64
	springs guide.Stiffness // of the carriage alone
	axes    [3]r3.Vec       // along the rail, across it, out of its seat
	rows    []int           // in Model.links: the springs of its rows
	screws  int             // in Model.links: the first of its screws' springs, of a known size without own numbers
	mounted mountedAt
	block   *body   // nil: of unknown size
	over    touch   // what it covers of its part
	face    r3.Vec  // middle of that
	press   float64 // stiffness square to the seat with what it and its rail are screwed to, N/mm
}

// rowOf says of a link that it is a spring of a carriage's rows, and what its force is of the forces and moments along
// and about the carriage's axes.
type rowOf struct {
	carriage machine.Mounting
	bears    [6]float64
}

// addRow adds a spring to a carriage's rows.
func (m *Model) addRow(c *madeCarriage, l link, bears [6]float64) {
	l.row = &rowOf{c.mounted.at, bears}
	c.rows = append(c.rows, len(m.links))
	m.link(l)
}

// fitCarriage finds where a carriage stands, and makes a body of one of a known size.
func (m *Model) fitCarriage(a *machine.FeedAxis, g *madeGuide, place float64) *machine.Fault {
	w, s := g.guide, g.seat
	at := array(w.From)
	at[a.Along], at[s.across] = place, s.line
	face := at
	face[s.out] = s.face()
	if f := m.offPart(g.part, vector(face), w.Pos, fmt.Sprintf("middle of the carriage of axis %s, %s,", a.Name,
		w.Name)); f != nil && !s.around() {
		return f
	}
	at[s.out] = s.level + s.sign()*guideRows(w, s)
	c := &madeCarriage{at: vector(at), place: place, face: vector(face)}
	c.axes[0], c.axes[2] = a.Along.Direction(), r3.Scale(s.sign(), s.out.Direction())
	c.axes[1] = r3.Cross(c.axes[2], c.axes[0])
	c.mounted = m.railMounted(a, g)
	c.mounted.at.Kind, c.mounted.at.Carriage, c.mounted.centre = machine.AtCarriage, len(g.carriages), c.at
	c.over = g.zone(a, c, g.part, s.face(), w.Width)
	if w.Own != nil {
		c.springs = *w.Own
	} else {
		springs, err := w.Rail.Stiffness(w.Preload)
		if err != nil {
			f := m.fault(w.Pos, "give own numbers, stiffness: {press: …}", "axis %s, %s: %v", a.Name, w.Name, err)
			return &f
		}
		c.springs = springs.Typical
	}
	if w.Rail != nil {
		c.block = carriageBody(a, g, c)
		m.fittings = append(m.fittings, c.block)
	}
	g.carriages = append(g.carriages, c)
	return nil
}

// zone is the rectangle that a carriage covers of a part's face, of a width across the rail.
func (g *madeGuide) zone(a *machine.FeedAxis, c *madeCarriage, b *body, level, width float64) touch {
	s, at := g.seat, array(c.at)
	t := touch{kind: onFace, normal: s.out, box: around(c.at)}
	t.lo[s.out], t.hi[s.out] = level, level
	for k, size := range map[machine.Axis]float64{a.Along: g.guide.Length, s.across: width} {
		t.lo[k] = math.Max(at[k]-size/2, b.fills.lo[k])
		t.hi[k] = math.Min(at[k]+size/2, b.fills.hi[k])
	}
	return t
}

// under is what a carriage, or the rail under it, covers of what the rail lies on.
func (g *madeGuide) under(a *machine.FeedAxis, c *madeCarriage) touch {
	width := g.guide.Width
	if g.guide.Rail != nil {
		width = g.guide.Rail.Rail.SeatWidth
	}
	return g.zone(a, c, g.on, g.seat.level, width)
}

// screwCarriage holds a carriage to its part. The builder's own number holds what its screws give, so then nothing
// does.
func (m *Model) screwCarriage(a *machine.FeedAxis, g *madeGuide, c *madeCarriage) *machine.Fault {
	if m.carriageNodes {
		g.part.wantSection(c.at)
		if c.block == nil {
			g.on.wantSection(c.at)
		}
	}
	if c.block == nil {
		return nil
	}
	top := g.part.spotOver(c.face, c.over)
	if g.guide.Own != nil { // its misfits and shims are in its own springs
		m.tieAll(c.block, g.part, top, c.block.source())
		return nil
	}
	held := c.mounted
	c.screws = len(m.links)
	held.factor, held.rail = -1, nil
	fail := func(err error) *machine.Fault {
		f := m.fault(g.guide.Pos, "give own numbers, stiffness: {press: …}", "axis %s, %s: %v", a.Name, g.guide.Name, err)
		return &f
	}
	give, err := carriageScrews(g.guide, g.part, c.over)
	if err != nil {
		return fail(err)
	}
	m.shim(&give, c.mounted.at, g.seat, c.over)
	if g.rail == nil { // a shaft of its own
		m.shim(&give, m.railMounted(a, g).at, g.seat, g.under(a, c))
	}
	for f := range give {
		m.link(link{a: c.block, b: g.part, spot: top, direction: c.axes[f%3], turning: f >= 3, stiffness: 1 / give[f],
			source: c.block.source()})
	}
	m.mount(c.screws, len(m.ties), held)
	press := 1/c.springs.Vertical() + give[2]
	if g.rail != nil {
		bottom, err := railScrews(g.guide, g.on, g.under(a, c))
		if err != nil {
			return fail(err)
		}
		press += bottom[2]
	}
	c.press = 1 / press
	return nil
}

// makeCarriage puts in the springs of a carriage's rows.
func (m *Model) makeCarriage(a *machine.FeedAxis, g *madeGuide, c *madeCarriage) {
	if g.guide.Own != nil {
		m.makeOwn(a, g, c)
		return
	}
	below, first := g.on, len(m.links)
	if g.rail != nil {
		below = g.rail.body
	}
	k, reach, source := c.springs.Springs(), rowReach(g.guide.Rail, c.springs), guideSource(a, g.guide)
	var ends [2]*spot
	for i, lever := range []float64{reach, -reach} {
		ends[i] = &spot{at: r3.Add(c.at, r3.Scale(lever, c.axes[0]))}
		for _, s := range []struct {
			force, moment int
			lever         float64
		}{{1, 5, lever}, {2, 4, -lever}} {
			var bears [6]float64
			bears[s.force], bears[s.moment] = 1, s.lever
			m.addRow(c, link{a: c.block, b: below, spot: ends[i], direction: c.axes[s.force], stiffness: k[s.force] / 2,
				source: source}, bears)
		}
	}
	mean := []end{{below, ends[0], -0.5}, {below, ends[1], -0.5}}
	for f, held := range []float64{3: 0, 4: k[2] * reach * reach, 5: k[1] * reach * reach} {
		if f < 3 || k[f]-held <= rowRounding*k[f] {
			continue
		}
		var bears [6]float64
		bears[f] = 1
		m.addRow(c, link{a: c.block, spot: &spot{at: c.at}, others: mean, direction: c.axes[f-3], turning: true,
			stiffness: k[f] - held, source: source}, bears)
	}
	if g.rail == nil {
		shaft := m.railMounted(a, g)
		shaft.centre = c.at
		m.mount(first, len(m.ties), shaft)
	}
}

// rowReach is how far from their middle the rows are taken to hold on to the rail: rows that give evenly along their
// length L resist as two halves at ±L/√12 do, in force and in moment, and bend the rail as they do. A bush that is
// softer against tilting holds on nearer to its middle.
func rowReach(c *guide.Carriage, k guide.Stiffness) float64 {
	return min(c.Rows().Length/math.Sqrt(12), math.Sqrt(k.Pitch/k.Vertical()), math.Sqrt(k.Yaw/k.Side))
}

// rowRounding is the share of a moment's stiffness below which what the two halves leave of it is rounding.
const rowRounding = 1e-9

// makeOwn puts in the springs of the builder's own number, which is that of the carriage as it is mounted: between the
// two parts, in series with the metal behind their faces.
func (m *Model) makeOwn(a *machine.FeedAxis, g *madeGuide, c *madeCarriage) {
	var give [6]float64
	under := g.under(a, c)
	if !g.seat.bar {
		add(&give, g.on.seatUnder(under, g.seat))
	}
	add(&give, g.part.seatUnder(c.over, g.seat))
	m.shim(&give, c.mounted.at, g.seat, c.over)
	m.shim(&give, m.railMounted(a, g).at, g.seat, under)
	first := len(m.links)
	top, bottom := g.part.spotOver(c.at, c.over), g.on.spotOver(c.at, under)
	for f, k := range c.springs.Springs() {
		if k == 0 {
			continue
		}
		var bears [6]float64
		bears[f] = 1
		m.addRow(c, link{
			a: g.part, spot: top, others: []end{{g.on, bottom, -1}}, direction: c.axes[f%3], turning: f >= 3,
			stiffness: 1 / (1/k + give[f]), source: guideSource(a, g.guide),
		}, bears)
	}
	m.mount(first, len(m.ties), c.mounted)
	c.press = 1 / (1/c.springs.Vertical() + give[2])
}

func add(to *[6]float64, more [6]float64) {
	for k := range to {
		to[k] += more[k]
	}
}

// carriageKind is the steel block of a carriage, rigid.
type carriageKind struct {
	baseKind
	tonne       float64
	id, inFrame int
}

func carriageBody(a *machine.FeedAxis, g *madeGuide, c *madeCarriage) *body {
	b := &body{part: &machine.Part{Name: fmt.Sprintf("carriage of %s of axis %s", g.guide.Name, a.Name), Pos: g.guide.Pos,
		Material: railMaterial()}, axis: noAxis, fills: g.block(a, c), hasBox: true, mount: g.part,
		counted: guideSource(a, g.guide)}
	b.kind = &carriageKind{baseKind: baseKind{b}, tonne: g.guide.Rail.MassKg / constant.KgPerTonne}
	return b
}

func (k *carriageKind) depth(touch) (mm float64, through bool) { return 0, false }

func (k *carriageKind) mass() (tonne float64, centre r3.Vec) { return k.tonne, k.b.middle() }

func (k *carriageKind) addTo(f *frame.Frame, _ [3]float64) {
	k.id = f.AddNode(k.b.middle())
	block := frame.Block{K: mat.NewSymDense(frame.NodeFreedoms, nil), Source: k.b.source()}
	point := frame.MassPoint{Mass: k.tonne}
	for d := range frame.NodeFreedoms {
		block.Freedoms = append(block.Freedoms, frame.NodeFreedoms*k.id+d)
	}
	for d := machine.X; d <= machine.Z; d++ {
		point.Move[d] = frame.Move(k.id, r3.Vec{}, d.Direction())
	}
	block.Mass = []frame.MassPoint{point}
	k.inFrame = f.AddBlock(block)
}

func (k *carriageKind) node(*spot) int { return k.id }

func (k *carriageKind) nodes() []int { return []int{k.id} }

func (k *carriageKind) move(f *frame.Frame, s *spot, direction r3.Vec) frame.Form {
	return onArm(f, k.node(s), s, direction)
}

func (k *carriageKind) turn(s *spot, direction r3.Vec) frame.Form {
	return frame.Turn(k.node(s), direction)
}

func (k *carriageKind) grown(f *frame.Frame, s *spot, direction r3.Vec) float64 {
	return k.b.armGrown(f, k.id, s, direction)
}

// warm: what grows is the way from the node to where others hold on, see grown.
func (k *carriageKind) warm(*frame.Load, float64, r3.Vec) {}

func (k *carriageKind) inertia(out *frame.Inertia) { out.Blocks = append(out.Blocks, k.inFrame) }

// carriageScrews is the give of a carriage on its four screws.
func carriageScrews(w *machine.Guide, part *body, t touch) (give [6]float64, err error) {
	_, k, _, err := carriageScrew(w, part, t)
	if err != nil {
		return give, err
	}
	x, y := w.Rail.HolesAlong/2, w.Rail.HolesAcross/2
	n := 4 * k.Normal
	return [6]float64{1 / (4 * k.Tangential), 1 / (4 * k.Tangential), 1 / n, 1 / (n * y * y), 1 / (n * x * x),
		1 / (4 * k.Tangential * (x*x + y*y))}, nil
}

// carriageScrew is one of the four screws of a carriage.
func carriageScrew(w *machine.Guide, part *body, t touch) (joint.Clamping, joint.ClampingStiffness, joint.Pressed, error) {
	c := w.Rail
	x, y := c.HolesAlong/2, c.HolesAcross/2
	steel := joint.Plate{E: machine.ScrewE, Nu: machine.ScrewNu, Thickness: c.Height - c.Rail.Height}
	if c.Kind == guide.OpenBush {
		steel.Thickness = c.Height - c.Rail.Height - c.Rail.Width/2
	}
	return mounted(w, c.Screw, part.plate(t), steel, [][2]float64{{-x, -y}, {-x, y}, {x, -y}, {x, y}},
		[2]float64{c.Body, c.Width}, machine.ScrewE)
}

// mounted is one screw of a rail or carriage as a spot, the first of the places on a rectangle of that size, and what
// it presses on.
func mounted(w *machine.Guide, size string, drilled, tapped joint.Plate, places [][2]float64, rect [2]float64,
	threadE float64) (joint.Clamping, joint.ClampingStiffness, joint.Pressed, error) {
	pinch, err := guideScrew(w, size, drilled, tapped, threadE)
	if err != nil {
		return pinch, joint.ClampingStiffness{}, joint.Pressed{}, err
	}
	inner, outer := pinch.Ring()
	face := joint.Rect2{Min: [2]float64{-rect[0] / 2, -rect[1] / 2}, Max: [2]float64{rect[0] / 2, rect[1] / 2}}
	zone := joint.Pressed{Moments: joint.PressureZone(face, places, 0, inner, outer),
		Outline: about(places[0], joint.Outline(face, places, 0)), Outer: outer}
	if pinch.ZoneArea = zone.Moments.Area; pinch.ZoneArea == 0 {
		return pinch, joint.ClampingStiffness{}, zone, fmt.Errorf("nothing is left to press on under %s screws", size)
	}
	k, err := pinch.Stiffness()
	return pinch, k, zone, err
}

// guideScrew is a screw of a rail or carriage, tightened as makers of guides say, without what it presses on.
func guideScrew(w *machine.Guide, size string, drilled, tapped joint.Plate, threadE float64) (joint.Clamping, error) {
	screw, ok := joint.LookupScrew(size)
	if !ok {
		return joint.Clamping{}, fmt.Errorf("nothing is known of %s screws", size)
	}
	screw, _ = screw.OfClass(joint.GuideClass)
	return joint.Clamping{Screw: screw, TorqueNmm: torqueInto(size, threadE), Surface: w.Surface, Drilled: drilled,
		Tapped: tapped}, nil
}
