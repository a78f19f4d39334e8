package report

import (
	"fmt"
	"io"
	"maps"
	"math"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
	"tiploop/report/wrap"
)

// mostSources is how many of a load's sources a text names; what is left is summed up.
const mostSources = 8

// writeOptions writes what is asked for of each option under its name and where its axes stand, then the cautions.
func writeOptions(w io.Writer, a answer.Answer, each func(*page, answer.Result)) error {
	return writeEach(w, a, func(p *page, r answer.Result) {
		p.Line("")
		p.standing(r.AtMM)
		each(p, r)
	}, (*page).caution)
}

// writeTables writes some tables of each option under its name.
func writeTables(w io.Writer, a answer.Answer, each func(*page, answer.Result)) error {
	return writeEach(w, a, each, func(*page) {})
}

func writeEach(w io.Writer, a answer.Answer, each func(*page, answer.Result), end func(*page)) error {
	if err := number.CheckFinite(a); err != nil {
		return err
	}
	p := newPage(w)
	p.asks = a.Asks
	for i, r := range a.Options {
		if i > 0 {
			p.Line("")
		}
		p.Title(wrap.OneLine(a.Machine) + ": " + wrap.OneLine(r.Name))
		each(p, r)
	}
	end(p)
	return p.Close()
}

// tipTables are the tables of an option, in the order in which all of them are written.
var tipTables = []part[answer.Result]{
	{"stiffness", (*page).stiffness},
	{"loads", (*page).loads},
	{"play", (*page).play},
	{"cuts", (*page).cuts},
	{"points", (*page).points},
	{"shares", (*page).sources},
	{"next", (*page).next},
	{"screws", (*page).screws},
	{"guides", (*page).guides},
	{"drives", (*page).drives},
	{"motors", (*page).motors},
	{"ratings", (*page).ratings},
	{"misfits", (*page).misfits},
	{"stress", func(p *page, r answer.Result) { p.stresses(r.Stress) }},
	{"hand", (*page).hand},
	{"beam", (*page).beside},
	{"bars", (*page).bars},
	{"grounds", (*page).reactions},
	{"check", (*page).check},
	{"notes", func(p *page, r answer.Result) { p.notes(r.Notes) }},
}

// ofBareFrames are the tables that all leaves out where there is a tool: what bars and grounds carry is asked for of a
// frame.
var ofBareFrames = []string{"bars", "grounds"}

// TipTables are the names of the tables that WriteTip writes.
func TipTables() []string { return namesOf(tipTables) }

// TipTablesOf are those that have something to tell of an option.
func TipTablesOf(r answer.Result) []string { return told(tipTables, r) }

// WriteTip writes for a person how stiff the tool tip is, how far each load moves it and what gives way: everything, or
// the tables of some names.
func WriteTip(w io.Writer, a answer.Answer, tables ...string) error {
	if len(tables) > 0 {
		return writeTables(w, a, func(p *page, r answer.Result) { chosen(p, tipTables, tables, r) })
	}
	return writeOptions(w, a, func(p *page, r answer.Result) {
		p.yielding(r.Stress)
		p.tipInWords(r)
		p.solidBodies(r)
		p.opinions(r)
		for _, t := range tipTables {
			if r.Tip == nil || !slices.Contains(ofBareFrames, t.name) {
				t.write(p, r)
			}
		}
		p.residual(r.Loads)
	})
}

// tipInWords says in a sentence or two what was asked for.
func (p *page) tipInWords(r answer.Result) {
	if r.Tip == nil {
		p.Say("The model has no tool, so there is no tip to speak of. " + farthestPointInWords(r))
		return
	}
	if worst := worstLoad(r.Loads); worst != nil {
		if *worst.TipSizeUm < number.Noise {
			p.Say("None of the loads moves the tool tip against the work.")
		} else {
			p.Say(fmt.Sprintf("Under %s the tool tip moves %s µm against the work, %s; no other load moves it farther.",
				phrase.Quoted(worst.Name), number.Significant(*worst.TipSizeUm), phrase.Way(*worst.TipUm)))
		}
	}
	s := r.Tip.StiffnessNPerUm
	soft := "The tip is softest " + phrase.Line(s.SoftestDirection) + ": " + number.Significant(s.Softest) + " N/µm"
	if s.Softest > 0 {
		soft += fmt.Sprintf(", so a push of %d N that way moves it %s µm", plainPush,
			number.Significant(plainPush/s.Softest))
	}
	p.Say(soft + ".")
}

// plainPush is the push, in N, by which a stiffness is put in words: about what a hand on the spindle gives.
const plainPush = 100

