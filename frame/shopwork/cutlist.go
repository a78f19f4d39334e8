package shopwork

import (
	"cmp"
	"math"
	"slices"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
)

// CutList puts pieces of one stock and size together, the heaviest first. Each piece has one name in Parts.
func CutList(pieces []answer.CutLine) []answer.CutLine {
	list := []answer.CutLine{}
	for _, piece := range pieces {
		same := slices.IndexFunc(list, func(l answer.CutLine) bool { return alikePieces(l, piece) })
		if same < 0 {
			piece.Parts = slices.Clone(piece.Parts)
			list = append(list, piece)
			continue
		}
		list[same].Parts = append(list[same].Parts, piece.Parts...)
	}
	slices.SortStableFunc(list, func(a, b answer.CutLine) int { return cmp.Compare(b.MassKg, a.MassKg) })
	return list
}

// alikePieces tells whether two pieces are of one stock and size. Bars of one name may differ in what they weigh, where
// their sections are given by numbers.
func alikePieces(a, b answer.CutLine) bool {
	if a.Kind != b.Kind || a.Outline != b.Outline || a.Section != b.Section || a.Material != b.Material ||
		math.Abs(a.MassKg-b.MassKg) > alikeMass*a.MassKg {
		return false
	}
	for k := range a.SizeMM {
		if math.Abs(a.SizeMM[k]-b.SizeMM[k]) > machine.Touching {
			return false
		}
	}
	return true
}

// alikeMass is by what share the masses of alike pieces may differ: what Touching makes of a length of some millimetres.
const alikeMass = 1e-3

// BarStock returns the lengths of bar by section and material.
func BarStock(cuts []answer.CutLine) []answer.BarStock {
	list := []answer.BarStock{}
	for _, c := range cuts {
		if c.Kind != (*machine.Bar)(nil).KindName() {
			continue
		}
		i := slices.IndexFunc(list, func(s answer.BarStock) bool {
			return s.Section == c.Section && s.Material == c.Material
		})
		if i < 0 {
			i = len(list)
			list = append(list, answer.BarStock{Section: c.Section, Material: c.Material})
		}
		n := len(c.Parts)
		list[i].Pieces += n
		list[i].LengthMM += float64(n) * c.SizeMM[0]
		list[i].MassKg += float64(n) * c.MassKg
	}
	return list
}
