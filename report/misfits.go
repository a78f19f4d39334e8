package report

import (
	"fmt"
	"io"
	"math"
	"slices"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/wrap"
)

// WriteAlign writes for a person what parts that do not line up lock in, and what must be aligned.
func WriteAlign(w io.Writer, a answer.Answer) error {
	if err := number.CheckFinite(a); err != nil {
		return err
	}
	p := newPage(w)
	p.asks = a.Asks
	for i, r := range a.Options {
		if i > 0 {
			p.line("")
		}
		p.line(wrap.OneLine(a.Machine) + ": " + wrap.OneLine(r.Name))
		p.line("")
		p.standing(r.AtMM)
		p.misfits(r)
		if r.Misfits != nil {
			p.lockedIn(*r.Misfits)
		}
		p.aligned(r.Align)
	}
	p.caution()
	return p.close()
}

// misfits is the short table: what each misfit locks in at worst, how far it puts the tip, and what it drags.
func (p *page) misfits(r answer.Result) {
	if r.Misfits == nil {
		return
	}
	p.heading("Parts that do not line up: what each locks in once it is screwed down")
	var rows [][]string
	for _, f := range append(slices.Clone(r.Misfits.Each), *r.Misfits.Together) {
		worst := worstLocked(f)
		moved := absent
		if f.Moved.TipUm != nil {
			moved = number.Significant(number.Norm(*f.Moved.TipUm))
		}
		drag := absent
		if d := worstDrag(f.Drag); d != nil {
			drag = number.Significant(d.WorstN)
		}
		rows = append(rows, []string{f.Name, f.At, worst.what, number.Significant(worst.force), percentOf(worst.load,
			worst.preload), percentOf(worst.load, worst.dynamic), moved, drag})
	}
	p.table([]column{named("misfit"), named("at"), named("worst locked in"), measured("N"), measured("of preload, %"),
		measured("of rating, %"), measured("tip, µm"), measured("drag, N")}, rows)
	p.dragInWords(r.Misfits.Together.Drag)
	p.shims(r.Misfits.Shims)
}

// dragInWords says where each axis binds most with all misfits at once.
func (p *page) dragInWords(drags []answer.Drag) {
	for _, d := range drags {
		if d.WorstN < number.Noise {
			continue
		}
		text := fmt.Sprintf("Axis %s drags most at %s mm: %s N by friction (%s of what presses on its carriages, seals "+
			"not counted)", d.Axis, number.Length(d.WorstMM), number.Significant(d.WorstN), number.Significant(d.Friction))
		if d.PushN != nil {
			text += fmt.Sprintf(", %s %% of the %s N its motor holds at rest", number.Percent(100*d.WorstN / *d.PushN),
				number.Significant(*d.PushN))
			if d.WorstN > *d.PushN/2 {
				text += ": it binds there"
			}
		}
		p.say(text + ".")
	}
}

func (p *page) shims(list []answer.ShimEffect) {
	for _, s := range list {
		text := fmt.Sprintf("Shim %s, %s under %s: ", wrap.OneLine(s.Name), s.Layers, s.At)
		switch {
		case s.WithoutN < number.Noise:
			text += fmt.Sprintf("%s N locked in where there was nothing", number.Significant(s.WithN))
		default:
			text += fmt.Sprintf("at most %s N locked in become %s N, %s of before",
				number.Significant(s.WithoutN), number.Significant(s.WithN), number.Significant(s.WithN/s.WithoutN))
		}
		if s.SofterPercent != nil {
			text += fmt.Sprintf("; tip %s %% softer", number.Significant(*s.SofterPercent))
		}
		p.say(text + ".")
	}
}

// locked is the worst thing that a misfit locks in.
type locked struct {
	what             string
	force            float64
	load             float64 // that counts against rating and preload
	preload, dynamic *float64
}

