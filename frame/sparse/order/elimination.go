package order

const (
	// Up to directSize vertices minimum degree is not worth questioning; beyond largeSize neither is dissection.
	directSize = 100
	largeSize  = 20000

	// A dissection takes about as long as payingOperations of the factorisation for each neighbour listed, divided by
	// the part of them that it may save.
	payingOperations = 2500
)

// Elimination returns an order of elimination with little fill: order[k] is the vertex that comes k-th. It is by
// minimum degree for a small graph and by dissection for a large one. Between, a factorisation long enough to repay
// the time is given a dissection as well, and the order with the fewer nonzeros in the factor is returned.
func Elimination(g *Graph) []int {
	r := reduce(g)
	c := &r.core
	if c.vertices() > largeSize {
		return r.expand(dissect(c))
	}
	order := minimumDegree(c)
	if c.vertices() > directSize {
		byDegree := c.counted(order)
		if byDegree.operations > payingOperations*len(c.near) {
			if dissected := dissect(c); c.counted(dissected).nonzeros < byDegree.nonzeros {
				order = dissected
			}
		}
	}
	return r.expand(order)
}
