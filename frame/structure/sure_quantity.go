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

// Depths of cut are found for machines softer and stiffer by factors of two and of roots of two, and in between wherever
// neighbours are more than depthStep apart, until these are within closeSofter of one another: the depth jumps where
// another wall or the floor comes to end the cut. From there it is read along straight lines.
const (
	depthDoubles  = 2
	depthsADouble = 2
	depthStep     = 0.1  // in the logarithm
	closeSofter   = 0.01 // in the logarithm
)

// depthCurve is a depth of cut, mm, over the logarithm of how much softer the machine is.
type depthCurve struct{ logs, depths []float64 }

// fill adds what is between two places where the depths there are too far apart.
func (c *depthCurve) fill(from, to float64, first, last float64, depth func(log float64) (float64, error)) error {
	far := first <= 0 || last <= 0 || math.Abs(math.Log(first/last)) > depthStep
	if first == last || !far || to-from <= closeSofter {
		return nil
	}
	middle := (from + to) / 2
	mm, err := depth(middle)
	if err != nil {
		return err
	}
	if err := c.fill(from, middle, first, mm, depth); err != nil {
		return err
	}
	c.logs, c.depths = append(c.logs, middle), append(c.depths, mm)
	return c.fill(middle, to, mm, last, depth)
}

// depthLine is how deep a cut goes within its tolerance, mm, over the logarithm of how much softer the machine is.
func (c madeCut) depthLine(r response, tool *machine.Tool) (*interp.PiecewiseLinear, error) {
	depth := func(log float64) (float64, error) {
		mm, _, err := c.deepest(r.times(math.Exp(log)), constant.Typical, tool)
		if err != nil {
			return 0, fmt.Errorf("cut %s: %w", c.Name, err)
		}
		return mm, nil
	}
	var curve depthCurve
	for k := -depthDoubles * depthsADouble; k <= depthDoubles*depthsADouble; k++ {
		log := math.Ln2 * float64(k) / depthsADouble
		mm, err := depth(log)
		if err != nil {
			return nil, err
		}
		if n := len(curve.logs); n > 0 {
			if err := curve.fill(curve.logs[n-1], log, curve.depths[n-1], mm, depth); err != nil {
				return nil, err
			}
		}
		curve.logs, curve.depths = append(curve.logs, log), append(curve.depths, mm)
	}
	line := new(interp.PiecewiseLinear)
	return line, line.Fit(curve.logs, curve.depths)
}

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
		line, err := c.depthLine(response, m.machine.Tool)
		if err != nil {
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
