package report

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

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
		p.notes(r.Notes)
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
		used, of := worst.used()
		share := absent
		if of != "" {
			share = number.Percent(100 * used)
		} else {
			of = absent
		}
		rows = append(rows, []string{f.Name, f.At, worst.what, number.Significant(worst.force), share, of, moved, drag})
	}
	p.table([]column{named("misfit"), named("at"), named("worst locked in"), measured("N"), measured("used up, %"),
		named("of"), measured("tip, µm"), measured("drag, N")}, rows)
	p.slippingByMisfits(*r.Misfits)
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
	slip, open       *float64 // of what makes a screw's joint slip or open; nil: no screw's
}

// used is how much of a limit is used up, and of which; "" of what has none.
func (l locked) used() (share float64, of string) {
	for _, u := range []struct {
		load     float64
		limit    *float64
		limiting string
	}{{l.load, l.preload, "preload"}, {l.load, l.dynamic, "rating"}} {
		if u.limit == nil || *u.limit == 0 {
			continue
		}
		if v := u.load / *u.limit; of == "" || number.Exceeds(v, share) {
			share, of = v, u.limiting
		}
	}
	if l.slip != nil && (of == "" || number.Exceeds(*l.slip, share)) {
		share, of = *l.slip, "slip"
	}
	if l.open != nil && (of == "" || number.Exceeds(*l.open, share)) {
		share, of = *l.open, "opening"
	}
	return share, of
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
		slip, open := s.SlipPercent/limit, s.OpenPercent/limit
		list = append(list, locked{what: "screw of " + s.Joint, force: math.Hypot(s.TensionN, s.ShearN), slip: &slip,
			open: &open})
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

// worstLocked is what has used up most of a limit, the first of equals; of what has none, what carries most.
func worstLocked(f answer.Misfit) (worst locked) {
	worst.what = "nothing"
	most, limited := 0.0, ""
	for _, l := range lockedThings(f) {
		if l.force < number.Noise {
			continue
		}
		used, of := l.used()
		if number.Exceeds(used, most) || limited == "" && (of != "" && used > 0 || number.Exceeds(l.force, worst.force)) {
			worst, most, limited = l, used, of
		}
	}
	return worst
}

// misfitLines compare what all misfits together do: how far they put the tip out of place, and the most that they use
// up of any preload, rating, slip or opening.
func misfitLines() []comparedLine {
	return []comparedLine{
		{"tip out of place by misfits", "µm", func(r answer.Result) (float64, bool) {
			if r.Misfits == nil || r.Misfits.Together.Moved.TipUm == nil {
				return 0, false
			}
			return number.Norm(*r.Misfits.Together.Moved.TipUm), true
		}, number.Significant},
		{"most used up by misfits", "% of its limit", func(r answer.Result) (float64, bool) {
			if r.Misfits == nil {
				return 0, false
			}
			share, of := worstLocked(*r.Misfits.Together).used()
			return limit * share, of != ""
		}, number.Percent},
	}
}

// mostForce is the largest force that a misfit locks in, N.
func mostForce(f answer.Misfit) (most float64) {
	for _, l := range lockedThings(f) {
		most = max(most, l.force)
	}
	return most
}

// slippingByMisfits lists the joints that are near to slip or opening by what misfits lock in alone.
func (p *page) slippingByMisfits(m answer.Misfits) {
	var rows [][]string
	for _, f := range append(slices.Clone(m.Each), *m.Together) {
		for _, s := range f.Screws {
			if nearLimits(s) {
				rows = append(rows, []string{f.Name, s.Joint, number.Significant(s.TensionN), number.Significant(s.ShearN),
					number.Percent(s.SlipPercent), number.Percent(s.OpenPercent), screwVerdict(s)})
			}
		}
	}
	if rows == nil {
		return
	}
	p.heading("Joints against slip and opening under the misfits")
	p.table([]column{named("misfit"), named("joint"), measured("pull, N"), measured("shear, N"), measured("of slip, %"),
		measured("of opening, %"), named("verdict")}, rows)
	p.say(fmt.Sprintf("Listed from %d %% on, as under loads. A joint that slips gives way: it locks in less than is said here.",
		nearLimit))
}

// slippedByMisfits tells whether misfits alone bring a joint near to slip or opening.
func slippedByMisfits(m *answer.Misfits) bool {
	if m == nil {
		return false
	}
	return slices.ContainsFunc(append(slices.Clone(m.Each), *m.Together), func(f answer.Misfit) bool {
		return slices.ContainsFunc(f.Screws, nearLimits)
	})
}

// nearLimits tells whether a screw is to be listed.
func nearLimits(s answer.ScrewLoad) bool { return max(s.SlipPercent, s.OpenPercent) >= nearLimit }

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

// percent writes a share in percent, a dash where there is none.
func percent(share *float64) string {
	if share == nil {
		return absent
	}
	return number.Percent(limit * *share)
}

// leastLocked is the share of the worst force below which a text leaves out what is locked in.
const leastLocked = 0.01

// lockedIn lists everything that each misfit reaches, and what is left of lives.
func (p *page) lockedIn(m answer.Misfits) {
	p.heading("Locked in, by misfit")
	var rows [][]string
	for _, f := range append(slices.Clone(m.Each), *m.Together) {
		least := max(number.Noise, leastLocked*mostForce(f))
		for _, l := range lockedThings(f) {
			if l.force < least {
				continue
			}
			rows = append(rows, []string{f.Name, l.what, number.Significant(l.force), percentOf(l.load, l.preload),
				percentOf(l.load, l.dynamic), percent(l.slip), percent(l.open)})
		}
	}
	p.table([]column{named("misfit"), named("where"), measured("N"), measured("of preload, %"), measured("of rating, %"),
		measured("of slip, %"), measured("of opening, %")}, rows)
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
		p.say("Nothing here has a limit: no carriage or nut has a rating, no joint is screwed, and no path or cut gives the tip a tolerance.")
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
	p.say("Each by itself, the rest in line; along the whole travel of its axis, tip and joints where the axes stand. The last " +
		"column is the share of its misfit by which an indicator, standing on what holds it and " +
		"touching what it holds, or the " +
		"screw beside a nut or a bearing, moves as it is tightened: no movement, no misfit. A twist is the " +
		"angle between the two ends of a rail, over its whole length, said as a rise across it.")
	if slices.ContainsFunc(a.Lines, func(l answer.AlignLine) bool { return strings.HasSuffix(l.What, "nut") }) {
		p.say("A nut or a bearing is tried beside its line; how far a nut is tilted is not looked at. How far its shaft " +
			"slopes in it, by being bent aside, is in " + p.asks.ForAll() + ", and noted where it is much.")
	}
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
		"of_slip_percent", "of_opening_percent", "out_of_place", "allowed_um", "limit", "limit_of", "indicator_percent", "tip_size_um", "detail"}}
	for _, r := range eachDetail(a.Options) {
		if m := r.Misfits; m != nil {
			for _, f := range append(slices.Clone(m.Each), *m.Together) {
				tip := ""
				if f.Moved.TipUm != nil {
					tip = one(number.Norm(*f.Moved.TipUm))
				}
				for _, l := range lockedThings(f) {
					row := []string{r.Name, "misfit", f.Name, f.At, l.what, one(l.force), shareOf(l.load, l.preload),
						shareOf(l.load, l.dynamic), oneOf(l.slip), oneOf(l.open)}
					rows = append(rows, append(append(append(row, blanks(5)...), tip), r.Detail))
				}
			}
			for _, s := range m.Shims {
				row := []string{r.Name, "shim", s.Name, s.At, s.Layers, one(s.WithN)}
				rows = append(rows, append(append(row, blanks(10)...), r.Detail))
			}
		}
		if r.Align == nil {
			continue
		}
		for _, l := range r.Align.Lines {
			row := append([]string{r.Name, "align", l.What, l.What}, blanks(6)...)
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

// oneOf writes a share in percent, nothing where there is none.
func oneOf(share *float64) string {
	if share == nil {
		return ""
	}
	return one(limit * *share)
}
