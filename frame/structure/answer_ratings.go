package structure

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame"
	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/machine"
)

// staticSafety is what makers ask for with shocks, of carriages (frame/guide) and of screws (frame/drive).
const staticSafety = 3.0

// shortLifeKm is a travel that a small machine makes in some years: an hour a day at 2 m/min is 44 km a year. House
// value.
const shortLifeKm = 500.0

const secondsPerHour = 3600

// hoursOf is how long a travel takes at the axis's rapid move without a stop; nil when that is not said.
func hoursOf(a *machine.FeedAxis, km float64) *float64 {
	if a.Rapid == 0 {
		return nil
	}
	h := km * constant.MMPerKm / a.Rapid / secondsPerHour
	return &h
}

// ratingNotes name what is loaded near its ratings, motors that are asked too much, and what an acceleration leaves
// out.
func (m *Model) ratingNotes(r *answer.Result) (notes []string) {
	notes = append(notes, weakRatings(r.Carriages, r.Drives)...)
	notes = append(notes, m.motorNotes(r.Drives)...)
	return append(notes, m.accelerationNotes()...)
}

// rated is a carriage or a drive under a load.
type rated struct {
	name, load   string
	force        float64 // N
	dynamic      *float64
	safety, life *float64
}

// weakRatings warn of carriages and screws with little static safety, beyond the life law, or of short life.
func weakRatings(carriages []answer.CarriageLoad, drives []answer.DriveLoad) (notes []string) {
	var list []rated
	for _, c := range carriages {
		if c.EquivalentN != nil {
			list = append(list, rated{c.Axis + ", " + c.Guide, c.Load, *c.EquivalentN, c.DynamicN, c.StaticSafety, c.LifeKm})
		}
	}
	for _, d := range drives {
		if d.StaticSafety != nil {
			list = append(list, rated{d.Drive, d.Load, math.Abs(d.ForceN), d.DynamicN, d.StaticSafety, d.LifeKm})
		}
	}
	name, force := func(r rated) string { return r.name }, func(r rated) float64 { return r.force }
	var weak, beyond, short []string
	for _, w := range worstOf(list, name, force) {
		if w.safety != nil && *w.safety < staticSafety {
			weak = append(weak, fmt.Sprintf("%s (%.2g under “%s”)", w.name, *w.safety, w.load))
		}
		switch {
		case w.life == nil:
			beyond = append(beyond, fmt.Sprintf("%s (%.0f N under “%s”, rated %.0f N)", w.name, w.force, w.load, *w.dynamic))
		case *w.life < shortLifeKm:
			short = append(short, fmt.Sprintf("%s (%.2g km under “%s”)", w.name, *w.life, w.load))
		}
	}
	for _, n := range []struct {
		what string
		of   []string
	}{
		{fmt.Sprintf("less than %g times static safety, C0/P0 of ISO 14728-2, of screws C0a/F of ISO 3408-5, with typical "+
			"ratings", staticSafety), weak},
		{"loaded beyond half of the dynamic rating, where the law of life, (C/P)³ of ISO 14728-1, does not hold", beyond},
		{fmt.Sprintf("a life below %g km if the load acted all the time, (C/P)³ of ISO 14728-1 and ISO 3408-5 with typical "+
			"ratings", shortLifeKm), short},
	} {
		if n.of != nil {
			notes = append(notes, n.what+": "+strings.Join(n.of, "; ")+".")
		}
	}
	return notes
}

// worstOf keeps of each name the entry with the largest size, the first of equals, in the order of the names.
func worstOf[T any](all []T, name func(T) string, size func(T) float64) (list []T) {
	for _, t := range all {
		i := slices.IndexFunc(list, func(o T) bool { return name(o) == name(t) })
		switch {
		case i < 0:
			list = append(list, t)
		case size(t) > size(list[i]):
			list[i] = t
		}
	}
	return list
}

// leastSlope is the slope of a screw's shaft in its nut, rad, from which it is noted: common practice, no source.
const leastSlope = 0.5e-3

// beyond is what a misfit brings beyond a limit.
type beyond struct {
	name, misfit string
	share        float64
}

