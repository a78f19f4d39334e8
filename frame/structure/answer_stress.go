package structure

import (
	"tiploop/frame/answer"
	"tiploop/frame/machine"
)

// unstressed is the stress over yield below which it is the rounding of no stress.
const unstressed = 1e-7

// stresses are the largest stress of every part under a load, of those parts whose stress this detail tells: bars and
// narrow plates as members, meshed parts from their elements. A wide plate or a gusset at detail "section" is neither.
func (m *Model) stresses(l *machine.Load, s *state) (list []answer.Stress) {
	for _, b := range m.bodies {
		stress := answer.Stress{Load: l.Name, Part: b.part.Name}
		if !b.stress(m, s, &stress) {
			continue
		}
		if yield := b.part.Material.Yield; yield > 0 {
			stress.YieldMPa = &yield
			if stress.MPa > unstressed*yield {
				times := yield / stress.MPa
				stress.TimesYield = &times
			}
		}
		list = append(list, stress)
	}
	return list
}
