package structure

import (
	"fmt"
	"math"
	"slices"

	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/machine"
)

// travel works out every path on which all axes stand still: the one factorisation serves every spot.
func (m *Model) travel() ([]answer.Travel, error) {
	list := []answer.Travel{}
	for i := range m.machine.Travel {
		p := &m.machine.Travel[i]
		if len(p.Axes) > 0 {
			continue // followed in run_follow.go
		}
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
func (m *Model) travelPath(p *machine.Path) ([]answer.Travel, error) {
	at := pathSpots(p)
	list := make([]answer.Travel, len(p.Loads))
	rest := make([]*state, len(p.Loads))
	for i, n := range p.Loads {
		l := &m.machine.Loads[n]
		list[i] = answer.Travel{Path: p.Name, Load: l.Name, ToleranceUm: p.Tolerance * constant.UmPerMM, AtMM: at,
			TipUm: make([][3]float64, len(at))}
		if other := withoutTip(l); other.Actions != nil {
			s, err := m.solve(&other, m.tool.gauge)
			if err != nil {
				return nil, err
			}
			rest[i] = s
		}
	}
	spots := make([]*spot, len(at))
	for k := range at {
		spots[k] = m.tool.work.workSpot(m.workAt(p, at[k]))
	}
	stands, err := m.gauges(m.tool.work, spots...)
	if err != nil {
		return nil, err
	}
	for k, foot := range stands {
		where := foot.raised(m.tool.gauge.arm)
		c := m.compliance(where)
		for i, n := range p.Loads {
			l := &m.machine.Loads[n]
			mm := m.tipGrowth(l, where.spot)
			if rest[i] != nil {
				mm = m.tipAgainst(l, rest[i], where)
			}
			for _, a := range l.Actions {
				if a.Kind != machine.OnTip {
					continue
				}
				for e, f := range pushOf(a) {
					for d := range mm {
						mm[d] += c[d][e] * f
					}
				}
			}
			list[i].TipUm[k] = micrometres(mm)
		}
	}
	for i := range list {
		list[i].WithinMM = within(list[i].AtMM, list[i].TipUm, list[i].ToleranceUm, nil)
	}
	return list, nil
}

// line is what the tip does along one axis that runs. The last of the chart's loads is the machine's own weight.
func (c *chart) line(p *machine.Path) (found []answer.Travel, straight []answer.Straightness, err error) {
	axis := c.running.axes[0].axis
	var at, leftOut, softest []float64
	moved := make([][][3]float64, len(c.loads))
	c.read(func(positions []int, s *tipState) {
		position := c.running.axes[0].at[positions[0]]
		if s == nil {
			leftOut = append(leftOut, position)
			return
		}
		at = append(at, position)
		softest = append(softest, s.softest())
		for n := range c.loads {
			moved[n] = append(moved[n], micrometres(s.moved[n]))
		}
	})
	if err := allFinite(softest, moved); err != nil {
		return nil, nil, err
	}
	last := len(c.loads) - 1
	for n, l := range c.loads[:last] {
		t := answer.Travel{Path: p.Name, Load: l.Name, ToleranceUm: p.Tolerance * constant.UmPerMM, AtMM: at, TipUm: moved[n],
			Axis: axis.Name, SoftestNPerUm: softest, LeftOutMM: leftOut}
		t.WithinMM = within(t.AtMM, t.TipUm, t.ToleranceUm, leftOut)
		found = append(found, t)
	}
	for k := machine.X; k <= machine.Z; k++ {
		if k != axis.Along {
			straight = append(straight, straightness(axis.Name, k, at, moved[last]))
		}
	}
	return found, straight, nil
}

// plane is what the tip does over the plane of two axes that run.
func (c *chart) plane(p *machine.Path) (*answer.Map, error) {
	first, second := c.running.axes[0], c.running.axes[1]
	m := &answer.Map{
		Name: p.Name, Axes: [2]string{first.axis.Name, second.axis.Name}, AtMM: [2][]float64{first.at, second.at},
		ToleranceUm: p.Tolerance * constant.UmPerMM, SoftestNPerUm: make([][]*float64, len(first.at)),
	}
	for _, l := range c.loads {
		m.Loads = append(m.Loads, answer.MapLoad{Load: l.Name, TipUm: make([][]*[3]float64, len(first.at))})
	}
	for i := range first.at {
		m.SoftestNPerUm[i] = make([]*float64, len(second.at))
		for n := range m.Loads {
			m.Loads[n].TipUm[i] = make([]*[3]float64, len(second.at))
		}
	}
	places, kept := 0, make([]int, len(c.loads))
	var every []float64
	moved := make([][][3]float64, len(c.loads))
	c.read(func(positions []int, s *tipState) {
		if s == nil {
			return
		}
		i, k := positions[0], positions[1]
		where := [2]float64{first.at[i], second.at[k]}
		soft := s.softest()
		every = append(every, soft)
		m.SoftestNPerUm[i][k] = &soft
		if places == 0 || soft < m.Softest.Value {
			m.Softest = answer.MapPosition{AtMM: where, Value: soft}
		}
		for n := range m.Loads {
			um := micrometres(s.moved[n])
			moved[n] = append(moved[n], um)
			m.Loads[n].TipUm[i][k] = &um
			size := norm(um)
			if places == 0 || size > m.Loads[n].Worst.Value {
				m.Loads[n].Worst = answer.MapPosition{AtMM: where, Value: size}
			}
			if size <= m.ToleranceUm {
				kept[n]++
			}
		}
		places++
	})
	if m.ToleranceUm > 0 {
		for n := range m.Loads {
			percent := 100 * float64(kept[n]) / float64(places)
			m.Loads[n].WithinPercent = &percent
		}
	}
	return m, allFinite(every, moved)
}

// within is the stretch round the least movement in which the movement keeps the tolerance, its ends interpolated; nil
// when there is no tolerance or none of the path keeps it. It ends at gaps, places that were left out.
func within(at []float64, tip [][3]float64, tolerance float64, gaps []float64) *[2]float64 {
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
			if next < 0 || next == len(at) || slices.ContainsFunc(gaps,
				func(g float64) bool { return (g-at[i])*(g-at[next]) < 0 }) {
				return at[i]
			}
			if a, b := norm(tip[i]), norm(tip[next]); b > tolerance {
				return at[i] + (at[next]-at[i])*(tolerance-a)/(b-a)
			}
		}
	}
	return &[2]float64{end(-1), end(1)}
}

