package structure

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame"
	"tiploop/frame/machine"
)

// madePoint is a point with what reads and pushes it. A patch has a node of its own, hung on the part by the give of
// the metal under the patch, where the part does not hold that metal itself.
type madePoint struct {
	point *machine.Point
	body  *body
	patch touch // of a point with a patch
	spot  *spot
	gauge *gauge
	hangs []int // springs of the frame that a patch hangs on
	stand *dialStand
}

func (m *Model) makePoints() (faults machine.Faults) {
	for i := range m.machine.Points {
		p := &m.machine.Points[i]
		made := &madePoint{point: p, body: m.bodies[p.Part]}
		if f := m.offPart(made.body, p.At, p.Pos, "point"); f != nil {
			faults = append(faults, *f)
			continue
		}
		if p.Patch != ([2]float64{}) {
			if f := m.lay(made); f != nil {
				faults = append(faults, *f)
				continue
			}
		}
		made.spot = made.body.spotOn(p.At)
		if p.Patch != ([2]float64{}) {
			made.spot = made.body.patchSpot(p.At, made.patch)
		}
		if !made.body.readAnywhere() {
			made.body.want(made.spot)
		}
		m.makeStand(made)
		m.points = append(m.points, made)
	}
	return faults
}

// lay finds the face a patch lies on; the patch must not hang over its edges.
func (m *Model) lay(p *madePoint) *machine.Fault {
	b, at := p.body, array(p.point.At)
	if !b.flat() {
		f := m.fault(p.point.Pos, "leave out the patch",
			"point %s: a patch lies on a face, and %s is no plate", p.point.Name, b.part.Name)
		return &f
	}
	for k := machine.X; k <= machine.Z; k++ {
		if !b.onLevel(k, at[k]) {
			continue
		}
		t := touch{kind: onFace, normal: k, box: around(p.point.At)}
		a, c := k.Others()
		fits := true
		for i, o := range []machine.Axis{a, c} {
			t.lo[o], t.hi[o] = at[o]-p.point.Patch[i]/2, at[o]+p.point.Patch[i]/2
			fits = fits && t.lo[o] >= b.fills.lo[o]-machine.Touching && t.hi[o] <= b.fills.hi[o]+machine.Touching
		}
		if fits && !b.hangsOver(t) {
			p.patch = t
			return m.tooSmall(p)
		}
	}
	f := m.fault(p.point.Pos, fmt.Sprintf("%s reaches from %s to %s", b.part.Name, placeText(b.fills.lo),
		placeText(b.fills.hi)),
		"point %s: the patch does not lie on a face of %s", p.point.Name, b.part.Name)
	return &f
}

// leastPatch is the least side of a patch over the least thickness of its part: a smaller one asks for cells that run
// small through the whole part, and dents it no differently from one a little larger as far away as its thickness.
const leastPatch = 1. / 20

// tooSmall is the fault of a patch that is too small for its part.
func (m *Model) tooSmall(p *madePoint) *machine.Fault {
	thick := p.body.fills.size(p.body.fills.shortest())
	sides := p.point.Patch
	if math.Min(sides[0], sides[1]) >= leastPatch*thick-machine.Touching {
		return nil
	}
	f := m.fault(p.point.Pos, fmt.Sprintf("make it %s wide at least, or leave it out for a point",
		machine.MM(leastPatch*thick)),
		"point %s: a patch of %.4g x %.4g mm is too small on %s, which is %s thick", p.point.Name, sides[0], sides[1],
		p.body.part.Name, machine.MM(thick))
	return &f
}

