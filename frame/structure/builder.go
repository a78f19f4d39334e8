package structure

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"runtime"
	"slices"
	"sync"

	"tiploop/frame"
	"tiploop/frame/answer"
	"tiploop/frame/fingerprint"
	"tiploop/frame/machine"
	"tiploop/frame/solid"
)

// Builder turns machines into models. It keeps the solid bodies it has reduced, and uses them again for every body of
// the same shape, shifted or mirrored, in this machine and in those that leave it alone: another option, another value.
// Its zero value meshes plates and gussets, as fine as usual.
type Builder struct {
	Detail   Detail
	Mesh     float64               // times the mesh rule's cells, in the meshed parts; 0 is QuickMesh
	Progress func(done, total int) // told how many solid bodies of a model are done; may be nil
	Asks     answer.Asks           // by which words notes and hints ask for another detail or mesh

	kept store

	carriageNodes bool // a wide plate has nodes level with carriages, too

	like *frame.Frame // shares its matrices with those built; may be nil

	sideways bool             // the shafts of screws hold their nuts across themselves, though nothing is out of place
	units    []machine.Misfit // beside those of a machine, what could be out of place in it
}

// store is what a builder keeps of the solid bodies it has reduced.
type store struct {
	reduced map[fingerprint.Sum]*solid.Reduced // by shape
	last    map[fingerprint.Sum]int            // the round in which each was last used
	round   int
}

// Factors on the size of elements, times those of the mesh rule of frame/solid: the usual one, and those beyond which a
// mesh is too coarse to be of use or too fine to be solved on a desk. With the usual one "compare" of three examples
// took 2.7 to 7.6 times less CPU time than with 1; on the bodies and machines of testdata/accuracy.md it is off by a
// percent more.
const (
	QuickMesh    = 2.5
	FinestMesh   = 0.25
	CoarsestMesh = 4.0
)

// mesh is the factor on the size of elements.
func (b *Builder) mesh() float64 { return cmp.Or(b.Mesh, QuickMesh) }

func (b *Builder) settings() solid.Settings { return solid.Settings{Mesh: b.mesh()} }

// forSlopes builds the models that slopes are taken of; see wantSection.
func forSlopes() *Builder { return &Builder{Detail: Section, carriageNodes: true} }

// forTrials builds machines that are little different from the model's.
func (m *Model) forTrials() *Builder {
	b := m.forOthers()
	b.like = m.frame
	return b
}

// forOthers builds other machines with the solid bodies that are like those of the model. What it reduces beside them goes
// with it: each trial's mesh is another one.
func (m *Model) forOthers() *Builder {
	b, kept := forSlopes(), m.builder.kept
	b.Mesh = m.builder.Mesh
	b.kept = store{reduced: maps.Clone(kept.reduced), last: maps.Clone(kept.last), round: kept.round}
	return b
}

// Build turns a machine into a frame and factors it, as the zero [Builder] does.
func Build(m *machine.Machine) (*Model, error) { return new(Builder).Build(context.Background(), m) }

// Answer builds a machine and returns all that the model says of it to that extent: Build, then SolveContext.
func (b *Builder) Answer(ctx context.Context, m *machine.Machine, extent Extent) (*answer.Result, error) {
	model, err := b.Build(ctx, m)
	if err != nil {
		return nil, err
	}
	return model.SolveContext(ctx, extent)
}

