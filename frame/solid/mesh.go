package solid

import (
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
)

// Mesh is one or more parts cut into elements. Node n has the unknowns 3n (x), 3n+1 (y) and 3n+2 (z). Parts share no
// nodes; ties join them.
type Mesh struct {
	Nodes    []r3.Vec
	Elements []Element
	Metals   []beam.Material // by part
}

// Element is one brick or wedge. Its nodes are listed corners first, then the middles of edges: see Kind.
type Element struct {
	Kind  Kind
	Nodes []int
	Part  int // index into Mesh.Metals

	box bool // known to be a brick with its edges along the axes
}

// Kind tells the element shapes apart.
type Kind int

// The kinds. A Brick has 20 nodes: four corners of the bottom face anticlockwise seen from above, the four above them,
// then the middles of the bottom edges (0-1, 1-2, 2-3, 3-0), of the upright edges (0-4, 1-5, 2-6, 3-7) and of the top
// edges (4-5, 5-6, 6-7, 7-4). A Wedge has 15: three corners of the bottom triangle anticlockwise, the three above them,
// the middles of the bottom edges (0-1, 1-2, 2-0), of the uprights (0-3, 1-4, 2-5) and of the top edges (3-4, 4-5,
// 5-3).
const (
	Brick Kind = iota
	Wedge
)
