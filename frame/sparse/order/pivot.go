package order

import "slices"

// gather makes pivot p an element: its list becomes the front, all variables it is coupled to, with their weights
// negated and out of their buckets; the elements it was made of are gone. It returns the unknowns in the front.
func (q *quotient) gather(p int32) (front int32) {
	q.left -= q.weight[p]
	q.weight[p] = 0
	own := q.elements[p]
	if own == 0 { // the list shrinks where it stands
		keep := q.at[p]
		for _, j := range q.of(p) {
			if w := q.weight[j]; w > 0 {
				q.join(j)
				front += w
				q.list[keep] = j
				keep++
			}
		}
		q.length[p] = keep - q.at[p]
		q.elements[p] = element
		return front
	}
	need := q.length[p]
	for _, e := range q.of(p)[:own] {
		if q.elements[e] == element {
			need += q.length[e]
		}
	}
	q.reserve(int(need))
	from := int32(len(q.list))
	take := func(list []int32) {
		for _, j := range list {
			if w := q.weight[j]; w > 0 {
				q.join(j)
				front += w
				q.list = append(q.list, j)
			}
		}
	}
	for _, e := range q.of(p)[:own] {
		if q.elements[e] == element {
			take(q.of(e))
			q.elements[e] = gone
		}
	}
	take(q.of(p)[own:])
	q.at[p] = from
	q.length[p] = int32(len(q.list)) - from
	q.elements[p] = element
	return front
}

// join marks a variable as standing in the front.
func (q *quotient) join(j int32) {
	q.weight[j] = -q.weight[j]
	if j < q.free {
		q.unlink(j)
	}
}

// reserve makes room for more at the end of the list, if need be by moving all that lives to its beginning.
func (q *quotient) reserve(more int) {
	if len(q.list)+more <= cap(q.list) {
		return
	}
	fresh := q.spare[:0]
	for v := range q.at {
		if q.elements[v] == gone {
			continue
		}
		at := int32(len(fresh))
		fresh = append(fresh, q.of(int32(v))...)
		q.at[v] = at
	}
	fresh = slices.Grow(fresh, more+len(fresh)/2)
	q.list, q.spare = fresh, q.list
}

// measure counts, for every element that a variable of the front is in, the unknowns it has outside the front.
func (q *quotient) measure(p int32) {
	q.newest++
	for _, i := range q.of(p) {
		w := -q.weight[i]
		for _, e := range q.of(i)[:q.elements[i]] {
			if q.elements[e] != element {
				continue
			}
			if q.stamp[e] != q.newest {
				q.stamp[e] = q.newest
				q.outside[e] = q.degree[e]
			}
			q.outside[e] -= w
		}
	}
}

// prune drops from the lists of the front what the new element p says already, bounds the degrees outside the front,
// and eliminates at once the variables coupled to nothing else. It returns the unknowns left in the front.
func (q *quotient) prune(p, front int32, order []int32) ([]int32, int32) {
	buckets := uint32(len(q.hashed))
	for _, i := range q.of(p) {
		at := q.at[i]
		list := q.of(i)
		own := q.elements[i]
		d, kept, sum := int32(0), int32(0), uint32(p)
		for _, e := range list[:own] {
			if q.elements[e] != element {
				continue
			}
			if q.outside[e] == 0 {
				q.elements[e] = gone
				continue
			}
			d += q.outside[e]
			sum += uint32(e)
			list[kept] = e
			kept++
		}
		elements := kept
		for _, j := range list[own:] {
			if w := q.weight[j]; w > 0 {
				d += w
				sum += uint32(j)
				list[kept] = j
				kept++
			}
		}
		if kept == 0 && i < q.free {
			front += q.weight[i]
			q.left += q.weight[i]
			q.weight[i] = 0
			q.elements[i] = gone
			order = q.emit(order, i)
			continue
		}
		// p goes first; there is room, for p itself or an element it has swallowed has left the list.
		list = q.list[at : at+kept+1]
		list[kept] = list[elements]
		list[elements] = list[0]
		list[0] = p
		q.elements[i] = elements + 1
		q.length[i] = kept + 1
		if i < q.free {
			q.degree[i] = min(q.degree[i], d)
		}
		h := int32(sum % buckets)
		q.hash[i] = h
		q.after[i] = q.hashed[h]
		q.hashed[h] = i
	}
	return order, front
}

// unite joins the variables of the front whose lists have become the same. Their hashes are the same, so only those
// are compared.
func (q *quotient) unite(p int32) {
	for _, f := range q.of(p) {
		if q.weight[f] == 0 {
			continue
		}
		h := q.hash[f]
		i := q.hashed[h]
		q.hashed[h] = -1
		for ; i >= 0 && q.after[i] >= 0; i = q.after[i] {
			q.newest++
			for _, x := range q.of(i)[1:] {
				q.stamp[x] = q.newest
			}
			last := i
			for j := q.after[i]; j >= 0; j = q.after[j] {
				if !q.same(i, j) {
					last = j
					continue
				}
				q.weight[i] += q.weight[j]
				q.weight[j] = 0
				q.elements[j] = gone
				q.member[q.tail[i]] = j
				q.tail[i] = q.tail[j]
				q.after[last] = q.after[j]
			}
		}
	}
}

// same says whether j's list is that of i, which is stamped. Free variables never become one with those of the halo.
func (q *quotient) same(i, j int32) bool {
	if q.length[i] != q.length[j] || q.elements[i] != q.elements[j] || (i < q.free) != (j < q.free) {
		return false
	}
	for _, x := range q.of(j)[1:] {
		if q.stamp[x] != q.newest {
			return false
		}
	}
	return true
}

// finish gives the variables left in the front their degrees and p its list of them.
func (q *quotient) finish(p, front int32) {
	list := q.of(p)
	kept := int32(0)
	for _, i := range list {
		w := -q.weight[i]
		if w == 0 {
			continue
		}
		q.weight[i] = w
		if i < q.free {
			q.degree[i] = min(q.degree[i]+front-w, q.left-w)
			q.link(i)
		}
		list[kept] = i
		kept++
	}
	if int(q.at[p]+q.length[p]) == len(q.list) {
		q.list = q.list[:q.at[p]+kept]
	}
	q.length[p] = kept
	q.degree[p] = front
	if kept == 0 {
		q.elements[p] = gone
	}
}
