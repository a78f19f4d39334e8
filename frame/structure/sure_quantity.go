package structure

import (
	"cmp"
	"slices"
	"sort"

	"gonum.org/v1/gonum/floats"

	"tiploop/frame"
	"tiploop/frame/answer"
	"tiploop/frame/chance"
	"tiploop/frame/constant"
	"tiploop/frame/machine"
	"tiploop/frame/yielding"
)

// quantity is one number of an answer, drawn.
type quantity struct {
	answer.Column
	alone bool // options are not compared in it
	of    func(m *moment) float64
}

// list are the quantities to be drawn.
func (s *sampler) list() {
	before := s.drawn
	s.drawn = nil
	add := func(key string, more bool, of func(m *moment) float64) {
		q := quantity{Column: answer.Column{Quantity: key, MoreIsBetter: more}, of: of}
		if n := len(s.drawn); n < len(before) {
			q.Values = before[n].Values
		}
		s.drawn = append(s.drawn, q)
	}
	if s.model.tool != nil {
		for k, axis := range []string{"x", "y", "z"} {
			add(answer.StiffnessKey(axis), true, func(m *moment) float64 { return nPerUm(m.c[k][k]) })
		}
		add(answer.StiffnessKey("softest"), true, func(m *moment) float64 { return (&tipState{compliance: m.c}).softest() })
	}
	for i := range s.result.Loads {
		l := &s.result.Loads[i]
		if l.TipUm != nil && stirs(*l.TipSizeUm) {
			add(answer.MovementKey(l.Name, ""), false, func(m *moment) float64 { return norm(m.tip[i]) * constant.UmPerMM })
		}
		for k, p := range s.reads.points {
			if stirs(norm(l.PointsUm[p.name])) {
				add(answer.MovementKey(l.Name, p.name), false, func(m *moment) float64 {
					return norm(m.points[k][i]) * constant.UmPerMM
				})
			}
		}
	}
	for k, p := range s.reads.paths {
		for i, l := range p.loads {
			if l.travel.ToleranceUm > 0 {
				add(answer.StretchKey(l.travel.Path, l.travel.Load), true, func(m *moment) float64 {
					return l.stretch(p.places, m.paths[k][i])
				})
			}
		}
	}
	s.running(add)
	for i, depth := range s.depths {
		if depth == nil {
			continue
		}
		load := *s.model.machine.Cuts[i].Load
		typical := *s.result.Loads[load].TipSizeUm
		add(answer.DepthKey(s.result.Cuts[i].Name), true, func(m *moment) float64 {
			return depth(norm(m.tip[load]) * constant.UmPerMM / typical)
		})
	}
	alone := func(key string, of func(m *moment) float64) {
		add(key, false, of)
		s.drawn[len(s.drawn)-1].alone = true
	}
	for k := range s.reads.checks {
		alone(checkKey(k), func(m *moment) float64 { return m.checks[k] * constant.UmPerMM })
	}
	if s.misfits != none && stirs(norm(*s.result.Misfits.Together.Moved.TipUm)) {
		alone(misfitsKey, func(m *moment) float64 { return norm(m.misfits) * constant.UmPerMM })
	}
}

// running adds the stretches of axes that run, in which the tip is taken to move by as much more or less everywhere as
// it does where the axes stand: ends of ranges are within a twentieth of those of machines drawn at the ends of the travel
// (TestRangesAlongRunningAxes), which would cost as much again at every place.
func (s *sampler) running(add func(key string, more bool, of func(m *moment) float64)) {
	m := s.model.machine
	for i := range s.result.Travel {
		t := &s.result.Travel[i]
		load := slices.IndexFunc(m.Loads, func(l machine.Load) bool { return l.Name == t.Load })
		if t.Axis == "" || t.ToleranceUm <= 0 || !stirs(*s.result.Loads[load].TipSizeUm) {
			continue
		}
		typical := *s.result.Loads[load].TipSizeUm / constant.UmPerMM
		add(answer.StretchKey(t.Path, t.Load), true, func(m *moment) float64 {
			within := within(t.AtMM, t.TipUm, t.ToleranceUm*typical/norm(m.tip[load]), t.LeftOutMM)
			if within == nil {
				return 0
			}
			return within[1] - within[0]
		})
	}
}

