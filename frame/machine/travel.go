package machine

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame"
)

// travel works out every path: the one factorisation serves every spot.
func (m *Model) travel() ([]Travel, error) {
	list := []Travel{}
	for i := range m.machine.Travel {
		p := &m.machine.Travel[i]
		t, err := m.travelPath(p)
		if err != nil {
			return nil, fmt.Errorf("path %s: %w", p.Name, err)
		}
		list = append(list, t...)
	}
	return list, nil
}

// travelPath reads the tip at each spot under each of the path's loads. What a load does apart from the tip is solved
// once; what the tip does comes from the compliance at the spot.
func (m *Model) travelPath(p *Path) ([]Travel, error) {
	at, forms := m.pathForms(p)
	list := make([]Travel, len(p.Loads))
	rest := make([]*frame.Solution, len(p.Loads))
	for i, n := range p.Loads {
		l := &m.machine.Loads[n]
		list[i] = Travel{Path: p.Name, Load: l.Name, ToleranceUm: p.Tolerance * micro, AtMM: at, TipUm: make([][3]float64, len(at))}
		other := *l
		other.Actions = nil
		for _, a := range l.Actions {
			if a.Kind != OnTip {
				other.Actions = append(other.Actions, a)
			}
		}
		if other.Actions != nil {
			s, err := m.system.Solve(m.frameLoad(&other, m.tool.spot))
			if err != nil {
				return nil, err
			}
			rest[i] = s
		}
	}
	for k, read := range forms {
		spot := m.workAt(p, at[k])
		push := append(read[:], m.momentForms(p, spot)...)
		c := m.system.Compliance(push[:3], push)
		for i, n := range p.Loads {
			l := &m.machine.Loads[n]
			um := m.tipGrowth(l, spot)
			for _, a := range l.Actions {
				if a.Kind != OnTip {
					continue
				}
				force, moment := array(a.Force), array(a.Moment)
				for d := range um {
					for e := range 3 {
						um[d] += c[d][e] * force[e]
						if len(push) > 3 {
							um[d] += c[d][3+e] * moment[e]
						}
					}
				}
			}
			for d := range um {
				if rest[i] != nil {
					um[d] += rest[i].Value(read[d])
				}
				um[d] = plain(um[d] * micro)
			}
			list[i].TipUm[k] = um
		}
	}
	for i := range list {
		list[i].WithinMM = within(list[i].AtMM, list[i].TipUm, list[i].ToleranceUm)
	}
	return list, nil
}

// momentForms are the rotations of the tip against the work, when any of the path's loads has a moment on the tip.
func (m *Model) momentForms(p *Path, spot r3.Vec) []frame.Form {
	for _, n := range p.Loads {
		for _, a := range m.machine.Loads[n].Actions {
			if a.Kind == OnTip && a.Moment != (r3.Vec{}) {
				forms := m.turningAgainst(spot)
				return forms[:]
			}
		}
	}
	return nil
}

// within is the stretch round the least movement in which the movement keeps the tolerance, its ends interpolated; nil
// when there is no tolerance or none of the path keeps it.
func within(at []float64, tip [][3]float64, tolerance float64) *[2]float64 {
	least := 0
	for i := range tip {
		if norm(tip[i]) < norm(tip[least]) {
			least = i
		}
	}
	if tolerance <= 0 || norm(tip[least]) > tolerance {
		return nil
	}
	end := func(step int) float64 {
		for i := least; ; i += step {
			next := i + step
			if next < 0 || next == len(at) {
				return at[i]
			}
			if a, b := norm(tip[i]), norm(tip[next]); b > tolerance {
				return at[i] + (at[next]-at[i])*(tolerance-a)/(b-a)
			}
		}
	}
	return &[2]float64{end(-1), end(1)}
}
