package order

// A level is a graph of the multilevel scheme (Karypis & Kumar 1998, SIAM J. Sci. Comput. 20): each of its vertices
// stands for one or two of the next finer level.
type level struct {
	net
	link   []int32 // couplings of the finest level that an edge stands for, beside near
	coarse []int32 // vertex of the next coarser level that each vertex goes into
	total  int32   // unknowns
}

// part is the graph of the vertices on one side of a cut, count in number, and their old numbers. number holds the new
// ones.
func (l *level) part(a *arena, side []int8, s int8, number []int32, count int) (p *level, old []int32) {
	p = &level{}
	old = a.take(count)
	p.weight = a.take(count)
	p.start = a.take(count + 1)
	slots := 0
	k := 0
	for v, t := range side {
		if t == s {
			old[k] = int32(v)
			k++
			slots += int(l.start[v+1] - l.start[v])
		}
	}
	edges := a.take(2 * slots)
	near, link := edges[:slots], edges[slots:]
	at := int32(0)
	p.start[0] = 0
	for k, v := range old {
		p.weight[k] = l.weight[v]
		p.total += l.weight[v]
		from, to := l.start[v], l.start[v+1]
		ties := l.link[from:to]
		for i, u := range l.near[from:to] {
			if side[u] == s {
				near[at], link[at] = number[u], ties[i]
				at++
			}
		}
		p.start[k+1] = at
	}
	p.close(a, edges, at)
	return p, old
}

// coarser matches each vertex with the neighbour it is tied to most, the lightest of several, and makes each pair one
// vertex. A pair is never heavier than heaviest.
func (l *level) coarser(a *arena, heaviest int32) *level {
	n := l.vertices()
	l.coarse = a.take(n)
	for v := range l.coarse {
		l.coarse[v] = -1
	}
	pairs := a.take(2 * n)[:0]
	for v := range int32(n) {
		if l.coarse[v] >= 0 {
			continue
		}
		best, most, lightest := v, int32(0), int32(0)
		limit := heaviest - l.weight[v]
		from, to := l.start[v], l.start[v+1]
		link := l.link[from:to]
		for k, u := range l.near[from:to] {
			if t := link[k]; t >= most && l.coarse[u] < 0 {
				if w := l.weight[u]; w <= limit && (t > most || w < lightest) {
					best, most, lightest = u, t, w
				}
			}
		}
		c := int32(len(pairs) / 2)
		l.coarse[v], l.coarse[best] = c, c
		pairs = append(pairs, v, best)
	}
	return l.contract(a, pairs)
}

// contract builds the coarser graph from its vertices' two, or twice the same one.
func (l *level) contract(a *arena, pairs []int32) *level {
	n := len(pairs) / 2
	c := &level{total: l.total}
	c.weight = a.take(n)
	c.start = a.take(n + 1)
	place := a.take(n) // where an edge to this vertex stands; before the row under way if it has none yet
	for d := range place {
		place[d] = -1
	}
	edges := a.take(2 * len(l.near))
	near, link := edges[:len(l.near)], edges[len(l.near):]
	at := int32(0)
	c.start[0] = 0
	for b := range int32(n) {
		row := at
		pair := pairs[2*b : 2*b+2]
		c.weight[b] = l.weight[pair[0]]
		if pair[0] == pair[1] {
			pair = pair[:1]
		} else {
			c.weight[b] += l.weight[pair[1]]
		}
		for _, v := range pair {
			from, to := l.start[v], l.start[v+1]
			ties := l.link[from:to]
			for k, u := range l.near[from:to] {
				d := l.coarse[u]
				if p := place[d]; p >= row {
					link[p] += ties[k]
				} else if d != b {
					place[d] = at
					near[at], link[at] = d, ties[k]
					at++
				}
			}
		}
		c.start[b+1] = at
	}
	c.close(a, edges, at)
	return c
}

// close makes the first at of each half of edges, lent last, the neighbours and links and gives back the rest.
func (l *level) close(a *arena, edges []int32, at int32) {
	copy(edges[at:], edges[len(edges)/2:][:at])
	edges = a.trim(edges, int(2*at))
	l.near, l.link = edges[:at], edges[at:]
}
