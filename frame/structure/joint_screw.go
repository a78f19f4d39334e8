package structure

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/constant"
	"tiploop/frame/guide"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
	"tiploop/frame/solid"
)

// madeScrew is one screw: its spot, and where its springs begin in Model.links: square to the face, then two along it.
type madeScrew struct {
	at     r3.Vec
	pinch  joint.ClampingStiffness
	zone   joint.Pressed
	normal int
}

// engaged is how much thread there can be in the tapped part, mm.
func (j *madeJoint) engaged() float64 { return j.tapped.plate(j.touch).Thickness }

// play is how far the joint can shift and turn in its holes once it slips.
func (j *madeJoint) play() joint.Play {
	p, q := j.touch.normal.Others()
	var places [][2]float64
	for _, s := range j.screws {
		at := array(s.at)
		places = append(places, [2]float64{at[p], at[q]})
	}
	return joint.HolePlay(places, j.joint.Screws.Size.Clearance, j.joint.Screws.Size.D)
}

// screwed joins two parts by the springs of each screw.
func (m *Model) screwed(j *madeJoint, source string) *machine.Fault {
	j.drilled, j.tapped = j.a, j.b
	switch {
	case j.joint.Drilled == machine.DrilledFirst:
	case j.joint.Drilled == machine.DrilledSecond:
		j.drilled, j.tapped = j.b, j.a
	case j.b.reachThrough(j.touch.normal) < j.a.reachThrough(j.touch.normal):
		j.drilled, j.tapped = j.b, j.a
	}
	places, fault := m.screwPlaces(j)
	if fault != nil {
		return fault
	}
	p, q := j.touch.normal.Others()
	if fault := m.seatHeads(j, places); fault != nil {
		return fault
	}
	pinch := joint.Clamping{
		Screw: j.joint.Screws.Size, TorqueNmm: j.joint.Screws.TorqueNmm, Head: j.head, Surface: j.joint.Surface,
		Drilled: j.drilled.plate(j.touch), Tapped: j.tapped.plate(j.touch),
	}
	if pinch.TorqueNmm == 0 && pinch.Screw.NeedsSoftTorque(j.engaged(), pinch.Tapped.E) {
		pinch.TorqueNmm = torqueInto(pinch.Screw.Size, pinch.Tapped.E)
	}
	if s := j.joint.Shim; s != nil {
		for _, b := range []*body{j.drilled, j.tapped} {
			if fault := m.tooThick(j.joint.Pos, "joint "+j.name+": the shim", s.Thickness, b, j.touch.normal); fault != nil {
				return fault
			}
		}
		sheet := layerOf(*s)
		pinch.Shim = &sheet
	}
	sheets := m.shimScrew(&pinch, machine.Mounting{Kind: machine.AtJoint, Joint: slices.IndexFunc(m.machine.Joints,
		func(o machine.Joint) bool { return o.Parts == j.joint.Parts })})
	rect := joint.Rect2{Min: [2]float64{j.touch.lo[p], j.touch.lo[q]}, Max: [2]float64{j.touch.hi[p], j.touch.hi[q]}}
	j.clamping = pinch
	inner, outer := pinch.Ring()
	for i, place := range places {
		near := slices.Concat(places, j.touch.mirrors(place, outer))
		zone := joint.PressureZone(rect, near, i, inner, outer)
		if pinch.ZoneArea = zone.Area; pinch.ZoneArea == 0 {
			f := m.fault(j.joint.Screws.Pos, "move the screws apart or away from the edge",
				"joint %s: edges and neighbours leave nothing of the pressed ring of a screw", j.name)
			return &f
		}
		k, err := pinch.Stiffness()
		if err != nil {
			f := m.fault(j.joint.Screws.Pos, "move the screws apart or away from the edge", "joint %s: %v", j.name, err)
			return &f
		}
		at := j.touch.lo
		at[p], at[q] = place[0], place[1]
		outline := joint.Outline(rect, near, i)
		where := &spot{at: vector(at), zone: solid.Zone{
			At: vector(at), Normal: int(j.touch.normal), Polygon: outline, Inner: inner, Outer: outer, Lone: true,
		}}
		m.addScrew(j, where, softened(k, sheets, zone.Area),
			joint.Pressed{Moments: zone, Outline: about(place, outline), Outer: outer}, source)
	}
	return nil
}