// lockedThings are all that a misfit locks in, in the order of the model.
func lockedThings(f answer.Misfit) (list []locked) {
	for _, c := range f.Carriages {
		l := locked{what: carriageName(f.Carriages, c), force: math.Hypot(c.PullN, c.SideN), preload: c.PreloadN,
			dynamic: c.DynamicN}
		l.load = l.force
		if c.EquivalentN != nil {
			l.load = *c.EquivalentN
		}
		list = append(list, l)
	}
	for _, n := range f.Nuts {
		size := number.Norm(n.ForceN)
		list = append(list, locked{what: n.What, force: size, load: size, preload: positive(n.PreloadN), dynamic: n.DynamicN})
	}
	for _, foot := range f.Feet {
		list = append(list, locked{what: fmt.Sprintf("ground %s, foot %d", foot.Ground, foot.Foot),
			force: number.Norm(foot.ForceN)})
	}
	for _, s := range f.Screws {
		size := math.Hypot(s.TensionN, s.ShearN)
		preload := s.PreloadN
		list = append(list, locked{what: "screw of " + s.Joint, force: size, load: size, preload: &preload})
	}
	for _, g := range f.Grounds {
		if !slices.ContainsFunc(f.Feet, func(o answer.FootLoad) bool { return o.Ground == g.Ground }) {
			list = append(list, locked{what: "ground " + g.Ground, force: number.Norm(g.ForceN)})
		}
	}
	return list
}

// carriageName counts a carriage among those of its guide, from 1.
func carriageName(all []answer.CarriageLoad, c answer.CarriageLoad) string {
	n := 0
	for _, o := range all {
		if o.Axis == c.Axis && o.Guide == c.Guide {
			n++
			if o.AtMM == c.AtMM {
				break
			}
		}
	}
	return fmt.Sprintf("%s: %s, carriage %d", c.Axis, c.Guide, n)
}

// positive is a number that says something only above zero.
func positive(v *float64) *float64 {
	if v == nil || *v <= 0 {
		return nil
	}
	return v
}

// worstLocked is what carries most, the first of equals.
func worstLocked(f answer.Misfit) (worst locked) {
	worst.what = "nothing"
	for _, l := range lockedThings(f) {
		if l.force >= number.Noise && number.Exceeds(l.force, worst.force) {
			worst = l
		}
	}
	return worst
}

// worstDrag is the largest of a misfit; nil when there are none.
func worstDrag(drags []answer.Drag) *answer.Drag {
	var worst *answer.Drag
	for i := range drags {
		if worst == nil || number.Exceeds(drags[i].WorstN, worst.WorstN) {
			worst = &drags[i]
		}
	}
	return worst
}

// percentOf writes a share of a limit, a dash where there is none.
func percentOf(v float64, of *float64) string {
	if of == nil || *of == 0 {
		return absent
	}
	return number.Percent(100 * v / *of)
}

// leastLocked is the share of the worst force below which a text leaves out what is locked in.
const leastLocked = 0.01

// lockedIn lists everything that each misfit reaches, and what is left of lives.
func (p *page) lockedIn(m answer.Misfits) {
	p.heading("Locked in, by misfit")
	var rows [][]string
	for _, f := range append(slices.Clone(m.Each), *m.Together) {
		least := max(number.Noise, leastLocked*worstLocked(f).force)
		for _, l := range lockedThings(f) {
			if l.force < least {
				continue
			}
			rows = append(rows, []string{f.Name, l.what, number.Significant(l.force), percentOf(l.load, l.preload),
				percentOf(l.load, l.dynamic)})
		}
	}
	p.table([]column{named("misfit"), named("where"), measured("N"), measured("of preload, %"), measured("of rating, %")},
		rows)
	rows = nil
	for _, f := range append(slices.Clone(m.Each), *m.Together) {
		if f.Moved.TipUm == nil || f.TurnRad == nil {
			continue
		}
		c := number.Components(*f.Moved.TipUm)
		turn := [3]float64{1e6 * f.TurnRad[0], 1e6 * f.TurnRad[1], 1e6 * f.TurnRad[2]}
		t := number.Components(turn)
		rows = append(rows, []string{f.Name, c[0], c[1], c[2], t[0], t[1], t[2]})
	}
	if rows != nil {
		p.heading("The tip put out of place and turned, against the work")
		p.table([]column{named("misfit"), measured("x, µm"), measured("y, µm"), measured("z, µm"), measured("about x, µrad"),
			measured("about y, µrad"), measured("about z, µrad")}, rows)
	}
	p.lives(m.Lives)
}

