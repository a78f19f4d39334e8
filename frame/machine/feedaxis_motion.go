package machine

import (
	"fmt"
	"slices"
	"strings"
)

// What an axis moves follows from the joints: parts joined to one another are one piece, and an axis carries pieces.
// The other side of its guides and drives is what it stands on. An axis that stands on a piece that another axis
// carries is stacked on that axis and goes along.

// motion finds what moves with what. Its faults are those of axes that no machine can have.
type motion struct {
	m       *Machine
	piece   []int          // of each part: the lowest number of a part of its piece
	carried []map[int]bool // pieces, by axis
	under   []map[int]bool // pieces that the axis stands on
	faults  Faults
}

// findMoves fills in what every axis moves.
func (m *Machine) findMoves() Faults {
	if len(m.Axes) == 0 {
		return nil
	}
	o := &motion{m: m}
	o.findPieces()
	o.findSides()
	if o.faults == nil {
		o.findShared()
	}
	if o.faults == nil {
		o.findStacks()
	}
	return o.faults
}

func (o *motion) fault(at FilePos, hint, format string, args ...any) {
	o.faults = append(o.faults, Fault{File: o.m.File, Pos: at, What: fmt.Sprintf(format, args...), Hint: hint})
}

// findPieces numbers the pieces.
func (o *motion) findPieces() {
	o.piece = make([]int, len(o.m.Parts))
	for i := range o.piece {
		o.piece[i] = i
	}
	for grew := true; grew; {
		grew = false
		for _, j := range o.m.Joints {
			a, b := o.piece[j.Parts[0]], o.piece[j.Parts[1]]
			if a != b {
				o.piece[j.Parts[0]], o.piece[j.Parts[1]], grew = min(a, b), min(a, b), true
			}
		}
	}
}

// chain names the parts by which one is joined to another: "table – saddle – base".
func (o *motion) chain(from, to int) string {
	before := map[int]int{from: from}
	for queue := []int{from}; len(queue) > 0; queue = queue[1:] {
		for _, j := range o.m.Joints {
			for _, ends := range [][2]int{j.Parts, {j.Parts[1], j.Parts[0]}} {
				if _, seen := before[ends[1]]; ends[0] == queue[0] && !seen {
					before[ends[1]] = ends[0]
					queue = append(queue, ends[1])
				}
			}
		}
	}
	names := []string{o.m.Parts[to].Name}
	for p := to; p != from; {
		p = before[p]
		names = append(names, o.m.Parts[p].Name)
	}
	slices.Reverse(names)
	return strings.Join(names, " – ")
}

// findSides tells for each axis which pieces it carries and which it stands on.
func (o *motion) findSides() {
	for i := range o.m.Axes {
		a := &o.m.Axes[i]
		o.carried = append(o.carried, map[int]bool{})
		o.under = append(o.under, map[int]bool{})
		for _, p := range a.Carries {
			o.carried[i][o.piece[p]] = true
			for _, g := range o.m.Grounds {
				if o.piece[g.Part] == o.piece[p] {
					o.fault(a.Pos, "take out the joint or the ground that holds it",
						"axis %s cannot move %s: it is held to the ground (%s)", a.Name, o.m.Parts[p].Name, o.chain(p, g.Part))
					break
				}
			}
		}
		if o.faults != nil {
			continue
		}
		for _, g := range a.Guides {
			o.side(i, g.Pos, g.Name, g.Part, g.On)
		}
		for _, d := range a.Drives {
			name := strings.TrimSpace("drive " + d.Name)
			o.side(i, d.Pos, name, d.Part, d.On)
			if d.Far != nil {
				o.side(i, d.Pos, name, d.Part, *d.Far)
			}
		}
	}
}

// side sorts the two parts of a guide or drive.
func (o *motion) side(axis int, at FilePos, what string, part, on int) {
	a := &o.m.Axes[axis]
	names := [2]string{o.m.Parts[part].Name, o.m.Parts[on].Name}
	carries := [2]bool{o.carried[axis][o.piece[part]], o.carried[axis][o.piece[on]]}
	switch {
	case carries[0] && carries[1] && o.piece[part] == o.piece[on]:
		o.fault(at, "take one of these joints out", "axis %s carries itself: its %s is between %s and %s, which are joined "+
			"(%s)", a.Name, what, names[0], names[1], o.chain(part, on))
	case carries[0] && carries[1]:
		o.fault(at, fmt.Sprintf("take one of them out of carries, or stand the %s on what does not move", what),
			"axis %s carries itself: it carries both %s and %s, the two sides of its %s", a.Name, names[0], names[1], what)
	case carries[0]:
		o.under[axis][o.piece[on]] = true
	case carries[1]:
		o.under[axis][o.piece[part]] = true
	default:
		o.fault(at, fmt.Sprintf("one side must be among what it carries, %s, or joined to it", o.carriesText(axis)),
			"axis %s carries neither %s nor %s, the two sides of its %s", a.Name, names[0], names[1], what)
	}
}