// worstLoad is the load under which the tip moves farthest, the first of equals; nil when none has a tip.
func worstLoad(loads []answer.LoadResult) *answer.LoadResult {
	var worst *answer.LoadResult
	for i := range loads {
		l := &loads[i]
		if l.TipUm != nil && l.TipSizeUm != nil && (worst == nil || number.Exceeds(*l.TipSizeUm, *worst.TipSizeUm)) {
			worst = l
		}
	}
	return worst
}

// farthestPointInWords says which point moves farthest under which load.
func farthestPointInWords(r answer.Result) string {
	at, moved := farthestPoint(r)
	if number.Norm(moved) < number.Noise {
		return "No point moves."
	}
	return fmt.Sprintf("The point that moves farthest is %s: %s µm under %s, %s.",
		phrase.Quoted(phrase.Point(r, at.point)), number.Significant(number.Norm(moved)), phrase.Quoted(at.load),
		phrase.Way(moved))
}

// farthestPoint is the point that moves farthest under any load, the first of equals, and its movement, µm.
func farthestPoint(r answer.Result) (at pointLoad, moved [3]float64) {
	for _, l := range r.Loads {
		for _, name := range slices.Sorted(maps.Keys(l.PointsUm)) {
			if v := l.PointsUm[name]; number.Exceeds(number.Norm(v), number.Norm(moved)) {
				at, moved = pointLoad{name, l.Name}, v
			}
		}
	}
	return at, moved
}

func (p *page) stiffness(r answer.Result) {
	if r.Tip == nil {
		return
	}
	s := r.Tip.StiffnessNPerUm
	p.Heading("Stiffness at the tool tip, against the work")
	d := s.SoftestDirection
	c := number.Components(d)
	p.Table([]column{named("direction"), measured("N/µm")}, [][]string{
		{phrase.Lines[0], number.Significant(s.X)},
		{phrase.Lines[1], number.Significant(s.Y)},
		{phrase.Lines[2], number.Significant(s.Z)},
		{"softest, along " + c[0] + ", " + c[1] + ", " + c[2], number.Significant(s.Softest)},
	})
}

func (p *page) loads(r answer.Result) {
	var rows [][]string
	for _, l := range r.Loads {
		if l.TipUm != nil {
			c := number.Movement(*l.TipUm, number.Norm(*l.TipUm))
			rows = append(rows, []string{l.Name, c[0], c[1], c[2], number.Significant(number.Norm(*l.TipUm))})
		}
	}
	if len(rows) > 0 {
		p.Heading("Movement of the tool tip against the work")
		p.Table([]column{named("load"), measured("x, µm"), measured("y, µm"), measured("z, µm"), measured("size, µm")},
			rows)
	}
}

func (p *page) points(r answer.Result) {
	var rows [][]string
	for _, l := range r.Loads {
		of := movementOf(l)
		for _, name := range slices.Sorted(maps.Keys(l.PointsUm)) {
			v := l.PointsUm[name]
			c := number.Movement(v, of)
			rows = append(rows, []string{l.Name, phrase.Point(r, name), c[0], c[1], c[2], number.MovementSize(v, of)})
		}
	}
	if len(rows) > 0 {
		against := "the ground"
		if len(r.Against) > 0 {
			against += ", or what is said with them"
		}
		p.Heading("Movement of points against " + against)
		p.Table([]column{named("load"), named("point"),
			measured("x, µm"), measured("y, µm"), measured("z, µm"), measured("size, µm")}, rows)
	}
}

// movementOf is how far a load moves whatever moves farthest, tip or point, µm.
func movementOf(l answer.LoadResult) (um float64) {
	if l.TipUm != nil {
		um = number.Norm(*l.TipUm)
	}
	for _, v := range l.PointsUm {
		um = max(um, number.Norm(v))
	}
	return um
}

// check says how the machine is held against its answer once it stands: where to push how hard which way, and what the
// dial should read.
func (p *page) check(r answer.Result) {
	if len(r.Check) == 0 {
		return
	}
	p.Heading("Check it: what a dial indicator should read, with the spindle off and unplugged")
	for i, c := range r.Check {
		words := fmt.Sprintf("Push %s (%s, at %s) %s by %s N, dial on %s: %s µm, %s hundredths of a mm.",
			wrap.OneLine(c.Part), wrap.OneLine(c.Place), place(c.AtMM), phrase.Way(c.Direction), number.Given(c.ForceN),
			wrap.OneLine(c.Against), number.Significant(c.ReadingUm), number.Significant(c.ReadingUm/phrase.HundredthUm))
		if sure := r.CheckRange(i); sure != nil {
			words += fmt.Sprintf(" Nine in ten such machines read %s to %s µm; one that reads more gives somewhere that the file "+
				"takes for tighter.", number.Significant(sure.Low), number.Significant(sure.High))
		}
		if c.SafeN != nil {
			words += fmt.Sprintf(" No more than %s N: beyond twice that %s.", number.Significant(*c.SafeN),
				wrap.OneLine(c.LimitedBy))
		}
		p.Item("  - ", words)
	}
}

