package sparse

import (
	"slices"

	"tiploop/frame/sparse/order"
)

// panelWidth is the most columns of a panel: two blocks of that many rows and columns of numbers fit into a processor's
// first cache, or nearly so.
const panelWidth = 64

// findRows finds the rows below every supernode: those of its columns in the matrix and those of its children, without
// its own columns. vertices is the first vertex of each supernode, begin the first place of each vertex.
func (s *supernodes) findRows(g *order.Graph, t *tree, vertices, begin []int32) {
	n := s.len()
	mark := make([]int32, len(t.vertex))
	rowStart := make([]int, n+1)
	rows := make([]int32, 0, 4*len(t.vertex))
	s.runStart = make([]int32, n+1)
	s.runs = make([]run, 0, 2*len(t.vertex))
	for k := range n {
		from, own := len(rows), vertices[k+1]
		stamp := int32(k + 1)
		for _, c := range s.of(k) {
			for _, i := range rows[rowStart[c]:rowStart[c+1]] {
				if i >= own && mark[i] != stamp {
					mark[i] = stamp
					rows = append(rows, i)
				}
			}
		}
		for j := vertices[k]; j < own; j++ {
			v := t.vertex[j]
			for _, u := range g.Near[g.Start[v]:g.Start[v+1]] {
				if i := t.at[u]; i >= own && mark[i] != stamp {
					mark[i] = stamp
					rows = append(rows, i)
				}
			}
		}
		list := rows[from:]
		slices.Sort(list)
		rowStart[k+1] = len(rows)
		begun := len(s.runs)
		for _, i := range list {
			if last := len(s.runs) - 1; last >= begun && s.runs[last].at+s.runs[last].length == begin[i] {
				s.runs[last].length += begin[i+1] - begin[i]
			} else {
				s.runs = append(s.runs, run{begin[i], begin[i+1] - begin[i]})
			}
		}
		s.runStart[k+1] = int32(len(s.runs))
	}
	s.runs = slices.Clip(s.runs)
}

// layOut cuts the supernodes into panels of about equal width and adds up what a factor takes.
func (s *supernodes) layOut() {
	n := s.len()
	s.panelStart = make([]int32, n+1)
	s.panels = make([]panel, 0, n)
	for k := range n {
		first, width, below := int(s.first[k]), int(s.first[k+1]-s.first[k]), int(s.below[k])
		count := (width + panelWidth - 1) / panelWidth
		// Widths that are multiples of four, but for the last one, suit the multiplication.
		each := 0
		if count > 0 {
			each = ((width+count-1)/count + 3) &^ 3
		}
		for p := range count {
			from, to := p*each, min((p+1)*each, width)
			s.panels = append(s.panels, panel{int32(first + from), int32(to - from), s.store})
			s.store += (width - from + below) * (to - from)
		}
		s.panelStart[k+1] = int32(len(s.panels))
		s.nonzeros += triangle(width) + width*below
		w, b := float64(width), float64(below)
		s.work[k] += w*w*w/3 + b*w*w + b*b*w
		if p := s.parent[k]; p >= 0 {
			s.work[p] += s.work[k]
		}
	}
}

// panelsOf lists the panels of a supernode.
func (s *supernodes) panelsOf(k int) []panel { return s.panels[s.panelStart[k]:s.panelStart[k+1]] }

// runsOf lists the rows below a supernode.
func (s *supernodes) runsOf(k int) []run { return s.runs[s.runStart[k]:s.runStart[k+1]] }
