package structure

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

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

func (m *Model) makeCarriage(a *machine.FeedAxis, g *madeGuide, s seating, place float64) *machine.Fault {
	w := g.guide
	at := array(w.From)
	at[a.Along], at[s.across] = place, s.line
	foot := at
	foot[s.out] = s.face()
	if f := m.offPart(g.part, vector(foot), w.Pos, fmt.Sprintf("middle of the carriage of axis %s, %s,", a.Name,
		w.Name)); f != nil && !s.around() {
		return f
	}
	at[s.out] = s.level + s.sign()*guideRows(w, s)
	c := &madeCarriage{at: vector(at), place: place}
	c.axes[0], c.axes[2] = a.Along.Direction(), r3.Scale(s.sign(), s.out.Direction())
	c.axes[1] = r3.Cross(c.axes[2], c.axes[0])
	zone := func(b *body, level, length, width float64) touch {
		t := touch{kind: onFace, normal: s.out, box: around(vector(at))}
		t.lo[s.out], t.hi[s.out] = level, level
		for k, size := range map[machine.Axis]float64{a.Along: length, s.across: width} {
			t.lo[k] = math.Max(at[k]-size/2, b.fills.lo[k])
			t.hi[k] = math.Min(at[k]+size/2, b.fills.hi[k])
		}
		return t
	}
	railWidth := w.Width
	if w.Rail != nil {
		railWidth = w.Rail.Rail.SeatWidth
	}
	under, over := zone(g.on, s.level, w.Length, railWidth), zone(g.part, s.face(), w.Length, w.Width)
	give, err := m.carriageGive(g, c, s, under, over)
	if err != nil {
		f := m.fault(w.Pos, "give own numbers, stiffness: {press: …}", "axis %s, %s: %v", a.Name, w.Name, err)
		return &f
	}
	mounting := m.carriageMounting(a, w, len(g.carriages))
	m.shimCarriage(&give, mounting, s, under, over)
	if m.carriageNodes {
		g.part.wantSection(c.at)
		g.on.wantSection(c.at)
	}
	top, bottom := g.part.spotOver(c.at, over), g.on.spotOver(c.at, under)
	first := len(m.links)
	for f, k := range c.springs.Springs() {
		c.links[f] = -1
		if k == 0 {
			continue
		}
		c.links[f] = len(m.links)
		m.link(link{
			a: g.part, spot: top, others: []end{{g.on, bottom, -1}}, direction: c.axes[f%3], turning: f >= 3,
			stiffness: 1 / (1/k + give[f]), source: guideSource(a, w),
		})
	}
	m.mount(first, len(m.ties), mountedAt{at: mounting, centre: c.at, out: c.axes[2], across: s.across.Direction(),
		along: c.axes[0], factor: 1, rail: w})
	g.carriages = append(g.carriages, c)
	return nil
}

// carriageGive is what gives way between the carriage and the two parts, movement per force and rotation per moment
// along and about the carriage's own axes: the rail on its screws, the carriage on its own, or the seats of the two
// parts.
func (m *Model) carriageGive(g *madeGuide, c *madeCarriage, s seating, under, over touch) (give [6]float64, err error) {
	w := g.guide
	if w.Own != nil {
		c.springs = *w.Own
		for _, side := range []struct {
			b *body
			t touch
		}{{g.on, under}, {g.part, over}} {
			if s.bar && side.b == g.on {
				continue
			}
			add(&give, side.b.seatUnder(side.t, s))
		}
		return give, nil
	}
	springs, err := w.Rail.Stiffness(w.Preload)
	if err != nil {
		return give, err
	}
	c.springs = springs.Typical
	top, err := carriageScrews(w, g.part, over)
	if err != nil {
		return give, err
	}
	add(&give, top)
	if s.bar {
		return give, nil
	}
	bottom, err := railScrews(w, g.on, under)
	if err != nil {
		return give, err
	}
	add(&give, bottom)
	return give, nil
}

func add(to *[6]float64, more [6]float64) {
	for k := range to {
		to[k] += more[k]
	}
}

