package order

// sweep finds cuts by distance and offers them for the best: the vertices equally far from one at the rim (the level
// structure of George & Liu 1981, chapter 8), which lie aslant in a lattice, where that is shorter; and those about
// equally far from it and another one opposite, which lie straight across a plate. depth is how far each vertex is from
// the one, and is overwritten. It returns the lower cost.
func (d *dissector) sweep(depth []int32, other int32) int64 {
	c := &d.cut
	n := c.vertices()
	c.slice(&d.arena, depth, 1)
	c.refine(passes)
	c.offer(&d.best)
	swept := c.cost()
	away, queue := d.arena.take(n), d.arena.take(n)
	c.distances(other, away, queue)
	for v := range depth {
		depth[v] -= away[v]
	}
	c.slice(&d.arena, depth, 2)
	c.refine(passes)
	c.offer(&d.best)
	return min(swept, c.cost())
}

// slice makes the cut with the cheapest separator of all vertices with a label from some value on to thick of them. An
// edge changes the label by thick at most.
func (c *cut) slice(a *arena, label []int32, thick int32) {
	least, most := label[0], label[0]
	for _, l := range label {
		least, most = min(least, l), max(most, l)
	}
	begin := a.mark()
	sum := a.take(int(most-least+thick) + 1) // unknowns of lesser labels
	clear(sum)
	for v, l := range label {
		sum[l-least+1] += c.weight[v]
	}
	for l := 1; l < len(sum); l++ {
		sum[l] += sum[l-1]
	}
	var cheapest int64
	from := int32(-1)
	for l := range most - least + 1 {
		c.amount = [3]int32{sum[l], c.total - sum[l+thick], sum[l+thick] - sum[l]}
		if cost := c.cost(); from < 0 || cost < cheapest {
			cheapest, from = cost, l
		}
	}
	c.amount = [3]int32{sum[from], c.total - sum[from+thick], sum[from+thick] - sum[from]}
	a.release(begin)
	from += least
	c.between = c.between[:0]
	for v, l := range label {
		switch {
		case l < from:
			c.side[v] = left
		case l >= from+thick:
			c.side[v] = right
		default:
			c.side[v] = separator
			c.between = append(c.between, int32(v))
		}
	}
	for _, v := range c.between {
		c.enter(v)
	}
}