func (p *page) sources(r answer.Result) {
	var rows [][]string
	var first []string
	for _, g := range sharesByLoad(r) {
		kept, rest, restCount := largest(g.shares, mostSources)
		first = append(first, fmt.Sprintf("%s under %s (%s %%)", wrap.OneLine(kept[0].Source), phrase.Quoted(g.load),
			number.Percent(kept[0].Percent)))
		for _, s := range kept {
			rows = append(rows, []string{g.load, s.Source, number.Percent(s.Percent)})
		}
		if restCount > 0 {
			rows = append(rows, []string{g.load, fmt.Sprintf("all others (%d)", restCount), number.Percent(rest)})
		}
	}
	if len(rows) == 0 {
		return
	}
	p.Heading("Who gives way: share of the movement")
	p.Say("Most of it: " + strings.Join(first, "; ") + ".")
	p.Table([]column{named("load"), named("source"), measured("%")}, rows)
}

// hand sets sizes of movements beside each other. Their ratio keeps its sign: below zero, one of the two is wrong.
func (p *page) hand(r answer.Result) {
	if len(r.Hand) == 0 {
		return
	}
	p.Heading("By hand, beside the solved value")
	var rows [][]string
	for _, h := range r.Hand {
		ratio := "–"
		if h.HandUm != 0 {
			ratio = number.Significant(h.SolvedUm / h.HandUm)
		}
		rows = append(rows, []string{h.What, h.Formula, number.Significant(math.Abs(h.HandUm)),
			number.Significant(math.Abs(h.SolvedUm)), ratio})
	}
	p.Table([]column{named("what"), named("formula"), measured("by hand, µm"), measured("solved, µm"),
		measured("solved/by hand")}, rows)
}

// bars lists what the bars of a bare frame carry, which is what a frame without a tool is usually asked for.
func (p *page) bars(r answer.Result) {
	var rows [][]string
	for _, l := range r.Loads {
		for _, b := range l.Bars {
			for _, end := range []struct {
				name          string
				force, moment [3]float64
			}{{"from", b.FromN, b.FromM}, {"to", b.ToN, b.ToM}} {
				f, m := number.Components(end.force), number.Components(end.moment)
				rows = append(rows, []string{l.Name, b.Part, end.name, f[0], f[1], f[2], m[0], m[1], m[2]})
			}
		}
	}
	if len(rows) > 0 {
		p.Heading("Forces in the bars, in the bar's own axes (x along it, pull positive)")
		p.Table([]column{named("load"), named("bar"), named("end"), measured("axial, N"), measured("shear y, N"),
			measured("shear z, N"), measured("torque, N·mm"), measured("moment y, N·mm"), measured("moment z, N·mm")},
			rows)
	}
}

func (p *page) reactions(r answer.Result) {
	var rows [][]string
	for _, g := range r.Grounds {
		f, m := number.Components(g.ForceN), number.Components(g.Moment)
		rows = append(rows, []string{g.Load, g.Ground, f[0], f[1], f[2], m[0], m[1], m[2]})
	}
	if len(rows) > 0 {
		p.Heading("What the grounds do on the machine")
		p.Table([]column{named("load"), named("ground"), measured("x, N"), measured("y, N"), measured("z, N"),
			measured("about x, N·mm"), measured("about y, N·mm"), measured("about z, N·mm")}, rows)
	}
}

func (p *page) notes(notes []string) {
	if len(notes) == 0 {
		return
	}
	p.Heading("Notes")
	for _, n := range notes {
		p.Item("  - ", n)
	}
}

// allNotes writes the notes of several options, each note once; those of some options only begin with their names.
func (p *page) allNotes(options []answer.Result) {
	var notes []string
	for _, r := range options {
		for _, n := range r.Notes {
			if !slices.Contains(notes, n) {
				notes = append(notes, n)
			}
		}
	}
	for i, n := range notes {
		var names []string
		for _, r := range options {
			if slices.Contains(r.Notes, n) {
				names = append(names, wrap.OneLine(r.Name))
			}
		}
		if len(names) < len(options) {
			notes[i] = phrase.List(names) + ": " + n
		}
	}
	p.notes(notes)
}

// residual tells how well the forces balance in the worst of the loads.
func (p *page) residual(loads []answer.LoadResult) {
	if len(loads) == 0 {
		return
	}
	worst := loads[0].Residual
	for _, l := range loads {
		worst = max(worst, l.Residual)
	}
	p.Line("")
	p.Line(fmt.Sprintf("Equilibrium residual, worst load: %.1e", worst+0))
}