// findDepths finds how deep each cut goes within its tolerance. What a draw changes of it is how far the tip moves under the
// cut; the depth is looked for at typical forces with the machine softer by that factor.
func (s *sampler) findDepths() (err error) {
	m := s.model
	s.depths = make([]func(softer float64) float64, len(s.result.Cuts))
	for i, c := range s.result.Cuts {
		if c.Typical.DeepestMM == nil {
			continue
		}
		if s.depths[i], err = yielding.Depths(m.machine, i, m.compliance(m.tool.gauge)); err != nil {
			return err
		}
	}
	return nil
}

// stirs tells whether a movement is more than rounding, µm.
func stirs(um float64) bool { const rounding = 1e-6; return um > rounding }

// stretch is the length of the path within its tolerance when the tip moves so at the places that are read: elsewhere
// by the share of the typical movement that those beside it have.
func (p *pathLoad) stretch(places []int, moved [][3]float64) float64 {
	share := func(n int) float64 { return norm(moved[n]) * constant.UmPerMM / norm(p.travel.TipUm[places[n]]) }
	size := make([][3]float64, len(p.travel.AtMM))
	for i := range size {
		size[i][0] = norm(p.travel.TipUm[i]) * bracketOf(places, i).of(share)
	}
	if within := within(p.travel.AtMM, size, p.travel.ToleranceUm, nil); within != nil {
		return within[1] - within[0]
	}
	return 0
}

// course is the tip along one path or axis under one load, drawn: by what share of the typical movement it moves at the
// places that are read. Between them the share is interpolated.
type course struct {
	travel *answer.Travel
	places []int                     // numbers of the travel's places; one: the share is the same everywhere
	share  []func(m *moment) float64 // at each of them
	values [][]float64               // of each of them, draw by draw
}

// findAlong lists what is drawn along paths, and along axes that run as sampler.running has it.
func (s *sampler) findAlong() {
	for k, p := range s.reads.paths {
		for i, l := range p.loads {
			c := course{travel: l.travel, places: p.places}
			for n, place := range p.places {
				typical := norm(l.travel.TipUm[place])
				if !stirs(typical) {
					c.share = nil
					break
				}
				c.share = append(c.share, func(m *moment) float64 { return norm(m.paths[k][i][n]) * constant.UmPerMM / typical })
			}
			s.add(c)
		}
	}
	for i := range s.result.Travel {
		t := &s.result.Travel[i]
		load := slices.IndexFunc(s.model.machine.Loads, func(l machine.Load) bool { return l.Name == t.Load })
		if t.Axis == "" || !stirs(*s.result.Loads[load].TipSizeUm) {
			continue
		}
		typical := *s.result.Loads[load].TipSizeUm
		s.add(course{travel: t, places: []int{0},
			share: []func(m *moment) float64{func(m *moment) float64 { return norm(m.tip[load]) * constant.UmPerMM / typical }}})
	}
}

// add keeps what has shares.
func (s *sampler) add(c course) {
	if c.share != nil {
		c.values = make([][]float64, len(c.share))
		s.courses = append(s.courses, c)
	}
}

// sizes is the range of how far the tip moves at each place of the travel.
func (c course) sizes() answer.AlongRange {
	r := answer.AlongRange{Path: c.travel.Path, Load: c.travel.Load}
	drawn := make([]float64, len(c.values[0]))
	for i, um := range c.travel.TipUm {
		near := bracketOf(c.places, i)
		for d := range drawn {
			drawn[d] = norm(um) * near.of(func(n int) float64 { return c.values[n][d] })
		}
		of := chance.RangeOf(drawn)
		r.LowUm, r.HighUm = append(r.LowUm, of.Low), append(r.HighUm, of.High)
	}
	return r
}

// bracket is where a place stands among those that are read: between two of them, by their numbers, so far on from the
// first to the second, of 1.
type bracket struct {
	first, second int
	at            float64
}

// bracketOf finds it among places in rising order, of which the first and the last have all others between them; where one
// place is read it stands for all.
func bracketOf(places []int, place int) bracket {
	if len(places) == 1 {
		return bracket{}
	}
	second := max(1, sort.SearchInts(places, place))
	from, to := places[second-1], places[second]
	return bracket{second - 1, second, float64(place-from) / float64(to-from)}
}

// of interpolates what is known at the places that are read.
func (b bracket) of(read func(n int) float64) float64 {
	return (1-b.at)*read(b.first) + b.at*read(b.second)
}

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
		w.slips[draw], w.opens[draw] = false, false
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
			slips, opens := held.Fails(screw.zone, ring)
			w.slips[draw], w.opens[draw] = w.slips[draw] || slips, w.opens[draw] || opens
		}
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
