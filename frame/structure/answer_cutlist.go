package structure

import (
	"cmp"
	"math"
	"slices"

	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/machine"
)

// cutList are the parts as pieces of stock, those of one stock and size together, the heaviest first.
func (m *Model) cutList() []answer.CutLine {
	list := []answer.CutLine{}
	for _, b := range m.bodies {
		piece := b.piece()
		same := slices.IndexFunc(list, func(l answer.CutLine) bool { return alikePieces(l, piece) })
		if same < 0 {
			list = append(list, piece)
			continue
		}
		list[same].Parts = append(list[same].Parts, piece.Parts...)
	}
	slices.SortStableFunc(list, func(a, b answer.CutLine) int { return cmp.Compare(b.MassKg, a.MassKg) })
	return list
}

// piece is a part as it is sawn: a plate by its three sides, the longest first; a gusset by its two legs and its
// thickness; a bar by its length.
func (b *body) piece() answer.CutLine {
	tonne, _ := b.mass()
	l := answer.CutLine{Kind: b.part.Kind().KindName(), Material: b.part.Material.Key, Parts: []string{b.part.Name},
		MassKg: tonne * constant.KgPerTonne}
	if b.part.Bar != nil {
		l.Section, l.SizeMM = b.section.Name, [3]float64{b.length}
		return l
	}
	for k := machine.X; k <= machine.Z; k++ {
		l.SizeMM[k] = b.fills.size(k)
	}
	if g := b.part.Gusset; g != nil {
		k, thick := along1(g.Thickness)
		p, q := k.Others()
		legs := [2]float64{b.fills.size(p), b.fills.size(q)}
		l.SizeMM = [3]float64{math.Max(legs[0], legs[1]), math.Min(legs[0], legs[1]), math.Abs(thick)}
		return l
	}
	slices.SortFunc(l.SizeMM[:], func(x, y float64) int { return cmp.Compare(y, x) })
	return l
}

// alikePieces tells whether two pieces are of one stock and size. Bars of one name may differ in what they weigh, where
// their sections are given by numbers.
func alikePieces(a, b answer.CutLine) bool {
	if a.Kind != b.Kind || a.Section != b.Section || a.Material != b.Material ||
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

// barStock are the lengths of bar by section and material.
func barStock(cuts []answer.CutLine) []answer.BarStock {
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
