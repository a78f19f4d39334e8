package machine

import (
	"context"
	"fmt"
	"strings"

	"tiploop/frame/solid"
)

// Builder turns machines into models. It keeps the solid bodies it has reduced, and uses them again for every machine
// that leaves them alone: another option, another value. Its zero value builds at detail "section".
type Builder struct {
	Detail   Detail
	Mesh     float64               // factor on the default size of the solid bodies' elements; 0 is 1
	Progress func(done, total int) // told how many solid bodies of a model are done; may be nil

	reduced map[string]*solid.Reduced
}

// Build turns a machine into a frame at detail "section" and factors it. What is wrong with the geometry comes back as
// Faults.
func Build(m *Machine) (*Model, error) { return new(Builder).Build(context.Background(), m) }

// Build turns a machine into a frame and factors it. What is wrong with the geometry comes back as Faults; a cancelled
// context as its error.
func (b *Builder) Build(ctx context.Context, m *Machine) (*Model, error) {
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
	system, err := model.frame.Factor()
	if err != nil {
		return nil, model.nameLoose(err)
	}
	model.system = system
	return model, nil
}

func (b *Builder) step(done, total int) {
	if b.Progress != nil && total > 0 {
		b.Progress(done, total)
	}
}

// reduce reduces a body, or remembers that it has.
func (b *Builder) reduce(ctx context.Context, spec *solid.Body) (*solid.Reduced, error) {
	key := bodyKey(spec)
	if r, ok := b.reduced[key]; ok {
		return r, nil
	}
	r, err := spec.Reduce(ctx, solid.Settings{Mesh: b.Mesh})
	if err != nil {
		return nil, err
	}
	if b.reduced == nil {
		b.reduced = map[string]*solid.Reduced{}
	}
	b.reduced[key] = r
	return r, nil
}

// bodyKey writes out all that a reduction depends on.
func bodyKey(s *solid.Body) string {
	var k strings.Builder
	for _, p := range s.Parts {
		fmt.Fprintf(&k, "%v", p.Made)
		if p.Block != nil {
			fmt.Fprintf(&k, "%v\n", *p.Block)
		} else {
			fmt.Fprintf(&k, "%v\n", *p.Gusset)
		}
	}
	fmt.Fprintf(&k, "%v\n%v\n%v\n%v\n", s.Ties, s.Zones, s.Held, s.Watched) // %v prints the shortest digits that read back the same
	return k.String()
}