// lives are those of guides under loads, with the misfits added.
func (p *page) lives(list []answer.MisfitLife) {
	var rows [][]string
	for _, l := range list {
		rows = append(rows, []string{l.Load, "guide " + l.Axis + ": " + l.Guide, life(l.LifeKm), life(l.WithKm)})
	}
	if rows == nil {
		return
	}
	p.heading("Life of the worst carriage, km, without the misfits and with all of them")
	p.table([]column{named("load"), named("guide"), measured("lined up"), measured("with the misfits")}, rows)
}

// indicated writes what an indicator shows, a dash of what turns alone.
func indicated(l answer.AlignLine) string {
	if l.IndicatorShare == 0 {
		return absent
	}
	return number.Percent(100 * l.IndicatorShare)
}

// mostAligned is how many things a text ranks; JSON and CSV have all.
const mostAligned = 20

// aligned ranks what must be aligned, and says in which order to tighten.
func (p *page) aligned(a *answer.Alignment) {
	if a == nil {
		return
	}
	p.heading("What must be aligned: how far each may be out of place, the most sensitive first")
	if len(a.Lines) == 0 {
		p.say("Nothing here has a limit: no carriage or nut has a rating, and no path or cut gives the tip a tolerance.")
		return
	}
	var rows [][]string
	for _, l := range a.Lines[:min(len(a.Lines), mostAligned)] {
		rows = append(rows, []string{l.What, l.How, number.Significant(l.AllowedUm), l.Limit, l.Of,
			indicated(l)})
	}
	p.table([]column{named("what"), named("out of place"), measured("at most, µm"), named("uses up"), named("of"),
		measured("indicator shows, %")}, rows)
	if more := len(a.Lines) - mostAligned; more > 0 {
		p.say(fmt.Sprintf("%d more are less sensitive; %s has them all.", more, p.asks.ForAll()))
	}
	p.say("Each by itself, the rest in line; along the whole travel of its axis, the tip where the axes stand. The last " +
		"column is the share of its misfit by which an indicator, standing on what holds it and " +
		"touching what it holds, or the " +
		"screw beside a nut or a bearing, moves as it is tightened: no movement, no misfit.")
	p.heading("In this order")
	for i, s := range a.Order {
		text := s.What + ": " + s.How
		if s.ReadingUm != nil {
			text += fmt.Sprintf("; an indicator may move %s µm while it is tightened", number.Significant(*s.ReadingUm))
		}
		p.item(fmt.Sprintf("%2d. ", i+1), text+".")
	}
	p.say("What is tightened early is what the rest must fit; what is still loose finds its own place, so of those that " +
		"could come next the most sensitive comes last.")
}

// WriteAlignCSV writes a row for each thing that each misfit locks something into, and for each thing that must be
// aligned.
func WriteAlignCSV(w io.Writer, a answer.Answer) error {
	rows := [][]string{{"option", "what", "name", "at", "where", "force_n", "of_preload_percent", "of_rating_percent",
		"out_of_place", "allowed_um", "limit", "limit_of", "indicator_percent", "tip_size_um", "detail"}}
	for _, r := range eachDetail(a.Options) {
		if m := r.Misfits; m != nil {
			for _, f := range append(slices.Clone(m.Each), *m.Together) {
				tip := ""
				if f.Moved.TipUm != nil {
					tip = one(number.Norm(*f.Moved.TipUm))
				}
				for _, l := range lockedThings(f) {
					row := []string{r.Name, "misfit", f.Name, f.At, l.what, one(l.force), shareOf(l.load, l.preload),
						shareOf(l.load, l.dynamic)}
					rows = append(rows, append(append(append(row, blanks(5)...), tip), r.Detail))
				}
			}
			for _, s := range m.Shims {
				row := []string{r.Name, "shim", s.Name, s.At, s.Layers, one(s.WithN)}
				rows = append(rows, append(append(row, blanks(8)...), r.Detail))
			}
		}
		if r.Align == nil {
			continue
		}
		for _, l := range r.Align.Lines {
			row := append([]string{r.Name, "align", l.What, l.What}, blanks(4)...)
			rows = append(rows, append(row, l.How, one(l.AllowedUm), l.Limit, l.Of, one(100*l.IndicatorShare), "", r.Detail))
		}
	}
	return writeCSV(w, a, rows)
}

func shareOf(v float64, of *float64) string {
	if of == nil || *of == 0 {
		return ""
	}
	return one(100 * v / *of)
}
