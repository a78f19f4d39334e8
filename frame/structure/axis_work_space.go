package structure

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tiploop/frame/machine"
)

// Axes move parts along the world's directions, each independently of the others, so the ways that one part may move
// against another fill a box, and a box that moves within a box sweeps a box. Whether two parts can ever meet is then
// one comparison of boxes, exact for plates and for bars along an axis as the boxes they are drawn in, and for gussets
// too (a box swept against their slope, see overlapWithin). Only for two that do meet is a position looked for that
// shows it.

// mostTogether is how many axes between two parts are tried in all combinations of their ends; of more, two at a time.
const mostTogether = 4

// crossing is two parts with the axes that move one of them and not the other.
type crossing struct {
	a, b  *body
	axes  []*machine.FeedAxis
	signs []float64 // +1 when the axis moves b, −1 when it moves a
}

// crossing tells which axes move two parts, or rails, against each other; goes holds for each axis what goes along.
func (m *Model) crossing(a, b *body, goes []map[*body]bool) (c crossing) {
	c.a, c.b = a, b
	for i := range m.machine.Axes {
		if goes[i][a] == goes[i][b] {
			continue
		}
		sign := 1.0
		if goes[i][a] {
			sign = -1
		}
		c.axes = append(c.axes, &m.machine.Axes[i])
		c.signs = append(c.signs, sign)
	}
	return c
}

// span is a range of positions of an axis, mm.
type span [2]float64

// ways is the box of movements of b against a, from where they are, over ranges of the axes.
func (c *crossing) ways(at []span) (w box) {
	for i, a := range c.axes {
		lo, hi := c.signs[i]*(at[i][0]-a.At), c.signs[i]*(at[i][1]-a.At)
		w.lo[a.Along] += math.Min(lo, hi)
		w.hi[a.Along] += math.Max(lo, hi)
	}
	return w
}

// meets tells whether the parts run into each other anywhere within ranges of the axes.
func (c *crossing) meets(at []span) bool {
	_, ok := overlapWithin(c.a, c.b, c.ways(at))
	return ok
}

// over gives ranges of the axes: of those listed all their travel, of the others where they are drawn.
func (c *crossing) over(all ...int) []span {
	at := make([]span, len(c.axes))
	for i, a := range c.axes {
		at[i] = span{a.DrawnAt(), a.DrawnAt()}
		if slices.Contains(all, i) {
			at[i] = a.Travel
		}
	}
	return at
}

// everywhere is all of the work space.
func (c *crossing) everywhere() []span {
	at := make([]span, len(c.axes))
	for i, a := range c.axes {
		at[i] = a.Travel
	}
	return at
}

// corners gives the positions with so many axes at their ends and the others as drawn, in the order of the file.
func (c *crossing) corners(together int) (list [][]span) {
	var grow func(from int, at []span, left int)
	grow = func(from int, at []span, left int) {
		if left == 0 {
			list = append(list, at)
			return
		}
		for i := from; i < len(c.axes); i++ {
			for _, end := range c.axes[i].Travel {
				next := slices.Clone(at)
				next[i] = span{end, end}
				grow(i+1, next, left-1)
			}
		}
	}
	grow(0, c.over(), together)
	return list
}

// checkWorkSpace makes sure that nothing runs into anything wherever the axes stand: at the ends of each axis, between
// them, in the corners of the work space and anywhere inside it.
func (m *Model) checkWorkSpace() (faults machine.Faults) {
	if len(m.machine.Axes) == 0 {
		return nil
	}
	list := slices.Clone(m.bodies)
	for _, r := range m.rails {
		list = append(list, r.body)
	}
	held := map[[2]*body]bool{} // a shaft runs through the part with its bushes
	goes := m.goAlong(list)
	for i := range m.machine.Axes {
		for _, g := range m.machine.Axes[i].Guides {
			held[m.pair(g)] = g.RailIsBar
		}
	}
	met := map[[2]*body]bool{}
	for i, b := range list {
		for _, o := range list[:i] {
			if !b.hasBox || !o.hasBox || held[[2]*body{o, b}] {
				continue
			}
			if c := m.crossing(o, b, goes); c.axes != nil && c.meets(c.everywhere()) {
				faults = append(faults, m.runsInto(c))
				met[[2]*body{o, b}] = true
			}
		}
	}
	for i := range m.machine.Axes {
		a := &m.machine.Axes[i]
		for k := range a.Guides {
			if g := &a.Guides[k]; g.Slide != nil && !met[m.pair(*g)] {
				if f := m.slidesOff(a, g, m.crossing(m.bodies[g.On], m.bodies[g.Part], goes)); f != nil {
					faults = append(faults, *f)
					break // what leaves one face of an axis leaves the others, too
				}
			}
		}
	}
	return faults
}

