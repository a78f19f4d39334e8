package doubt

import (
	"slices"

	"tiploop/frame"
)

// Typical is the stiffness of a law at typical numbers.
func Typical(l frame.Law) float64 {
	if give := total(l.Row); give > 0 {
		return l.Beside + 1/give
	}
	return l.Beside
}

func total(row []frame.Give) (give float64) {
	for _, g := range row {
		give += g.Typical
	}
	return give
}

// Scaled is a law that goes as another one does and has a stiffness of its own at typical numbers: of springs that are
// made of one spring by levers, or by their number.
func Scaled(l frame.Law, stiffness float64) frame.Law {
	by := stiffness / Typical(l)
	out := frame.Law{Beside: by * l.Beside}
	for _, g := range l.Row {
		out.Row = append(out.Row, frame.Give{Typical: g.Typical / by, Of: g.Of})
	}
	return out
}

// Whole is the law of a spring all of which goes with the same powers.
func Whole(stiffness float64, of ...[]frame.Power) frame.Law {
	return frame.Law{Row: []frame.Give{{Typical: 1 / stiffness, Of: slices.Concat(of...)}}}
}

// FirstOrder are the powers with which the stiffness of a row goes near its typical numbers: each give counts by its
// share of them all.
func FirstOrder(row []frame.Give) (list []frame.Power) {
	sum := total(row)
	for _, g := range row {
		list = append(list, Times(g.Of, g.Typical/sum)...)
	}
	return list
}

// Times are powers with their exponents times a factor.
func Times(powers []frame.Power, by float64) (list []frame.Power) {
	for _, p := range powers {
		list = append(list, frame.Power{Unknown: p.Unknown, Exponent: by * p.Exponent})
	}
	return list
}