// about is an outline as it lies about a place.
func about(place [2]float64, outline [][2]float64) (moved [][2]float64) {
	for _, c := range outline {
		moved = append(moved, [2]float64{c[0] - place[0], c[1] - place[1]})
	}
	return moved
}

// torqueInto is the torque, N·mm, that makers of rails give for a screw into metal of that modulus; 0 when nothing is
// known of its size.
func torqueInto(size string, threadE float64) float64 {
	t, ok := guide.LookupRailTorque(size)
	switch {
	case !ok:
		return 0
	case joint.IsSoft(threadE):
		return t.AluminiumNm * constant.NmmPerNm
	case joint.IsIron(threadE):
		return t.CastIronNm * constant.NmmPerNm
	}
	return t.SteelNm * constant.NmmPerNm
}

// addScrew adds the springs of one screw: square to the face, along it, and against the turning of the pressed zone.
// What a zone presses with it presses with in its middle, which edges and neighbours move away from the hole; the
// screw itself pulls in the hole, and the two together act between. The zone resists tilting and spinning with its
// stiffness against that spread over it: its second moments. So zones that share a face act as what they make up
// together, and one more screw, which takes from its neighbours what it presses on, does not make them softer by
// moving their springs. The springs along the face stand between with the others, a tenth or so of the way from the
// middle to the hole: with a node of its own for each a member would have slivers.
func (m *Model) addScrew(j *madeJoint, hole *spot, k joint.ClampingStiffness, pressed joint.Pressed,
	source string) {
	p, q := j.touch.normal.Others()
	zone := pressed.Moments
	middle := zone.Centroid()
	pressing := 1 - k.ScrewAxial/k.Normal
	between, at := *hole, array(hole.at)
	at[p] += pressing * middle[0]
	at[q] += pressing * middle[1]
	between.at = vector(at)

	xx, xy, yy := zone.Central()
	spread, pair := k.Tilt/zone.Area, k.ScrewAxial*pressing // a pair of springs k₁ and k₂ tilts by k₁·k₂/(k₁ + k₂)
	aboutP, aboutQ := spread*yy+pair*middle[1]*middle[1], spread*xx+pair*middle[0]*middle[0]
	both := -spread*xy - pair*middle[0]*middle[1]
	// aboutP·θp² + 2·both·θp·θq + aboutQ·θq² as the squares of two turns
	lean := both / aboutP
	leaning := r3.Add(p.Direction(), r3.Scale(lean, q.Direction()))
	aside := (1 - pressing) * (1 - pressing) * (middle[0]*middle[0] + middle[1]*middle[1])

	screw := madeScrew{at: hole.at, pinch: k, zone: pressed, normal: len(m.links)}
	for _, s := range []struct {
		direction r3.Vec
		turning   bool
		stiffness float64
	}{
		{j.touch.normal.Direction(), false, k.Normal},
		{p.Direction(), false, k.Tangential},
		{q.Direction(), false, k.Tangential},
		{r3.Unit(leaning), true, aboutP * r3.Norm2(leaning)},
		{q.Direction(), true, aboutQ - lean*both},
		{j.touch.normal.Direction(), true, k.Spin/zone.Area*(xx+yy) + k.Tangential*aside},
	} {
		m.link(link{a: j.a, b: j.b, spot: &between, direction: s.direction, turning: s.turning, stiffness: s.stiffness,
			source: source})
	}
	j.screws = append(j.screws, screw)
}

