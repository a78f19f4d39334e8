package report

import (
	"fmt"
	"io"
	"maps"
	"slices"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
	"tiploop/report/verdict"
	"tiploop/report/wrap"
)

// widestHeads is how many letters the options' names may take together as heads of columns; beyond that the columns
// get letters and the names stand in a list above.
const widestHeads = 64

// compareTables are the tables of options side by side, in the order in which all of them are written.
var compareTables = []part[answer.Answer]{
	{"options", func(p *page, a answer.Answer) { p.sideBySide(a.Options, p.optionHeads(a.Options)) }},
	{"verdict", func(p *page, a answer.Answer) {
		if len(a.Options) > 1 {
			p.whichToBuild(a, p.optionHeads(a.Options))
		}
	}},
}

// WriteCompareTables writes the tables of some names: options, verdict.
func WriteCompareTables(w io.Writer, a answer.Answer, tables ...string) error {
	if err := number.CheckFinite(a); err != nil {
		return err
	}
	p := newPage(w)
	p.asks = a.Asks
	chosen(p, compareTables, tables, a)
	return p.Close()
}

// WriteCompare writes for a person the options side by side, what each gains and costs against the first, and which to
// build for which purpose.
func WriteCompare(w io.Writer, a answer.Answer) error {
	if err := number.CheckFinite(a); err != nil {
		return err
	}
	p := newPage(w)
	p.asks = a.Asks
	p.Line(wrap.OneLine(a.Machine) + ": " + phrase.Count(len(a.Options), "option"))
	p.detail(a)
	p.Line("")
	heads := p.optionHeads(a.Options)
	p.sideBySide(a.Options, heads)
	switch len(a.Options) {
	case 0:
	case 1:
		p.Line("")
		p.Say("There is only one option, so there is nothing to compare it with.")
	default:
		p.Heading("Against " + wrap.OneLine(a.Options[0].Name))
		for _, r := range a.Options[1:] {
			p.difference(a.Options[0], r)
		}
		p.whichToBuild(a, heads)
	}
	p.opinions(a.Options...)
	p.besideEach(a.Options, heads)
	p.allNotes(a.Options)
	p.caution()
	return p.Close()
}

// allClaims is more than there are of any pair.
const allClaims = 1 << 20

// howPicked is by which rules, in words.
const howPicked = "How they are picked: what differs by less than 1 %, typically and in nine draws of ten, is the same, " +
	"and so are movements that differ by less than a hundredth of the largest under their load. Of the rest better is what " +
	"is the better one in 80 of 100 draws or more, or by the typical numbers where nothing was drawn. One number counts " +
	"once. The steadiest is the best one on average over all that is counted: by the mean of its ratios to the others, as " +
	"ratios are averaged, with half a movement twice as good and nothing more than four times as good. Movements below a " +
	"twentieth of the farthest of these do not weigh, those from a fifth on in full, and between the two in part. " +
	"On average, too, better is what is so by 1 % and in 80 of 100 draws; of those that are equals " +
	"so it is one that no other beats, in everything or under the worst load. Who wins most often need not win by " +
	"most: weigh what matters to you."

// whichToBuild writes the whole verdict.
func (p *page) whichToBuild(a answer.Answer, heads []string) {
	w := verdict.InWords(a, heads)
	p.Heading("Which to build")
	if w.Compared() {
		steadiest, against := w.Steadiest(allClaims)
		p.Item("  - ", steadiest)
		for _, s := range against {
			p.Item("      ", s)
		}
		for _, s := range slices.Concat(w.Purchases(), w.Beaten(len(a.Options)), w.Settled(len(w.Verdict.Settle))) {
			p.Item("  - ", s)
		}
	}
	p.Item("  - ", w.Counted())
	if len(w.Verdict.Counted) == 0 && misfitsDiffer(a.Options) {
		p.Item("  - ", "The options differ in what misfits do.")
	}
	p.Line("")
	p.Say(howPicked)
}

// optionHeads gives the heads of the options' columns, and writes what they stand for when they are letters.
func (p *page) optionHeads(options []answer.Result) []string {
	heads := make([]string, len(options))
	total := 0
	for i, r := range options {
		heads[i] = wrap.OneLine(r.Name)
		total += wrap.Letters(heads[i])
	}
	if total <= widestHeads {
		return heads
	}
	for i := range heads {
		letter := phrase.Option(i)
		p.Item("  "+letter+"  ", heads[i])
		heads[i] = letter
	}
	p.Line("")
	return heads
}

