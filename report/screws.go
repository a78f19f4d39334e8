package report

import (
	"fmt"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
)

// nearLimit is the part of the slip or opening force, in percent, from which a screw is listed. Friction and preload
// are each known to a third at best, so half of the limit is already near it.
const nearLimit = 50

// limit is the part of the slip or opening force, in percent, at which a screw does slip or open.
const limit = 100

// screws lists the screws that are near to slip or opening, or says which is nearest.
func (p *page) screws(r answer.Result) {
	if len(r.Screws) == 0 {
		return
	}
	p.Heading("Screws against slip and opening")
	var rows [][]string
	slip, open := r.Screws[0], r.Screws[0]
	for _, s := range r.Screws {
		if number.Exceeds(s.SlipPercent, slip.SlipPercent) {
			slip = s
		}
		if number.Exceeds(s.OpenPercent, open.OpenPercent) {
			open = s
		}
		if nearLimits(s) {
			rows = append(rows, []string{s.Load, s.Joint, number.Significant(s.LeastPreloadN),
				number.Significant(s.TensionN), number.Significant(s.ShearN), number.Percent(s.SlipPercent),
				number.Percent(s.OpenPercent), screwVerdict(s)})
		}
	}
	if len(rows) == 0 {
		words := "No screw reaches"
		if slippedByMisfits(r.Misfits) {
			words = "Under the loads no screw reaches"
		}
		p.Say(fmt.Sprintf("%s %d %% of what would make it slip or open. ", words, nearLimit) +
			nearest("slip", slip, slip.SlipPercent, "No joint is pushed along its face.") + " " +
			nearest("opening", open, open.OpenPercent, "No joint is pulled open."))
		return
	}
	p.Table([]column{named("load"), named("joint"), measured("preload left, N"), measured("pull, N"), measured("shear, N"),
		measured("of slip, %"), measured("of opening, %"), named("verdict")}, rows)
	p.Say(fmt.Sprintf("Listed from %d %% on, of screws tightened little that have settled, with low friction. A "+
		"screw's pressed ring opens first at its edge, and twist adds to shear.", nearLimit))
	if text := slipping(r.Screws); text != "" {
		p.Say(text)
	}
}

// slipping says how far the holes let the joints that slip go; "" when none does.
func slipping(screws []answer.ScrewLoad) string {
	var list []string
	for _, s := range screws {
		if s.ShiftMM == nil {
			continue
		}
		text := fmt.Sprintf("%s by %s mm each way", phrase.Quoted(s.Joint), number.Significant(*s.ShiftMM))
		if s.TurnRad != nil {
			text += fmt.Sprintf(" and %s mrad", number.Significant(*s.TurnRad*mradPerRad))
		} else {
			text += " and all round"
		}
		if !slices.Contains(list, text) {
			list = append(list, text)
		}
	}
	if list == nil {
		return ""
	}
	return "What slips may shift, and turn, as far as its holes let it: " + strings.Join(list, "; ") + "."
}

const mradPerRad = 1000

// nearest names the screw that is nearest to a limit and how near it is, or says what holds when none is on its way
// there: a percentage too small to be written names a joint by chance.
func nearest(limit string, s answer.ScrewLoad, reached float64, otherwise string) string {
	if reached < number.LeastPercent {
		return otherwise
	}
	return fmt.Sprintf("Nearest to %s: %s under %s, %s %%.", limit, phrase.Quoted(s.Joint), phrase.Quoted(s.Load),
		number.Percent(reached))
}

// screwVerdict says what the worst loaded screw of a joint does.
func screwVerdict(s answer.ScrewLoad) string {
	slips, opens := s.SlipPercent >= limit, s.OpenPercent >= limit
	switch {
	case slips && opens:
		return "slips and opens"
	case slips:
		return "slips"
	case opens:
		return "opens"
	}
	return "near"
}
