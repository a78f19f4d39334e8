package order

// refine improves a cut by at most so many passes of single moves in the way of Fiduccia & Mattheyses (1982), with
// vertices of the separator for moves (Ashcraft & Liu 1997; Hendrickson & Rothberg 1998): the best move is made even
// when it is a bad one, a vertex moves once a pass, and the pass ends with the best cut it has met.
func (c *cut) refine(most int) {
	for range most {
		if !c.improve(patience, left, right) {
			return
		}
	}
}

// improve makes one pass of moves to the given sides and says whether it has found a better cut. It gives up after so
// many moves in a row that have not.
func (c *cut) improve(patience int, sides ...int) bool {
	c.pass++
	c.moves = c.moves[:0]
	kept := c.between[:0]
	for s := range c.queues {
		c.queues[s].clear()
	}
	for _, v := range c.between {
		if c.side[v] != separator || c.moved[v] == c.pass {
			continue
		}
		c.moved[v] = c.pass // listed
		kept = append(kept, v)
	}
	c.between = kept
	for _, v := range kept {
		c.moved[v] = 0
		for _, s := range sides {
			c.queues[s].push(v, c.gain(v, s))
		}
	}
	best := c.cost()
	begun := best
	bestAt := 0
	for bad := 0; bad < patience; bad++ {
		s := c.choose()
		if s < 0 {
			break
		}
		v := c.queues[s].heap[0].vertex
		for _, t := range sides {
			c.queues[t].remove(v)
		}
		c.moved[v] = c.pass
		listed := len(c.between)
		c.move(v, int8(s))
		for _, u := range c.between[listed:] {
			if c.moved[u] == c.pass {
				continue
			}
			for _, t := range sides {
				c.queues[t].push(u, c.gain(u, t))
			}
		}
		if cost := c.cost(); cost < best {
			best, bestAt, bad = cost, len(c.moves), -1
		}
	}
	for len(c.moves) > bestAt {
		c.undo()
	}
	for s := range c.queues {
		c.queues[s].clear()
	}
	return best < begun
}

// choose is the side to move a vertex to: the one with the greater gain, the lighter one of equals, never one that
// would become too heavy unless it is the lighter one; -1 when there is none.
func (c *cut) choose() int {
	best := -1
	for s := range 2 {
		q := &c.queues[s]
		if len(q.heap) == 0 {
			continue
		}
		v := q.heap[0].vertex
		if c.amount[s]+c.weight[v] > c.heavy && c.amount[s] >= c.amount[1-s] {
			continue
		}
		if best < 0 || q.heap[0].gain() > c.queues[best].heap[0].gain() ||
			q.heap[0].gain() == c.queues[best].heap[0].gain() && c.amount[s] < c.amount[best] {
			best = s
		}
	}
	return best
}
