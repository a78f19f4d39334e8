package frame

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// Inertia is an acceleration that acts on the mass of some members and blocks only, beside the load's gravity. By
// d'Alembert's principle a part that is speeded up by a is in balance under −a on its mass.
type Inertia struct {
	Members, Blocks []int
	Felt            r3.Vec // acting on the mass as gravity does, mm/s²
}

// feltByMember is the acceleration that acts on a member's mass, mm/s².
func (l *Load) feltByMember(member int) r3.Vec {
	return l.felt(member, func(i Inertia) []int { return i.Members })
}

// feltByBlock is the acceleration that acts on a block's mass, mm/s².
func (l *Load) feltByBlock(block int) r3.Vec {
	return l.felt(block, func(i Inertia) []int { return i.Blocks })
}

func (l *Load) felt(number int, by func(Inertia) []int) r3.Vec {
	felt := l.Gravity
	for _, i := range l.Inertia {
		if slices.Contains(by(i), number) {
			felt = r3.Add(felt, i.Felt)
		}
	}
	return felt
}