// Build checks a machine, turns it into a frame and factors it; the machine stays as it is, and must until the model is
// done with. What is wrong with the machine or its geometry comes back as Faults; a cancelled context as its error, and
// so does a detail or a mesh that there is not. It panics without a machine.
func (b *Builder) Build(ctx context.Context, m *machine.Machine) (*Model, error) {
	if m == nil {
		panic("structure: no machine to build")
	}
	if b.Detail != Section && b.Detail != Solid {
		return nil, fmt.Errorf("%v: a builder's detail is %v or %v", b.Detail, Solid, Section)
	}
	if b.Mesh != 0 && !(b.Mesh >= FinestMesh && b.Mesh <= CoarsestMesh) { // written so that NaN fails
		return nil, fmt.Errorf("a mesh of %g times the rule's cells is not between %g and %g", b.Mesh, FinestMesh,
			CoarsestMesh)
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	m, err := m.Complete()
	if err != nil {
		return nil, err
	}
	model, err := b.draw(m)
	if err != nil {
		return nil, err
	}
	if err := model.reduceSolids(ctx, b); err != nil {
		return nil, err
	}
	if err := model.fillFrame(); err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	system, err := model.frame.Factor()
	if err != nil {
		return nil, model.nameLoose(err)
	}
	model.system = system
	return model, nil
}

// reduce reduces bodies, several at a time, or remembers that it has. When one cannot be reduced it says which; the
// first of several.
func (b *Builder) reduce(ctx context.Context, specs []*solid.Body) (placed []*solid.Placed, failed int, err error) {
	if b.kept.reduced == nil {
		b.kept.reduced, b.kept.last = map[fingerprint.Sum]*solid.Reduced{}, map[fingerprint.Sum]int{}
	}
	done := 0
	step := func() {
		if b.Progress != nil && len(specs) > 0 {
			b.Progress(done, len(specs))
		}
		done++
	}
	shapes, keys := make([]*solid.Shape, len(specs)), make([]fingerprint.Sum, len(specs))
	seen := map[fingerprint.Sum]bool{}
	var first, jobs []int // bodies like none before them; those of them that are to be reduced
	var different []*solid.Body
	step()
	for i, spec := range specs {
		if shapes[i], err = spec.Shape(); err != nil {
			return nil, i, err
		}
		keys[i] = bodyKey(&shapes[i].Body)
		if !seen[keys[i]] {
			seen[keys[i]] = true
			first, different = append(first, i), append(different, &shapes[i].Body)
			if b.kept.reduced[keys[i]] == nil {
				jobs = append(jobs, i)
				continue
			}
		}
		step()
	}
	if largest, err := solid.CheckSizes(different, b.settings()); err != nil {
		return nil, first[largest], err
	}
	// Most zones first: they make most of the work, and no body is left for one processor at the end.
	slices.SortStableFunc(jobs, func(i, j int) int { return len(specs[j].Zones) - len(specs[i].Zones) })
	reduced, failed, err := b.reduceEach(ctx, shapes, jobs, step)
	if err != nil {
		return nil, failed, err
	}
	for _, i := range jobs {
		b.kept.reduced[keys[i]] = reduced[i]
	}
	for i, shape := range shapes {
		b.kept.last[keys[i]] = b.kept.round
		placed = append(placed, shape.Place(b.kept.reduced[keys[i]]))
	}
	return placed, 0, nil
}

// reduceEach reduces those of the shapes that jobs name, in this order on all processors; step is called after each, by
// one at a time. The error is that of the first shape that has one.
func (b *Builder) reduceEach(
	ctx context.Context, shapes []*solid.Shape, jobs []int, step func(),
) (reduced []*solid.Reduced, failed int, err error) {
	reduced = make([]*solid.Reduced, len(shapes))
	errs := make([]error, len(shapes))
	next := make(chan int, len(jobs))
	for _, i := range jobs {
		next <- i
	}
	close(next)
	var mu sync.Mutex
	var wait sync.WaitGroup
	for range min(len(jobs), runtime.GOMAXPROCS(0)) {
		wait.Go(func() {
			for i := range next {
				r, err := shapes[i].Reduce(ctx, b.settings())
				mu.Lock()
				reduced[i], errs[i] = r, err
				step()
				mu.Unlock()
			}
		})
	}
	wait.Wait()
	for i, err := range errs {
		if err != nil {
			return nil, i, err
		}
	}
	return reduced, 0, nil
}

// Forget ends a round of building: the builder forgets the solid bodies that were used neither in it nor in so many rounds
// before it. One that builds many machines would otherwise keep all of them.
func (b *Builder) Forget(rounds int) {
	for key := range b.kept.reduced {
		if b.kept.round-b.kept.last[key] > rounds {
			delete(b.kept.reduced, key)
			delete(b.kept.last, key)
		}
	}
	b.kept.round++
}

// bodyKey tells bodies apart by all that a reduction depends on, which the names of parts are not.
func bodyKey(s *solid.Body) fingerprint.Sum {
	return fingerprint.Of(s.Part.Made, s.Part.Block, s.Part.Gusset, s.Zones, s.Held, s.Watched)
}

// Detail is how plates and gussets are modelled inside; bars are members at either.
type Detail int

// The details.
const (
	Solid   Detail = iota // hexahedra and wedges, reduced to what the neighbours feel
	Section               // a member along the longest side, a strip or a triangle
)

var detailNames = [...]string{answer.SolidDetail, answer.SectionDetail}

// String gives the detail the name the command line uses.
func (d Detail) String() string {
	if d < 0 || int(d) >= len(detailNames) {
		return fmt.Sprintf("Detail(%d)", int(d))
	}
	return detailNames[d]
}
