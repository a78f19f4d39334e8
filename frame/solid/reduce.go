package solid

import (
	"context"
	"errors"
	"fmt"
	"math"
	"sync"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/sparse"
)

// Reduction
//
// The neighbours of a body feel it at its zones and held regions only. Let u be the movements of the mesh's free
// unknowns, K their stiffness, q the rigid motions of the held regions, R what these make of the held unknowns, and B
// the zones' forms, so that v = Bᵀ·u (and B_h where a zone reaches a held edge). The dual of v are the forces f on the
// zones: the mesh is loaded by B·f, that is by tractions spread evenly and linearly. Elimination of u from
//
//	K·u + K_h·R·q = B·f + g,    v = Bᵀ·u + B_hᵀ·R·q,    F = Rᵀ·(K_hᵀ·u + K_hh·R·q − B_h·f − g_h)
//
// (g: loads inside the body, F: forces on the held regions) is exact, and needs products with K⁻¹ only:
//
//	C = Bᵀ·K⁻¹·B,  W = B_hᵀ·R − Bᵀ·K⁻¹·K_h·R,  S = Rᵀ·(K_hh − K_hᵀ·K⁻¹·K_h)·R,
//	f = C⁻¹·(v − W·q − Bᵀ·K⁻¹·g),      F = S·q − Wᵀ·f − Rᵀ·(g_h − K_hᵀ·K⁻¹·g).
//
// Static condensation as Guyan's (AIAA Journal 3 (1965)), but with the zones' movements as means instead of nodes, so
// that forces go in the way a neighbour's do and no zone is stiffened by its being watched. The products come in
// halves: with K = L·Lᵀ and H = L⁻¹·[B, −K_h·R] all three matrices are parts of Hᵀ·H.
//
// Rigid motion is split off beforehand: all movements count from those of the first held region, v − R_z·q₁ and
// q_j − T_j·q₁ with R_z and T_j the carrying of a rigid motion from one place to another. So a rigid motion makes no
// force but for the rounding of these differences, and forces are in balance the same way, by virtue of the transpose.
//
// A body that nothing holds is held at six unknowns that can hold it without strain, moving by a. There must be no
// force: R_zᵀ·f + (resultant of g) = 0 gives a, and with M = R_zᵀ·C⁻¹·R_z
//
//	K = C⁻¹ − C⁻¹·R_z·M⁻¹·R_zᵀ·C⁻¹.
//
// C is singular when zones read the same movements: two on one place, or more than a cell's nodes can tell apart.

// Reduced is a body as its neighbours feel it.
type Reduced struct {
	// K is the stiffness between the freedoms: six of each zone, then six of each held region, in their order.
	// Forces N and N·mm, movements mm and rad.
	K *mat.SymDense

	body     *Body
	mesh     *Mesh
	elements [][]int // by part
	nodes    [][]int // by part
	bounds   []bounds

	contacts  []contact
	tiedFaces []int // by element

	holder []int // region that moves an unknown of the mesh, -1: free
	base   r3.Vec
	free   []int // place among the unknowns of the matrix, -1: held
	order  int   // of the matrix

	factor *sparse.Factor
	forms  []form
	pull   [][]float64   // −K_h·R over the free unknowns, by freedom of the held regions from the second on
	inner  *mat.SymDense // C⁻¹
	root   *mat.Dense    // root·rootᵀ = C⁻¹
	along  *mat.Dense    // W; nil without columns
	rel    *mat.Dense    // from the freedoms to those counted from the first held region; nil without one
	carry  *mat.Dense    // R_z, then T_j: rigid motions of the base as the freedoms counted from it read them
	afloat *afloat       // of a body that nothing holds, else nil

	weigh     sync.Once
	weight    [3][]float64
	scratches sync.Pool // for readings of zones: gathered
}

type bounds struct{ lo, hi [3]float64 }

