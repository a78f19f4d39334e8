package report

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
	"tiploop/report/table"
	"tiploop/report/wrap"
)

// mostSweptRows is how many places of a sweep a text lists; CSV and JSON have them all.
const mostSweptRows = 21

// sweepTables are the tables of a sweep, in the order in which all of them are written.
var sweepTables = []part[answer.Sweep]{
	{"knees", (*page).knees},
	{"places", (*page).sweptPlaces},
	{"left-out", (*page).leftOut},
}

// SweepTables are the names of the tables that WriteSweep writes.
func SweepTables() []string { return namesOf(sweepTables) }

// WriteSweep writes for a person what the machine does as values run over ranges, and where more of them stops helping:
// everything, or the tables of some names.
func WriteSweep(w io.Writer, s answer.Sweep, tables ...string) error {
	if err := number.CheckFinite(s); err != nil {
		return err
	}
	p := newPage(w)
	p.asks = s.Asks
	p.Title(wrap.OneLine(s.Machine) + ": " + wrap.OneLine(s.Option) + ": " + sweptInWords(s))
	p.Line("")
	if len(tables) > 0 {
		chosen(p, sweepTables, tables, s)
		return p.Close()
	}
	for _, t := range sweepTables {
		t.write(p, s)
	}
	p.sweptMesh(s)
	p.caution()
	return p.Close()
}

// knees says where the machine is stiffest and where more of a value stops helping.
func (p *page) knees(s answer.Sweep) {
	if s.Places[0].Tip == nil {
		p.Say("The model has no tool, so there is no tip to speak of, and nothing whose end of paying could be named.")
		return
	}
	p.Say(sweptExtremes(s))
	p.kneesInWords(s)
	for _, words := range []string{phrase.DrawnOutside(s), phrase.NotSwept(s), phrase.Idle(s)} {
		if words != "" {
			p.Line("")
			p.Say(words)
		}
	}
	p.howSweptDraws(s)
}

// sweptPlaces is the table of one value, or the grid of two.
func (p *page) sweptPlaces(s answer.Sweep) {
	if len(s.Values) == 1 {
		p.sweptTable(s)
	} else {
		p.sweptGrid(s)
	}
}

// sweptInWords says which values run over which range.
func sweptInWords(s answer.Sweep) string {
	var words []string
	for _, v := range s.Values {
		words = append(words, fmt.Sprintf("%s from %s to %s", wrap.OneLine(v.Name), number.Given(v.At[0]),
			phrase.WithUnit(number.Given(v.At[len(v.At)-1]), v.Unit)))
	}
	return phrase.List(words)
}

// sweptValues writes the values at a place of a sweep: "gusset_leg 60 mm, thick 20 mm".
func sweptValues(s answer.Sweep, at []float64) string {
	var words []string
	for k, v := range s.Values {
		words = append(words, wrap.OneLine(v.Name)+" "+phrase.WithUnit(sweptValue(at[k]), v.Unit))
	}
	return strings.Join(words, ", ")
}

// sweptValue writes a value of a range: as it is when that is short.
func sweptValue(at float64) string {
	if short := number.Given(at); len(short) <= len("-1234.5") {
		return short
	}
	return number.Significant(at)
}

// sweptExtremes names the stiffest and the softest place.
func sweptExtremes(s answer.Sweep) string {
	best, worst := 0, 0
	k := func(i int) float64 { return s.Places[i].Tip.StiffnessNPerUm.Softest }
	for i := range s.Places {
		if number.Exceeds(k(i), k(best)) {
			best = i
		}
		if number.Exceeds(k(worst), k(i)) {
			worst = i
		}
	}
	if k(best)-k(worst) < alike*k(best) {
		return "The tip is about as stiff everywhere: " + number.Significant(k(best)) +
			" N/µm in its softest direction."
	}
	return fmt.Sprintf("In its softest direction the tip is stiffest at %s: %s N/µm, and least stiff at %s: %s N/µm.",
		sweptValues(s, s.Places[best].At), number.Significant(k(best)), sweptValues(s, s.Places[worst].At),
		number.Significant(k(worst)))
}

