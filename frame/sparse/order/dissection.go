package order

import (
	"runtime"
	"sync"
)

const (
	leafSize = 120  // vertices up to which a graph is not cut any more: minimum degree does as well
	forkSize = 2000 // vertices from which a half may be ordered beside the other
)

// dissect orders a whole net by nested dissection (George 1973, SIAM J. Numer. Anal. 10): a small separator cuts the
// net in two, which are ordered in the same way one after the other, and is eliminated last. It uses as many processors
// as the runtime allows.
func dissect(c *net) []int32 {
	top, old := c.renumber()
	n := top.vertices()
	l := &level{net: *top, link: make([]int32, len(top.near))}
	for k := range l.link {
		l.link[k] = 1
	}
	for _, w := range c.weight {
		l.total += w
	}
	names := make([]int32, n)
	for v := range names {
		names[v] = int32(v)
	}
	order := make([]int32, n)
	idle := make(chan struct{}, runtime.GOMAXPROCS(0))
	for range cap(idle) - 1 {
		idle <- struct{}{}
	}
	newDissector(top, l, idle).split(l, comparing, names, order)
	for k, v := range order {
		order[k] = old[v]
	}
	return order
}

// A dissector orders parts of a net, one after the other.
type dissector struct {
	top   *net
	idle  chan struct{} // a token for each processor that has no dissector
	arena arena
	leaf  leaf

	levels []*level
	cut    cut
	grown  attempt // best cut of the coarsest level
	best   attempt // best cut of the graph itself
}

// newDissector is one with room for a graph like l.
func newDissector(top *net, l *level, idle chan struct{}) *dissector {
	d := &dissector{top: top, idle: idle}
	d.arena.store = make([]int32, 6*len(l.near)+20*l.vertices()) // as measured: the levels, the parts of all depths
	return d
}

// split orders the graph l, whose vertices have names in the whole net, into order.
func (d *dissector) split(l *level, m method, names, order []int32) {
	n := l.vertices()
	if n <= leafSize {
		d.leaf.order(d.top, names, order)
		return
	}
	begin := d.arena.mark()
	defer d.arena.release(begin)
	side, m := d.halve(l, m)
	if side == nil {
		d.leaf.order(d.top, names, order)
		return
	}
	number := d.arena.take(n)
	var count [3]int
	for v, s := range side {
		number[v] = int32(count[s])
		count[s]++
	}
	at := n - count[separator]
	for v, s := range side {
		if s == separator {
			order[at] = names[v]
			at++
		}
	}
	var parts [2]*level
	var partNames [2][]int32
	for s := range parts {
		parts[s], partNames[s] = l.part(&d.arena, side, int8(s), number, count[s])
		for k, v := range partNames[s] {
			partNames[s][k] = names[v]
		}
	}
	first, second := order[:count[left]], order[count[left]:n-count[separator]]
	if count[left] >= forkSize && count[right] >= forkSize {
		select {
		case <-d.idle:
			var done sync.WaitGroup
			done.Go(func() {
				newDissector(d.top, parts[left], d.idle).split(parts[left], m, partNames[left], first)
				d.idle <- struct{}{}
			})
			d.split(parts[right], m, partNames[right], second)
			done.Wait()
			return
		default:
		}
	}
	d.split(parts[left], m, partNames[left], first)
	d.split(parts[right], m, partNames[right], second)
}
