package frame

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
)

// Frame is a structure before it is solved. Its zero value is empty and ready for use.
type Frame struct {
	nodes       []r3.Vec
	extra       []int // the nodes that the shapes of blocks go with
	members     []Member
	springs     []Spring
	blocks      []Block
	constraints []Constraint

	like     *Frame // nil: none
	matrices map[any]*mat.SymDense
}

// Like is an empty frame for much the same structure: strips and triangles that are the same in both share their
// matrices, which are most of the work of adding them.
func (f *Frame) Like() *Frame { return &Frame{like: f} }

// matrix is the stiffness matrix of a strip or a triangle, which its key tells from others: that of the frame which
// this one is like, if it is there, else what work makes.
func (f *Frame) matrix(key any, work func() *mat.SymDense) *mat.SymDense {
	var k *mat.SymDense
	if f.like != nil {
		k = f.like.matrices[key]
	}
	if k == nil {
		k = work()
	}
	if f.matrices == nil {
		f.matrices = map[any]*mat.SymDense{}
	}
	f.matrices[key] = k
	return k
}

// Member is a straight member between two nodes.
type Member struct {
	Ends    [2]int    // nodes
	Arms    [2]r3.Vec // rigid offsets from the nodes to the member's ends, mm
	Up      r3.Vec    // the section's height direction; need not be exactly square to the member
	Section beam.Section
	Made    beam.Material
	Bed     [2]float64 // elastic bed along the local y and z axes, N/mm²
	Source  string     // whose strain energy this is
}

// Spring resists the stretch of a form: energy ½·Stiffness·Form².
type Spring struct {
	Form      Form
	Stiffness float64 // N/mm or N·mm/rad
	Source    string
}

// Block is any linear elastic body known by its stiffness matrix between some freedoms.
type Block struct {
	Freedoms []int
	K        *mat.SymDense
	Mass     []MassPoint // where its weight acts
	Source   string
}

// MassPoint is a mass that moves as three forms say: along the world's x, y and z.
type MassPoint struct {
	Mass float64 // tonne
	Move [3]Form
}

// Constraint makes a form equal to a prescribed value: zero unless a load case says otherwise.
type Constraint struct {
	Form Form
	Name string // for messages
}

// AddNode adds a node and returns its number.
func (f *Frame) AddNode(at r3.Vec) int {
	f.nodes = append(f.nodes, at)
	return len(f.nodes) - 1
}

// Node is where a node stands.
func (f *Frame) Node(n int) r3.Vec { return f.nodes[n] }

// Nodes is the number of nodes.
func (f *Frame) Nodes() int { return len(f.nodes) }

// Springs are all springs, by number. They are the frame's own and must not be changed.
func (f *Frame) Springs() []Spring { return f.springs }

// Constraints are all constraints, by number. They are the frame's own and must not be changed.
func (f *Frame) Constraints() []Constraint { return f.constraints }

// Clone returns a frame of the same nodes, members, springs, blocks and constraints. What is added to either from then
// on is not in the other.
func (f *Frame) Clone() *Frame {
	return &Frame{
		nodes:       slices.Clone(f.nodes),
		extra:       slices.Clone(f.extra),
		members:     slices.Clone(f.members),
		springs:     slices.Clone(f.springs),
		blocks:      slices.Clone(f.blocks),
		constraints: slices.Clone(f.constraints),
	}
}

// firstHandle is the handle of the first freedom beyond the nodes' own. Handles ascend above all of these, so that a
// form sorted by them is still sorted once they are numbers.
const firstHandle = 1 << 30

// IsShape tells whether a freedom in a form is one beyond a node's six, which AddFreedoms gave.
func IsShape(freedom int) bool { return freedom >= firstHandle }

// AddFreedoms adds n freedoms beyond a node's six, the shapes that a block can take there, and returns handles for
// them. They are no numbers until the frame is factored, because nodes may still be added; forms take them as they are.
func (f *Frame) AddFreedoms(node, n int) []int {
	ids := make([]int, n)
	for i := range ids {
		ids[i] = firstHandle + len(f.extra)
		f.extra = append(f.extra, node)
	}
	return ids
}

// AddMember adds a member and returns its number. A member without length is a programmer's mistake.
func (f *Frame) AddMember(m Member) int {
	if r3.Norm(r3.Sub(f.end(m, 1), f.end(m, 0))) == 0 {
		panic(fmt.Sprintf("frame: member of no length between nodes %d and %d", m.Ends[0], m.Ends[1]))
	}
	f.members = append(f.members, m)
	return len(f.members) - 1
}

// AddSpring adds a spring and returns its number. The stiffness must be finite and not negative.
func (f *Frame) AddSpring(s Spring) int {
	if !(s.Stiffness >= 0) || math.IsInf(s.Stiffness, 0) {
		panic(fmt.Sprintf("frame: spring of stiffness %g (%s)", s.Stiffness, s.Source))
	}
	f.springs = append(f.springs, s)
	return len(f.springs) - 1
}

// AddBlock adds a block and returns its number.
func (f *Frame) AddBlock(b Block) int {
	if b.K.SymmetricDim() != len(b.Freedoms) {
		panic(fmt.Sprintf("frame: block of %d freedoms with a matrix of order %d", len(b.Freedoms), b.K.SymmetricDim()))
	}
	f.blocks = append(f.blocks, b)
	return len(f.blocks) - 1
}

// Constrain prescribes the value of a form and returns the constraint's number.
func (f *Frame) Constrain(c Constraint) int {
	f.constraints = append(f.constraints, c)
	return len(f.constraints) - 1
}

// Hold is a constraint on one freedom (0..5) of a node.
func (f *Frame) Hold(node, freedom int, name string) int {
	return f.Constrain(Constraint{Form: Form{{NodeFreedoms*node + freedom, 1}}, Name: name})
}

// end is where the member proper begins (0) or ends (1).
func (f *Frame) end(m Member, k int) r3.Vec { return r3.Add(f.nodes[m.Ends[k]], m.Arms[k]) }

// freedoms is the number of all freedoms.
func (f *Frame) freedoms() int { return NodeFreedoms*len(f.nodes) + len(f.extra) }

// index turns a freedom's handle into its number.
func (f *Frame) index(freedom int) int {
	if IsShape(freedom) {
		return NodeFreedoms*len(f.nodes) + freedom - firstHandle
	}
	return freedom
}

// Owner is the node that a freedom, by its number or its handle, belongs to.
func (f *Frame) Owner(freedom int) int {
	freedom = f.index(freedom)
	if n := NodeFreedoms * len(f.nodes); freedom >= n {
		return f.extra[freedom-n]
	}
	return freedom / NodeFreedoms
}

// numbered replaces the handles in a form by numbers.
func (f *Frame) numbered(form Form) Form {
	out := make(Form, len(form))
	for i, t := range form {
		out[i] = Term{f.index(t.Freedom), t.Factor}
	}
	return out.tidy()
}
