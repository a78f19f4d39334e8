package order

// Sides of a cut.
const (
	left      = 0
	right     = 1
	separator = 2
)

// A cut splits a level's graph in two sides with no edge between them and the separator that parts them.
type cut struct {
	*level
	side   []int8   // of each vertex, and room for those of finer levels
	other  []int8   // room for as many
	amount [3]int32 // unknowns on each side and in the separator
	heavy  int32    // most unknowns a side should have

	// pull[s][v], of a separator vertex: unknowns of its neighbours on side s, which its move to the other side would
	// bring into the separator.
	pull    [2][]int32
	between []int32 // separator vertices, perhaps among others that were

	queues [2]queue // separator vertices that may move to each side, by what the separator would lose
	moves  []int32  // log: vertices that have become separator, then the one that has left it and how many they are
	moved  []int32  // last pass that has moved or listed a vertex
	pass   int32
}

// resize gives the working lists the length a graph of n vertices needs.
func (c *cut) resize(n int) {
	if len(c.moved) >= n {
		return
	}
	c.side, c.other = make([]int8, n), make([]int8, n)
	c.moved = make([]int32, n)
	c.pass = 0
	for s := range c.queues {
		c.pull[s] = make([]int32, n)
		c.queues[s].place = make([]int32, n)
	}
}

// enter counts the pulls of a separator vertex.
func (c *cut) enter(v int32) {
	var p [3]int32
	for _, u := range c.of(v) {
		p[c.side[u]] += c.weight[u]
	}
	c.pull[left][v], c.pull[right][v] = p[left], p[right]
}

// gain is what the separator would lose in unknowns by v's move to side s.
func (c *cut) gain(v int32, s int) int32 { return c.weight[v] - c.pull[1-s][v] }

// move takes separator vertex v to side s and its neighbours on the other side into the separator.
func (c *cut) move(v int32, s int8) {
	o := 1 - s
	w := c.weight[v]
	c.side[v] = s
	c.amount[s] += w
	c.amount[separator] -= w
	pulled := len(c.moves)
	for _, u := range c.of(v) {
		switch c.side[u] {
		case separator:
			c.pull[s][u] += w
			if c.queues[o].place[u] != 0 {
				c.queues[o].change(u, c.gain(u, int(o)))
			}
		case o:
			c.moves = append(c.moves, u)
		}
	}
	for _, u := range c.moves[pulled:] {
		c.side[u] = separator
		wu := c.weight[u]
		c.amount[o] -= wu
		c.amount[separator] += wu
		c.between = append(c.between, u)
		near, far := int32(0), int32(0) // unknowns of u's neighbours on sides s and o
		for _, x := range c.of(u) {
			switch c.side[x] {
			case separator:
				c.pull[o][x] -= wu
				if c.queues[s].place[x] != 0 {
					c.queues[s].change(x, c.gain(x, int(s)))
				}
			case s:
				near += c.weight[x]
			default:
				far += c.weight[x]
			}
		}
		c.pull[s][u], c.pull[o][u] = near, far
	}
	c.moves = append(c.moves, v, int32(len(c.moves)-pulled))
}

// undo takes back the last move.
func (c *cut) undo() {
	end := len(c.moves)
	v, n := c.moves[end-2], int(c.moves[end-1])
	s := c.side[v]
	o := 1 - s
	for _, u := range c.moves[end-2-n : end-2] {
		w := c.weight[u]
		c.side[u] = o
		c.amount[o] += w
		c.amount[separator] -= w
		for _, x := range c.of(u) {
			if c.side[x] == separator {
				c.pull[o][x] += w
			}
		}
	}
	w := c.weight[v]
	c.side[v] = separator
	c.amount[s] -= w
	c.amount[separator] += w
	for _, x := range c.of(v) {
		if c.side[x] == separator {
			c.pull[s][x] -= w
		}
	}
	c.enter(v) // it may have been pulled in again since
	c.moves = c.moves[:end-2-n]
}

// cost weighs the separator against the balance of the sides; less is better. A cut with a side too heavy costs more
// than any other, the more the heavier.
func (c *cut) cost() int64 {
	total := int64(c.total)
	uneven := int64(c.amount[left]) - int64(c.amount[right])
	cost := int64(c.amount[separator]) * (total + uneven*uneven/total)
	if over := int64(max(c.amount[left], c.amount[right]) - c.heavy); over > 0 {
		cost += (2*total + over) * total
	}
	return cost
}

// An attempt is a cut kept for comparison.
type attempt struct {
	found  bool
	cost   int64
	side   []int8
	amount [3]int32
}

// offer keeps the cut in place of the best one if it is better.
func (c *cut) offer(best *attempt) {
	cost := c.cost()
	if best.found && cost >= best.cost {
		return
	}
	best.found, best.cost, best.amount = true, cost, c.amount
	best.side = append(best.side[:0], c.side[:c.vertices()]...)
}

// restore makes the best one the cut, as far as the sides go.
func (c *cut) restore(best *attempt) {
	copy(c.side, best.side)
	c.amount = best.amount
}
