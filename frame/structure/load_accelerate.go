package structure

import (
	"fmt"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame"
	"tiploop/frame/machine"
)

// Accelerating an axis is a load at rest: by d'Alembert's principle all that moves with the axis feels the opposite of its
// acceleration on its mass, and the drive and the guides hold it against what the axis stands on. The machine is taken as
// it bends once the push is steady; that a sudden one makes it swing to twice as far is left out.

// accelerate puts the inertia of all that an axis moves into a load.
func (m *Model) accelerate(out *frame.Load, a machine.Action) {
	felt := r3.Scale(-1, a.Force)
	inertia := frame.Inertia{Felt: felt}
	for _, p := range m.machine.Axes[a.Axis].Moves {
		b := m.bodies[p]
		switch {
		case b.meshed: // below, with its body
		case b.triangle != nil:
			inertia.Blocks = append(inertia.Blocks, b.triangle.Block())
		case b.strip != nil:
			inertia.Blocks = append(inertia.Blocks, b.strip.Blocks()...)
		default:
			inertia.Members = append(inertia.Members, b.members...)
		}
	}
	out.Inertia = append(out.Inertia, inertia)
	for _, s := range m.solids {
		if !m.movesSolid(a, s) {
			continue
		}
		for k, weight := range s.reduced.Weight() {
			out.Pushes = append(out.Pushes, s.pushes(weight, array(felt)[k])...)
		}
	}
}

// movesSolid tells whether an accelerating axis moves a solid body. Its parts are bonded to one another, and what is joined
// goes along, so it moves all of them or none.
func (m *Model) movesSolid(a machine.Action, s *solidBody) bool {
	axis := &m.machine.Axes[a.Axis]
	count := 0
	for _, p := range axis.Moves {
		if slices.Contains(s.parts, m.bodies[p]) {
			count++
		}
	}
	if count != 0 && count != len(s.parts) {
		panic(fmt.Sprintf("structure: axis %s moves %d of the %d parts of %s", axis.Name, count, len(s.parts), s.source()))
	}
	return count > 0
}
