package order

// A leaf orders small parts of a net by minimum degree. The vertices around a part, all of which are eliminated later,
// are its halo, so that the degrees are those in the whole net (Pellegrini, Roman & Amestoy 2000, Concurrency 12).
type leaf struct {
	local []int32 // number of each vertex of the net in the part under way, plus one, or 0
	list  []int32 // vertices of the part, then of its halo
	quotient
}

// order orders the vertices names of a net.
func (l *leaf) order(top *net, names, order []int32) {
	if l.local == nil {
		l.local = make([]int32, top.vertices())
	}
	l.list = append(l.list[:0], names...)
	for k, v := range names {
		l.local[v] = int32(k) + 1
	}
	slots := 0
	for _, v := range names {
		near := top.of(v)
		slots += len(near)
		for _, u := range near {
			if l.local[u] == 0 {
				l.list = append(l.list, u)
				l.local[u] = int32(len(l.list))
			}
		}
	}
	free := int32(len(names))
	l.reset(len(l.list), 2*slots, len(names))
	for k, v := range l.list {
		for _, u := range top.of(v) {
			if i := l.local[u] - 1; i >= 0 && (i < free || k < int(free)) { // within the halo no edge matters
				l.quotient.list = append(l.quotient.list, i)
			}
		}
		l.add(top.weight[v])
	}
	for k, v := range l.eliminate(order[:0]) {
		order[k] = names[v]
	}
	for _, v := range l.list {
		l.local[v] = 0
	}
}
