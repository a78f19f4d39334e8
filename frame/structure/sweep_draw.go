package structure

import (
	"context"

	"tiploop/frame/answer"
	"tiploop/frame/chance"
)

// drawPlace draws what a sweep tells of a place: the least stiffness and how far each load moves the tip. Points, cuts,
// screws and pushes by hand are left out, for they would take most of the time. The first place says how many draws there
// are: ranges of more draws than those beside them would make steps where the machine has none.
func (m *Model) drawPlace(ctx context.Context, s *answer.Sweep, p *answer.SweptStep, columns *chance.Columns,
	r *answer.Result) error {
	tip := answer.Result{Tip: r.Tip}
	for _, l := range r.Loads {
		l.PointsUm = nil
		tip.Loads = append(tip.Loads, l)
	}
	least, most := fewestDraws, mostDraws
	if s.Sure != nil {
		least, most = s.Sure.Draws, s.Sure.Draws
	}
	drawn, sure, _, err := m.sampleOf(ctx, columns, &tip, least, most)
	if err != nil {
		return err
	}
	of := map[string][]float64{}
	for _, q := range drawn.drawn {
		of[q.Quantity] = q.Values
	}
	p.SoftestNPerUm = of[answer.StiffnessKey("softest")]
	p.SoftestNPerUm90 = nineInTen(p.SoftestNPerUm)
	for i := range p.Loads {
		l := &p.Loads[i]
		l.DrawnUm = of[answer.MovementKey(l.Name, "")]
		l.TipSizeUm90 = nineInTen(l.DrawnUm)
	}
	if s.Sure == nil {
		s.Sure = &answer.SweptSure{Draws: sure.Draws, Seed: sure.Seed, Settled: true}
	}
	s.Sure.Settled = s.Sure.Settled && sure.Settled
	s.Sure.SettledPercent = max(s.Sure.SettledPercent, sure.SettledPercent)
	s.Sure.ErrorPercent = max(s.Sure.ErrorPercent, sure.ErrorPercent)
	return nil
}

// nineInTen is the range of what was drawn; nil of nothing.
func nineInTen(values []float64) *[2]float64 {
	if values == nil {
		return nil
	}
	r := chance.RangeOf(values)
	return &[2]float64{r.Low, r.High}
}
