package report

import (
	"io"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
)

// WriteTravelCSV writes a row for each place along each path and axis and each position of each plane, under each load,
// in each option and detail. Where axes run, a column for each says where it stands, as far as the answer tells, and
// others the stiffness in the softest direction and how far an axis is off its straight line under the machine's own
// weight. A position with no work under the tool is a row without movement and stiffness. Behind all that stands how
// long the stretch within the tolerance is, its range, and that of the movement at the place.
func WriteTravelCSV(w io.Writer, a answer.Answer) error {
	if err := CheckTravels(a); err != nil {
		return err
	}
	details := eachDetail(a.Options)
	axes := axesThatRun(details)
	head := append([]string{"option", "path", "load", "at_mm"}, xyz("tip_", "um")...)
	head = append(head, "tip_size_um", "tolerance_um", "within_from_mm", "within_to_mm")
	if len(axes) > 0 {
		for _, name := range axes {
			head = append(head, "axis "+name+"_mm")
		}
		head = append(append(head, "stiffness_softest_n_per_um"), xyz("off_straight_", "um")...)
	}
	lost := lostHead("lost_motion_", details)
	rows := [][]string{slices.Concat(head, lost, []string{"detail", "stretch_mm"}, ends("stretch_mm"),
		ends("tip_size_um"))}
	for _, r := range details {
		for _, t := range r.Travel {
			along := alongRange(r, t)
			for i, row := range travelRows(r, t, axes) {
				rows = append(rows, slices.Concat(row, lostCells(t.LostMotionUm, lost), []string{r.Detail}, stretchCells(r, t),
					alongCells(along, i)))
			}
		}
		for _, m := range r.Maps {
			for _, row := range mapRows(r, m, axes) {
				rows = append(rows, slices.Concat(row.cells, lostCells(nil, lost), []string{r.Detail}, blanks(3), row.ends))
			}
		}
	}
	return writeCSV(w, a, rows)
}

// axesThatRun are all axes of an answer's axis paths and planes, in the order in which they first run.
func axesThatRun(details []answer.Result) (axes []string) {
	add := func(name string) {
		if name != "" && !slices.Contains(axes, name) {
			axes = append(axes, name)
		}
	}
	for _, r := range details {
		for _, t := range r.Travel {
			add(t.Axis)
		}
		for _, m := range r.Maps {
			add(m.Axes[0])
			add(m.Axes[1])
		}
	}
	return axes
}

// positionCells say where axes stand: those that run where at says, the others as they stand in the option.
func positionCells(r answer.Result, axes []string, at map[string]float64) (cells []string) {
	for _, name := range axes {
		mm, runs := at[name]
		if !runs {
			if mm, runs = r.AtMM[name]; !runs {
				cells = append(cells, "")
				continue
			}
		}
		cells = append(cells, one(mm))
	}
	return cells
}

// travelRows are a path or an axis under one load.
func travelRows(r answer.Result, t answer.Travel, axes []string) (rows [][]string) {
	tolerance, from, to := toleranceCell(t.ToleranceUm), "", ""
	if t.WithinMM != nil {
		from, to = one(t.WithinMM[0]), one(t.WithinMM[1])
	}
	for i, at := range t.AtMM {
		row := append([]string{r.Name, t.Path, t.Load, one(at)}, three(t.TipUm[i], number.Noise)...)
		row = append(row, one(number.Norm(t.TipUm[i])), tolerance, from, to)
		if len(axes) > 0 {
			stands := map[string]float64{}
			if t.Axis != "" {
				stands[t.Axis] = at
			}
			row = append(row, positionCells(r, axes, stands)...)
			if t.SoftestNPerUm != nil {
				row = append(row, one(t.SoftestNPerUm[i]))
			} else {
				row = append(row, "")
			}
			row = append(row, offStraight(r, t, i)...)
		}
		rows = append(rows, row)
	}
	return rows
}

// stretchCells are how long the stretch within the tolerance is, and its range; blank without a tolerance.
func stretchCells(r answer.Result, t answer.Travel) []string {
	if !(t.ToleranceUm > 0) {
		return blanks(3)
	}
	return append([]string{one(within(t))}, endCells(r.StretchRange(t.Path, t.Load))...)
}

// alongCells are the ends of the range of the tip's movement at place i; blank where nothing was drawn.
func alongCells(along *answer.AlongRange, i int) []string {
	if along == nil {
		return blanks(2)
	}
	return []string{one(along.LowUm[i]), one(along.HighUm[i])}
}

// offStraight is how far an axis is off its straight line at place i, along x, y and z; blank along itself, and where
// no axis runs.
func offStraight(r answer.Result, t answer.Travel, i int) []string {
	cells := blanks(3)
	for _, s := range r.Straight {
		if t.Axis != "" && s.Axis == t.Axis && slices.Equal(s.AtMM, t.AtMM) {
			cells[strings.Index("xyz", s.Across)] = one(s.OffUm[i])
		}
	}
	return cells
}

// mapRows are a plane under each of its loads, or under none when it has none.
func mapRows(r answer.Result, m answer.Map, axes []string) (rows []mapRow) {
	loads := m.Loads
	if len(loads) == 0 {
		loads = []answer.MapLoad{{}}
	}
	for _, l := range loads {
		of := r.OverRange(m.Name, l.Load)
		for i, x := range m.AtMM[0] {
			for k, y := range m.AtMM[1] {
				row, ends := []string{r.Name, m.Name, l.Load, ""}, blanks(2)
				if l.TipUm != nil && l.TipUm[i][k] != nil {
					if size := number.Norm(*l.TipUm[i][k]); of != nil {
						ends = []string{one(size * of.Times90[0]), one(size * of.Times90[1])}
					}
					row = append(append(row, three(*l.TipUm[i][k], number.Noise)...), one(number.Norm(*l.TipUm[i][k])))
				} else {
					row = append(row, blanks(4)...)
				}
				row = append(row, toleranceCell(m.ToleranceUm), "", "")
				row = append(row, positionCells(r, axes, map[string]float64{m.Axes[0]: x, m.Axes[1]: y})...)
				row = append(append(row, perhaps(m.SoftestNPerUm[i][k])), blanks(3)...)
				rows = append(rows, mapRow{row, ends})
			}
		}
	}
	return rows
}

// mapRow is a position of a plane; ends are those of the range of the tip's movement there.
type mapRow struct{ cells, ends []string }

// toleranceCell writes a tolerance; blank when none is given.
func toleranceCell(um float64) string {
	if um > 0 {
		return number.Full(um)
	}
	return ""
}
