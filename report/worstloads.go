package report

import (
	"fmt"

	"tiploop/frame/answer"
)

// worstLoads are at most n of the loads of that name, those that move the tip most in any option, or a point where there
// is no tool; in the order in which they came.
func worstLoads(options []answer.Result, names []string, n int) []string {
	most := func(name string) (um float64) {
		for _, r := range options {
			if v, ok := tipLine(name).value(r); ok {
				um = max(um, v)
				continue
			}
			for _, at := range pointLoads(options) {
				if v, ok := pointSize(r, at); ok && at.load == name {
					um = max(um, v)
				}
			}
		}
		return um
	}
	return worstBy(names, n, most)
}

// worstBy are at most n of some things, those with the most, in the order in which they came; of equals the first.
func worstBy[T any](list []T, n int, most func(T) float64) []T {
	return worstOfEach(list, n, func(T) string { return "" }, most)
}

// worstOfEach are the same of each group.
func worstOfEach[T any](list []T, n int, group func(T) string, most func(T) float64) (kept []T) {
	values := make([]float64, len(list))
	for i, of := range list {
		values[i] = most(of)
	}
	for i, of := range list {
		worse := 0
		for k, o := range list {
			if group(o) == group(of) && (values[k] > values[i] || values[k] == values[i] && k < i) {
				worse++
			}
		}
		if worse < n {
			kept = append(kept, of)
		}
	}
	return kept
}

// worstOf says that not all loads are drawn; "" when they are.
func worstOf(drawn, all int) string {
	if drawn == all {
		return ""
	}
	return fmt.Sprintf(". The %d worst of %d loads", drawn, all)
}

// mostFollowed is under how many loads a path is drawn, and a plane; of many the worst are.
const (
	mostFollowed = 2
	mostMapped   = 1
)

// worstPanels leaves of the loads of each path those under which the tip moves most.
func worstPanels(panels []travelPanel) []travelPanel {
	return worstOfEach(panels, mostFollowed, func(p travelPanel) string { return p.path },
		func(p travelPanel) float64 { top, _ := p.scale(); return top })
}

// worstBlocks leaves of the loads over each plane those under which the tip moves most.
func worstBlocks(blocks []mapBlock) []mapBlock {
	return worstOfEach(blocks, mostMapped, func(b mapBlock) string { return b.unit + " over " + b.path },
		func(b mapBlock) float64 { return b.most })
}
