package order

// distances fills in how many edges each vertex is from v, -1 where there is no way, and returns one of the farthest.
// queue is scratch; both have a place for each vertex.
func (n *net) distances(v int32, depth, queue []int32) (end int32) {
	for u := range depth {
		depth[u] = -1
	}
	depth[v] = 0
	queue = append(queue[:0], v)
	for k := 0; k < len(queue); k++ {
		end = queue[k]
		next := depth[end] + 1
		for _, u := range n.of(end) {
			if depth[u] < 0 {
				depth[u] = next
				queue = append(queue, u)
			}
		}
	}
	return end
}

// renumber returns the same net with its vertices numbered by distance from one at the rim, piece by piece, and the
// old number of each. Near vertices then stand near in memory, and what is found depends less on the numbers given.
func (n *net) renumber() (fresh *net, old []int32) {
	count := n.vertices()
	old = make([]int32, 0, count)
	number := make([]int32, count)
	for v := range number {
		number[v] = -1
	}
	for v := range int32(count) {
		if number[v] >= 0 {
			continue
		}
		from := len(old)
		old = n.spread(v, number, old)
		end := old[len(old)-1]
		for _, u := range old[from:] {
			number[u] = -1
		}
		old = n.spread(end, number, old[:from])
	}
	fresh = &net{start: make([]int32, count+1), near: make([]int32, 0, len(n.near)), weight: make([]int32, count)}
	for k, v := range old {
		fresh.weight[k] = n.weight[v]
		for _, u := range n.of(v) {
			fresh.near = append(fresh.near, number[u])
		}
		fresh.start[k+1] = int32(len(fresh.near))
	}
	return fresh, old
}

// spread appends the vertices of v's piece by distance from v and numbers them by place.
func (n *net) spread(v int32, number, list []int32) []int32 {
	number[v] = int32(len(list))
	list = append(list, v)
	for k := len(list) - 1; k < len(list); k++ {
		for _, u := range n.of(list[k]) {
			if number[u] < 0 {
				number[u] = int32(len(list))
				list = append(list, u)
			}
		}
	}
	return list
}
