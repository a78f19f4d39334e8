package report

import (
	"cmp"
	"fmt"
	"slices"

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

// worstBy are at most n of the names, those with the most, in the order in which they came.
func worstBy(names []string, n int, most func(name string) float64) []string {
	worst := slices.Clone(names)
	slices.SortStableFunc(worst, func(a, b string) int { return cmp.Compare(most(b), most(a)) })
	worst = worst[:min(len(worst), n)]
	return slices.DeleteFunc(slices.Clone(names), func(name string) bool { return !slices.Contains(worst, name) })
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

// worstPanels leaves of the loads of each path those under which the tip moves most; cut tells that it left any out.
func worstPanels(panels []travelPanel) (kept []travelPanel, cut bool) {
	for i, p := range panels {
		most, _ := p.scale()
		worse := 0
		for k, o := range panels {
			if other, _ := o.scale(); o.path == p.path && (other > most || other == most && k < i) {
				worse++
			}
		}
		if worse < mostFollowed {
			kept = append(kept, p)
		}
	}
	return kept, len(kept) < len(panels)
}

// worstBlocks leaves of the loads over each plane those under which the tip moves most; cut tells that it left any out.
func worstBlocks(blocks []mapBlock) (kept []mapBlock, cut bool) {
	for i, b := range blocks {
		worse := 0
		for k, o := range blocks {
			if o.plane == b.plane && (o.most > b.most || o.most == b.most && k < i) {
				worse++
			}
		}
		if b.plane == "" || worse < mostMapped {
			kept = append(kept, b)
		}
	}
	return kept, len(kept) < len(blocks)
}