// sideBySide is the table of everything compared, a row for each and a column for each option. What has a range in any of
// them has no more digits than that.
func (p *page) sideBySide(options []answer.Result, heads []string) {
	columns := []column{named("")}
	for _, h := range heads {
		columns = append(columns, measured(h))
	}
	var rows [][]string
	for _, l := range comparedLines(options) {
		row := []string{l.what + ", " + l.unit}
		if slices.ContainsFunc(options, func(r answer.Result) bool { return l.known != nil && l.known(r) != nil }) {
			l.write = l.ranged
		}
		for _, r := range options {
			row = append(row, l.cell(r))
		}
		rows = append(rows, row)
	}
	p.Table(columns, rows)
}

// comparedLine is one thing that options are compared by. The unit is that of the number.
type comparedLine struct {
	what, unit string
	value      func(r answer.Result) (float64, bool)
	write      func(v float64) string
	known      func(r answer.Result) *answer.Range // what was drawn of it; nil: it never is
	exact      bool                                // it is written so whatever its range, being a place
}

// ranged writes a value whose range is known, and the ends of that.
func (l comparedLine) ranged(v float64) string {
	if l.exact {
		return l.write(v)
	}
	return twoDigits(v)
}

// cell writes the line's value for an option.
func (l comparedLine) cell(r answer.Result) string {
	v, ok := l.value(r)
	if !ok {
		return absent
	}
	return l.write(v)
}

// comparedLines gives everything that at least one of the options has a value for, in the order of the answer.
func comparedLines(options []answer.Result) []comparedLine {
	lines := slices.Concat(stiffnessLines(), tipLines(options), cutLines(options), pointLines(options),
		misfitLines())
	lines = append(lines, toleratedLines(options)...)
	lines = append(lines, massLine("mass"))
	for _, h := range holeLines {
		if h.what == boreLine && !slices.ContainsFunc(options, func(r answer.Result) bool { return r.Holes.Bored > 0 }) {
			continue
		}
		lines = append(lines, comparedLine{what: h.what, unit: h.unit, value: func(r answer.Result) (float64, bool) {
			return h.of(r.Holes), true
		}, write: h.write})
	}
	return present(lines, options)
}

// present leaves out the lines that none of the options has a value for.
func present(lines []comparedLine, options []answer.Result) []comparedLine {
	return slices.DeleteFunc(lines, func(l comparedLine) bool {
		return !slices.ContainsFunc(options, func(r answer.Result) bool { _, ok := l.value(r); return ok })
	})
}

// tipLines are the movement of the tip under each load.
func tipLines(options []answer.Result) []comparedLine {
	var lines []comparedLine
	for _, name := range loadNames(options) {
		lines = append(lines, tipLine(name))
	}
	return lines
}

// tipLine is the movement of the tip under a load.
func tipLine(load string) comparedLine {
	return comparedLine{what: "tip under " + phrase.Quoted(load), unit: "µm", value: func(r answer.Result) (float64, bool) {
		l := loadNamed(r, load)
		if l == nil || l.TipUm == nil {
			return 0, false
		}
		return number.Norm(*l.TipUm), true
	}, write: number.Significant, known: func(r answer.Result) *answer.Range { return r.MovementRange(load, "") }}
}

// pointLines are the movement of each point under each load.
func pointLines(options []answer.Result) []comparedLine {
	var lines []comparedLine
	for _, at := range pointLoads(options) {
		lines = append(lines, pointLine(at))
	}
	return lines
}

// pointLine is the movement of a point under a load.
func pointLine(at pointLoad) comparedLine {
	return comparedLine{what: at.words(), unit: "µm", value: func(r answer.Result) (float64, bool) { return pointSize(r, at) },
		write: number.Significant, known: func(r answer.Result) *answer.Range { return r.MovementRange(at.load, at.point) }}
}

// massLine is that of the whole machine.
func massLine(what string) comparedLine {
	return comparedLine{what: what, unit: "kg", value: func(r answer.Result) (float64, bool) { return r.MassKg, true },
		write: number.Significant}
}

// boreLine is the count of bores, told where there are any.
const boreLine = "bores"

// holeLines are the counts of holes and of the work on them.
var holeLines = []struct {
	what, unit string
	of         func(answer.Holes) float64
	write      func(float64) string
}{
	{"through holes", "number", func(h answer.Holes) float64 { return float64(h.Through) }, number.Length},
	{"tapped holes", "number", func(h answer.Holes) float64 { return float64(h.Tapped) }, number.Length},
	{boreLine, "number", func(h answer.Holes) float64 { return float64(h.Bored) }, number.Length},
	{"hole operations", "number", func(h answer.Holes) float64 { return float64(h.Operations) }, number.Length},
	{"time for holes", "min", func(h answer.Holes) float64 { return h.Minutes }, number.Significant},
}

