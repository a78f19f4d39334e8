package order

// A queue hands out vertices by falling gain, and of equal gains the one that came first. It is a binary heap that
// knows where each vertex stands.
type queue struct {
	heap  []entry
	place []int32 // where a vertex stands in the heap, plus one; 0 when it is not in it
	turn  int32   // vertices that have come so far
}

// entry is a vertex with its rank: the gain above, the turn below.
type entry struct {
	rank   int64
	vertex int32
}

func (e entry) gain() int32 { return int32(e.rank >> 32) }

// clear empties the queue.
func (q *queue) clear() {
	for _, e := range q.heap {
		q.place[e.vertex] = 0
	}
	q.heap = q.heap[:0]
	q.turn = 0
}

// push takes in a vertex that is not in the queue.
func (q *queue) push(v, gain int32) {
	q.turn++
	q.heap = append(q.heap, entry{})
	q.up(len(q.heap)-1, entry{int64(gain)<<32 | int64(^uint32(q.turn)), v})
}

// change gives a vertex of the queue another gain.
func (q *queue) change(v, gain int32) {
	k := int(q.place[v]) - 1
	e := q.heap[k]
	old := e.rank
	e.rank = int64(gain)<<32 | old&0xffffffff
	if e.rank > old {
		q.up(k, e)
	} else {
		q.down(k, e)
	}
}

// remove takes a vertex out of the queue.
func (q *queue) remove(v int32) {
	k := int(q.place[v]) - 1
	q.place[v] = 0
	last := len(q.heap) - 1
	e := q.heap[last]
	q.heap = q.heap[:last]
	if k == last {
		return
	}
	if k > 0 && e.rank > q.heap[(k-1)/2].rank {
		q.up(k, e)
	} else {
		q.down(k, e)
	}
}

func (q *queue) up(k int, e entry) {
	for k > 0 {
		p := (k - 1) / 2
		if q.heap[p].rank >= e.rank {
			break
		}
		q.heap[k] = q.heap[p]
		q.place[q.heap[k].vertex] = int32(k) + 1
		k = p
	}
	q.heap[k] = e
	q.place[e.vertex] = int32(k) + 1
}

func (q *queue) down(k int, e entry) {
	n := len(q.heap)
	for {
		c := 2*k + 1
		if c >= n {
			break
		}
		if c+1 < n && q.heap[c+1].rank > q.heap[c].rank {
			c++
		}
		if q.heap[c].rank <= e.rank {
			break
		}
		q.heap[k] = q.heap[c]
		q.place[q.heap[k].vertex] = int32(k) + 1
		k = c
	}
	q.heap[k] = e
	q.place[e.vertex] = int32(k) + 1
}
