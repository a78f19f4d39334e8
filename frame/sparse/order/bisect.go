package order

import "slices"

// heaviestShare is the part of all unknowns, in thousandths, that one side of a cut may hold. A lopsided cut with a
// smaller separator is worth more than its share of the depth; beyond three quarters fill rises again.
const heaviestShare = 720

// A connected graph is thin when its length, in edges, is so many times its mean breadth. It is not cut at all: minimum
// degree eliminates it from its ends towards some middle, with a quarter less fill than cuts across leave.
const thin = 8

// A method says how a first cut is found.
type method int8

const (
	comparing method = iota // by the multilevel scheme and by distance, keeping the better
	sweeping                // by distance alone
)

// sweepingShare is the cost in hundredths of the multilevel cut's below which a cut by distance makes the parts be cut
// by distance alone: what serves a graph much better serves its parts at least as well, in a fraction of the time.
const sweepingShare = 90

// halve parts a graph by a small separator, or by none if it is not connected; side tells where each vertex has come,
// and is nil when the graph is better not cut. It also tells the method for the parts.
func (d *dissector) halve(l *level, m method) (side []int8, parts method) {
	n := l.vertices()
	c := &d.cut
	c.resize(n)
	begin := d.arena.mark()
	defer d.arena.release(begin)
	depth, queue := d.arena.take(n), d.arena.take(n)
	end := l.distances(0, depth, queue)
	if slices.Contains(depth, -1) {
		c.deal(l, queue)
		return c.side[:n], m
	}
	end = l.distances(end, depth, queue)
	other := l.distances(end, depth, queue)
	if length := int(depth[other]) + 1; length*length > thin*n {
		return nil, m
	}
	return d.bisect(l, m, depth, other)
}

// deal puts the connected pieces of a graph on the two sides, each on the one that is lighter by then. queue is scratch
// with a place for each vertex.
func (c *cut) deal(l *level, queue []int32) {
	side := c.side[:l.vertices()]
	for v := range side {
		side[v] = separator
	}
	var amount [2]int32
	for v := range int32(len(side)) {
		if side[v] != separator {
			continue
		}
		s := int8(left)
		if amount[right] < amount[left] {
			s = right
		}
		side[v] = s
		queue = append(queue[:0], v)
		for k := 0; k < len(queue); k++ {
			amount[s] += l.weight[queue[k]]
			for _, u := range l.of(queue[k]) {
				if side[u] == separator {
					side[u] = s
					queue = append(queue, u)
				}
			}
		}
	}
}

// bisect finds a small separator of a connected graph. depth is how far each vertex is from one at the rim, and other
// is one opposite.
func (d *dissector) bisect(l *level, m method, depth []int32, other int32) (side []int8, parts method) {
	c := &d.cut
	c.heavy = int32(int64(l.total) * heaviestShare / 1000)
	d.best.found = false
	if m == comparing {
		d.coarsen(l)
		c.offer(&d.best)
	}
	coarsened := d.best.cost
	c.level = l
	swept := d.sweep(depth, other)
	parts = sweeping
	if m == comparing && 100*float64(swept) >= sweepingShare*float64(coarsened) {
		parts = comparing
	}
	c.restore(&d.best)
	return c.side[:l.vertices()], parts
}
