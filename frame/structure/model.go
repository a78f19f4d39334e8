package structure

import (
	"errors"
	"fmt"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame"
	"tiploop/frame/machine"
)

// Model is a machine turned into a frame, factored and ready for its load cases.
type Model struct {
	machine *machine.Machine // complete
	builder *Builder
	detail  Detail
	frame   *frame.Frame
	system  *frame.System
	bodies  []*body // the parts, in their order
	joints  []*madeJoint
	grounds []*madeGround
	guides  [][]*madeGuide // of all axes
	rails   []*madeRail
	axes    []*madeAxis // but those of cut
	hung    []*hungMass
	points  []*madePoint
	tool    *madeTool
	links   []link
	ties    []tie
	solids  []*solidBody
	cut     []int // axes whose guides and drives are left out, because they run

	fittings []*body          // rails and carriages of known size
	misfits  []machine.Misfit // the machine's, its shims counted in
	sideways bool             // see Builder

	carriageNodes bool // see Builder
}

// allBodies are the parts, then rails and carriages.
func (m *Model) allBodies() []*body { return append(slices.Clip(m.bodies), m.fittings...) }

// link is a spring between a spot of one body and the same spot of another, or the ground.
type link struct {
	a, b      *body // b nil: the ground
	spot      *spot
	direction r3.Vec
	turning   bool // resists rotation about direction instead of movement along it
	stiffness float64
	source    string
	slides    bool // between the faces of a slide
	spring    int  // number in the frame
	others    []end
	mount     *mountedAt // what is screwed down or runs there; nil: nothing that could be out of place
	gaps      []opening
	row       *rowOf // nil: of no carriage's rows
}

// end is a further place of a spring that does not join one spot of both its bodies: its movement counts with the
// factor.
type end struct {
	body   *body
	spot   *spot
	factor float64
}

// tie holds a spot of one body to the same spot of another, or to the ground, in one freedom, exactly.
type tie struct {
	a, b       *body
	spot       *spot
	direction  r3.Vec
	turning    bool
	name       string
	constraint int
	gaps       []opening
}

// draw finds where the parts of a complete machine touch and what acts there, before anything is solved.
func (b *Builder) draw(m *machine.Machine) (*Model, error) {
	model := &Model{machine: m, builder: b, detail: b.Detail, frame: b.like.Like(), carriageNodes: b.carriageNodes,
		misfits: b.misfitsOf(m), sideways: b.sideways}
	steps := []func() machine.Faults{
		model.makeBodies, model.checkOverlaps, model.makeJoints, model.makeGrounds, model.fitGuides, model.checkRails,
		model.screwGuides, model.makeAxes, model.checkShims, model.hang, model.makePoints, model.makeTool, model.checkTravel,
		model.checkLoads, model.checkLoose,
	}
	for _, step := range steps {
		if faults := step(); faults != nil {
			return nil, faults.Sorted()
		}
	}
	model.makeSolids()
	return model, nil
}

func (m *Model) fault(at machine.FilePos, hint, format string, args ...any) machine.Fault {
	return machine.Fault{File: m.machine.File, Pos: at, What: fmt.Sprintf(format, args...), Hint: hint}
}

func (m *Model) makeBodies() (faults machine.Faults) {
	for i := range m.machine.Parts {
		p := &m.machine.Parts[i]
		b, err := newBody(p)
		if err != nil {
			hint := ""
			if unknown := unknownKind(""); errors.As(err, &unknown) {
				hint = unknown.hint()
			}
			faults = append(faults, m.fault(p.Pos, hint, "part %s: %v", p.Name, err))
			continue
		}
		if m.detail == Solid || b.sawn() != nil {
			b.meshIn()
		}
		m.bodies = append(m.bodies, b)
	}
	return faults
}

// checkOverlaps looks at every two plates and gussets, joined or not; bars may run through plates that hold them.
func (m *Model) checkOverlaps() (faults machine.Faults) {
	for i, a := range m.bodies {
		for _, b := range m.bodies[:i] {
			if a.slender() || b.slender() {
				continue
			}
			if depth, ok := overlap(a, b); ok {
				k := box{hi: depth}.shortest()
				faults = append(faults, m.fault(a.part.Pos, fmt.Sprintf("moving one of them by %s along %s would part them",
					machine.MM(depth[k]), k),
					"%s and %s run into each other: they share %s", b.part.Name, a.part.Name, sizes(depth)))
			}
		}
	}
	return faults
}

func (b box) shortest() machine.Axis {
	best := machine.X
	for k := machine.Y; k <= machine.Z; k++ {
		if b.size(k) < b.size(best) {
			best = k
		}
	}
	return best
}

// link adds a spring between two bodies at a spot and asks both for a node there.
func (m *Model) link(l link) {
	l.a.want(l.spot)
	if l.b != nil {
		l.b.want(l.spot)
	}
	for _, e := range l.others {
		e.body.want(e.spot)
	}
	m.links = append(m.links, l)
}

// tie adds a constraint between two bodies at a spot.
func (m *Model) tie(t tie) {
	t.a.want(t.spot)
	if t.b != nil {
		t.b.want(t.spot)
	}
	m.ties = append(m.ties, t)
}

// tieAll holds two spots together in all six freedoms.
func (m *Model) tieAll(a, b *body, s *spot, name string) {
	for k := machine.X; k <= machine.Z; k++ {
		m.tie(tie{a: a, b: b, spot: s, direction: k.Direction(), name: name})
		m.tie(tie{a: a, b: b, spot: s, direction: k.Direction(), turning: true, name: name})
	}
}

// fillFrame puts members, springs and constraints into the frame, once all wanted places are known.
func (m *Model) fillFrame() error {
	beds := map[*body][3]float64{}
	for _, g := range m.grounds {
		if g.bed != ([3]float64{}) {
			beds[g.body] = g.bed
		}
	}
	for _, b := range m.allBodies() {
		b.addTo(m.frame, beds[b])
	}
	for _, s := range m.solids {
		s.addTo(m.frame)
	}
	for i := range m.links {
		l := &m.links[i]
		form := m.form(l.a, l.b, l.spot, l.direction, l.turning)
		for _, e := range l.others {
			form = form.Plus(e.factor, m.form(e.body, nil, e.spot, l.direction, l.turning))
		}
		l.spring = m.frame.AddSpring(frame.Spring{Form: form, Stiffness: l.stiffness, Source: l.source})
	}
	for i := range m.ties {
		t := &m.ties[i]
		t.constraint = m.frame.Constrain(frame.Constraint{
			Form: m.form(t.a, t.b, t.spot, t.direction, t.turning), Name: t.name,
		})
	}
	if err := m.placeHung(); err != nil {
		return err
	}
	for _, p := range m.points {
		if err := m.placePoint(p); err != nil {
			return err
		}
	}
	if m.tool != nil {
		if err := m.placeTool(); err != nil {
			return err
		}
	}
	for _, p := range m.points {
		if err := m.placeStand(p); err != nil {
			return err
		}
	}
	return nil
}

// form is the movement of a spot of a against the same spot of b, or of the ground.
func (m *Model) form(a, b *body, s *spot, direction r3.Vec, turning bool) frame.Form {
	if turning {
		form := a.turn(s, direction)
		if b != nil {
			form = form.Plus(-1, b.turn(s, direction))
		}
		return form
	}
	form := a.moveOnArm(m.frame, s, direction)
	if b != nil {
		form = form.Plus(-1, b.moveOnArm(m.frame, s, direction))
	}
	return form
}
