package report

import (
	"fmt"
	"slices"

	"tiploop/frame/answer"
	"tiploop/report/number"
)

// The ends of a range stand behind all other columns: low and high are named as the number between them is.

// ends are the heads of a range, of which nine draws in ten lie between.
func ends(head string) []string { return []string{head + "_low", head + "_high"} }

// endCells are the ends of a range; blank where nothing was drawn.
func endCells(r *answer.Range) []string {
	if r == nil {
		return blanks(2)
	}
	return []string{one(r.Low), one(r.High)}
}

// directionsOfTip are those of the stiffness at the tip, as its columns and answer.Result.StiffnessRange name them.
var directionsOfTip = []string{"x", "y", "z", "softest"}

// tipRanges are what the rows of tip say of draws. Points have a size here, which is what is drawn of them.
type tipRanges struct {
	points []string
	cuts   bool
	risks  []answer.Risk // what does not hold in any draw under any load, and how
	checks int           // pushes of the option that has most of them
}

// tipRangesOf gathers them over all options, in the order in which they are met.
func tipRangesOf(details []answer.Result, points []string) tipRanges {
	t := tipRanges{points: points}
	for _, r := range details {
		t.cuts = t.cuts || len(r.Cuts) > 0
		t.checks = max(t.checks, len(r.Check))
		if r.Sure == nil {
			continue
		}
		for _, k := range r.Sure.Risks {
			if kind := (answer.Risk{What: k.What, How: k.How}); !slices.Contains(t.risks, kind) {
				t.risks = append(t.risks, kind)
			}
		}
	}
	return t
}

// head names the columns.
func (t tipRanges) head() (head []string) {
	for _, direction := range directionsOfTip {
		head = append(head, ends("stiffness_"+direction+"_n_per_um")...)
	}
	head = append(head, ends("tip_size_um")...)
	for _, point := range t.points {
		size := "point " + point + " size_um"
		head = append(append(head, size), ends(size)...)
	}
	if t.cuts {
		head = append(head, ends("cut_typical_deepest_mm")...)
	}
	for _, k := range t.risks {
		head = append(head, k.What+" "+k.How+"_percent")
	}
	for i := range t.checks {
		check := fmt.Sprintf("check_%d_", i+1)
		head = append(append(head, check+"pushed"), xyz(check+"direction_", "unit_vector")...)
		head = append(append(head, check+"force_n", check+"reading_um"), ends(check+"reading_um")...)
	}
	return head
}

// cells are those of a load on an option: a risk that no draw has is blank, as is all that was not drawn.
func (t tipRanges) cells(r answer.Result, l answer.LoadResult) (cells []string) {
	for _, direction := range directionsOfTip {
		cells = append(cells, endCells(r.StiffnessRange(direction))...)
	}
	cells = append(cells, endCells(r.MovementRange(l.Name, ""))...)
	for _, point := range t.points {
		size := ""
		if um, ok := l.PointsUm[point]; ok {
			size = one(number.Norm(um))
		}
		cells = append(append(cells, size), endCells(r.MovementRange(l.Name, point))...)
	}
	if t.cuts {
		var drawn *answer.Range
		if i := slices.IndexFunc(r.Cuts, func(c answer.CutResult) bool { return c.Load == l.Name }); i >= 0 {
			drawn = r.DepthRange(r.Cuts[i].Name)
		}
		cells = append(cells, endCells(drawn)...)
	}
	for _, k := range t.risks {
		cells = append(cells, riskCell(r, answer.Risk{Load: l.Name, What: k.What, How: k.How}))
	}
	return append(cells, t.checkCells(r)...)
}

// riskCell is in how many of 100 draws something does not hold; blank when it holds in all, or was not drawn.
func riskCell(r answer.Result, of answer.Risk) string {
	if r.Sure == nil {
		return ""
	}
	for _, k := range r.Sure.Risks {
		if k.Load == of.Load && k.What == of.What && k.How == of.How {
			return number.Full(k.Percent)
		}
	}
	return ""
}

// checkCells are the pushes of an option and what the dial reads, in every row of it.
func (t tipRanges) checkCells(r answer.Result) (cells []string) {
	for i := range t.checks {
		if i >= len(r.Check) {
			cells = append(cells, blanks(8)...)
			continue
		}
		c := r.Check[i]
		cells = append(append(cells, c.Part+": "+c.Place), three(c.Direction, number.NoiseInVector)...)
		cells = append(append(cells, one(c.ForceN), one(c.ReadingUm)), endCells(r.CheckRange(i))...)
	}
	return cells
}
