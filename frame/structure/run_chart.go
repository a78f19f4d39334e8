package structure

import (
	"fmt"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame"
	"tiploop/frame/coupling"
	"tiploop/frame/machine"
	"tiploop/frame/solid"
)

// chart reads the tip of a running machine under some loads, position by position.
type chart struct {
	running *running
	loads   []*machine.Load
	states  []*state
	state   []int         // of each load: number of what it does apart from the tip; -1: nothing
	stands  []*gauge      // the work's gauges, on its spots
	places  *solid.Places // of a work in a solid body, by gauge
	// of each position, the first axis's slowest: number among stands, -1: the tool is not over the work; and the arm
	// from there to the tip, mm
	stand   []int
	arm     []r3.Vec
	rows    []int // the work's movements and rotations that the targets are made of: see against
	probe   *coupling.Probe
	springs [][][]frame.Spring     // [axis][position]
	of      []*machine.Load        // of each state
	second  []*coupling.Connection // of a second axis, by position; those of the first are made when their turn comes
	targets []coupling.Target
	grown   [][][3]float64 // [load][stand] of the tip against the work by warming, beyond the freedoms, mm
}

// tipState is what the tip does in one position.
type tipState struct {
	compliance [][]float64  // mm/N, 1/N; see Model.compliance
	moved      [][3]float64 // by each load, mm
}

// chart works out everything that does not depend on more than one axis.
func (r *running) chart(loads []*machine.Load) (*chart, error) {
	m := r.model
	c := &chart{running: r, loads: loads}
	if err := c.findStands(); err != nil {
		return nil, err
	}
	tips := c.against()
	c.springs = make([][][]frame.Spring, len(r.axes))
	watched := slices.Clone(tips)
	for i, a := range r.axes {
		for _, links := range a.links {
			list := r.springs(links)
			c.springs[i] = append(c.springs[i], list)
			for _, s := range list {
				watched = append(watched, s.Form)
			}
		}
	}
	for _, s := range c.stands {
		watched = append(watched, s.forms[:]...)
	}
	r.pieces.Watch(watched...)
	states, err := c.solveRest()
	if err != nil {
		return nil, err
	}
	c.probe = r.pieces.Probe(tips, states...)
	if len(r.axes) == 2 {
		for n := range c.springs[1] {
			c.second = append(c.second, c.connection(1, n))
		}
	}
	c.makeTargets()
	for _, l := range loads {
		var grown [][3]float64
		for _, s := range c.stands {
			grown = append(grown, m.tipGrowth(l, s.spot))
		}
		c.grown = append(c.grown, grown)
	}
	return c, nil
}

// connection is what an axis does in a position. The springs stretch with what they stand on where a load warms it.
func (c *chart) connection(axis, position int) *coupling.Connection {
	list := c.springs[axis][position]
	var stretched [][]float64
	for _, l := range c.of {
		by := make([]float64, len(list))
		for k := range by {
			by[k] = c.running.grown(l, &c.running.axes[axis].links[position][k])
		}
		stretched = append(stretched, by)
	}
	return c.probe.Connect(list, stretched...)
}

// twists tells whether a load puts a moment on the tip.
func twists(l *machine.Load) bool {
	return slices.ContainsFunc(l.Actions, func(a machine.Action) bool {
		return a.Kind == machine.OnTip &&
			a.Moment != r3.Vec{}
	})
}

// findStands finds where on the work the tool is in each position. Positions over one place share a gauge.
func (c *chart) findStands() error {
	var spots []*spot
	number := map[r3.Vec]int{}
	c.running.each(func(positions []int) {
		s, arm := c.running.spotAt(positions)
		c.arm = append(c.arm, arm)
		if s == nil {
			c.stand = append(c.stand, -1)
			return
		}
		n, known := number[s.at]
		if !known {
			n = len(spots)
			number[s.at] = n
			spots = append(spots, s)
		}
		c.stand = append(c.stand, n)
	})
	if len(spots) == 0 {
		return fmt.Errorf("the tool is nowhere over the work")
	}
	m, err := c.running.model, error(nil)
	if c.stands, c.places, err = m.tool.work.read(m, c.running.portsOf(m.tool.work), spots); err != nil {
		return fmt.Errorf("work: %w", err)
	}
	return nil
}

// solveRest finds what the loads do to the pieces apart from the tip: the states.
func (c *chart) solveRest() (states [][]float64, err error) {
	m := c.running.model
	for _, l := range c.loads {
		rest := withoutTip(l)
		if rest.Actions == nil {
			c.state = append(c.state, -1)
			continue
		}
		solution, err := c.running.pieces.Solve(m.frameLoad(&rest, m.tool.gauge))
		if err != nil {
			return nil, fmt.Errorf("load %s: %w", l.Name, m.nameUneven(err))
		}
		s := m.stateOf(solution, &rest, m.tool.gauge)
		u := slices.Clone(s.U)
		for _, b := range c.running.ported {
			u = append(u, b.ports.Moved(s.fields[b.number])...)
		}
		c.state = append(c.state, len(states))
		states, c.of, c.states = append(states, u), append(c.of, l), append(c.states, s)
	}
	return states, nil
}

