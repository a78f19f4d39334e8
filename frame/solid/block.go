package solid

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"
)

// AddBlock adds the bricks between lines along x, y and z to the mesh as metal of that part, with nodes of their own.
// Along each axis there must be at least two lines, ascending; it panics otherwise.
func (m *Mesh) AddBlock(part int, lines [3][]float64) {
	for axis, l := range lines {
		checkLines(fmt.Sprintf("lines along axis %d", axis), l)
	}
	g := newGrid(m, [3]int{len(lines[0]) - 1, len(lines[1]) - 1, len(lines[2]) - 1}, func(at [3]int) r3.Vec {
		return r3.Vec{X: halfway(lines[0], at[0]), Y: halfway(lines[1], at[1]), Z: halfway(lines[2], at[2])}
	})
	for k := range g.cells[2] {
		for j := range g.cells[1] {
			for i := range g.cells[0] {
				g.addBrick(part, [3]int{i, j, k})
			}
		}
	}
}

// checkLines panics unless there are two lines or more, ascending.
func checkLines(what string, lines []float64) {
	if len(lines) < 2 {
		panic(fmt.Sprintf("solid: %s are %d, at least 2 are needed", what, len(lines)))
	}
	for i := 1; i < len(lines); i++ {
		if !(lines[i] > lines[i-1]) {
			panic(fmt.Sprintf("solid: %s do not ascend: %g, %g", what, lines[i-1], lines[i]))
		}
	}
}

// halfway is the place of a half step: even at a line, odd in the middle between two.
func halfway(lines []float64, half int) float64 {
	if half%2 == 0 {
		return lines[half/2]
	}
	return (lines[half/2] + lines[half/2+1]) / 2
}

// grid numbers the nodes of cells that lie in rows along three directions, in half steps: a node is at a corner of a
// cell (all three even) or in the middle of an edge (one odd). Nodes come to be when an element first asks for them.
type grid struct {
	mesh  *Mesh
	cells [3]int
	place func(at [3]int) r3.Vec
	node  []int // by half steps; 0: none yet, else node + 1
}

func newGrid(m *Mesh, cells [3]int, place func(at [3]int) r3.Vec) *grid {
	return &grid{mesh: m, cells: cells, place: place, node: make([]int, (2*cells[0]+1)*(2*cells[1]+1)*(2*cells[2]+1))}
}

func (g *grid) at(half [3]int) int {
	slot := &g.node[(half[2]*(2*g.cells[1]+1)+half[1])*(2*g.cells[0]+1)+half[0]]
	if *slot == 0 {
		g.mesh.Nodes = append(g.mesh.Nodes, g.place(half))
		*slot = len(g.mesh.Nodes)
	}
	return *slot - 1
}

// addBrick fills a cell.
func (g *grid) addBrick(part int, cell [3]int) {
	nodes := make([]int, len(brickPlaces))
	for i, p := range brickPlaces {
		var half [3]int
		for k := range 3 {
			half[k] = 2*cell[k] + 1 + int(p[k])
		}
		nodes[i] = g.at(half)
	}
	g.mesh.Elements = append(g.mesh.Elements, Element{Kind: Brick, Nodes: nodes, Part: part})
}
