package order

// minimumDegree orders a whole net by taking, at every step, a vertex coupled to about the fewest unknowns (Amestoy,
// Davis & Duff 1996, SIAM J. Matrix Anal. Appl. 17).
func minimumDegree(c *net) []int32 {
	var q quotient
	q.reset(c.vertices(), len(c.near), c.vertices())
	for v := range int32(c.vertices()) {
		q.list = append(q.list, c.of(v)...)
		q.add(c.weight[v])
	}
	return q.eliminate(make([]int32, 0, c.vertices()))
}
