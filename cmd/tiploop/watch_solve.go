package main

import (
	"context"
	"reflect"

	"tiploop/frame/answer"
	"tiploop/frame/chance"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile"
	"tiploop/frame/structure"
	"tiploop/report/verdict"
)

// solver answers for one document after another, each a little different from the one before. What a newer one leaves
// alone it does not work out again: bodies that do not change, and options that do not. Not for several goroutines.
type solver struct {
	by, beams *structure.Builder
	kept      []*solvedOption // the latest first
}

func newSolver() *solver {
	return &solver{
		by:    &structure.Builder{Detail: structure.Solid, Mesh: structure.QuickMesh},
		beams: &structure.Builder{Detail: structure.Section},
	}
}

// solvedOption is what is known of one machine.
type solvedOption struct {
	machine *machine.Machine
	model   *structure.Model
	result  *answer.Result  // at typical numbers
	beam    *answer.Result  // by the beam model; nil until it is asked for
	shapes  []*answer.Shape // what it looks like; nil until that is asked for
}

// How long what was worked out is kept: machines, a few files' and moves' worth of all options, and solid bodies.
const (
	mostKept     = 24
	roundsOfWork = 12
)

// option answers for one option at typical numbers.
func (s *solver) option(ctx context.Context, doc *modelfile.Document, name string) (*solvedOption, error) {
	m, err := doc.Machine(drawnName(doc, name))
	if err != nil {
		return nil, ofOptionIn(doc, name, err)
	}
	for i, k := range s.kept {
		if reflect.DeepEqual(k.machine, m) {
			copy(s.kept[1:i+1], s.kept[:i])
			s.kept[0] = k
			return k, nil
		}
	}
	model, err := s.by.Build(ctx, m)
	if err != nil {
		return nil, ofOptionIn(doc, name, err)
	}
	result, err := model.SolveContext(ctx, structure.FullTravel)
	if err != nil {
		return nil, ofOptionIn(doc, name, err)
	}
	k := &solvedOption{machine: m, model: model, result: result}
	s.kept = append([]*solvedOption{k}, s.kept[:min(len(s.kept), mostKept-1)]...)
	return k, nil
}

// ofOptionIn says under which of a file's options something went wrong.
func ofOptionIn(doc *modelfile.Document, option string, err error) error {
	if drawnName(doc, option) == "" {
		return err
	}
	return ofOption(option, err)
}

// typical answers for all options of a document at typical numbers; nothing is said of how sure that is.
func (s *solver) typical(ctx context.Context, doc *modelfile.Document) (answer.Answer, []*solvedOption, error) {
	found := answer.Answer{Tiploop: 1, Machine: doc.Name(), Detail: solidDetail}
	var list []*solvedOption
	for _, name := range optionsOf(doc) {
		k, err := s.option(ctx, doc, name)
		if err != nil {
			return found, nil, err
		}
		list, found.Options = append(list, k), append(found.Options, *k.result)
	}
	s.by.Forget(roundsOfWork)
	s.beams.Forget(roundsOfWork)
	found.Verdict = verdict.Of(found)
	return found, list, nil
}

// surely adds how sure that is, and how far the beam model differs. It deals with the columns from which the draws come.
func (s *solver) surely(
	ctx context.Context, found answer.Answer, list []*solvedOption, columns *chance.Columns,
) (answer.Answer, error) {
	out := found
	out.Options = nil
	for _, k := range list {
		r := *k.result
		var err error
		if r.Sure, err = k.model.Sure(ctx, columns, &r); err != nil {
			return out, ofOption(r.Name, err)
		}
		if len(r.Solid) > 0 {
			if err := s.beside(ctx, k); err != nil {
				return out, ofOption(r.Name, err)
			}
			r.Beam = answer.BesideBeam(&r, k.beam)
		}
		out.Options = append(out.Options, r)
	}
	out.Duels = answer.Duels(out.Options)
	out.Verdict = verdict.Of(out)
	return out, nil
}

// beside answers by the beam model for a machine that is answered for by the meshed one.
func (s *solver) beside(ctx context.Context, k *solvedOption) (err error) {
	if k.beam == nil {
		k.beam, err = s.beams.Answer(ctx, k.machine, structure.TipOnly)
	}
	return err
}

// look finds what a machine looks like, and at the ends of its axes.
func (s *solver) look(ctx context.Context, k *solvedOption) (err error) {
	switch {
	case k.shapes != nil:
	case len(k.machine.Axes) > 0:
		k.shapes, err = s.by.Shapes(ctx, k.machine)
	default: // the model is there already
		var shape *answer.Shape
		shape, err = k.model.Shape(ctx)
		k.shapes = []*answer.Shape{shape}
	}
	if err != nil {
		k.shapes = nil
	}
	return err
}

// next adds what to stiffen next, by the beam model.
func (s *solver) next(ctx context.Context, doc *modelfile.Document, found answer.Answer) (answer.Answer, error) {
	out := found
	out.Options = nil
	for _, r := range found.Options {
		if r.Tip != nil {
			name := drawnName(doc, r.Name)
			_, model, err := assemble(ctx, s.beams, doc, name)
			if err != nil {
				return out, ofOption(r.Name, err)
			}
			variables, err := doc.Variables(name)
			if err != nil {
				return out, ofOption(r.Name, err)
			}
			if r.Next, err = model.Next(ctx, variables); err != nil {
				return out, ofOption(r.Name, err)
			}
		}
		out.Options = append(out.Options, r)
	}
	return out, nil
}

// optionsOf are the names under which a document is answered for.
func optionsOf(doc *modelfile.Document) []string {
	if names := doc.OptionNames(); len(names) > 0 {
		return names
	}
	return []string{structure.AsDrawn}
}
