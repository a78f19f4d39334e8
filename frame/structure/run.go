package structure

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame"
	"tiploop/frame/coupling"
	"tiploop/frame/machine"
)

// running is a machine of which up to two axes run. It is built once, as drawn, with the guides and drives of these
// axes left out; what they do in every position is known as springs between places of what is left.
type running struct {
	model  *Model
	axes   []*runningAxis
	pieces *coupling.Pieces
	port   map[*spot]*port // of the spots that move along solid bodies
	ported []*ported
}

// runningAxis is an axis that runs through some positions.
type runningAxis struct {
	axis  *machine.FeedAxis
	at    []float64 // positions, mm
	links [][]link  // of each position: guides and drives, on the parts as drawn
}

// An axis is followed at positions at most travelStep apart, as paths of the work spot are.
func pathPositions(p *machine.Path, a *machine.FeedAxis) []float64 {
	if len(p.Axes) > 1 {
		whole := machine.Path{From: a.Travel[0], To: a.Travel[1]}
		return pathSpots(&whole)
	}
	return pathSpots(p)
}

// run builds a complete machine cut at axes.
func (b *Builder) run(ctx context.Context, m *machine.Machine, axes []*runningAxis) (*running, error) {
	model := &Model{machine: m, builder: b, detail: b.Detail, frame: &frame.Frame{}, misfits: b.misfitsOf(m),
		sideways: b.sideways}
	r := &running{model: model, axes: axes}
	for _, a := range axes {
		model.cut = append(model.cut, slices.IndexFunc(m.Axes,
			func(o machine.FeedAxis) bool { return o.Name == a.axis.Name }))
	}
	steps := []func() machine.Faults{
		model.makeBodies, model.makeJoints, model.makeGrounds, model.fitGuides, model.screwGuides, model.makeAxes,
		r.connections, r.fixSpots, model.hang, model.makePoints, model.makeTool, r.wantSpots, model.checkLoads,
	}
	for _, step := range steps {
		if faults := step(); faults != nil {
			return nil, faults.Sorted()
		}
	}
	model.makeSolids()
	if err := model.reduceSolids(ctx, b); err != nil {
		return nil, err
	}
	if err := model.fillFrame(); err != nil {
		return nil, err
	}
	pieces, err := coupling.Detach(model.frame)
	if err != nil {
		return nil, model.nameLoose(err)
	}
	r.pieces = pieces
	return r, r.makePorts()
}

// connections works out the springs of every position on the machine as it is drawn there, and takes them back to the
// parts where they stand in the model.
func (r *running) connections() (faults machine.Faults) {
	for i, a := range r.axes {
		nodes := faceNodes{}
		for _, at := range a.at {
			there, faults := r.drawnAt(i, at)
			if faults != nil {
				return faults
			}
			for k, b := range there.bodies {
				nodes.add(k, b.underFaces(func() []r3.Vec { return there.slidOn(b) }))
			}
			a.links = append(a.links, r.takenHome(there, a.axis, at))
		}
		for k, b := range r.model.bodies {
			b.wantAt(nodes[k]...)
		}
	}
	return nil
}

// drawnAt is the machine drawn with a running axis in a position: its bodies, and the guides and drives of that axis.
func (r *running) drawnAt(axis int, at float64) (*Model, machine.Faults) {
	moved, err := r.model.machine.At(map[string]float64{r.axes[axis].axis.Name: at})
	if err != nil {
		return nil, err.(machine.Faults)
	}
	there := &Model{machine: moved, detail: r.model.detail, frame: r.model.frame, misfits: r.model.misfits,
		sideways: r.model.sideways}
	for _, step := range []func() machine.Faults{there.makeBodies, there.fitGuides} {
		if f := step(); f != nil {
			return nil, f
		}
	}
	if f := there.makeAxis(r.model.cut[axis]); f != nil {
		return nil, f
	}
	return there, nil
}

// takenHome are the links of a machine drawn with an axis in a position, on the parts where they stand in the model.
func (r *running) takenHome(there *Model, axis *machine.FeedAxis, at float64) (links []link) {
	back, mine := map[*body]*body{}, r.model.allBodies()
	for k, b := range there.allBodies() {
		back[b] = mine[k]
	}
	way := r3.Scale(axis.At-at, axis.Along.Direction())
	home := func(b *body, s *spot) (*body, *spot) {
		if b == nil {
			return nil, s
		}
		if !there.goes(axis, b) {
			return back[b], s
		}
		return back[b], s.moved(way)
	}
	for _, l := range there.links {
		if l.stiffness == 0 {
			continue
		}
		here := l
		here.a, here.spot = home(l.a, l.spot)
		here.others = nil
		if l.b != nil {
			b, s := home(l.b, l.spot)
			here.b, here.others = nil, append(here.others, end{b, s, -1})
		}
		for _, e := range l.others {
			b, s := home(e.body, e.spot)
			here.others = append(here.others, end{b, s, e.factor})
		}
		links = append(links, here)
	}
	return links
}

