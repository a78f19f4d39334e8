package structure

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/interp"

	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/machine"
)

// quantity is one number of an answer, drawn.
type quantity struct {
	answer.Column
	alone bool // options are not compared in it
	of    func(m *moment) float64
}

// list are the quantities to be drawn.
func (s *sampler) list() error {
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
	if err := s.depths(add); err != nil {
		return err
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
	return nil
}

// running adds the stretches of axes that run, in which the tip is taken to move by as much more or less everywhere as
// it does where the axes stand.
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

// Depths of cut are found for machines softer and stiffer by factors of two and of roots of two, and read in between.
const (
	depthDoubles  = 2
	depthsADouble = 2
)

// depths adds how deep each cut goes within its tolerance. What a draw changes of it is how far the tip moves under the
// cut; the depth is looked for at typical forces with the machine softer by that factor.
func (s *sampler) depths(add func(key string, more bool, of func(m *moment) float64)) error {
	m := s.model
	for i := range s.result.Cuts {
		found, c := &s.result.Cuts[i], madeCut{&m.machine.Cuts[i]}
		if found.Typical.DeepestMM == nil {
			continue
		}
		response := c.response(m.compliance(m.tool.gauge))
		var logs, depths []float64
		for k := -depthDoubles * depthsADouble; k <= depthDoubles*depthsADouble; k++ {
			log := math.Ln2 * float64(k) / depthsADouble
			mm, _, err := c.deepest(response.times(math.Exp(log)), constant.Typical, m.machine.Tool)
			if err != nil {
				return fmt.Errorf("cut %s: %w", c.Name, err)
			}
			logs, depths = append(logs, log), append(depths, mm)
		}
		var line interp.PiecewiseLinear
		if err := line.Fit(logs, depths); err != nil {
			return err
		}
		typical := *s.result.Loads[*c.Load].TipSizeUm
		add(answer.DepthKey(c.Name), true, func(m *moment) float64 {
			return line.Predict(math.Log(norm(m.tip[*c.Load]) * constant.UmPerMM / typical))
		})
	}
	return nil
}

// times is the response of a machine so much softer.
func (r response) times(factor float64) response {
	for i := range r {
		for k := range r[i] {
			r[i][k] *= factor
		}
	}
	return r
}

// stirs tells whether a movement is more than rounding, µm.
func stirs(um float64) bool { const rounding = 1e-6; return um > rounding }

// stretch is the length of the path within its tolerance when the tip moves so at the places that are read: elsewhere
// by the share of the typical movement that those beside it have.
func (p *pathLoad) stretch(places []int, moved [][3]float64) float64 {
	share := make([]float64, len(places))
	for n, place := range places {
		share[n] = norm(moved[n]) * constant.UmPerMM / norm(p.travel.TipUm[place])
	}
	size := make([][3]float64, len(p.travel.AtMM))
	next := 1
	for i := range size {
		for i > places[next] {
			next++
		}
		from, to := places[next-1], places[next]
		at := float64(i-from) / float64(to-from)
		size[i][0] = norm(p.travel.TipUm[i]) * ((1-at)*share[next-1] + at*share[next])
	}
	if within := within(p.travel.AtMM, size, p.travel.ToleranceUm, nil); within != nil {
		return within[1] - within[0]
	}
	return 0
}