// misfitNotes name what misfits bring beyond the range in which springs hold, and nuts whose shafts are bent aside.
func misfitNotes(found *answer.Misfits) (notes []string) {
	if found == nil {
		return nil
	}
	var lifted, slipped, bent []beyond
	for _, f := range append(slices.Clone(found.Each), *found.Together) {
		for i, c := range f.Carriages {
			if c.EquivalentN != nil && c.PreloadN != nil && *c.PreloadN > 0 {
				lifted = append(lifted, beyond{carriageName(f.Carriages, i), f.Name, *c.EquivalentN / *c.PreloadN})
			}
		}
		for _, s := range f.Screws {
			slipped = append(slipped, beyond{s.Joint, f.Name, s.SlipPercent / 100})
		}
		for _, n := range f.Nuts {
			bent = append(bent, beyond{n.What, f.Name, norm(n.Slope) / leastSlope})
		}
	}
	if list := passed(lifted, "%.0f %%", 100); list != "" {
		notes = append(notes, "the preload is used up by misfits, and springs hold both ways: beyond its preload a carriage "+
			"lifts off and takes no more: "+list+".")
	}
	if list := passed(slipped, "%.0f %%", 100); list != "" {
		notes = append(notes, "joints slip by misfits, and springs hold on: what slips locks in no more: "+list+".")
	}
	if list := passed(bent, "%.2g mrad", 1000*leastSlope); list != "" {
		notes = append(notes, fmt.Sprintf("the shaft slopes by more than %g mrad in its nut where the axes stand, which "+
			"loads the edge of its thread (common practice, no source): %s.", 1000*leastSlope, list))
	}
	return notes
}

// passed lists what is beyond its limit, each thing at its worst.
func passed(all []beyond, format string, times float64) string {
	var list []string
	for _, b := range worstOf(all, func(b beyond) string { return b.name }, func(b beyond) float64 { return b.share }) {
		if b.share > 1 {
			list = append(list, fmt.Sprintf("%s ("+format+" under “%s”)", b.name, times*b.share, b.misfit))
		}
	}
	return strings.Join(list, "; ")
}

// carriageName counts a carriage among those of its guide, from 1.
func carriageName(all []answer.CarriageLoad, number int) string {
	c, n := all[number], 1
	for _, o := range all[:number] {
		if o.Axis == c.Axis && o.Guide == c.Guide {
			n++
		}
	}
	return fmt.Sprintf("%s: %s, carriage %d", c.Axis, c.Guide, n)
}

// accelerationNotes say what the axes that gain speed move, and what of it is not weighed.
func (m *Model) accelerationNotes() (notes []string) {
	var weighed []string
	for i := range m.machine.Axes {
		a := &m.machine.Axes[i]
		if !slices.ContainsFunc(m.machine.Loads, func(l machine.Load) bool { return speedGain(&l, m.machine, a) != 0 }) {
			continue
		}
		kg := 0.0
		for _, h := range m.hung {
			if m.goes(a, h.body) {
				kg += h.tonne * constant.KgPerTonne
			}
		}
		for _, p := range a.Moves {
			tonne, _ := m.bodies[p].mass()
			kg += tonne * constant.KgPerTonne
		}
		for _, b := range m.fittings {
			if m.goes(a, b) {
				tonne, _ := b.mass()
				kg += tonne * constant.KgPerTonne
			}
		}
		weighed = append(weighed, fmt.Sprintf("%s %.3g kg", a.Name, kg))
	}
	if weighed == nil {
		return nil
	}
	return []string{fmt.Sprintf("axes that gain speed move parts, rails, carriages, screws, nuts, motors of known size "+
		"and masses: %s. Not weighed are bearings, couplings, cables, the cutter. A jerk may make the machine swing to "+
		"twice as far as the steady push.", strings.Join(weighed, ", "))}
}

// unstressed is the stress over yield below which it is the rounding of no stress.
const unstressed = 1e-7