// pair are the two parts of a guide, in the order of the file.
func (m *Model) pair(g machine.Guide) [2]*body {
	return [2]*body{m.bodies[min(g.On, g.Part)], m.bodies[max(g.On, g.Part)]}
}

// runsInto says where two parts that meet somewhere do so: as drawn, with one axis at an end, with one between its
// ends, with several at their ends, or with several between them; the first of these that there is.
func (m *Model) runsInto(c crossing) machine.Fault {
	if at := c.over(); c.meets(at) {
		return m.shared(c, at)
	}
	for _, at := range c.corners(1) {
		if c.meets(at) {
			return m.shared(c, at)
		}
	}
	for i := range c.axes {
		if at := c.over(i); c.meets(at) {
			return m.between(c, at)
		}
	}
	most := len(c.axes)
	if most > mostTogether {
		most = 2
	}
	for together := 2; together <= most; together++ {
		for _, at := range c.corners(together) {
			if c.meets(at) {
				return m.shared(c, at)
			}
		}
	}
	return m.between(c, c.everywhere())
}

// shared is the fault of two parts at one position, with what they share there.
func (m *Model) shared(c crossing, at []span) machine.Fault {
	depth, _ := overlapWithin(c.a, c.b, c.ways(at))
	part := c.parting(at)
	where, axes := c.standing(at)
	what := fmt.Sprintf("%s: %s and %s run into each other: they share %s",
		where, c.a.part.Name, c.b.part.Name, sizes(depth))
	switch len(axes) {
	case 0:
		k := box{hi: part}.shortest()
		hint := fmt.Sprintf("moving one of them by %s along %s would part them", machine.MM(part[k]), k)
		return m.fault(c.axes[0].Pos, hint, "%s", what)
	case 1:
		return m.fault(axes[0].Pos, fmt.Sprintf("shorten its travel, or move one of them by %s",
			machine.MM(part[axes[0].Along])), "%s", what)
	}
	least := axes[0].Along
	for _, a := range axes {
		if part[a.Along] < part[least] {
			least = a.Along
		}
	}
	return m.fault(axes[0].Pos, fmt.Sprintf("shorten the travel along %s, or move one of them, by %s", least,
		machine.MM(part[least])), "%s", what)
}

// parting is how far one of the two would have to move along each axis to be clear of all that the other sweeps.
func (c *crossing) parting(at []span) (way [3]float64) {
	ways := c.ways(at)
	swept := c.b.fills.swept(ways.lo, ways.hi)
	for k := range way {
		way[k] = math.Min(c.a.fills.hi[k]-swept.lo[k], swept.hi[k]-c.a.fills.lo[k])
	}
	return way
}

// standing says where the axes stand that are not as drawn, and which they are.
func (c *crossing) standing(at []span) (where string, moved []*machine.FeedAxis) {
	var words []string
	for i, a := range c.axes {
		if at[i] != (span{a.DrawnAt(), a.DrawnAt()}) {
			moved = append(moved, a)
			words = append(words, a.Name+" at "+machine.MM(roundTo(at[i][0])))
		}
	}
	switch len(moved) {
	case 0:
		return "as drawn", nil
	case 1:
		return "with axis " + words[0], moved
	}
	return "with axes " + strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1], moved
}

