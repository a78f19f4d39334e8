package order

import (
	"math"
	"slices"
)

// A vertex with more neighbours than denseFactor times the square root of the number of vertices is eliminated last:
// its lists would be gone through at almost every elimination (Amestoy, Davis & Duff 2004, ACM TOMS 30, section 4).
const denseFactor = 10

// reduction is what is left of a graph when the vertices whose place is known are taken out and those that cannot be
// told apart are merged.
type reduction struct {
	core  net
	heads []int32 // first vertex of each core vertex
	next  []int32 // following vertex of the same core vertex, or -1
	first []int32 // vertices eliminated before the core
	last  []int32 // and after it
}

// reduce takes out the vertices without unknowns, then again and again those with at most one neighbour, and merges
// the rest by closed neighbourhood.
func reduce(g *Graph) *reduction {
	g.check()
	n := len(g.Weight)
	r := &reduction{next: make([]int32, n)}
	degree := make([]int32, n) // remaining neighbours; -1 once taken out
	for v, w := range g.Weight {
		if w == 0 {
			degree[v] = -1
			r.last = append(r.last, int32(v))
		}
	}
	for v := range n {
		if degree[v] < 0 {
			continue
		}
		for _, u := range g.Near[g.Start[v]:g.Start[v+1]] {
			if g.Weight[u] > 0 {
				degree[v]++
			}
		}
	}
	r.peel(g, degree)
	r.merge(g, degree)
	r.postpone()
	return r
}

// peel eliminates the vertices with at most one neighbour left, which causes no fill; a tree vanishes altogether.
func (r *reduction) peel(g *Graph, degree []int32) {
	for v := range degree {
		for u := v; u >= 0 && (degree[u] == 0 || degree[u] == 1); {
			degree[u] = -1
			r.first = append(r.first, int32(u))
			next := -1
			for _, w := range g.Near[g.Start[u]:g.Start[u+1]] {
				if degree[w] > 0 {
					degree[w]--
					next = w
				}
			}
			u = next
		}
	}
}

// merge joins the vertices with the same closed neighbourhood, which are neighbours of one another, and builds the
// core from them.
func (r *reduction) merge(g *Graph, degree []int32) {
	n := len(degree)
	sum := make([]uint64, n) // equal where the closed neighbourhoods are
	for v := range n {
		if degree[v] < 0 {
			continue
		}
		s := scatter(uint64(v))
		for _, u := range g.Near[g.Start[v]:g.Start[v+1]] {
			if degree[u] >= 0 {
				s += scatter(uint64(u))
			}
		}
		sum[v] = s
	}
	core := make([]int32, n) // core vertex of each vertex, -1 when taken out
	for v := range core {
		core[v] = -1
		r.next[v] = -1
	}
	c := &r.core
	slots := 0
	for v := range n {
		if degree[v] < 0 || core[v] >= 0 {
			continue
		}
		k := int32(len(r.heads))
		r.heads = append(r.heads, int32(v))
		core[v] = k
		weight, tail := g.Weight[v], v
		for _, u := range g.Near[g.Start[v]:g.Start[v+1]] {
			// Equal sums of 64 scattered bits in two neighbours of the same degree are taken for equality: a mistake would
			// cost fill, never the order's being one.
			if u > v && sum[u] == sum[v] && degree[u] == degree[v] && core[u] < 0 {
				core[u] = k
				r.next[tail] = int32(u)
				weight, tail = weight+g.Weight[u], u
			}
		}
		c.weight = append(c.weight, int32(weight))
		slots += int(degree[v])
	}
	c.start = make([]int32, len(r.heads)+1)
	c.near = make([]int32, 0, slots)
	seen := make([]int32, len(r.heads)) // last core vertex, plus one, that listed this one
	for k, v := range r.heads {
		seen[k] = int32(k) + 1
		for _, u := range g.Near[g.Start[v]:g.Start[v+1]] {
			if h := core[u]; h >= 0 && seen[h] != int32(k)+1 {
				seen[h] = int32(k) + 1
				c.near = append(c.near, h)
			}
		}
		c.start[k+1] = int32(len(c.near))
	}
}

// scatter spreads a number over 64 bits (the finalizer of SplitMix64; Steele, Lea & Flood 2014).
func scatter(x uint64) uint64 {
	x += 0x9e3779b97f4a7c15
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}

// postpone takes the dense vertices out of the core, to stand just before the vertices without unknowns.
func (r *reduction) postpone() {
	c := &r.core
	n := c.vertices()
	limit := int32(denseFactor * math.Sqrt(float64(n)))
	var dense []int32
	for v := range int32(n) {
		if c.start[v+1]-c.start[v] > limit {
			dense = append(dense, v)
		}
	}
	if len(dense) == 0 {
		return
	}
	slices.SortStableFunc(dense, func(p, q int32) int { return len(c.of(p)) - len(c.of(q)) })
	number := make([]int32, n) // of the vertices that stay
	var last []int32
	for _, v := range dense {
		number[v] = -1
		last = r.members(last, v)
	}
	r.last = append(last, r.last...)
	var rest net
	var heads []int32
	for v := range int32(n) {
		if number[v] == 0 {
			number[v] = int32(len(heads))
			heads = append(heads, r.heads[v])
			rest.weight = append(rest.weight, c.weight[v])
		}
	}
	rest.start = make([]int32, 1, len(heads)+1)
	for v := range int32(n) {
		if number[v] < 0 {
			continue
		}
		for _, u := range c.of(v) {
			if number[u] >= 0 {
				rest.near = append(rest.near, number[u])
			}
		}
		rest.start = append(rest.start, int32(len(rest.near)))
	}
	r.core, r.heads = rest, heads
}

// members appends the vertices of core vertex v.
func (r *reduction) members(list []int32, v int32) []int32 {
	for u := r.heads[v]; u >= 0; u = r.next[u] {
		list = append(list, u)
	}
	return list
}

// expand turns an order of the core into one of the graph.
func (r *reduction) expand(order []int32) []int {
	list := make([]int32, 0, len(r.next))
	list = append(list, r.first...)
	for _, v := range order {
		list = r.members(list, v)
	}
	list = append(list, r.last...)
	whole := make([]int, len(list))
	for k, v := range list {
		whole[k] = int(v)
	}
	return whole
}
