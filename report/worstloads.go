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
