package phrase

import (
	"math"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/wrap"
)

// Point names a point, with what it is read against if that is not the ground: "edge against base".
func Point(r answer.Result, name string) string {
	words := wrap.OneLine(name)
	if against := r.Against[name]; against != "" {
		words += " against " + wrap.OneLine(against)
	}
	return words
}

// HundredthUm is what most dial indicators are divided in: a hundredth of a millimetre, µm.
const HundredthUm = 10

// WorstSurface is the surface that is farthest off, the first of equals; nil when none is off.
func WorstSurface(l answer.CutLevel) *answer.SurfaceError {
	var worst *answer.SurfaceError
	for i := range l.Surfaces {
		v := math.Abs(l.Surfaces[i].Worst())
		if v >= number.Noise && (worst == nil || number.Exceeds(v, math.Abs(worst.Worst()))) {
			worst = &l.Surfaces[i]
		}
	}
	return worst
}

// Surface says which way a surface is off: "12.0 µm left standing".
func Surface(s answer.SurfaceError) string {
	by := number.Significant(math.Abs(s.Worst())) + " µm"
	switch {
	case number.Norm(s.Normal) == 0:
		return by + " aside"
	case s.Worst() < 0:
		return by + " too much taken"
	}
	return by + " left standing"
}

// DepthEnd says what ends the depth of a cut, by its word in the answer.
func DepthEnd(by string) string {
	switch by {
	case "tolerance":
		return "the tolerance ends it"
	case "flute length":
		return "the flutes end"
	case "diameter":
		return "it is as deep as the cutter is wide, and chips jam in deeper slots"
	case "swing":
		return "the tip swings by a tenth of the cutter's diameter"
	}
	return "the spindle's " + by + " ends it"
}

// SweptHead is a value that is swept with its unit, as the head of a column.
func SweptHead(v answer.SweptValue) string {
	if v.Unit == "" {
		return wrap.OneLine(v.Name)
	}
	return wrap.OneLine(v.Name) + ", " + v.Unit
}
