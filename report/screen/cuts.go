package screen

import (
	"fmt"
	"math"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
	"tiploop/report/wrap"
)

// cuts says what each cut costs and how deep it may go.
func (s *sheet) cuts(r answer.Result) {
	if len(r.Cuts) == 0 {
		return
	}
	s.Heading("What the cuts cost")
	most := s.of(4, 1)
	for _, c := range r.Cuts[:min(len(r.Cuts), most)] {
		words := cutCost(r, c)
		if c.ToleranceUm > 0 && math.Abs(c.Typical.NormalUm) > c.ToleranceUm {
			s.Alarm("  ", words)
		} else {
			s.Item("  ", words)
		}
	}
	if more := len(r.Cuts) - most; more > 0 {
		s.Item("  ", fmt.Sprintf("%d more: %s cuts.", more, s.asks.ForTables()))
	}
}

// cutCost says how far the tip moves under a cut, how far its worst surface is off, and how deep it may be.
func cutCost(r answer.Result, c answer.CutResult) string {
	words := fmt.Sprintf("%s: the tip moves up to %s", wrap.OneLine(c.Name),
		phrase.Ranged(c.Typical.MovementUm, r.MovementRange(c.Load, ""), "µm"))
	if worst := phrase.WorstSurface(c.Typical); worst != nil {
		words += fmt.Sprintf("; %s %s", worst.Surface, phrase.Surface(*worst))
	}
	if !(c.ToleranceUm > 0) {
		return words + "."
	}
	kept := "within"
	if math.Abs(c.Typical.NormalUm) > c.ToleranceUm {
		kept = "beyond"
	}
	words += fmt.Sprintf(", %s its %s µm", kept, number.Given(c.ToleranceUm))
	if c.Typical.DeepestMM == nil {
		return words + "."
	}
	return words + fmt.Sprintf("; up to %s deep, then %s.", depth(r, c), phrase.DepthEnd(c.Typical.DeepestBy))
}

// depth writes how deep a cut may be: with what was drawn of it, or with the scatter of its material's force.
func depth(r answer.Result, c answer.CutResult) string {
	if drawn := r.DepthRange(c.Name); drawn != nil {
		return phrase.Ranged(*c.Typical.DeepestMM, drawn, "mm")
	}
	if c.Low.DeepestMM == nil || c.High.DeepestMM == nil {
		return phrase.Ranged(*c.Typical.DeepestMM, nil, "mm")
	}
	return phrase.Ranged(*c.Typical.DeepestMM, &answer.Range{Low: min(*c.Low.DeepestMM, *c.High.DeepestMM),
		High: max(*c.Low.DeepestMM, *c.High.DeepestMM)}, "mm")
}