// stiffnessOf begins what a stiffness is called.
const stiffnessOf = "stiffness "

// stiffnessLines are the three axes and the softest direction.
func stiffnessLines() []comparedLine {
	line := func(what, direction string, of func(answer.Stiffness) float64) comparedLine {
		return comparedLine{what: stiffnessOf + what, unit: "N/µm", value: func(r answer.Result) (float64, bool) {
			if r.Tip == nil {
				return 0, false
			}
			return of(r.Tip.StiffnessNPerUm), true
		}, write: number.Significant, known: func(r answer.Result) *answer.Range { return r.StiffnessRange(direction) }}
	}
	return []comparedLine{
		line(phrase.Lines[0], "x", func(s answer.Stiffness) float64 { return s.X }),
		line(phrase.Lines[1], "y", func(s answer.Stiffness) float64 { return s.Y }),
		line(phrase.Lines[2], "z", func(s answer.Stiffness) float64 { return s.Z }),
		line("where it is softest", "softest", func(s answer.Stiffness) float64 { return s.Softest }),
	}
}

// loadNames gives the loads of all options in the order they first come.
func loadNames(options []answer.Result) []string {
	var names []string
	for _, r := range options {
		for _, l := range r.Loads {
			if !slices.Contains(names, l.Name) {
				names = append(names, l.Name)
			}
		}
	}
	return names
}

// loadNamed gives an option's result under a load; nil when it has none.
func loadNamed(r answer.Result, name string) *answer.LoadResult {
	i := slices.IndexFunc(r.Loads, func(l answer.LoadResult) bool { return l.Name == name })
	if i < 0 {
		return nil
	}
	return &r.Loads[i]
}

// pointLoad is a point under a load.
type pointLoad struct{ point, load string }

// words name the movement of the point, also of one that is called tip.
func (l pointLoad) words() string {
	return "point " + wrap.OneLine(l.point) + " under " + phrase.Quoted(l.load)
}

// pointLoads gives the points of all options under each load.
func pointLoads(options []answer.Result) []pointLoad {
	var all []pointLoad
	for _, load := range loadNames(options) {
		points := map[string]bool{}
		for _, r := range options {
			if l := loadNamed(r, load); l != nil {
				for point := range l.PointsUm {
					points[point] = true
				}
			}
		}
		for _, point := range slices.Sorted(maps.Keys(points)) {
			all = append(all, pointLoad{point, load})
		}
	}
	return all
}

// pointSize is how far a point moves in an option, µm; false when the option does not have it.
func pointSize(r answer.Result, at pointLoad) (float64, bool) {
	l := loadNamed(r, at.load)
	if l == nil {
		return 0, false
	}
	v, ok := l.PointsUm[at.point]
	return number.Norm(v), ok
}

// toleratedTravel is a path under a load, with a tolerance.
type toleratedTravel struct {
	path, load  string
	toleranceUm float64
}

// words name the stretch that keeps the tolerance.
func (t toleratedTravel) words() string {
	return fmt.Sprintf("%s within %s µm under %s", wrap.OneLine(t.path), number.Given(t.toleranceUm), phrase.Quoted(t.load))
}

// within is the stretch that keeps the tolerance in an option, mm; false when the option does not have the path.
func (t toleratedTravel) within(r answer.Result) (float64, bool) {
	for _, o := range r.Travel {
		if o.Path == t.path && o.Load == t.load && o.ToleranceUm == t.toleranceUm {
			return within(o), true
		}
	}
	return 0, false
}

// known is what was drawn of it; nil when the option does not have the path.
func (t toleratedTravel) known(r answer.Result) *answer.Range {
	if _, ok := t.within(r); !ok {
		return nil
	}
	return r.StretchRange(t.path, t.load)
}

// tolerated gives the paths of all options that have a tolerance, under each load.
func tolerated(options []answer.Result) []toleratedTravel {
	var all []toleratedTravel
	for _, r := range options {
		for _, o := range r.Travel {
			t := toleratedTravel{o.Path, o.Load, o.ToleranceUm}
			if o.ToleranceUm > 0 && !slices.Contains(all, t) {
				all = append(all, t)
			}
		}
	}
	return all
}

// toleratedLines are the stretches that keep their tolerance.
func toleratedLines(options []answer.Result) (lines []comparedLine) {
	for _, t := range tolerated(options) {
		lines = append(lines, comparedLine{what: t.words(), unit: "mm", value: t.within, write: number.Along, known: t.known,
			exact: true})
	}
	return lines
}
