package order

const (
	coarsest = 40 // vertices up to which a graph is not coarsened further
	tries    = 2  // seeds from which a first side is grown; more have changed nothing
	passes   = 3  // of refinement at most, at every level
	patience = 30 // moves without gain after which a pass ends
)

// coarsen finds a cut by the multilevel scheme: the graph is made coarser step by step, cut, and refined on each level
// on the way back.
func (d *dissector) coarsen(finest *level) {
	levels := append(d.levels[:0], finest)
	last := finest
	for last.vertices() > coarsest {
		heaviest := max(1, int32(int64(last.total)*3/(2*coarsest))) // half as much again as the average in the end
		next := last.coarser(&d.arena, heaviest)
		if 10*next.vertices() > 9*last.vertices() {
			break // few pairs are left: the levels would be many
		}
		levels = append(levels, next)
		last = next
	}
	d.levels = levels
	c := &d.cut
	c.level = last
	d.grow()
	for k := len(levels) - 2; k >= 0; k-- {
		c.project(levels[k])
		c.refine(passes)
	}
}

// grow finds a cut of the coarsest graph: from each of several seeds a side is grown, always by the vertex that adds
// least to the separator, and the best cut on the way is refined; the best of all is kept.
func (d *dissector) grow() {
	c := &d.cut
	n := c.vertices()
	depth, queue := d.arena.take(n), d.arena.take(n)
	seed := c.distances(0, depth, queue)
	d.grown.found = false
	for range tries {
		c.begin(seed)
		c.improve(n, left)
		c.refine(2 * passes)
		c.offer(&d.grown)
		seed = c.distances(seed, depth, queue)
	}
	c.restore(&d.grown)
}

// begin makes the seed the separator and all others the right side.
func (c *cut) begin(seed int32) {
	side := c.side[:c.vertices()]
	for v := range side {
		side[v] = right
	}
	side[seed] = separator
	c.amount = [3]int32{right: c.total - c.weight[seed], separator: c.weight[seed]}
	c.between = append(c.between[:0], seed)
	c.enter(seed)
}

// project carries the cut over to the next finer level.
func (c *cut) project(fine *level) {
	c.level = fine
	c.between = c.between[:0]
	for v, b := range fine.coarse {
		s := c.side[b]
		c.other[v] = s
		if s == separator {
			c.between = append(c.between, int32(v))
		}
	}
	c.side, c.other = c.other, c.side
	for _, v := range c.between {
		c.enter(v)
	}
}
