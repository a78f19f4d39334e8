package frame

// Components numbers the pieces of a frame that nothing joins: no member, block, constraint or spring of some
// stiffness. It returns the number of each node's piece, counted in the order of their first nodes, and how many there
// are.
func (f *Frame) Components() (of []int, count int) {
	root := make([]int, len(f.nodes))
	for i := range root {
		root[i] = i
	}
	find := func(n int) int {
		for root[n] != n {
			root[n] = root[root[n]]
			n = root[n]
		}
		return n
	}
	var first int
	join := func(n int) {
		a, b := find(first), find(n)
		root[max(a, b)] = min(a, b)
	}
	together := func(freedoms []int) {
		for i, freedom := range freedoms {
			n := f.Owner(freedom)
			if i == 0 {
				first = n
			}
			join(n)
		}
	}
	ofForm := func(form Form) {
		freedoms := make([]int, len(form))
		for i, t := range form {
			freedoms[i] = t.Freedom
		}
		together(freedoms)
	}
	for _, m := range f.members {
		first = m.Ends[0]
		join(m.Ends[1])
	}
	for _, b := range f.blocks {
		together(b.Freedoms)
	}
	for _, s := range f.springs {
		if s.Stiffness > 0 {
			ofForm(s.Form)
		}
	}
	for _, c := range f.constraints {
		ofForm(c.Form)
	}
	number := map[int]int{}
	of = make([]int, len(f.nodes))
	for n := range of {
		r := find(n)
		if _, known := number[r]; !known {
			number[r] = len(number)
		}
		of[n] = number[r]
	}
	return of, len(number)
}
