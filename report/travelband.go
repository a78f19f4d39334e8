package report

import (
	"slices"

	"tiploop/frame/answer"
	"tiploop/report/graph"
)

// bandOf is the band of an option's travel; nil where none was drawn.
func bandOf(series int, r answer.Result, t answer.Travel) *graph.Band {
	of := alongRange(r, t)
	if of == nil {
		return nil
	}
	return &graph.Band{Series: series, AtMM: t.AtMM, Low: of.LowUm, High: of.HighUm}
}

// stiffnessBand is the band of an option's stiffness along an axis, taken as that of its movement is: by the share that it
// has where the axis stands; nil where none was drawn.
func stiffnessBand(series int, r answer.Result, t answer.Travel) *graph.Band {
	of := r.StiffnessRange("softest")
	if of == nil || r.Tip == nil {
		return nil
	}
	b := graph.Band{Series: series, AtMM: t.AtMM}
	for _, k := range t.SoftestNPerUm {
		share := k / r.Tip.StiffnessNPerUm.Softest
		b.Low, b.High = append(b.Low, share*of.Low), append(b.High, share*of.High)
	}
	return &b
}

// rangeIn are the ends of what an option's band spans; none without one.
func rangeIn(bands []graph.Band, series int) (low, high float64) {
	i := slices.IndexFunc(bands, func(b graph.Band) bool { return b.Series == series })
	if i < 0 {
		return 0, 0
	}
	return slices.Min(bands[i].Low), slices.Max(bands[i].High)
}

// alongRange is what was drawn of a travel, at all its places; nil where nothing was.
func alongRange(r answer.Result, t answer.Travel) *answer.AlongRange {
	if r.Sure == nil {
		return nil
	}
	i := slices.IndexFunc(r.Sure.Along, func(a answer.AlongRange) bool { return a.Path == t.Path && a.Load == t.Load })
	if i < 0 {
		return nil
	}
	of := &r.Sure.Along[i]
	if len(of.LowUm) != len(t.AtMM) || len(of.HighUm) != len(t.AtMM) {
		return nil
	}
	return of
}
