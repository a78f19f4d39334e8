package phrase

import (
	"math"
	"slices"

	"tiploop/frame/answer"
	"tiploop/report/number"
)

// Depth writes a depth, mm, as finely as a drill press keeps one: to the tenth.
func Depth(mm float64) string { return number.Length(math.Round(10*mm) / 10) }

// Hole says what a hole is: "M6 tapped, 12 deep", "M6 through, sunk Ø11 × 6 on top".
func Hole(h answer.HoleLine) string {
	switch {
	case h.Kind == answer.BoredHole:
		return "bored to size"
	case h.Kind == answer.TappedHole && h.DepthMM == 0:
		return h.Screw + " tapped, as deep as its wall"
	case NoThread(h):
		return h.Screw + ": cannot be, no metal for a thread"
	case h.Kind == answer.TappedHole && h.OutOn != "":
		return h.Screw + " tapped through"
	case h.Kind == answer.TappedHole:
		return h.Screw + " tapped, " + Depth(h.ThreadMM) + " deep"
	case h.SinkMM > 0:
		return h.Screw + " through, sunk Ø" + number.Length(h.SinkMM) + " × " + Depth(h.SinkDepthMM) + " on " + h.OutOn
	}
	return h.Screw + " through"
}

// NoThread tells whether a hole cannot be, because the metal leaves its thread no length.
func NoThread(h answer.HoleLine) bool {
	return h.Kind == answer.TappedHole && h.DepthMM > 0 && h.ThreadMM == 0
}

// HoleDepth says how deep the drill goes at its full diameter, mm; "through" of a hole that comes out,
// "none" of one that cannot be.
func HoleDepth(h answer.HoleLine) string {
	switch {
	case h.OutOn != "":
		return "through"
	case h.DepthMM == 0:
		return "wall"
	case NoThread(h):
		return "none"
	}
	return Depth(h.DepthMM)
}

// Drilled counts what there is to drill: "22 through holes and 22 tapped holes"; "" where there is nothing.
func Drilled(h answer.Holes) string {
	if h.Through+h.Tapped+h.Bored == 0 {
		return ""
	}
	list := []string{Count(h.Through, "through hole"), Count(h.Tapped, "tapped hole")}
	if h.Bored > 0 {
		list = append(list, Count(h.Bored, "bore"))
	}
	return List(list)
}

// Drills are the diameters of the drills that holes ask for, mm, small to large, those of the bores, and the taps.
func Drills(holes []answer.HoleLine) (drills, bores []float64, taps []string) {
	for _, h := range holes {
		into := &drills
		if h.Kind == answer.BoredHole {
			into = &bores
		}
		if !slices.Contains(*into, h.DrillMM) {
			*into = append(*into, h.DrillMM)
		}
		if h.Kind == answer.TappedHole && !slices.Contains(taps, h.Screw) {
			taps = append(taps, h.Screw)
		}
	}
	slices.Sort(drills)
	slices.Sort(bores)
	slices.SortFunc(taps, func(a, b string) int { // M8 before M10
		if len(a) != len(b) {
			return len(a) - len(b)
		}
		if a < b {
			return -1
		}
		return 1
	})
	return drills, bores, taps
}

// liftKg is the mass, kg, from which a part is lifted with help: the reference mass of ISO 11228-1 for nearly all grown
// people (from memory).
const liftKg = 15

// Heavy is the heaviest part of a machine, and whether it is to be lifted with help; "" when there are no parts.
func Heavy(inv answer.Inventory) (part string, kg float64, help bool) {
	for _, p := range inv.Parts {
		if p.MassKg > kg {
			part, kg = p.Name, p.MassKg
		}
	}
	return part, kg, kg >= liftKg
}