// howKnees are found, in words.
const howKnees = "How the place is found: it is the first one, from the worse end of the range on, that keeps nine tenths " +
	"of the gain from end to end, if beyond it each step gains on average at most half of what it gained before. It is " +
	"one of the places worked out, none between."

// kneesInWords says of each value where more of it stops helping.
func (p *page) kneesInWords(s answer.Sweep) {
	found := false
	for _, v := range s.Values {
		var rest []string
		for _, k := range s.Knees {
			if k.Along != v.Name {
				continue
			}
			found = found || k.Kind == answer.LevelsOff
			if k.Load == nil {
				p.Say(kneeInWords(s, v, k) + kneeSure(v, k))
			} else {
				rest = append(rest, phrase.Quoted(*k.Load)+": "+shortKnee(v, k)+inBrackets(phrase.KneeChance(k)))
			}
		}
		if rest != nil {
			p.Say("By the movement under each load: " + strings.Join(rest, "; ") + ".")
		}
	}
	if found {
		p.Line("")
		p.Say(howKnees)
	}
}

// kneeSure says in how many draws the stiffness goes so, and where nine in ten of these find the place; "" where nothing
// was drawn.
func kneeSure(v answer.SweptValue, k answer.Knee) string {
	words := phrase.KneeChance(k)
	if words == "" {
		return ""
	}
	if spreadOut(k) {
		words += fmt.Sprintf("; nine in ten of those that find one put it from %s to %s", sweptValue(k.At90[0]),
			phrase.WithUnit(sweptValue(k.At90[1]), v.Unit))
	}
	return " So it is " + words + "."
}

// spreadOut tells whether draws put a knee at more than one place.
func spreadOut(k answer.Knee) bool { return k.At90 != nil && k.At90[1] > k.At90[0] }

// inBrackets sets words behind others; "" stays so.
func inBrackets(words string) string {
	if words == "" {
		return ""
	}
	return " (" + words + ")"
}

// howSweptDraws says what ranges and chances are of.
func (p *page) howSweptDraws(s answer.Sweep) {
	if s.Sure == nil {
		return
	}
	words := fmt.Sprintf("Chances are of %d draws of what is not known, the same at all places.", s.Sure.Draws)
	if !s.Sure.Settled {
		words += fmt.Sprintf(" The ends of some ranges may still be off by %s %%.",
			number.Digits(s.Sure.SettledPercent, phrase.RangedDigits))
	}
	p.Line("")
	p.Say(words)
}

// kneeInWords says where more stiffness stops coming along a value.
func kneeInWords(s answer.Sweep, v answer.SweptValue, k answer.Knee) string {
	with := ""
	if k.AtOther != nil {
		for _, o := range s.Values {
			if o.Name != v.Name {
				with = fmt.Sprintf(" (with %s at %s)", wrap.OneLine(o.Name),
					phrase.WithUnit(sweptValue(*k.AtOther), o.Unit))
			}
		}
	}
	name := wrap.OneLine(v.Name)
	switch k.Kind {
	case answer.LevelsOff:
		return fmt.Sprintf("%s %s stops paying at %s%s, which keeps nine tenths of the gain: up to there it is "+
			"%s N/µm per %s on average, beyond it %s.", phrase.Capital(k.Toward), name,
			phrase.WithUnit(sweptValue(*k.At), v.Unit), with, number.Significant(k.Before), unitOrOne(v), number.Significant(k.Beyond))
	case answer.BestInside:
		return fmt.Sprintf("The tip is stiffest at %s %s%s, and less stiff on both sides.", name,
			phrase.WithUnit(sweptValue(*k.At), v.Unit), with)
	case answer.WorstInside:
		return fmt.Sprintf("The tip is least stiff at %s %s%s, and stiffer on both sides.", name,
			phrase.WithUnit(sweptValue(*k.At), v.Unit), with)
	case answer.Rising:
		return fmt.Sprintf("The gain from %s %s%s does not stop in this range: it grows to the very end.",
			k.Toward, name, with)
	case answer.Steady:
		return fmt.Sprintf("The gain from %s %s%s does not stop in this range: it goes on about as it begins.",
			k.Toward, name, with)
	case answer.Unmoved:
		return fmt.Sprintf("%s%s makes next to no difference to the stiffness, less than 3 %% in all.", name, with)
	}
	return fmt.Sprintf("There are too few places along %s%s to say where more stops paying.", name, with)
}