func (o *motion) carriesText(axis int) string {
	var names []string
	for _, p := range o.m.Axes[axis].Carries {
		names = append(names, o.m.Parts[p].Name)
	}
	return strings.Join(names, ", ")
}

// findShared looks for pieces that two axes carry: the one below may name what an axis stacked on it carries; otherwise
// they fight.
func (o *motion) findShared() {
	for i := range o.m.Axes {
		for k := range i {
			for p := range o.m.Parts { // in the order of the file
				if o.piece[p] != p || !o.carried[i][p] || !o.carried[k][p] {
					continue
				}
				switch {
				case o.standsOn(i, k, p):
					delete(o.carried[k], p)
				case o.standsOn(k, i, p):
					delete(o.carried[i], p)
				default:
					o.fight(k, i, p)
				}
			}
		}
	}
}

// standsOn tells whether an axis stands on something that another one carries beside a piece.
func (o *motion) standsOn(upper, lower, beside int) bool {
	for p := range o.under[upper] {
		if p != beside && o.carried[lower][p] {
			return true
		}
	}
	return false
}

// fight reports two axes that carry the same piece.
func (o *motion) fight(first, second, piece int) {
	a, b := &o.m.Axes[first], &o.m.Axes[second]
	var what string
	for _, p := range b.Carries {
		if o.piece[p] == piece {
			what = o.m.Parts[p].Name
			break
		}
	}
	if a.Along == b.Along {
		o.fault(b.Pos, "make them one axis: a list under drive gives it two drives",
			"axes %s and %s both move %s along %s and fight each other", a.Name, b.Name, what, a.Along)
		return
	}
	o.fault(b.Pos, "put a part between them, such as a saddle, that one carries and the other stands on",
		"%s is carried by both %s and %s, and neither stands on the other", what, a.Name, b.Name)
}

// findStacks follows axes that stand on one another and lists what each moves.
func (o *motion) findStacks() {
	n := len(o.m.Axes)
	moves := make([][]bool, n) // moves[i][k]: axis k goes along with axis i
	for i := range n {
		moves[i] = make([]bool, n)
		for k := range n {
			for p := range o.under[k] {
				moves[i][k] = moves[i][k] || i != k && o.carried[i][p]
			}
		}
	}
	for via := range n {
		for i := range n {
			for k := range n {
				moves[i][k] = moves[i][k] || moves[i][via] && moves[via][k]
			}
		}
	}
	for i := range n {
		if moves[i][i] {
			var names []string
			for k := range n {
				if moves[i][k] && moves[k][i] {
					names = append(names, o.m.Axes[k].Name)
				}
			}
			o.fault(o.m.Axes[i].Pos, "let one of them stand on a part that none of them carries",
				"axes %s stand on one another in a ring", strings.Join(names, ", "))
			return
		}
	}
	for k := range n {
		for i := range n {
			if on := o.carriedOf(k, i, moves[i]); moves[i][k] && on != len(o.under[k]) {
				o.fault(o.m.Axes[k].Pos, "stand it on parts that move together", "axis %s stands on parts that axis %s moves apart",
					o.m.Axes[k].Name, o.m.Axes[i].Name)
			}
		}
	}
	for i := range n {
		a := &o.m.Axes[i]
		a.Moves = nil
		for p := range o.m.Parts {
			goes := o.carried[i][o.piece[p]]
			for k := range n {
				goes = goes || moves[i][k] && o.carried[k][o.piece[p]]
			}
			if goes {
				a.Moves = append(a.Moves, p)
			}
		}
	}
}

// carriedOf counts the pieces an axis stands on that another moves, by itself or through axes that go along with it.
func (o *motion) carriedOf(upper, lower int, along []bool) (count int) {
	for p := range o.under[upper] {
		goes := o.carried[lower][p]
		for k := range along {
			goes = goes || along[k] && o.carried[k][p]
		}
		if goes {
			count++
		}
	}
	return count
}
