package structure

import (
	"fmt"
	"slices"

	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/machine"
)

// travel works out every path: the one factorisation serves every spot.
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
		spots[k] = m.tool.work.spotOn(m.workAt(p, at[k]))
	}
	stands, err := m.gauges(m.tool.work, spots...)
	if err != nil {
		return nil, err
	}
	for k, where := range stands {
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
