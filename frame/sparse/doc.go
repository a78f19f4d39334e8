// Package sparse orders, factors and solves symmetric matrices whose unknowns come in groups.
//
// The unknowns of a structure belong to nodes, and nodes that share an element are coupled throughout. So a Pattern
// says how many unknowns each group has and which groups are coupled. All that follows from it is found once, group by
// group: the order of elimination (package order), the elimination tree, the supernodes. Any number of matrices of that
// pattern may then be filled and factored:
//
//	p := sparse.NewPattern(sizes, coupled)
//	m := p.NewMatrix()
//	for each element {
//		m.AddBlock(its groups, its matrix)
//	}
//	f, err := m.Factorize()
//	f.SolveTo(x, b)
//
// # Factors
//
// Factorize computes P·K·Pᵀ = L·Lᵀ of a positive definite matrix by the multifrontal method. Columns of L with the same
// rows below them are kept together as a supernode, a dense block. A pivot that has lost its diagonal to rounding means
// that the structure can move without strain: the error then carries that motion.
//
// # Solutions
//
// SolveTo solves for one right-hand side, SolveManyTo for many full ones at a few times the cost. HalfTo stops half
// way, where inner products are already those of the inverse. ComplianceTo goes all the way for columns of few entries:
// what a structure is to its neighbours, C = Bᵀ·K⁻¹·B, without ever holding a full column. PartialCompliance makes
// those entries of it that are wanted, when columns are very many and only near ones matter to each other.
//
// How good a solution is tells its residual: MulTo multiplies it back, At reads an entry. Order is the length of
// vectors, Entries the size of a factor before it is made.
//
// Vectors have their entries in the order of the unknowns, but for halves, which are in the order of elimination. Many
// columns follow one another, column j from j·Order() on.
//
// # Goroutines
//
// Factorize, SolveManyTo, ComplianceTo and PartialCompliance use as many goroutines as GOMAXPROCS allows and give the
// same bytes on any number of them. A Pattern and a Factor may be used by several goroutines at once, a Matrix by one
// at a time.
//
// Programmer's mistakes (an index out of range, a wrong length, an entry outside the pattern) panic; a loose structure
// is an error.
package sparse
