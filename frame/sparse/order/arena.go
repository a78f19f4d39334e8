package order

// An arena lends slices that are given back in the reverse order, all those since a mark at once. What they hold at
// first is whatever they held last.
type arena struct {
	store []int32
	used  int
	grown int // times the store has been replaced
}

// A mark is a state of an arena to go back to.
type mark struct{ used, grown int }

func (a *arena) mark() mark { return mark{a.used, a.grown} }

// release takes back all that was lent since the mark.
func (a *arena) release(m mark) {
	a.used = m.used
	if a.grown != m.grown {
		a.used = 0 // all of the store was lent since
	}
}

// take lends a slice of n.
func (a *arena) take(n int) []int32 {
	if a.used+n > len(a.store) {
		a.store = make([]int32, 2*len(a.store)+n) // slices lent before keep the old one
		a.used = 0
		a.grown++
	}
	s := a.store[a.used : a.used+n : a.used+n]
	a.used += n
	return s
}

// trim takes back all but the first n of the slice lent last.
func (a *arena) trim(last []int32, n int) []int32 {
	a.used -= len(last) - n
	return last[:n:n]
}