// shortKnee is the same for a load, in a clause.
func shortKnee(v answer.SweptValue, k answer.Knee) string {
	switch k.Kind {
	case answer.LevelsOff:
		return "stops paying at " + phrase.WithUnit(sweptValue(*k.At), v.Unit)
	case answer.BestInside:
		return "least at " + phrase.WithUnit(sweptValue(*k.At), v.Unit)
	case answer.WorstInside:
		return "most at " + phrase.WithUnit(sweptValue(*k.At), v.Unit)
	case answer.Rising:
		return "gains the more the farther"
	case answer.Steady:
		return "gains on to the end"
	case answer.Unmoved:
		return "next to no difference"
	}
	return "too few places"
}

// unitOrOne is the unit of a value, or "one more".
func unitOrOne(v answer.SweptValue) string {
	if v.Unit == "" {
		return "one more"
	}
	return v.Unit
}

// isKnee tells whether the stiffness stops growing at a place along the one value.
func isKnee(s answer.Sweep, at float64) bool {
	return slices.ContainsFunc(s.Knees, func(k answer.Knee) bool {
		return k.Load == nil && k.Kind == answer.LevelsOff && *k.At == at
	})
}

// sweptTable lists places along one value: stiffness, movements, cost.
func (p *page) sweptTable(s answer.Sweep) {
	v := s.Values[0]
	heads := []column{measured(phrase.SweptHead(v))}
	tool := s.Places[0].Tip != nil
	loads := sweptLoads(s)
	points := sweptPoints(s)
	if tool {
		heads = append(heads, measured("softest, N/µm"))
		points = nil
	}
	for _, l := range loads {
		heads = append(heads, measured(l+", µm"))
	}
	for _, at := range points {
		heads = append(heads, measured(at.words()+", µm"))
	}
	heads = append(heads, measured("mass, kg"), measured("hole operations"), named(""))
	heading := "At each " + wrap.OneLine(v.Name)
	if s.Sure != nil {
		heading += " (nine of ten such machines lie between)"
	}
	p.Heading(heading)
	var rows [][]string
	for _, i := range table.Spread(len(s.Places), mostSweptRows) {
		place := s.Places[i]
		row := []string{sweptValue(place.At[0])}
		if tool {
			row = append(row, sweptCell(place.Tip.StiffnessNPerUm.Softest, place.SoftestNPerUm90))
		}
		for _, name := range loads {
			cell := ""
			if l := place.Load(name); l != nil && l.TipSizeUm != nil {
				cell = sweptCell(*l.TipSizeUm, l.TipSizeUm90)
			}
			row = append(row, cell)
		}
		for _, at := range points {
			cell := ""
			if l := place.Load(at.load); l != nil {
				if um, ok := l.PointsUm[at.point]; ok {
					cell = number.Significant(number.Norm(um))
				}
			}
			row = append(row, cell)
		}
		mark := ""
		if place.At[0] == v.Drawn {
			mark = "as drawn"
		}
		if isKnee(s, place.At[0]) {
			if mark != "" {
				mark += ", "
			}
			mark += "stops paying"
		}
		rows = append(rows, append(row, number.Significant(place.MassKg), fmt.Sprint(place.Holes.Operations), mark))
	}
	p.Table(heads, rows)
	if s.Within != nil {
		p.Say(fmt.Sprintf("Tolerance of the travel: %s µm.", number.Given(*s.Within)))
	}
}