// placePoint makes the gauge of a point once the nodes are there.
func (m *Model) placePoint(p *madePoint) error {
	r, err := m.gauges(p.body, p.spot)
	if err != nil {
		return fmt.Errorf("point %s: %w", p.point.Name, err)
	}
	p.gauge = r[0]
	if p.point.Patch == ([2]float64{}) {
		return nil
	}
	give, hung := p.body.patchGive(p.patch)
	if !hung {
		return nil
	}
	area := p.patch.area()
	a, c := p.patch.normal.Others()
	floor := seatFloor * math.Min(p.point.Patch[0], p.point.Patch[1]) / p.body.part.Material.E
	node := m.frame.AddNode(p.point.At)
	hang := func(own frame.Form, form *frame.Form, square, give float64) {
		p.hangs = append(p.hangs, m.frame.AddSpring(frame.Spring{
			Form: own.Plus(-1, *form), Stiffness: area * square / math.Max(give, floor), Source: p.body.source(),
		}))
		*form = own
	}
	second := func(k machine.Axis) float64 { return p.patch.size(k) * p.patch.size(k) / 12 }
	for _, s := range []struct {
		k           machine.Axis
		give, tilts float64
		square      float64 // of the distance from the axis, in the mean
	}{
		{p.patch.normal, give.normal, (give.p + give.q) / 2, second(a) + second(c)},
		{a, give.p, p.body.tiltGive(p.patch, math.Inf(1), p.patch.size(c)), second(c)},
		{c, give.q, p.body.tiltGive(p.patch, math.Inf(1), p.patch.size(a)), second(a)},
	} {
		hang(frame.Move(node, r3.Vec{}, s.k.Direction()), &p.gauge.forms[s.k], 1, s.give)
		hang(frame.Turn(node, s.k.Direction()), &p.gauge.forms[3+s.k], s.square, s.tilts)
	}
	return nil
}

// weighted is a place of a patch and its share of it.
type weighted struct {
	at    r3.Vec
	share float64
}

// patchSpot is a spot spread over a rectangle, by places in cells no longer than a step along each axis.
func patchSpot(at r3.Vec, t touch, step [3]float64) *spot {
	p, q := t.normal.Others()
	s := &spot{at: at}
	for _, sp := range gaussAlong(cells(t.size(p), step[p])) {
		for _, sq := range gaussAlong(cells(t.size(q), step[q])) {
			s.over = append(s.over, weighted{t.at(sp.at, sq.at), sp.weight * sq.weight})
		}
	}
	return s
}

// means are the movement of a patch of a body along a direction and its rotation about it, means as frame/solid has
// them: the rotation is the one that differs least from what the places do, ∫u·(d × r) dA/∫|d × r|² dA, with r
// from the middle. So a force is felt as an even pressure, a moment as one that grows with r.
func (s *spot) means(f *frame.Frame, b *body, direction r3.Vec) (move, turn frame.Form) {
	square := 0.0
	for _, w := range s.over {
		square += w.share * r3.Norm2(r3.Cross(direction, r3.Sub(w.at, s.at)))
	}
	for _, w := range s.over {
		round := r3.Cross(direction, r3.Sub(w.at, s.at))
		move = append(move, b.move(f, &spot{at: w.at}, r3.Scale(w.share, direction))...)
		turn = append(turn, b.move(f, &spot{at: w.at}, r3.Scale(w.share/square, round))...)
	}
	return frame.Form(nil).Plus(1, move), frame.Form(nil).Plus(1, turn)
}

// madeTool is the cutter: round bars from the part that holds it to the tip, and the spot of the work under the tip.
type madeTool struct {
	tool    *machine.Tool
	holder  *body
	root    *spot // where the stub leaves the holder
	work    *body
	spot    *spot  // of the work
	gauge   *gauge // of the work at the tip's place, on its spot
	nose    *hung  // of the spindle, behind its bearings; nil: they give nothing
	foot    int    // node of the root
	held    []hold // what carries the root along with the part
	node    int    // of the tip; -1 when the tip moves with the holder
	members []int  // from the root to the tip
	springs []toolSpring
	tip     [3]frame.Form // of the tool
	turn    [3]frame.Form
}