// stresses are the largest stress of every part under a load, of those parts whose stress this detail tells: bars and
// narrow plates as members, meshed parts from their elements. A wide plate or a gusset at detail "section" is neither.
func (m *Model) stresses(l *machine.Load, s *state) (list []answer.Stress) {
	for _, b := range m.bodies {
		stress := answer.Stress{Load: l.Name, Part: b.part.Name}
		if !b.stress(m, s, &stress) {
			continue
		}
		if yield := b.part.Material.Yield; yield > 0 {
			stress.YieldMPa = &yield
			if stress.MPa > unstressed*yield {
				times := yield / stress.MPa
				stress.TimesYield = &times
			}
		}
		list = append(list, stress)
	}
	return list
}

// byHand are the estimates a handbook's closed form gives for a load, beside what the frame says of the same thing.
func (m *Model) byHand(l *machine.Load, s *frame.Solution) (list []answer.Hand) {
	if h, ok := m.toolByHand(l, s); ok {
		list = append(list, h)
	}
	return append(list, m.cantileverByHand(l, s)...)
}

// toolByHand is the cutter alone as a cantilever under the force across it.
func (m *Model) toolByHand(l *machine.Load, s *frame.Solution) (answer.Hand, bool) {
	if m.tool == nil || m.tool.node < 0 {
		return answer.Hand{}, false
	}
	var force r3.Vec
	for _, a := range l.Actions {
		if a.Kind == machine.OnTip {
			force = r3.Add(force, a.Force)
			if a.Moment != (r3.Vec{}) {
				return answer.Hand{}, false
			}
		}
	}
	back := m.tool.back()
	across := r3.Sub(force, r3.Scale(r3.Dot(force, back), back))
	if r3.Norm(across) <= stirring*r3.Norm(force) {
		return answer.Hand{}, false
	}
	direction := r3.Unit(across)
	t := m.tool.tool
	var slices []beam.Slice // from the tip
	for _, stretch := range toolStretches(t) {
		section := toolRound(t, stretch.diameter)
		slice := beam.Slice{Length: stretch.length, EI: t.Material.E * section.Iy, GA: t.Material.G() * section.Az}
		slices = append([]beam.Slice{slice}, slices...)
	}
	hand := beam.SteppedCantilever(r3.Norm(across), slices)
	formula := "F·L³/(3·E·I) + F·L/(G·A)"
	if len(slices) > 1 {
		formula = "F·Σ((b³−a³)/(3·E·I) + (b−a)/(G·A)), a to b behind the tip"
	}
	carried := frame.Move(m.tool.foot, r3.Sub(t.At, m.tool.root.at), direction)
	bent := s.Value(frame.Move(m.tool.node, r3.Vec{}, direction).Plus(-1, carried))
	return answer.Hand{What: "tool alone, under " + l.Name, Formula: formula, HandUm: hand * constant.UmPerMM,
		SolvedUm: bent * constant.UmPerMM}, true
}

// cantileverByHand applies to a frame of one bar that is held in all freedoms at one end: point loads across it.
func (m *Model) cantileverByHand(l *machine.Load, s *frame.Solution) (list []answer.Hand) {
	if len(m.bodies) != 1 || !m.bodies[0].slender() || len(m.grounds) != 1 {
		return nil
	}
	b, g := m.bodies[0], m.grounds[0]
	if g.ground.Hold != [6]bool{true, true, true, true, true, true} || len(l.Actions) != 1 ||
		l.Actions[0].Kind != machine.OnPoint {
		return nil
	}
	a := l.Actions[0]
	point := m.points[a.Point]
	up := b.up
	f := r3.Dot(a.Force, up)
	reach := math.Abs(b.along(point.point.At) - b.along(g.places[0]))
	if a.Moment != (r3.Vec{}) || math.Abs(f) < (1-stirring)*r3.Norm(a.Force) || b.section.Iyz != 0 || reach == 0 ||
		math.Abs(r3.Dot(up, b.direction())) > stirring {
		return nil
	}
	hand, _, _ := beam.CantileverTipLoad(f, reach, b.part.Material.E*b.section.Iy)
	solved := s.Value(b.move(m.frame, point.spot, up))
	return []answer.Hand{{What: "bar " + b.part.Name + " as a cantilever, under " + l.Name,
		Formula: "F·L³/(3·E·I), no shear", HandUm: hand * constant.UmPerMM, SolvedUm: solved * constant.UmPerMM}}
}
