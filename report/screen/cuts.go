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
	for _, c := range CutsOf(r)[:min(len(r.Cuts), most)] {
		if c.Beyond {
			s.Alarm("  ", c.inWords())
		} else {
			s.Item("  ", c.inWords())
		}
	}
	if more := len(r.Cuts) - most; more > 0 {
		s.Item("  ", fmt.Sprintf("%d more: %s cuts.", more, s.asks.ForTables()))
	}
}

// Cut is what a cut costs, in clauses.
type Cut struct {
	Name    string
	Moves   string // "the tip moves up to 12 µm (10 to 15)"
	Surface string // "finished wall 8.0 µm left standing, within its 20 µm"; "": nothing is said of one
	Deepest string // "up to 1.2 mm (0.8 to 1.5) deep, then it chatters"; "": nothing is known of that
	Beyond  bool   // the surface is farther off than its tolerance
}

// CutsOf tells of each cut how far the tip moves, how far its worst surface is off, and how deep it may be.
func CutsOf(r answer.Result) (list []Cut) {
	for _, c := range r.Cuts {
		cut := Cut{Name: wrap.OneLine(c.Name), Moves: "the tip moves up to " +
			phrase.Ranged(c.Typical.MovementUm, r.MovementRange(c.Load, ""), "µm")}
		if worst := phrase.WorstSurface(c.Typical); worst != nil {
			cut.Surface = worst.Surface + " " + phrase.Surface(*worst)
		}
		if c.ToleranceUm > 0 {
			kept := "within"
			if cut.Beyond = math.Abs(c.Typical.NormalUm) > c.ToleranceUm; cut.Beyond {
				kept = "beyond"
			}
			last := &cut.Moves
			if cut.Surface != "" {
				last = &cut.Surface
			}
			*last += fmt.Sprintf(", %s its %s µm", kept, number.Given(c.ToleranceUm))
			if c.Typical.DeepestMM != nil {
				cut.Deepest = fmt.Sprintf("up to %s deep, then %s", depth(r, c), phrase.DepthEnd(c.Typical.DeepestBy))
			}
		}
		list = append(list, cut)
	}
	return list
}

// inWords is all that a cut costs.
func (c Cut) inWords() string {
	words := c.Name + ": " + c.Moves
	for _, clause := range []string{c.Surface, c.Deepest} {
		if clause != "" {
			words += "; " + clause
		}
	}
	return words + "."
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