// withoutTip is the load without what acts on the tip.
func withoutTip(l *machine.Load) machine.Load {
	out := *l
	out.Actions = nil
	for _, a := range l.Actions {
		if a.Kind != machine.OnTip {
			out.Actions = append(out.Actions, a)
		}
	}
	return out
}

// against says what is read of the tip against the work's spots: its movements; where a load twists it, its rotations;
// and last the rotations of the spots alone, with no tip against them. By these the arms from the spots to the tip
// move, which change from position to position while the spots do not.
func (c *chart) against() (tips []frame.Form) {
	m := c.running.model
	tips, c.rows = slices.Clone(m.tool.tip[:]), []int{0, 1, 2}
	if slices.ContainsFunc(c.loads, twists) {
		tips, c.rows = append(tips, m.tool.turn[:]...), []int{0, 1, 2, 3, 4, 5}
	}
	c.rows = append(c.rows, 3, 4, 5)
	return append(tips, nil, nil, nil)
}

// picked are those of a gauge's six that are read.
func picked[T any](c *chart, of [6]T) (list []T) {
	for _, k := range c.rows {
		list = append(list, of[k])
	}
	return list
}

// makeTargets makes a target of every gauge of the work. What a load does inside a solid body moves them, too.
func (c *chart) makeTargets() {
	var means [][][6]float64 // [state][gauge]
	if c.places != nil {
		for _, s := range c.states {
			means = append(means, c.places.Means(s.fields[c.stands[0].body]))
		}
	}
	for i, r := range c.stands {
		var more [][]float64
		for n, all := range means {
			by := all[i]
			for k := range by {
				by[k] -= c.states[n].Value(r.forms[k])
			}
			more = append(more, picked(c, by))
		}
		target := c.probe.Target(picked(c, r.forms), more...)
		for _, b := range c.running.ported {
			if b.number == r.body {
				c.probe.Beside(&target, b.first, picked(c, c.places.Gauge(i).Across))
			}
		}
		c.targets = append(c.targets, target)
	}
}

// read reads every position. It calls do in the order of running.each, with nil where the tool is not over the work.
func (c *chart) read(do func(positions []int, s *tipState)) {
	var joined *coupling.Joined
	var response coupling.Response
	n := 0
	c.running.each(func(positions []int) {
		stand, arm := c.stand[n], c.arm[n]
		n++
		if last := positions[len(positions)-1]; len(positions) == 1 || last == 0 {
			joined = c.probe.Join(c.connection(0, positions[0]))
		}
		if stand < 0 {
			do(positions, nil)
			return
		}
		var second *coupling.Connection
		if len(positions) == 2 {
			second = c.second[positions[1]]
		}
		joined.At(second, c.targets[stand], &response)
		do(positions, c.tipState(stand, arm, &response))
	})
}

// tipState goes from the work's spot to the tip's place, adds what the work gives by itself, and puts the loads on.
func (c *chart) tipState(stand int, arm r3.Vec, response *coupling.Response) *tipState {
	r := response.Compliance
	turns := len(r) - 3 // where the rotations of the spot begin
	for k := range 3 {
		for i, by := range lever(arm, k) {
			for l := range r {
				r[k][l] += by * r[turns+i][l]
			}
			for _, moved := range response.Moved {
				moved[k] += by * moved[turns+i]
			}
		}
	}
	for k := range 3 {
		for i, by := range lever(arm, k) {
			for l := range r {
				r[l][k] += by * r[l][turns+i]
			}
		}
	}
	s := &tipState{moved: make([][3]float64, len(c.loads))}
	local := onArms(arm, c.stands[stand].local)
	for i := range turns {
		for k := range turns {
			r[i][k] += local[i][k]
		}
		s.compliance = append(s.compliance, r[i][:turns])
	}
	for n, l := range c.loads {
		mm := c.grown[n][stand]
		for i := range mm {
			if k := c.state[n]; k >= 0 {
				mm[i] += response.Moved[k][i]
			}
			for _, a := range l.Actions {
				if a.Kind != machine.OnTip {
					continue
				}
				for k, f := range pushOf(a) {
					if k < len(s.compliance) {
						mm[i] += s.compliance[i][k] * f
					}
				}
			}
		}
		s.moved[n] = mm
	}
	return s
}

// pushOf is force and moment of an action.
func pushOf(a machine.Action) [6]float64 {
	f, t := array(a.Force), array(a.Moment)
	return [6]float64{f[0], f[1], f[2], t[0], t[1], t[2]}
}

// softest is the stiffness of the tip in its softest direction, N/µm.
func (s *tipState) softest() float64 {
	sym := mat.NewSymDense(3, nil)
	for i := range 3 {
		for j := range i + 1 {
			sym.SetSym(i, j, (s.compliance[i][j]+s.compliance[j][i])/2)
		}
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(sym, false) {
		panic("structure: a symmetric matrix of order 3 without principal values")
	}
	return nPerUm(eigen.Values(nil)[2])
}
