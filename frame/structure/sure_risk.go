package structure

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"

	"tiploop/frame"
	"tiploop/frame/answer"
)

// watchedFrom is the share of what makes a screw slip or open, with the low preload and friction, from which on its
// joint is watched in every draw, percent: what is drawn seldom doubles a force.
const watchedFrom = 40

// watched is a joint under a load that may make it slip or open.
type watched struct {
	joint  *madeJoint
	doubts *jointDoubts
	load   int
	on     [][6][]float64 // of the springs of each screw, on the movements of the basis
	gaps   [][6]float64   // by how much they are longer than they want to be before anything moves

	slips, opens []bool // in each draw
}

// watch finds the joints that are to be watched.
func (s *sampler) watch() {
	m := s.model
	before := s.watched
	s.watched = nil
	for _, l := range s.result.Screws {
		if max(l.SlipPercent, l.OpenPercent) < watchedFrom {
			continue
		}
		load := slices.IndexFunc(s.result.Loads, func(r answer.LoadResult) bool { return r.Name == l.Load })
		number := slices.IndexFunc(m.joints, func(j *madeJoint) bool { return j.name == l.Joint })
		w := &watched{joint: m.joints[number], doubts: &s.doubts.joints[number], load: load}
		for _, screw := range w.joint.screws {
			var on [6][]float64
			var gaps [6]float64
			for k := range on {
				spring := m.links[screw.normal+k].spring
				if on[k] = s.basis.OnSpring(spring); s.rests[load] != none {
					gaps[k] = s.basis.Gap(spring, s.rests[load])
				}
			}
			w.on, w.gaps = append(w.on, on), append(w.gaps, gaps)
		}
		if n := len(s.watched); n < len(before) {
			w.slips, w.opens = before[n].slips, before[n].opens
		}
		s.watched = append(s.watched, w)
	}
}

// strain finds which of the watched joints do not hold in a draw.
func (s *sampler) strain(m *moment, draw int) {
	d, logs := m.drawn, m.logs
	for _, w := range s.watched {
		slip, open := 0.0, 0.0
		moved := s.whole(d, w.load, m.pushes[w.load], logs)
		friction := frame.Product(w.doubts.friction, logs)
		for n, screw := range w.joint.screws {
			ring := s.model.ringLoad(w.joint, screw, func(spring int) float64 {
				k := spring - s.model.links[screw.normal].spring
				return d.Stiffness(spring) * (floats.Dot(w.on[n][k], moved) + w.gaps[n][k])
			})
			clamping := w.joint.clamping
			clamping.ZoneArea = screw.zone.Moments.Area
			held := clamping.Tightened(screw.pinch, frame.Product(w.doubts.preloads[n], logs), friction)
			slips, opens := held.Use(screw.zone, ring)
			slip, open = math.Max(slip, slips), math.Max(open, opens)
		}
		w.slips[draw], w.opens[draw] = slip >= 1, open >= 1
	}
}

// whole are the movements of the basis under all of a load.
func (s *sampler) whole(d *frame.Drawn, load int, push, logs []float64) []float64 {
	var sum []float64
	if push != nil {
		sum = d.Whole(push)
	}
	if rest := s.rests[load]; rest >= 0 {
		if moved := d.Moved(rest); sum == nil {
			sum = moved
		} else {
			floats.Add(sum, moved)
		}
	}
	floats.Scale(s.force(load, logs), sum)
	return sum
}

// risks are in how many of 100 draws a joint does not hold, the largest first.
func (s *sampler) risks(draws int) (list []answer.Risk) {
	for _, w := range s.watched {
		for _, r := range []struct {
			how string
			in  []bool
		}{{answer.Slips, w.slips}, {answer.Opens, w.opens}} {
			times := 0
			for _, so := range r.in {
				if so {
					times++
				}
			}
			if times > 0 {
				list = append(list, answer.Risk{Load: s.result.Loads[w.load].Name, What: w.joint.source(), How: r.how,
					Percent: 100 * float64(times) / float64(draws)})
			}
		}
	}
	slices.SortStableFunc(list, func(a, b answer.Risk) int { return cmp.Compare(b.Percent, a.Percent) })
	return list
}
