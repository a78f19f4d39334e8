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
// the zones' forms, so that v = Bᵀ·u (and B_h where a zone reaches a held edge). The dual of v are the forces f on
// the zones: the mesh is loaded by B·f, that is by tractions spread evenly and linearly. Elimination of u from
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
// q_j − T_j·q₁ with R_z and T_j the carrying of a rigid motion from one place to another. So a rigid motion makes
// no force but for the rounding of these differences, and forces are in balance the same way, by virtue of the
// transpose.
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

	body   *Body
	mesh   *Mesh
	bounds []bounds // by element

	holder []int // region that moves an unknown of the mesh, -1: free
	base   r3.Vec
	free   []int // place among the unknowns of the matrix, -1: held
	order  int   // of the matrix

	factor *sparse.Factor
	forms  []reading     // of the zones
	pull   [][]float64   // −K_h·R over the free unknowns, by freedom of the held regions from the second on
	inner  *mat.SymDense // C⁻¹
	root   *mat.Dense    // root·rootᵀ = C⁻¹
	along  *mat.Dense    // W; nil without columns
	rel    *mat.Dense    // from the freedoms to those counted from the first held region; nil without one
	carry  *mat.Dense    // R_z, then T_j: rigid motions of the base as the freedoms counted from it read them
	afloat *afloat       // of a body that nothing holds, else nil

	weigh     sync.Once
	heavy     [3]inside    // what 1 mm/s² along x, y and z does inside
	weight    [3][]float64 // and on the freedoms
	scratches sync.Pool    // for readings of zones: gathered
	kept      keptPlaces

	weighDoubt sync.Once
	doubts     []float64 // by element
}

type bounds struct{ lo, hi [3]float64 }

// halvings is how often cells are halved where zones read alike: the sixteenth part of a zone's width then.
const halvings = 4

// Reduce meshes the body and eliminates its inside. Where the mesh cannot tell zones apart it is made finer at them. It
// looks at ctx between the steps and returns its error; a mesh beyond what can be solved is a SizeError, zones that
// cannot be used a ZoneError.
func (b *Body) Reduce(ctx context.Context, s Settings) (*Reduced, error) {
	if err := b.check(); err != nil {
		return nil, err
	}
	if !(s.Mesh >= 0) || math.IsInf(s.Mesh, 0) {
		return nil, fmt.Errorf("a mesh of %g times the rule's cells is none", s.Mesh)
	}
	finer := make([]float64, len(b.Zones))
	for i := range finer {
		finer[i] = 1
	}
	for try := 0; ; try++ {
		r, err := b.reduceOn(ctx, s, finer)
		var alike *ZoneError
		if try == halvings || !errors.As(err, &alike) || !alike.Alike {
			return r, err
		}
		for _, i := range alike.Zones {
			finer[i] /= 2
		}
	}
}

// reduceOn reduces a body on cells that are finer than the rule says at each zone.
func (b *Body) reduceOn(ctx context.Context, s Settings, finer []float64) (*Reduced, error) {
	r, err := b.meshed(s, finer)
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
		return nil, fmt.Errorf("part %q: %w", b.Part.Name, err)
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if err := r.eliminate(ctx, held); err != nil {
		return nil, err
	}
	return r, nil
}

// meshed makes everything that does not need a matrix.
func (b *Body) meshed(s Settings, finer []float64) (*Reduced, error) {
	p := b.plan(s, finer)
	if err := b.checkMesh(p.unknowns()); err != nil {
		return nil, err
	}
	r := &Reduced{body: b, mesh: b.mesh(p)}
	r.index()
	for i := range b.Zones {
		f, err := r.reading(i)
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

// index notes the elements' bounding boxes.
func (r *Reduced) index() {
	r.bounds = make([]bounds, len(r.mesh.Elements))
	for e, el := range r.mesh.Elements {
		inf := math.Inf(1)
		b := bounds{[3]float64{inf, inf, inf}, [3]float64{-inf, -inf, -inf}}
		for _, node := range el.Nodes {
			for k, x := range components(r.mesh.Nodes[node]) {
				b.lo[k], b.hi[k] = min(b.lo[k], x), max(b.hi[k], x)
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
	coupled := make([][]int, 0, len(r.mesh.Elements))
	for _, el := range r.mesh.Elements {
		coupled = append(coupled, el.Nodes)
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
	return k, held
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