// Reduce meshes the body and eliminates its inside. It looks at ctx between the steps and returns its error.
func (b *Body) Reduce(ctx context.Context, s Settings) (*Reduced, error) {
	r, err := b.meshed(s)
	if err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	k, held := r.assemble()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if r.factor, err = k.Factorize(); err != nil {
		return nil, r.loose(err)
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if err := r.eliminate(ctx, held); err != nil {
		return nil, err
	}
	return r, nil
}

// mostUnknowns bounds a mesh: a thick body of that many takes some 10 GB.
const mostUnknowns = 600_000

// meshed checks the body and makes everything that does not need a matrix.
func (b *Body) meshed(s Settings) (*Reduced, error) {
	if err := b.check(); err != nil {
		return nil, err
	}
	if !(s.Mesh >= 0) || math.IsInf(s.Mesh, 0) {
		return nil, fmt.Errorf("a mesh of %g times the usual cells is none", s.Mesh)
	}
	if err := b.connected(); err != nil {
		return nil, err
	}
	r := &Reduced{body: b, mesh: b.mesh(s)}
	if n := 3 * len(r.mesh.Nodes); n > mostUnknowns {
		const format = "a mesh of %d unknowns is too fine to be solved here, %d at most: ask for a coarser one"
		return nil, fmt.Errorf(format, n, mostUnknowns)
	}
	r.index()
	if err := r.tieContacts(); err != nil {
		return nil, err
	}
	for i := range b.Zones {
		f, err := r.form(i)
		if err != nil {
			return nil, err
		}
		r.forms = append(r.forms, f)
	}
	if err := r.holdRegions(); err != nil {
		return nil, err
	}
	return r, nil
}

// connected is an error when a part hangs together neither with the rest nor with anything held.
func (b *Body) connected() error {
	group := make([]int, len(b.Parts))
	for i := range group {
		group[i] = i
	}
	root := func(i int) int {
		for group[i] != i {
			i = group[i]
		}
		return i
	}
	for _, t := range b.Ties {
		group[root(t.A)] = root(t.B)
	}
	fast := map[int]bool{}
	for _, h := range b.Held {
		fast[root(h.Part)] = true
	}
	if len(b.Held) == 0 {
		fast[root(0)] = true
	}
	for i := range b.Parts {
		if !fast[root(i)] {
			return fmt.Errorf("part %q is tied to nothing that holds it", b.Parts[i].Name)
		}
	}
	return nil
}

// loose says which part a matrix that cannot be factored leaves loose.
func (r *Reduced) loose(err error) error {
	var l *sparse.LooseError
	if !errors.As(err, &l) {
		return err
	}
	for u, at := range r.free {
		if at == l.Unknown {
			for part, nodes := range r.nodes {
				if node := u / 3; node >= nodes[0] && node <= nodes[len(nodes)-1] {
					return fmt.Errorf("part %q is loose: %w", r.body.Parts[part].Name, err)
				}
			}
		}
	}
	return err
}

// index sorts elements and nodes by part and notes the elements' bounding boxes.
func (r *Reduced) index() {
	r.elements = make([][]int, len(r.body.Parts))
	r.nodes = make([][]int, len(r.body.Parts))
	r.bounds = make([]bounds, len(r.mesh.Elements))
	seen := make([]bool, len(r.mesh.Nodes))
	for e, el := range r.mesh.Elements {
		r.elements[el.Part] = append(r.elements[el.Part], e)
		inf := math.Inf(1)
		b := bounds{[3]float64{inf, inf, inf}, [3]float64{-inf, -inf, -inf}}
		for _, node := range el.Nodes {
			for k, x := range components(r.mesh.Nodes[node]) {
				b.lo[k], b.hi[k] = min(b.lo[k], x), max(b.hi[k], x)
			}
			if !seen[node] {
				seen[node] = true
				r.nodes[el.Part] = append(r.nodes[el.Part], node)
			}
		}
		r.bounds[e] = b
	}
}

// heldSide is the stiffness that ends at held unknowns, by the freedoms of the held regions from the second on.
type heldSide struct {
	pull [][]float64 // −K_h·R
	hard *mat.SymDense
}

// assemble fills the matrix of the free unknowns.
func (r *Reduced) assemble() (*sparse.Matrix, heldSide) {
	r.free = make([]int, 3*len(r.mesh.Nodes))
	sizes := make([]int, len(r.mesh.Nodes))
	for u := range r.free {
		r.free[u] = -1
		if r.holder[u] < 0 {
			r.free[u] = r.order
			r.order++
			sizes[u/3]++
		}
	}
	coupled := make([][]int, 0, len(r.mesh.Elements)+len(r.contacts))
	for _, el := range r.mesh.Elements {
		coupled = append(coupled, el.Nodes)
	}
	for _, c := range r.contacts {
		coupled = append(coupled, r.pair(c))
	}
	k := sparse.NewPattern(sizes, coupled).NewMatrix()
	others := 6 * max(0, len(r.body.Held)-1)
	held := heldSide{pull: make([][]float64, others)}
	if others > 0 {
		held.hard = mat.NewSymDense(others, nil)
		for i := range held.pull {
			held.pull[i] = make([]float64, r.order)
		}
	}
	stiffness := r.mesh.stiffnesses()
	for e, el := range r.mesh.Elements {
		r.add(k, &held, el.Nodes, stiffness(e))
	}
	for _, c := range r.contacts {
		r.add(k, &held, r.pair(c), r.bond(c))
	}
	return k, held
}

// pair is the nodes of both sides of a contact.
func (r *Reduced) pair(c contact) []int {
	a, b := r.mesh.Elements[c.a].Nodes, r.mesh.Elements[c.b].Nodes
	return append(append(make([]int, 0, len(a)+len(b)), a...), b...)
}

// add adds an element's matrix where its unknowns belong.
func (r *Reduced) add(k *sparse.Matrix, held *heldSide, nodes []int, ke []float64) {
	anyHeld := false
	for _, node := range nodes {
		for d := range 3 {
			anyHeld = anyHeld || r.holder[3*node+d] >= 0
		}
	}
	if !anyHeld {
		k.AddBlock(nodes, ke)
		return
	}
	n := 3 * len(nodes)
	at := func(i int) int { return 3*nodes[i/3] + i%3 }
	for i := range n {
		ui := at(i)
		for j := range n {
			uj := at(j)
			v := ke[i*n+j]
			fi, fj := r.free[ui], r.free[uj]
			switch {
			case fi >= 0 && fj >= 0:
				if j <= i {
					k.Add(fi, fj, v)
				}
			case fi >= 0 && r.holder[uj] > 0:
				for c, p := range r.prescribed(uj) {
					held.pull[6*(r.holder[uj]-1)+c][fi] -= v * p
				}
			case fi < 0 && fj < 0 && r.holder[ui] > 0 && r.holder[uj] > 0:
				pi, pj := r.prescribed(ui), r.prescribed(uj)
				for a, va := range pi {
					for b, vb := range pj {
						row, col := 6*(r.holder[ui]-1)+a, 6*(r.holder[uj]-1)+b
						if row <= col {
							held.hard.SetSym(row, col, held.hard.At(row, col)+va*v*vb)
						}
					}
				}
			}
		}
	}
}

// Unknowns is the number of unknowns that were eliminated.
func (r *Reduced) Unknowns() int { return r.order }

// Mesh is the mesh, for drawing. It must not be changed.
func (r *Reduced) Mesh() *Mesh { return r.mesh }