func (m *Model) makeTool() machine.Faults {
	tool := m.machine.Tool
	if tool == nil {
		return nil
	}
	t := &madeTool{tool: tool, holder: m.bodies[tool.Part], work: m.bodies[m.machine.Work.Part], node: -1}
	m.tool = t
	if t.holder == t.work && tool.Stickout == 0 {
		return machine.Faults{m.fault(tool.Pos, "put the tool on the part that holds the spindle, and the work on the bed",
			"tool and work are on the same part, %s", t.work.part.Name)}
	}
	root := tool.At
	if tool.Stickout > 0 {
		root = r3.Add(tool.At, r3.Scale(tool.Stickout, t.back()))
	}
	t.root = t.holder.spotOn(root)
	var faults machine.Faults
	if f := m.offPart(t.holder, root, tool.Pos, "tool's root"); f != nil {
		f.Hint += fmt.Sprintf("; the tip is at %s and the tool sticks out %s", placeText(array(tool.At)),
			machine.MM(tool.Stickout))
		faults = append(faults, *f)
	}
	at, fault := m.workSpot(tool.At)
	if fault != nil {
		return append(faults, *fault)
	}
	t.spot = t.work.workSpot(at)
	t.holder.want(t.root)
	if !t.work.readAnywhere() {
		t.work.want(t.spot)
	}
	return faults
}

// back is the direction from the tip to the holder.
func (t *madeTool) back() r3.Vec { return t.tool.Back(t.holder.part) }

// workSpot is the spot of the work part under a place: straight below it on the part's top, or where the model says.
func (m *Model) workSpot(under r3.Vec) (r3.Vec, *machine.Fault) {
	w := m.machine.Work
	b := m.bodies[w.Part]
	if w.At != nil {
		if f := m.offPart(b, *w.At, w.Pos, "work spot"); f != nil {
			return r3.Vec{}, f
		}
		return *w.At, nil
	}
	spot := r3.Vec{X: under.X, Y: under.Y, Z: b.fills.hi[machine.Z]}
	if f := m.offPart(b, spot, w.Pos, "spot under the tool"); f != nil {
		f.Hint += "; say where the work is with at: [...]"
		return r3.Vec{}, f
	}
	return spot, nil
}

// gauges is the gauge of the work where it is drawn; nil without a tool.
func (t *madeTool) gauges() *gauge {
	if t == nil {
		return nil
	}
	return t.gauge
}

// placeTool makes the stub, the forms of its tip and the gauge of the work.
func (m *Model) placeTool() error {
	t := m.tool
	if t.tool.Stickout > 0 {
		m.standTool()
	}
	for k := machine.X; k <= machine.Z; k++ {
		if t.node >= 0 {
			t.tip[k], t.turn[k] = frame.Move(t.node, r3.Vec{}, k.Direction()), frame.Turn(t.node, k.Direction())
		} else {
			t.tip[k], t.turn[k] = t.holder.move(m.frame, t.root, k.Direction()), t.holder.turn(t.root, k.Direction())
		}
	}
	r, err := m.gauges(t.work, t.spot)
	if err != nil {
		return fmt.Errorf("work: %w", err)
	}
	t.gauge = r[0].raised(r3.Sub(t.tool.At, t.spot.at)) // the cutter pushes on the work where it cuts
	return nil
}

// Travel is sampled at most travelStep apart and at no fewer than leastSpots places.
const (
	travelStep = 10.0 // mm
	leastSpots = 21
	mostSpots  = 201
)

// pathSpots are the places of a path.
func pathSpots(p *machine.Path) []float64 {
	n := min(mostSpots, max(leastSpots, int(math.Ceil((p.To-p.From)/travelStep))+1))
	list := make([]float64, n)
	for i := range list {
		list[i] = p.From + (p.To-p.From)*float64(i)/float64(n-1)
	}
	return list
}

// workAt is the spot of the work when the path stands at a place.
func (m *Model) workAt(p *machine.Path, at float64) r3.Vec {
	where := array(m.tool.spot.at)
	where[p.Along] = at
	return vector(where)
}

// checkTravel makes sure that every path stays on the work, and asks for its nodes.
func (m *Model) checkTravel() (faults machine.Faults) {
	if m.tool == nil {
		return nil
	}
	for i := range m.machine.Travel {
		p := &m.machine.Travel[i]
		if len(p.Axes) > 0 {
			continue // where no work is under the tool is for its answer to tell
		}
		for _, end := range []float64{p.From, p.To} {
			if f := m.offPart(m.tool.work, m.workAt(p, end), p.Pos, "end of path "+p.Name); f != nil {
				faults = append(faults, *f)
				break
			}
		}
		if !m.tool.work.readAnywhere() {
			for _, at := range pathSpots(p) {
				m.tool.work.want(&spot{at: m.workAt(p, at)})
			}
		}
	}
	return faults
}