// straightness is how far a motion leaves the line through its two ends, in one direction across it.
func straightness(axis string, across machine.Axis, at []float64, um [][3]float64) answer.Straightness {
	s := answer.Straightness{Axis: axis, Across: across.String(), AtMM: at}
	first, last := 0, len(at)-1
	lo, hi := 0.0, 0.0
	for i := range at {
		share := 0.0
		if last > 0 {
			share = (at[i] - at[first]) / (at[last] - at[first])
		}
		off := plain(um[i][across] - (1-share)*um[first][across] - share*um[last][across])
		lo, hi = math.Min(lo, off), math.Max(hi, off)
		s.OffUm = append(s.OffUm, off)
	}
	s.Um = hi - lo
	return s
}

// longest takes lines of an axis into a list that has those of the longest path of each.
func longest(list, lines []answer.Straightness) []answer.Straightness {
	length := func(s answer.Straightness) float64 { return s.AtMM[len(s.AtMM)-1] - s.AtMM[0] }
	i := slices.IndexFunc(list, func(s answer.Straightness) bool { return s.Axis == lines[0].Axis })
	switch {
	case i < 0:
		return append(list, lines...)
	case length(lines[0]) > length(list[i]):
		copy(list[i:], lines)
	}
	return list
}

// micrometres are those of a movement in mm.
func micrometres(mm [3]float64) (um [3]float64) {
	for k := range mm {
		um[k] = plain(mm[k] * constant.UmPerMM)
	}
	return um
}

// allFinite refuses an answer with a number that is none.
func allFinite(softest []float64, moved [][][3]float64) error {
	bad := func(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) }
	for _, line := range moved {
		for _, v := range line {
			if slices.ContainsFunc(v[:], bad) {
				return fmt.Errorf("the movement of the tip is not a number; " + tooFarApart)
			}
		}
	}
	for _, v := range softest {
		if bad(v) || v <= 0 {
			return fmt.Errorf("the tip's stiffness came out as %g N/µm; "+tooFarApart, v)
		}
	}
	return nil
}
