package report

import (
	"fmt"
	"io"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/wrap"
)

// WriteSweepCSV writes a row for each place.
func WriteSweepCSV(w io.Writer, s answer.Sweep) error {
	var head []string
	for _, v := range s.Values {
		head = append(head, headOf(v))
	}
	head = append(head, "stiffness_x_n_per_um", "stiffness_y_n_per_um", "stiffness_z_n_per_um",
		"stiffness_softest_n_per_um")
	loads, points := sweptLoads(s), sweptPoints(s)
	for _, l := range loads {
		head = append(append(head, xyz(l+": tip_", "um")...), l+": tip_size_um")
	}
	for _, at := range points {
		head = append(head, xyz(at.load+": "+at.point+"_", "um")...)
	}
	rows := [][]string{append(head, "mass_kg", "through_holes", "tapped_holes", "drilling_operations", "left_out")}
	for _, p := range s.Places {
		var row []string
		for _, at := range p.At {
			row = append(row, one(at))
		}
		if p.Tip == nil {
			row = append(row, blanks(4)...)
		} else {
			k := p.Tip.StiffnessNPerUm
			row = append(row, one(k.X), one(k.Y), one(k.Z), one(k.Softest))
		}
		for _, name := range loads {
			if l := p.Load(name); l != nil && l.TipUm != nil {
				row = append(append(row, three(*l.TipUm, number.Noise)...), one(*l.TipSizeUm))
			} else {
				row = append(row, blanks(4)...)
			}
		}
		for _, at := range points {
			l := p.Load(at.load)
			if l == nil {
				row = append(row, blanks(3)...)
				continue
			}
			um, there := l.PointsUm[at.point]
			if !there {
				row = append(row, blanks(3)...)
				continue
			}
			row = append(row, three(um, number.Noise)...)
		}
		h := p.Holes
		rows = append(rows, append(row, one(p.MassKg), fmt.Sprint(h.Through), fmt.Sprint(h.Tapped),
			fmt.Sprint(h.Operations), ""))
	}
	for _, l := range s.LeftOut {
		var row []string
		for _, at := range l.At {
			row = append(row, one(at))
		}
		row = append(row, blanks(len(rows[0])-len(row)-1)...)
		rows = append(rows, append(row, wrap.OneLine(l.Why)))
	}
	return writeCSV(w, s, rows)
}
