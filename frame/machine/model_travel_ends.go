package machine

import "fmt"

// checkEnds makes sure that nothing runs into anything at the two ends of each axis, the others standing as drawn, nor
// where the machine stands. Sliding faces must still meet there.
func (m *Model) checkEnds() Faults {
	drawn := map[string]float64{}
	for _, a := range m.machine.Axes {
		drawn[a.Name] = a.Drawn
	}
	for i := range m.machine.Axes {
		a := &m.machine.Axes[i]
		for _, to := range a.Travel {
			at := map[string]float64{}
			for name, q := range drawn {
				at[name] = q
			}
			at[a.Name] = to
			moved, err := m.machine.At(at)
			if err != nil {
				return err.(Faults)
			}
			if faults := m.meets(moved, a, fmt.Sprintf("with axis %s at %s", a.Name, mm(to))); faults != nil {
				return faults
			}
		}
	}
	return nil
}

// meets finds what runs into what in the machine with one axis at an end of its travel.
func (m *Model) meets(moved *Machine, a *FeedAxis, where string) (faults Faults) {
	bodies := make([]*body, len(moved.Parts))
	for i := range moved.Parts {
		b, err := newBody(&moved.Parts[i])
		if err != nil {
			panic("machine: a part that could be made cannot be made elsewhere: " + err.Error())
		}
		bodies[i] = b
	}
	held := map[[2]int]bool{} // a shaft runs through the part with its bushes
	for _, axis := range m.machine.Axes {
		for _, g := range axis.Guides {
			held[[2]int{min(g.On, g.Part), max(g.On, g.Part)}] = g.RailIsBar
		}
	}
	for i, b := range bodies {
		for k, o := range bodies[:i] {
			if a.moves(i) == a.moves(k) || held[[2]int{k, i}] || !b.hasBox || !o.hasBox {
				continue
			}
			if depth, ok := overlap(o, b); ok {
				faults = append(faults, m.fault(a.Place, fmt.Sprintf("shorten its travel, or move one of them by %s", mm(depth[a.Along])),
					"%s: %s and %s run into each other: they share %s", where, o.part.Name, b.part.Name, sizes(depth)))
			}
		}
	}
	for _, g := range a.Guides {
		if g.Slide == nil {
			continue
		}
		if _, err := findTouch(bodies[g.On], bodies[g.Part]); err != nil && len(faults) == 0 {
			faults = append(faults, m.fault(g.Place, "shorten the travel, or lengthen one of them", "axis %s, %s: %s: %v", a.Name, g.Name, where, err))
		}
	}
	return faults
}

// axisSources are the guides and drives that can give way, in the order of the file.
func (m *Model) axisSources() (list []string) {
	for _, a := range m.axes {
		for _, g := range a.guides {
			list = append(list, a.axis.guideSource(g.guide))
		}
		for _, d := range a.drives {
			list = append(list, a.axis.driveSource(d.drive))
		}
	}
	return list
}
