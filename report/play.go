package report

import (
	"fmt"
	"slices"

	"tiploop/frame/answer"
	"tiploop/report/number"
)

// play lists what has play and what the tip loses to it.
func (p *page) play(r answer.Result) {
	if len(r.Play) == 0 {
		return
	}
	p.Heading("Play: what the tip loses, beside the above, when a push turns round")
	var rows [][]string
	for _, l := range r.Play {
		c := number.Movement(l.TipUm, number.Norm(l.TipUm))
		rows = append(rows, []string{l.Source, number.Significant(l.PlayUm),
			number.Significant(l.PlayUm90[0]) + " to " + number.Significant(l.PlayUm90[1]), number.Significant(l.RestingN),
			c[0], c[1], c[2]})
	}
	p.Table([]column{named("play of"), measured("gap, µm"), measured("low to high"), measured("weight holds, N"),
		measured("tip x, µm"), measured("y, µm"), measured("z, µm")}, rows)
	rows = nil
	for _, l := range r.Loads {
		if l.LostMotionUm != nil {
			c := number.Movement(*l.LostMotionUm, number.Norm(*l.LostMotionUm))
			rows = append(rows, []string{l.Name, c[0], c[1], c[2], number.Significant(*l.LostMotionSizeUm),
				number.Significant(l.LostMotionSizeUm90[0]) + " to " + number.Significant(l.LostMotionSizeUm90[1])})
		}
	}
	if free := r.Tip.LostMotionUm; free != nil {
		p.Say(fmt.Sprintf("Where no weight holds a gap closed, a push that turns round loses %s µm along x, %s along y, %s "+
			"along z. A gap that the machine's own weight holds opens under a push that is against it and larger; friction "+
			"is left out.", number.Significant(free.X), number.Significant(free.Y), number.Significant(free.Z)))
	}
	if len(rows) > 0 {
		p.Table([]column{named("lost under"), measured("x, µm"), measured("y, µm"), measured("z, µm"), measured("size, µm"),
			measured("low to high")}, rows)
	}
}

// playAlong says what a load loses to play beside its movement along a path.
func (p *page) playAlong(t answer.Travel) {
	if t.LostMotionUm == nil {
		return
	}
	p.Say(fmt.Sprintf("Play adds %s µm when the push turns round, with the axes where they stand.",
		number.Significant(number.Norm(*t.LostMotionUm))))
}

// anyPlay tells whether anything in any of the answers has play.
func anyPlay(details []answer.Result) bool {
	return slices.ContainsFunc(details, func(r answer.Result) bool { return len(r.Play) > 0 })
}

// lostHead are the CSV columns of lost motion; none where nothing has play.
func lostHead(of string, details []answer.Result) []string {
	if !anyPlay(details) {
		return nil
	}
	return xyz(of, "um")
}

// lostCells are a vector's cells under lostHead; blank for a load that loses nothing to tell.
func lostCells(um *[3]float64, head []string) []string {
	switch {
	case len(head) == 0:
		return nil
	case um == nil:
		return blanks(3)
	}
	return three(*um, number.Noise)
}
