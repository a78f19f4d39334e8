package structure

import (
	"slices"

	"tiploop/frame/answer"
	"tiploop/frame/chance"
	"tiploop/frame/constant"
	"tiploop/frame/machine"
)

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
	next := min(1, len(c.places)-1)
	drawn := make([]float64, len(c.values[0]))
	for i, um := range c.travel.TipUm {
		for i > c.places[next] && next+1 < len(c.places) {
			next++
		}
		between := c.between(i, next)
		for d := range drawn {
			drawn[d] = norm(um) * between(d)
		}
		of := chance.RangeOf(drawn)
		r.LowUm, r.HighUm = append(r.LowUm, of.Low), append(r.HighUm, of.High)
	}
	return r
}

// between gives the share at a place, draw by draw, from those at the read places beside it, of which next is the second.
func (c course) between(place, next int) func(draw int) float64 {
	if len(c.places) == 1 {
		return func(draw int) float64 { return c.values[0][draw] }
	}
	from, to := c.places[next-1], c.places[next]
	at := float64(place-from) / float64(to-from)
	return func(draw int) float64 { return (1-at)*c.values[next-1][draw] + at*c.values[next][draw] }
}
