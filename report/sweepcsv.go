package report

import (
	"fmt"
	"io"
	"maps"
	"slices"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
	"tiploop/report/wrap"
)

// WriteSweepCSV writes a row for each place. Behind all else stand the ranges of what was drawn, which of two values is
// nothing.
func WriteSweepCSV(w io.Writer, s answer.Sweep) error {
	loads, points := sweptLoads(s), sweptPoints(s)
	rows := [][]string{sweptHead(s, loads, points)}
	for _, p := range s.Places {
		rows = append(rows, sweptRow(s.Option, p, loads, points))
	}
	for _, l := range s.LeftOut {
		row := append([]string{s.Option}, valueCells(l.At)...)
		ranges := sweptEndsHead(loads)
		row = append(row, blanks(len(rows[0])-len(row)-1-len(ranges))...)
		rows = append(rows, slices.Concat(row, []string{wrap.OneLine(l.Why)}, blanks(len(ranges))))
	}
	return writeCSV(w, s, rows)
}

// sweptHead names the columns.
func sweptHead(s answer.Sweep, loads []string, points []pointLoad) []string {
	head := []string{"option"}
	for _, v := range s.Values {
		head = append(head, phrase.SweptHead(v))
	}
	head = append(head, "stiffness_x_n_per_um", "stiffness_y_n_per_um", "stiffness_z_n_per_um",
		"stiffness_softest_n_per_um")
	for _, l := range loads {
		head = append(append(head, xyz(l+": tip_", "um")...), l+": tip_size_um")
	}
	for _, at := range points {
		head = append(head, xyz(at.load+": "+at.point+"_", "um")...)
	}
	head = append(head, "mass_kg", "through_holes", "tapped_holes", "drilling_operations", "left_out")
	return append(head, sweptEndsHead(loads)...)
}

// sweptEndsHead names the columns of ranges.
func sweptEndsHead(loads []string) []string {
	head := ends("stiffness_softest_n_per_um")
	for _, l := range loads {
		head = append(head, ends(l+": tip_size_um")...)
	}
	return head
}

// sweptEnds are the ranges of a place.
func sweptEnds(p answer.SweptStep, loads []string) []string {
	row := pairCells(p.SoftestNPerUm90)
	for _, name := range loads {
		var drawn *[2]float64
		if l := p.Load(name); l != nil {
			drawn = l.TipSizeUm90
		}
		row = append(row, pairCells(drawn)...)
	}
	return row
}

// pairCells are the two ends of a range; blank where nothing was drawn.
func pairCells(drawn *[2]float64) []string {
	if drawn == nil {
		return blanks(2)
	}
	return []string{one(drawn[0]), one(drawn[1])}
}

// sweptRow is that of a place at which the values make a machine.
func sweptRow(option string, p answer.SweptStep, loads []string, points []pointLoad) []string {
	row := append(append([]string{option}, valueCells(p.At)...), stiffnessCells(p.Tip)...)
	for _, name := range loads {
		if l := p.Load(name); l != nil && l.TipUm != nil {
			row = append(append(row, three(*l.TipUm, number.Noise)...), one(*l.TipSizeUm))
		} else {
			row = append(row, blanks(4)...)
		}
	}
	for _, at := range points {
		if l := p.Load(at.load); l != nil {
			row = append(row, pointCells(l.PointsUm, at.point, number.Noise)...)
		} else {
			row = append(row, blanks(3)...)
		}
	}
	h := p.Holes
	row = append(row, one(p.MassKg), fmt.Sprint(h.Through), fmt.Sprint(h.Tapped), fmt.Sprint(h.Operations), "")
	return append(row, sweptEnds(p, loads)...)
}

// valueCells are the values that make a place.
func valueCells(at []float64) (row []string) {
	for _, v := range at {
		row = append(row, one(v))
	}
	return row
}

// sweptLoads are the names of all loads with a movement of the tip, in their order.
func sweptLoads(s answer.Sweep) (names []string) {
	for _, p := range s.Places {
		for _, l := range p.Loads {
			if l.TipUm != nil && !slices.Contains(names, l.Name) {
				names = append(names, l.Name)
			}
		}
	}
	return names
}

// sweptPoints are all points under all loads, sorted by point.
func sweptPoints(s answer.Sweep) (list []pointLoad) {
	for _, p := range s.Places {
		for _, l := range p.Loads {
			for _, name := range slices.Sorted(maps.Keys(l.PointsUm)) {
				if at := (pointLoad{name, l.Name}); !slices.Contains(list, at) {
					list = append(list, at)
				}
			}
		}
	}
	return list
}
