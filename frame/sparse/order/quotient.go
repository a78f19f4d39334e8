package order

import "slices"

// A quotient is the quotient graph of an elimination under way (George & Liu 1980; Amestoy, Davis & Duff 1996).
//
// An eliminated vertex lives on as an element: the list of the variables that its elimination has made a clique. A
// variable's neighbours are the variables in its own list and those of the elements in it. Lists never grow in total,
// for a new element swallows the elements it was made of. Variables that have come to the same list are one variable
// with the weights added up.
//
// The degree of a variable, the unknowns it is coupled to outside itself, is bounded from above instead of counted:
// what it shares with the newest element, plus what each of its other elements has outside the newest one, plus its
// own variables. An element with nothing outside the newest one is swallowed too.
//
// The first variables are free. The rest, the halo, are never eliminated: they are there so that the degrees of the
// free ones are those in the larger graph the halo is cut from.
type quotient struct {
	free  int32   // variables before this one may be eliminated
	list  []int32 // lists of variables and elements; a variable's elements precede its variables
	spare []int32 // list of the last compaction, to take turns with

	at       []int32 // where a list begins
	elements []int32 // elements in a variable's list; gone or element in place of it
	length   []int32 // length of a list
	weight   []int32 // of a variable: unknowns, negated while in the front, 0 when it is no variable any more
	degree   []int32 // of a variable: bound of the unknowns coupled to it. Of an element: unknowns of its list

	stamp   []int32 // newest mark when this one was met last
	outside []int32 // unknowns of an element outside the front, valid for its stamp
	newest  int32   // newest mark

	bucket  []int32 // first free variable of each degree, or -1; the last one holds all greater degrees
	after   []int32 // next one in the bucket, or -1
	before  []int32 // one before in the bucket, or -1
	least   int32   // no bucket before this one has any
	hashed  []int32 // first variable of each hash, or -1
	hash    []int32 // of a variable in the front
	member  []int32 // next of the vertices that have become one variable, or -1
	tail    []int32 // last of them
	waiting int     // free vertices not yet eliminated
	left    int32   // unknowns of all variables
}

// States of what is no variable, in the place of its count of elements.
const (
	gone    = -1
	element = -2
)

// reset makes the graph empty, with room for n vertices, of which the first free may be eliminated.
func (q *quotient) reset(n, lists, free int) {
	q.free = int32(free)
	q.list = slices.Grow(q.list[:0], lists+lists/2+n) // half again: compactions stay rare
	for _, s := range []*[]int32{&q.at, &q.elements, &q.length, &q.weight, &q.degree, &q.stamp, &q.outside, &q.after,
		&q.before, &q.hash, &q.hashed, &q.member, &q.tail} {
		*s = slices.Grow((*s)[:0], n)[:n]
	}
	q.waiting = 0
	q.left = 0
	for i := range q.stamp {
		q.stamp[i] = 0
		q.hashed[i] = -1
		q.member[i] = -1
		q.tail[i] = int32(i)
	}
	q.newest = 0
	q.at = q.at[:0]
}

// add makes the next vertex of what has been appended to the list since the last one.
func (q *quotient) add(weight int32) {
	v := len(q.at)
	from := int32(0)
	if v > 0 {
		from = q.at[v-1] + q.length[v-1]
	}
	q.at = append(q.at, from)
	q.length[v] = int32(len(q.list)) - from
	q.elements[v] = 0
	q.weight[v] = weight
	q.left += weight
	if v < int(q.free) {
		q.waiting++
	}
}

// eliminate appends the free vertices in an order of elimination.
func (q *quotient) eliminate(order []int32) []int32 {
	q.open()
	for q.waiting > 0 {
		order = q.step(order)
	}
	return order
}

// step eliminates one variable and those that can go with it.
func (q *quotient) step(order []int32) []int32 {
	p := q.smallest()
	q.unlink(p)
	front := q.gather(p)
	q.measure(p)
	order = q.emit(order, p)
	order, front = q.prune(p, front, order)
	q.unite(p)
	q.finish(p, front)
	return order
}

// open counts the degrees and makes the buckets. Degrees beyond sixteen a vertex, rare and late, share one.
func (q *quotient) open() {
	buckets := int(min(int64(q.left), 16*int64(len(q.at)))) + 1
	q.bucket = slices.Grow(q.bucket[:0], buckets)[:buckets]
	for i := range q.bucket {
		q.bucket[i] = -1
	}
	q.least = 0
	for v := q.free - 1; v >= 0; v-- { // so that the first of equal degrees comes first
		d := int32(0)
		for _, u := range q.of(v) {
			d += q.weight[u]
		}
		q.degree[v] = d
		q.link(v)
	}
}

// of is the list of a variable or element.
func (q *quotient) of(v int32) []int32 { return q.list[q.at[v] : q.at[v]+q.length[v]] }

// place is the bucket a free variable belongs to.
func (q *quotient) place(v int32) int32 { return min(q.degree[v], int32(len(q.bucket)-1)) }

// link puts a free variable first in the bucket of its degree.
func (q *quotient) link(v int32) {
	d := q.place(v)
	h := q.bucket[d]
	q.after[v], q.before[v] = h, -1
	if h >= 0 {
		q.before[h] = v
	}
	q.bucket[d] = v
	q.least = min(q.least, d)
}

// unlink takes it out; its degree must be what it was.
func (q *quotient) unlink(v int32) {
	a, b := q.after[v], q.before[v]
	if a >= 0 {
		q.before[a] = b
	}
	if b >= 0 {
		q.after[b] = a
	} else {
		q.bucket[q.place(v)] = a
	}
}

// smallest is a free variable of the least degree.
func (q *quotient) smallest() int32 {
	for q.bucket[q.least] < 0 {
		q.least++
	}
	return q.bucket[q.least]
}

// emit appends the vertices of an eliminated variable.
func (q *quotient) emit(order []int32, v int32) []int32 {
	for u := v; u >= 0; u = q.member[u] {
		order = append(order, u)
		q.waiting--
	}
	return order
}