// sweptCell writes a number with its range, without one as it is.
func sweptCell(v float64, drawn *[2]float64) string {
	if drawn == nil {
		return number.Significant(v)
	}
	return phrase.WithEnds(v, drawn[0], drawn[1])
}

// sweptGrid lists the least stiffness over two values: the first downwards, the second across.
func (p *page) sweptGrid(s answer.Sweep) {
	down, across := s.Values[0], s.Values[1]
	what, cell := "Stiffness of the tip in its softest direction, N/µm",
		func(q answer.SweptStep) string { return number.Significant(q.Tip.StiffnessNPerUm.Softest) }
	if s.Places[0].Tip == nil {
		what, cell = "Mass, kg", func(q answer.SweptStep) string { return number.Significant(q.MassKg) }
	}
	p.Heading(what)
	heads := []column{measured(phrase.SweptHead(down) + " \\ " + phrase.SweptHead(across))}
	columns := table.Spread(len(across.At), mostPlaces)
	for _, i := range columns {
		heads = append(heads, measured(sweptValue(across.At[i])))
	}
	var rows [][]string
	for _, i := range table.Spread(len(down.At), mostSweptRows) {
		row := []string{sweptValue(down.At[i])}
		for _, k := range columns {
			text := "–"
			if q := answerAt(s, down.At[i], across.At[k]); q != nil {
				text = cell(*q)
			}
			row = append(row, text)
		}
		rows = append(rows, row)
	}
	p.Table(heads, rows)
}

// answerAt is the answer at a place of a grid; nil when it was left out.
func answerAt(s answer.Sweep, a, b float64) *answer.SweptStep {
	for i := range s.Places {
		if s.Places[i].At[0] == a && s.Places[i].At[1] == b {
			return &s.Places[i]
		}
	}
	return nil
}

// mostReasons is how many reasons a text gives for places left out.
const mostReasons = 6

// leftOut names the places at which the values make no machine, those with one reason together.
func (p *page) leftOut(s answer.Sweep) {
	if len(s.LeftOut) == 0 {
		return
	}
	p.Heading("Left out, because the model is wrong there")
	var reasons []string
	places := map[string][]string{}
	for _, l := range s.LeftOut {
		if places[l.Why] == nil {
			reasons = append(reasons, l.Why)
		}
		places[l.Why] = append(places[l.Why], sweptValues(s, l.At))
	}
	for i, why := range reasons {
		if i == mostReasons {
			p.Item("  - ", fmt.Sprintf("%d places more, for other reasons; %s has them all",
				len(s.LeftOut)-toldOf(places, reasons[:i]), p.asks.ForAll()))
			break
		}
		at := places[why]
		words := strings.Join(at, "; ")
		if len(at) > 3 {
			words = fmt.Sprintf("%s to %s (%d places)", at[0], at[len(at)-1], len(at))
		}
		p.Item("  - ", words+": "+wrap.OneLine(why))
	}
}

func toldOf(places map[string][]string, reasons []string) (n int) {
	for _, why := range reasons {
		n += len(places[why])
	}
	return n
}

// sweptMesh says what the meshes may hold back where that is much: at the worst place.
func (p *page) sweptMesh(s answer.Sweep) {
	most, words := phrase.SlightMesh, ""
	for _, place := range s.Places {
		for _, l := range place.Loads {
			if l.MeshErrorPercent != nil && *l.MeshErrorPercent > most {
				most, words = *l.MeshErrorPercent, phrase.Quoted(l.Name)+" at "+sweptValues(s, place.At)+", elsewhere less"
			}
		}
	}
	if words != "" {
		p.Line("")
		p.Say(phrase.MeshHolds(p.asks, most, words))
	}
}
