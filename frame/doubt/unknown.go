package doubt

import (
	"slices"

	"tiploop/frame"
	"tiploop/frame/chance"
	"tiploop/frame/constant"
)

// Unknown is a number that is not known, over its typical value, with what a screen says of it.
type Unknown struct {
	chance.Unknown
	Name   string // "milled faces"
	Settle string // what would settle it: "push the joint and read it with a dial"

	kind kind
}

// kind is what an unknown is of. Kinds stand in the order in which draws are dealt: the best spread ones go to what
// matters most, which is what many springs share.
type kind int

const (
	ofLaw  kind = iota // of contact
	ofSize             // of the trade
	ofFriction
	ofWork
	ofGround
	ofJoint
	ofPiece
	ofMaterial
	ofModel
	ofScrew
)

// over is a band over its typical value.
func over(b constant.Band) constant.Band {
	return constant.Between(b.Low/b.Typical, 1, b.High/b.Typical)
}

// List are the unknowns of a machine as they come up, each once. Its zero value is empty.
type List struct {
	unknowns []Unknown
	number   map[string]int // by key
}

// With is that a stiffness goes with a power of an unknown; nil for one whose band is a point, which is known.
func (l *List) With(u Unknown, exponent float64) []frame.Power {
	if u.Band.Low == u.Band.High || exponent == 0 {
		return nil
	}
	n, known := l.number[u.Key]
	if !known {
		if l.number == nil {
			l.number = map[string]int{}
		}
		n = len(l.unknowns)
		l.number[u.Key] = n
		l.unknowns = append(l.unknowns, u)
	}
	return []frame.Power{{Unknown: n, Exponent: exponent}}
}

// InOrder returns the unknowns in the order in which draws are dealt, those of one kind as they came up, and where each
// of the list's numbers stands among them.
func (l *List) InOrder() (unknowns []Unknown, place []int) {
	numbers := make([]int, len(l.unknowns))
	for i := range numbers {
		numbers[i] = i
	}
	slices.SortStableFunc(numbers, func(a, b int) int { return int(l.unknowns[a].kind - l.unknowns[b].kind) })
	place = make([]int, len(numbers))
	for i, n := range numbers {
		unknowns = append(unknowns, l.unknowns[n])
		place[n] = i
	}
	return unknowns, place
}

// Renumbered is a law with its unknowns at other places.
func Renumbered(l frame.Law, place []int) frame.Law {
	row := make([]frame.Give, len(l.Row))
	for i, g := range l.Row {
		row[i] = frame.Give{Typical: g.Typical, Of: Moved(g.Of, place)}
	}
	return frame.Law{Beside: l.Beside, Row: row}
}

// Moved are powers with their unknowns at other places; what goes with one unknown twice is added up.
func Moved(powers []frame.Power, place []int) (list []frame.Power) {
	for _, p := range powers {
		p.Unknown = place[p.Unknown]
		if i := slices.IndexFunc(list, func(o frame.Power) bool { return o.Unknown == p.Unknown }); i >= 0 {
			list[i].Exponent += p.Exponent
			continue
		}
		list = append(list, p)
	}
	return list
}
