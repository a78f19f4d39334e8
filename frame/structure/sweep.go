package structure

import (
	"cmp"
	"context"
	"errors"
	"fmt"

	"tiploop/frame/answer"
	"tiploop/frame/chance"
	"tiploop/frame/constant"
	"tiploop/frame/machine"
)

// Sweep draws, builds and solves a machine at every number that a value takes, or at those of every pair of two; it
// panics unless values are one or two, without draw, and where draw gives neither a machine nor an error. Each, which
// may be nil, is called when a place is done. Places that make no machine are left out and named; when that is all of
// them, the first one's fault is the error. The places of one value are drawn, under the same luck, if there is a tool;
// those of two are not.
func (b *Builder) Sweep(
	ctx context.Context, values []answer.SweptValue, draw func(at []float64) (*machine.Machine, error), each func(),
) (*answer.Sweep, error) {
	if len(values) < 1 || len(values) > 2 {
		panic(fmt.Sprintf("structure: a sweep of %d values", len(values)))
	}
	if draw == nil {
		panic("structure: a sweep that draws no machines")
	}
	s := &answer.Sweep{Tiploop: 1, Detail: b.Detail.String(), Values: values, Places: []answer.SweptStep{},
		LeftOut: []answer.LeftOut{}, Knees: []answer.Knee{}, Asks: b.Asks}
	total, inner := 1, 1
	for _, v := range values {
		if len(v.At) == 0 {
			return nil, fmt.Errorf("value %s takes no number", v.Name)
		}
		total, inner = total*len(v.At), len(v.At)
	}
	within := inner // how many places later a body may be needed again
	var columns *chance.Columns
	if len(values) == 1 {
		within, columns = 1, new(chance.Columns)
	}
	var first error
	for i := range total {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		at := sweptAt(values, i)
		var place *answer.SweptStep
		m, err := draw(at)
		if err == nil && m == nil {
			panic("structure: a sweep was drawn no machine")
		}
		if err == nil {
			place, err = b.sweptPlace(ctx, s, m, columns)
			b.Forget(within)
		}
		switch {
		case ctx.Err() != nil:
			return nil, ctx.Err()
		case err != nil:
			if first == nil {
				first = err
			}
			s.LeftOut = append(s.LeftOut, answer.LeftOut{At: at, Why: whyNot(err)})
		default:
			place.At = at
			s.Places = append(s.Places, *place)
		}
		if each != nil {
			each()
		}
	}
	if len(s.Places) == 0 {
		return nil, first
	}
	s.FindKnees()
	return s, nil
}

// sweptAt are the numbers that the values take at a place of their grid; the last value runs fastest.
func sweptAt(values []answer.SweptValue, place int) []float64 {
	at := make([]float64, len(values))
	for k, rest := len(values)-1, place; k >= 0; k-- {
		n := len(values[k].At)
		at[k] = values[k].At[rest%n]
		rest /= n
	}
	return at
}

// sweptPlace is what a machine does, and what the sweep learns of it.
func (b *Builder) sweptPlace(ctx context.Context, s *answer.Sweep, m *machine.Machine, columns *chance.Columns) (
	*answer.SweptStep, error) {
	model, err := b.Build(ctx, m)
	if err != nil {
		return nil, err
	}
	r, err := model.SolveContext(ctx, TipOnly)
	if err != nil {
		return nil, err
	}
	s.Machine, s.Option = m.Name, cmp.Or(m.Option, AsDrawn)
	for _, p := range m.Travel {
		if um := p.Tolerance * constant.UmPerMM; um > 0 && (s.Within == nil || um < *s.Within) {
			s.Within = &um
		}
	}
	p := &answer.SweptStep{MassKg: r.MassKg, Holes: r.Holes, Tip: r.Tip, Loads: []answer.SweptLoad{}}
	for _, l := range r.Loads {
		p.Loads = append(p.Loads, answer.SweptLoad{
			Name: l.Name, OnTip: l.OnTip, TipUm: l.TipUm, TipSizeUm: l.TipSizeUm, PointsUm: l.PointsUm,
			MeshErrorPercent: l.MeshErrorPercent,
		})
	}
	if columns == nil || r.Tip == nil {
		return p, nil
	}
	return p, model.drawPlace(ctx, s, p, columns, r)
}

// whyNot is the first thing that is wrong, without its place in the file and without the next step: the file is right
// as it stands.
func whyNot(err error) string {
	var faults machine.Faults
	if errors.As(err, &faults) && len(faults) > 0 {
		return faults[0].What
	}
	return err.Error()
}