// ringLoad is what a solution does to the pressed zone of a screw, about the zone's middle: the springs stand between
// the middle and the hole, see addScrew, and tell how far the faces have moved there and what holds them.
func (m *Model) ringLoad(j *madeJoint, screw madeScrew, forceOf func(spring int) float64) joint.RingLoad {
	p, q := j.touch.normal.Others()
	n := j.touch.normal.Direction()
	k, zone, middle := screw.pinch, screw.zone.Moments, screw.zone.Moments.Centroid()
	held := func(i int) float64 { return forceOf(m.links[screw.normal+i].spring) }
	moved := func(i int) float64 { return held(i) / m.links[screw.normal+i].stiffness }
	// A turn about an axis that leans in the face and one about q; of both along p and q.
	leaning := m.links[screw.normal+3].direction
	alongP, alongQ := r3.Dot(leaning, p.Direction()), r3.Dot(leaning, q.Direction())
	aboutQ := moved(4)
	aboutP := (moved(3) - alongQ*aboutQ) / alongP
	turn := r3.Add(r3.Scale(aboutP, p.Direction()), r3.Scale(aboutQ, q.Direction()))
	apart := 1.0
	if j.touch.aBelow {
		apart = -1 // the link measures a against b along +normal: a below b opens when it moves down
	}
	lift := [2]float64{apart * r3.Dot(n, r3.Cross(turn, p.Direction())), apart * r3.Dot(n, r3.Cross(turn, q.Direction()))}
	from := k.ScrewAxial / k.Normal // of the way from the hole to the middle
	opened := apart*moved(0) + from*(lift[0]*middle[0]+lift[1]*middle[1])

	back := r3.Scale(-from, r3.Add(r3.Scale(middle[0], p.Direction()), r3.Scale(middle[1], q.Direction())))
	shear := r3.Add(r3.Scale(held(1), p.Direction()), r3.Scale(held(2), q.Direction()))
	return joint.RingLoad{
		Pull:  (k.Normal - k.ScrewAxial) * opened,
		Lift:  [2]float64{k.Tilt / zone.Area * lift[0], k.Tilt / zone.Area * lift[1]},
		Shear: [2]float64{held(1), held(2)},
		Twist: held(5) + r3.Dot(n, r3.Cross(back, shear)),
	}
}

// Distances a drilled hole needs, in screw diameters [common practice, no source]: a grid keeps gridEdge from the
// sides; a hole given by hand may come as near as leastEdge.
const (
	gridEdge  = 1.5
	leastEdge = 1.0
)

// seatHeads finds how the joint's heads sit: as the file says, else proud where nothing stands in their way and sunk
// where something does.
func (m *Model) seatHeads(j *madeJoint, places [][2]float64) *machine.Fault {
	s, thickness := j.joint.Screws, j.drilled.metalAlong(j.touch.normal, j.touch.onMiddle())
	fail := m.screwFault(j)
	j.head = s.Head
	if s.Head == joint.HeadUnsaid {
		j.head = joint.Proud
	}
	fits := joint.Sunk.ThroughHole(s.Size, thickness) == joint.Counterbored
	if s.Head == joint.Sunk && !fits {
		return fail("say head: proud, or take thicker metal", "%s of %s leave no metal under sunk %s heads",
			machine.MM(thickness), j.drilled.part.Name, s.Size.Size)
	}
	inTheWay, all := "", j.headBox(places[0])
	for _, place := range places {
		b := j.headBox(place)
		all.take(b.lo, b.hi)
	}
	if m.overHead(j, all) != "" {
		for i := 0; i < len(places) && inTheWay == ""; i++ {
			inTheWay = m.overHead(j, j.headBox(places[i]))
		}
	}
	switch {
	case inTheWay == "" || j.head == joint.Sunk:
	case s.Head != joint.HeadUnsaid:
		return fail("say head: sunk, or move the screws", "%s heads on %s run into %s", s.Size.Size, j.drilled.part.Name,
			inTheWay)
	case fits:
		j.head = joint.Sunk
	default:
		j.inTheWay = inTheWay
	}
	return nil
}

// drilledFar tells whether the heads look towards the larger coordinate.
func (j *madeJoint) drilledFar() bool { return (j.drilled == j.a) != j.touch.aBelow }

// headBox is the room of a head that stands on the drilled part.
func (j *madeJoint) headBox(place [2]float64) box {
	s, n := j.joint.Screws, j.touch.normal
	p, q := n.Others()
	from, to := j.drilled.metalFrom(n, j.touch.onMiddle())
	half, high := j.head.Width(s.Size)/2, j.head.Height(s.Size, to-from)
	b := j.touch.box
	b.lo[p], b.hi[p] = place[0]-half, place[0]+half
	b.lo[q], b.hi[q] = place[1]-half, place[1]+half
	if j.drilledFar() {
		b.lo[n], b.hi[n] = to, to+high
	} else {
		b.lo[n], b.hi[n] = from-high, from
	}
	return b
}

