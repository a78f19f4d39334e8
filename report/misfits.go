package report

import (
	"fmt"
	"math"
	"slices"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/verdict"
	"tiploop/report/wrap"
)

// misfits is the short table: what each misfit locks in at worst, how far it puts the tip, and what it drags.
func (p *page) misfits(r answer.Result) {
	if r.Misfits == nil {
		return
	}
	p.Heading("Parts that do not line up: what each locks in once it is screwed down")
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
	p.Table([]column{named("misfit"), named("at"), named("worst locked in"), measured("N"), measured("used up, %"),
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
		p.Say(text + ".")
	}
}

func (p *page) shims(list []answer.ShimEffect) {
	for _, s := range list {
		text := fmt.Sprintf("Shim %s, %s under %s: ", wrap.OneLine(s.Name), s.Layers, s.At)
		switch {
		case s.WithoutN < number.Noise:
			text += fmt.Sprintf("%s N locked in where there was nothing", number.Significant(s.WithN))
		default:
			text += fmt.Sprintf("at most %s N locked in become %s N, %s %% of it",
				number.Significant(s.WithoutN), number.Significant(s.WithN), number.Percent(100*s.WithN/s.WithoutN))
		}
		if s.SofterPercent != nil {
			text += fmt.Sprintf("; tip %s %% softer", number.Significant(*s.SofterPercent))
		}
		p.Say(text + ".")
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

// MisfitQuantities compare what all misfits together do.
func MisfitQuantities() (list []verdict.Quantity) {
	for _, l := range misfitLines() {
		list = append(list, verdict.Quantity{Key: l.what, Group: l.what, Unit: l.unit, Value: l.value})
	}
	return list
}

// misfitLines compare what all misfits together do: how far they put the tip out of place, and the most that they use
// up of any preload, rating, slip or opening.
func misfitLines() []comparedLine {
	return []comparedLine{
		{what: "tip out of place by misfits", unit: "µm", value: func(r answer.Result) (float64, bool) {
			if r.Misfits == nil || r.Misfits.Together.Moved.TipUm == nil {
				return 0, false
			}
			return number.Norm(*r.Misfits.Together.Moved.TipUm), true
		}, write: number.Significant, known: func(r answer.Result) *answer.Range {
			if r.Sure == nil {
				return nil
			}
			return r.Sure.MisfitsUm
		}},
		{what: "most used up by misfits", unit: "% of its limit", value: func(r answer.Result) (float64, bool) {
			if r.Misfits == nil {
				return 0, false
			}
			share, of := worstLocked(*r.Misfits.Together).used()
			return limit * share, of != ""
		}, write: number.Percent},
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
	p.Heading("Joints against slip and opening under the misfits")
	p.Table([]column{named("misfit"), named("joint"), measured("pull, N"), measured("shear, N"), measured("of slip, %"),
		measured("of opening, %"), named("verdict")}, rows)
	p.Say(fmt.Sprintf("Listed from %d %% on, as under loads. A joint that slips gives way: it locks in less than "+
		"is said here.",
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
	p.Heading("Locked in, by misfit")
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
	p.Table([]column{named("misfit"), named("where"), measured("N"), measured("of preload, %"), measured("of rating, %"),
		measured("of slip, %"), measured("of opening, %")}, rows)
	rows = nil
	for _, f := range append(slices.Clone(m.Each), *m.Together) {
		if f.Moved.TipUm == nil || f.TurnRad == nil {
			continue
		}
		c := number.Movement(*f.Moved.TipUm, number.Norm(*f.Moved.TipUm))
		turn := [3]float64{1e6 * f.TurnRad[0], 1e6 * f.TurnRad[1], 1e6 * f.TurnRad[2]}
		t := number.Components(turn)
		rows = append(rows, []string{f.Name, c[0], c[1], c[2], t[0], t[1], t[2]})
	}
	if rows != nil {
		p.Heading("The tip put out of place and turned, against the work")
		p.Table([]column{named("misfit"), measured("x, µm"), measured("y, µm"), measured("z, µm"), measured("about x, µrad"),
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
	p.Heading("Life of the worst carriage, km, without the misfits and with all of them")
	p.Table([]column{named("load"), named("guide"), measured("lined up"), measured("with the misfits")}, rows)
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