// seatUnder is the give of a part's metal under a rectangle that stays flat, between its face and its centre line.
func (b *body) seatUnder(t touch, s seating) (give [6]float64) {
	along := 3 - s.out - s.across
	length, width := t.size(along), t.size(s.across)
	if length <= machine.Touching || width <= machine.Touching || t.area() == 0 {
		return give
	}
	g := b.seat(t, math.Inf(1))
	p, _ := t.normal.Others()
	shear := map[machine.Axis]float64{p: g.p, 3 - t.normal - p: g.q}
	area := t.area()
	normal, side := g.normal/area, shear[s.across]/area
	return [6]float64{0, side, normal, normal * 12 / (width * width), normal * 12 / (length * length),
		side * 12 / (length*length + width*width)}
}

// twoRows is how far apart the rail's screws stand, as a share of the seat's width, where they stand in two rows beside
// the rail and not in one in its middle [common practice].
const twoRows = 0.75

// railScrews is the give of a rail on its screws under a carriage.
func railScrews(w *machine.Guide, on *body, t touch) (give [6]float64, err error) {
	rail := w.Rail.Rail
	seat := rail.SeatWidth / float64(rail.ScrewRows)
	steel := joint.Plate{E: machine.ScrewE, Nu: machine.ScrewNu, Thickness: rail.UnderHead}
	middle, pressed := [][2]float64{{0, 0}}, [2]float64{rail.HolePitch, seat}
	k, zone, err := mounted(w, rail.Screw, steel, on.plate(t), middle, pressed, on.part.Material.E)
	if err != nil {
		return give, err
	}
	rows := float64(rail.ScrewRows)
	tilt := (k.Normal - k.ScrewAxial) * zone.YY / zone.Area
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

// carriageScrews is the give of a carriage on its four screws.
func carriageScrews(w *machine.Guide, part *body, t touch) (give [6]float64, err error) {
	c := w.Rail
	x, y := c.HolesAlong/2, c.HolesAcross/2
	steel := joint.Plate{E: machine.ScrewE, Nu: machine.ScrewNu, Thickness: c.Height - c.Rail.Height}
	if c.Kind == guide.OpenBush {
		steel.Thickness = c.Height - c.Rail.Height - c.Rail.Width/2
	}
	k, _, err := mounted(w, c.Screw, part.plate(t), steel, [][2]float64{{-x, -y}, {-x, y}, {x, -y}, {x, y}},
		[2]float64{c.Body, c.Width}, machine.ScrewE)
	if err != nil {
		return give, err
	}
	n := 4 * k.Normal
	return [6]float64{0, 1 / (4 * k.Tangential), 1 / n, 1 / (n * y * y), 1 / (n * x * x),
		1 / (4 * k.Tangential * (x*x + y*y))}, nil
}

// mounted is one screw of a rail or carriage as a spot, the first of the places on a rectangle of that size, and what
// it presses on. What spreads inside rail and carriage is in the carriage's own number.
func mounted(w *machine.Guide, size string, drilled, tapped joint.Plate, places [][2]float64, rect [2]float64,
	threadE float64) (joint.ClampingStiffness, joint.Moments, error) {
	screw, ok := joint.LookupScrew(size)
	if !ok {
		return joint.ClampingStiffness{}, joint.Moments{}, fmt.Errorf("nothing is known of %s screws", size)
	}
	screw, _ = screw.OfClass(joint.GuideClass)
	pinch := joint.Clamping{Screw: screw, Surface: w.Surface, Drilled: drilled, Tapped: tapped}
	pinch.TorqueNmm = torqueInto(size, threadE)
	inner, outer := pinch.Ring()
	face := joint.Rect2{Min: [2]float64{-rect[0] / 2, -rect[1] / 2}, Max: [2]float64{rect[0] / 2, rect[1] / 2}}
	zone := joint.PressureZone(face, places, 0, inner, outer)
	if pinch.ZoneArea = zone.Area; pinch.ZoneArea == 0 {
		return joint.ClampingStiffness{}, joint.Moments{}, fmt.Errorf("nothing is left to press on under %s screws", size)
	}
	k, err := pinch.Stiffness()
	return k, zone, err
}
