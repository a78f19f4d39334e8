// Package order finds fill-reducing elimination orders of undirected graphs whose vertices carry unknowns.
//
// A sparse Cholesky factor is emptier or fuller by the order in which the unknowns are eliminated: eliminating a vertex
// couples all its remaining neighbours with one another. Finding the best order is NP-complete (Yannakakis 1981), so
// Elimination chooses between two good kinds. Minimum degree always eliminates a vertex that is coupled to the fewest
// unknowns; it is best on small and on nearly one-dimensional graphs. Nested dissection cuts the graph in halves by
// small separators, which are eliminated last; it is best on large grids.
//
// Before either, the graph is reduced without loss: vertices with one neighbour or none go first, for they cause no
// fill, vertices without unknowns go last, and vertices with the same closed neighbourhood become one.
//
// The order depends on the graph alone, never on the machine, the number of processors or the run. It is not
// postordered. A graph of the wrong shape panics.
package order