// between is the fault of two parts that meet within ranges of the axes but at none of their ends.
func (m *Model) between(c crossing, at []span) machine.Fault {
	part := c.parting(at)
	k := box{hi: part}.shortest()
	hint := fmt.Sprintf("moving one of them by %s along %s would let them pass", machine.MM(part[k]), k)
	for i := range c.axes {
		c.narrow(at, i)
	}
	where, moved := c.standing(at)
	if len(moved) == 1 {
		i := slices.Index(c.axes, moved[0])
		near := at[i][0]
		far := c.reach(c.over(i), i, near)
		where = fmt.Sprintf("with axis %s between %s and %s", moved[0].Name, machine.MM(roundTo(math.Min(near, far))),
			machine.MM(roundTo(math.Max(near, far))))
	}
	return m.fault(moved[0].Pos, hint, "%s: %s and %s run into each other", where, c.a.part.Name, c.b.part.Name)
}

// narrow puts an axis at the position nearest to where it is drawn at which the parts still meet somewhere within the
// ranges of the others. Positions at which two convex bodies meet are a stretch without gaps, so halving finds its end.
func (c *crossing) narrow(at []span, i int) {
	a, whole := c.axes[i], at[i]
	at[i] = span{a.DrawnAt(), a.DrawnAt()}
	if whole == at[i] || c.meets(at) {
		return
	}
	end := whole[1]
	if at[i] = (span{a.DrawnAt(), end}); !c.meets(at) {
		end = whole[0]
	}
	q := c.first(at, i, a.DrawnAt(), end)
	at[i] = span{q, q}
}

// reach is the farthest position of an axis at which the parts still meet, away from where it is drawn beyond near.
func (c *crossing) reach(at []span, i int, near float64) float64 {
	end := c.axes[i].Travel[1]
	if near < c.axes[i].DrawnAt() {
		end = c.axes[i].Travel[0]
	}
	return c.first(at, i, end, near)
}

// first is the position nearest to from, on the way to to, at which the parts meet within the ranges of the other axes.
func (c *crossing) first(at []span, i int, from, to float64) float64 {
	clear, met := from, to
	for range halvings {
		q := (clear + met) / 2
		at[i] = span{math.Min(from, q), math.Max(from, q)}
		if c.meets(at) {
			met = q
		} else {
			clear = q
		}
	}
	return met
}

// halvings narrow a metre to less than the touching distance, with some to spare.
const halvings = 40

// roundTo leaves of a position found by halving what is certain: the touching distance.
func roundTo(mm float64) float64 { return math.Round(mm/(10*machine.Touching)) * 10 * machine.Touching }

// slidesOff makes sure that the faces of a slide still meet at the ends of the axes that move them on one another, and
// in the corners: what two faces share is least there.
func (m *Model) slidesOff(a *machine.FeedAxis, g *machine.Guide, c crossing) *machine.Fault {
	for together := 1; together <= min(len(c.axes), mostTogether); together++ {
		for _, at := range c.corners(together) {
			if _, err := findTouch(c.a, c.b.shifted(c.ways(at).lo)); err != nil {
				where, _ := c.standing(at)
				f := m.fault(g.Pos, "shorten the travel, or lengthen one of them",
					"axis %s, %s: %s: %v", a.Name, g.Name, where, err)
				return &f
			}
		}
	}
	return nil
}

// shifted is the body elsewhere, for its faces: it has no part in the frame.
func (b *body) shifted(by [3]float64) *body {
	part := *b.part
	part.Shift(vector(by))
	moved, err := newBody(&part)
	if err != nil {
		panic(fmt.Sprintf("structure: part %s elsewhere: %v", part.Name, err)) // it has been a body where it is drawn
	}
	moved.fills = b.fills.swept(by, by)
	return moved
}

// goAlong holds for each axis which of some bodies go along.
func (m *Model) goAlong(list []*body) []map[*body]bool {
	goes := make([]map[*body]bool, len(m.machine.Axes))
	for i := range m.machine.Axes {
		goes[i] = map[*body]bool{}
		for _, b := range list {
			goes[i][b] = m.goes(&m.machine.Axes[i], b)
		}
	}
	return goes
}