// faceNodes are the nodes along faces that slide on a part, by part: all of the first position, and of every other
// those that stand close to none of an earlier one. Wherever a face runs, nodes stand as near to one another under it
// as where it stands still, and their number does not grow with that of the positions.
type faceNodes map[int][]float64

// add takes the nodes that the part wants in a position.
func (f faceNodes) add(part int, wanted []float64) {
	if wanted == nil {
		return
	}
	earlier := f[part]
	wanted = slices.Compact(slices.Sorted(slices.Values(wanted)))
	apart := keptOff * (wanted[len(wanted)-1] - wanted[0]) / float64(len(wanted))
	for _, at := range wanted {
		if !slices.ContainsFunc(earlier, func(o float64) bool { return math.Abs(at-o) < apart }) {
			f[part] = append(f[part], at)
		}
	}
}

// slidOn are the places at which the springs of faces that slide stand on a part, in a model with a single axis.
func (m *Model) slidOn(b *body) (places []r3.Vec) {
	for i := range m.links {
		if !m.links[i].slides {
			continue
		}
		for _, e := range append(endsOf(&m.links[i]), end{m.links[i].b, m.links[i].spot, 1}) {
			if e.body == b {
				places = append(places, e.spot.at)
			}
		}
	}
	return places
}

// moved is the same spot of a part that stands elsewhere.
func (s *spot) moved(by r3.Vec) *spot {
	out := *s
	out.at = r3.Add(s.at, by)
	out.zone.At = r3.Add(s.zone.At, by)
	p, q := machine.Axis(s.zone.Normal).Others()
	out.zone.Polygon = slices.Clone(s.zone.Polygon)
	for i := range out.zone.Polygon {
		out.zone.Polygon[i][0] += machine.Component(by, p)
		out.zone.Polygon[i][1] += machine.Component(by, q)
	}
	if s.held != nil {
		panic("structure: a spot that is held does not run")
	}
	return &out
}

// spotAt is the work's spot under the tool with the axes in these positions, on the parts as drawn, and the arm from
// there to the tip; nil when the tool is not over the work there.
func (r *running) spotAt(positions []int) (*spot, r3.Vec) {
	m := r.model
	var under r3.Vec
	for i, a := range r.axes {
		way := r3.Scale(a.at[positions[i]]-a.axis.At, a.axis.Along.Direction())
		if moves(a.axis, m.machine.Tool.Part) {
			under = r3.Add(under, way)
		}
		if moves(a.axis, m.machine.Work.Part) {
			under = r3.Sub(under, way)
		}
	}
	tip := r3.Add(m.machine.Tool.At, under)
	at, fault := m.workSpot(tip)
	if fault != nil {
		return nil, r3.Vec{}
	}
	return m.tool.work.workSpot(at), r3.Sub(tip, at)
}

// each calls do for every position: the first axis's in the outer loop.
func (r *running) each(do func(positions []int)) {
	if len(r.axes) == 1 {
		for i := range r.axes[0].at {
			do([]int{i})
		}
		return
	}
	for i := range r.axes[0].at {
		for k := range r.axes[1].at {
			do([]int{i, k})
		}
	}
}

// wantSpots asks for the nodes of the work at every position.
func (r *running) wantSpots() machine.Faults {
	if r.model.tool == nil {
		return nil
	}
	if work := r.model.tool.work; !work.readAnywhere() {
		r.each(func(positions []int) {
			if s, _ := r.spotAt(positions); s != nil {
				work.want(s)
			}
		})
	}
	return nil
}

// spring is a link of a position as a spring of the frame.
func (r *running) spring(l *link) frame.Spring {
	var form frame.Form
	for _, e := range endsOf(l) {
		form = form.Plus(e.factor, r.form(e, l.direction, l.turning))
	}
	return frame.Spring{Form: form, Stiffness: l.stiffness, Source: l.source}
}

func (r *running) springs(links []link) (list []frame.Spring) {
	for i := range links {
		list = append(list, r.spring(&links[i]))
	}
	return list
}

// grown is what warming and misfits of a load add to the stretch of a link beyond what the freedoms say.
func (r *running) grown(l *machine.Load, k *link) (by float64) {
	by = k.opens(l)
	if k.turning {
		return by
	}
	for _, e := range endsOf(k) {
		by += e.factor * r3.Dot(vector(r.model.growth(l, e.body, e.spot)), k.direction)
	}
	return by
}
