package structure

import (
	"fmt"
	"slices"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
)

// candidate is something of which there could be more.
type candidate struct {
	gain answer.Gain // What, Kind, Unit, At, Whole
	per  float64
	same bool    // more of it is the same machine
	step float64 // how far to move it for a slope, in consistent units; of what does not count

	// draw is the machine with so much more of it, in consistent units. Of what counts there are several when there are
	// several ways to have one more: the first that fits is meant.
	draw    []func(by float64) (*Model, error)
	mass    *float64 // added per unit, kg, when it is not that of the drawn machine
	spacing *spacing // of that kind
}

// candidates lists all that a builder could have more of: the file's values, the metal of each plate and gusset, the
// rows of screws, the cutter, the spacings of carriages.
func (m *Model) candidates(variables []machine.Variable) (list []candidate) {
	for _, v := range variables {
		list = append(list, m.valueCandidate(v))
	}
	for i, b := range m.bodies {
		if _, ok := b.metal(); ok {
			list = append(list, m.thicknessCandidate(i))
		}
	}
	for i := range m.joints {
		// where one more of those with given places would go is the builder's to say
		if s := m.joints[i].joint.Screws; s != nil && s.At == nil {
			list = append(list, m.rowCandidate(m.joints[i]))
		}
	}
	list = append(list, m.toolCandidates(variables)...)
	for _, s := range m.spacings() {
		list = append(list, m.spacingCandidate(s))
	}
	return list
}

// valueCandidate is a number that the machine is drawn with.
func (m *Model) valueCandidate(v machine.Variable) candidate {
	if v.More == nil {
		panic(fmt.Sprintf("structure: variable %s without More", v.Name))
	}
	return candidate{
		gain: answer.Gain{What: v.Name, Kind: answer.OfValue, Unit: v.Unit, At: v.At, Whole: v.Whole},
		per:  v.PerUnit,
		same: v.Unused,
		step: stepOf(v),
		draw: []func(float64) (*Model, error){func(by float64) (*Model, error) {
			other, err := v.More(by)
			if err != nil {
				return nil, err
			}
			if other == nil {
				panic(fmt.Sprintf("structure: variable %s drew no machine", v.Name))
			}
			if other, err = other.Complete(); err != nil {
				return nil, err
			}
			return m.forTrials().draw(other)
		}},
	}
}

// thicknessCandidate is a plate's or gusset's own metal.
func (m *Model) thicknessCandidate(part int) candidate {
	b := m.bodies[part]
	mass := b.massPerThickness()
	metal, _ := b.metal()
	return candidate{
		gain: answer.Gain{What: b.part.Name, Kind: answer.OfThickness, Unit: "mm", At: metal},
		per:  1,
		step: slopeStep * metal,
		draw: []func(float64) (*Model, error){func(by float64) (*Model, error) {
			other, err := m.forTrials().draw(m.machine)
			if err == nil {
				other.bodies[part].thicker = by
			}
			return other, err
		}},
		mass: &mass,
	}
}

// rowCandidate is one more row of a joint's screws, along the side that has more of them, or where they find no room
// there, along the other.
func (m *Model) rowCandidate(made *madeJoint) candidate {
	j := made.joint
	index := slices.IndexFunc(m.machine.Joints, func(o machine.Joint) bool { return o.Screws == j.Screws })
	first := 0
	if j.Screws.Grid[1] > j.Screws.Grid[0] {
		first = 1
	}
	c := candidate{gain: answer.Gain{What: made.name, Kind: answer.OfScrews, Unit: "row", At: float64(len(made.screws)),
		Whole: true}, per: 1}
	for _, along := range []int{first, 1 - first} {
		c.draw = append(c.draw, func(by float64) (*Model, error) {
			other, more := *m.machine, *j.Screws
			other.Joints = slices.Clone(other.Joints)
			more.Grid[along] += int(by)
			other.Joints[index].Screws = &more
			return m.forTrials().draw(&other)
		})
	}
	return c
}

// find is what one more of a candidate does, or why that cannot be told.
func (a *adjoint) find(c candidate) (s slopes, why string) {
	switch {
	case c.same:
		s = slopes{side: answer.BothSides, moved: make([]float64, len(a.push)), step: c.step}
	case c.gain.Kind == answer.OfScrews:
		s, why = a.oneMoreOf(c.draw)
	case c.gain.Whole:
		s, why = a.oneMore(c.draw[0])
	default:
		s, why = a.slope(c.draw[0], c.step)
	}
	s = s.times(c.per)
	if c.mass != nil {
		s.mass = *c.mass
	}
	return s, why
}
