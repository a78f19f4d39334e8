package structure

import (
	"slices"

	"tiploop/frame/answer"
)

// over carries what is drawn where the axes stand over every plane: of the tip's stiffness, and of how far each load
// moves it.
func over(r *answer.Result, sure *answer.Sure) (list []answer.OverRange) {
	for _, m := range r.Maps {
		if sure.Stiffness != nil {
			list = append(list, overAs(m, sure.Stiffness.Softest, r.Tip.StiffnessNPerUm.Softest, m.Softest.Value))
		}
		for _, l := range m.Loads {
			at := slices.IndexFunc(r.Loads, func(o answer.LoadResult) bool { return o.Name == l.Load })
			k := slices.IndexFunc(sure.Movements, func(o answer.MovementRange) bool { return o.Load == l.Load && o.Point == "" })
			if k < 0 {
				continue // it does not move the tip where the axes stand
			}
			of := overAs(m, sure.Movements[k].SizeUm, *r.Loads[at].TipSizeUm, l.Worst.Value)
			of.Load = l.Load
			if l.WithinPercent != nil {
				of.WithinPercent90 = &[2]float64{keptOf(m, l, of.Times90[1]), keptOf(m, l, of.Times90[0])}
			}
			list = append(list, of)
		}
	}
	return list
}

// overAs takes a range from where the axes stand to a plane.
func overAs(m answer.Map, drawn answer.Range, typical, worst float64) answer.OverRange {
	times := [2]float64{drawn.Low / typical, drawn.High / typical}
	return answer.OverRange{Map: m.Name, Times90: times, Worst90: [2]float64{worst * times[0], worst * times[1]}}
}

// keptOf is at what share of a plane's positions with work under the tool the tolerance is kept by a tip that moves that
// many times as far, percent.
func keptOf(m answer.Map, l answer.MapLoad, times float64) float64 {
	kept, places := 0, 0
	for _, row := range l.TipUm {
		for _, um := range row {
			if um == nil {
				continue
			}
			if places++; times*norm(*um) <= m.ToleranceUm {
				kept++
			}
		}
	}
	return 100 * float64(kept) / float64(places)
}