// screwPlaces are the screws' places on the contact face, checked.
func (m *Model) screwPlaces(j *madeJoint) ([][2]float64, *machine.Fault) {
	s, t := j.joint.Screws, j.touch
	p, q := t.normal.Others()
	fail := m.screwFault(j)
	var places [][2]float64
	if s.At == nil {
		var f *machine.Fault
		if places, f = m.gridPlaces(j); f != nil {
			return nil, f
		}
	}
	for _, at := range s.At {
		places = append(places, [2]float64{at[0] + machine.Component(j.joint.Moved, p),
			at[1] + machine.Component(j.joint.Moved, q)})
	}
	for i, place := range places {
		at := t.lo
		at[p], at[q] = place[0], place[1]
		for c, k := range []machine.Axis{p, q} {
			if edge := math.Min(place[c]-t.lo[k], t.hi[k]-place[c]); edge < leastEdge*s.Size.D-machine.Touching {
				return nil, fail(fmt.Sprintf("the faces share %s to %s along %s; keep %s from the edge", machine.MM(t.lo[k]),
					machine.MM(t.hi[k]), k, machine.MM(leastEdge*s.Size.D)),
					"the %s screw at %s = %s, %s = %s is too near the edge of the face or off it", s.Size.Size, p,
					machine.MM(place[0]), q, machine.MM(place[1]))
			}
		}
		if t.inside != nil && !t.inside(vector(at)) {
			return nil, fail("give the places with at: [[…], …]",
				"the %s screw at %s = %s, %s = %s is beside the gusset's slope",
				s.Size.Size, p, machine.MM(place[0]), q, machine.MM(place[1]))
		}
		if room := j.touch.room(place); room < leastEdge*s.Size.D-machine.Touching {
			return nil, fail(fmt.Sprintf("give the places with at: [[…], …], %s from the edge of the outline",
				machine.MM(leastEdge*s.Size.D)), "the %s screw at %s = %s, %s = %s is %s", s.Size.Size, p, machine.MM(place[0]), q,
				machine.MM(place[1]), roomText(room))
		}
		for _, other := range places[:i] {
			if d := math.Hypot(place[0]-other[0], place[1]-other[1]); d < s.Head.Width(s.Size)-machine.Touching {
				return nil, fail("use fewer or smaller screws", "two %s screws stand %s apart and their heads are %s wide",
					s.Size.Size, machine.MM(d), machine.MM(s.Head.Width(s.Size)))
			}
		}
	}
	return places, nil
}

// screwFault words what is wrong with the screws of a joint.
func (m *Model) screwFault(j *madeJoint) func(hint, format string, args ...any) *machine.Fault {
	return func(hint, format string, args ...any) *machine.Fault {
		f := m.fault(j.joint.Screws.Pos, hint, "joint "+j.name+": "+format, args...)
		return &f
	}
}

// gridPlaces spreads a grid of screws evenly over the contact face.
func (m *Model) gridPlaces(j *madeJoint) (places [][2]float64, f *machine.Fault) {
	s, t := j.joint.Screws, j.touch
	p, q := t.normal.Others()
	var lines [2][]float64
	for i, k := range []machine.Axis{p, q} {
		n := s.Grid[i]
		need := float64(n-1)*s.Head.Width(s.Size) + 2*gridEdge*s.Size.D
		if n == 1 {
			need = 2 * leastEdge * s.Size.D
		}
		if t.size(k) < need-machine.Touching {
			hint, row := fmt.Sprintf("use fewer or smaller screws along %s", k),
				fmt.Sprintf("%d %s screws in a row along %s need", n, s.Size.Size, k)
			if n == 1 {
				hint, row = "use a smaller screw", fmt.Sprintf("one %s screw needs along %s", s.Size.Size, k)
			}
			return nil, m.screwFault(j)(hint, "%s %s, and the faces share %s", row, machine.MM(need), machine.MM(t.size(k)))
		}
		if n == 1 {
			lines[i] = []float64{t.middle(k)}
			continue
		}
		edge := gridEdge * s.Size.D
		for c := range n {
			lines[i] = append(lines[i], t.lo[k]+edge+(t.size(k)-2*edge)*float64(c)/float64(n-1))
		}
	}
	for _, a := range lines[0] {
		for _, b := range lines[1] {
			places = append(places, [2]float64{a, b})
		}
	}
	return places, nil
}
