package verdict

import (
	"maps"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/wrap"
)

// Kind is what sort of thing is compared.
type Kind int

const (
	Stiffness Kind = iota // of the tip
	Tip                   // its movement
	Point                 // the movement of a point
	Play                  // what the tip loses to it
	Stretch               // of a path within its tolerance
	Depth                 // of a cut
)

// Quantity is one thing that options are compared in.
type Quantity struct {
	Key          string // as in answer.Duel
	Kind         Kind
	Group, Item  string // "tip under", "“drilling”"
	Unit         string
	MoreIsBetter bool
	Value        func(answer.Result) (float64, bool) // false: the option has none
	Range        func(answer.Result) *answer.Range   // nil: it was not drawn
	load         string                              // under which something moves; "" of anything else
}

// leastMovement is the part of a load's largest movement below which two movements under it do not differ: no dial tells
// it beside the rest. Common practice, no source.
const leastMovement = 0.01

// bound is what two options have to differ by, other than in percent of themselves: 0 but for movements.
func (q Quantity) bound(options ...answer.Result) (least float64) {
	if q.load == "" {
		return 0
	}
	for _, r := range options {
		if l := loadOf(r, q.load); l != nil {
			least = max(least, leastMovement*farthest(l))
		}
	}
	return least
}

// farthest is how far a load moves the tip or a point, µm.
func farthest(l *answer.LoadResult) (um float64) {
	if l.TipUm != nil {
		um = number.Norm(*l.TipUm)
	}
	for _, v := range l.PointsUm {
		um = max(um, number.Norm(v))
	}
	return um
}

// Words name it: "tip under “drilling”".
func (q Quantity) Words() string { return strings.TrimSpace(q.Group + " " + q.Item) }

// Quantities are all that any of the options has a number for: directions, then loads at the tip and at points and what
// they lose to play, paths and cuts.
func Quantities(options []answer.Result) []Quantity {
	list := directions()
	loads := names(options, func(r answer.Result) (all []string) {
		for _, l := range r.Loads {
			all = append(all, l.Name)
		}
		return all
	})
	for _, load := range loads {
		list = append(list, movement(load, ""))
	}
	for _, load := range loads {
		points := map[string]bool{}
		for _, r := range options {
			if l := loadOf(r, load); l != nil {
				for point := range l.PointsUm {
					points[point] = true
				}
			}
		}
		for _, point := range slices.Sorted(maps.Keys(points)) {
			list = append(list, movement(load, point))
		}
	}
	for _, load := range loads {
		if losesToPlay(options, load) {
			list = append(list, play(load))
		}
	}
	for _, r := range options {
		for _, t := range r.Travel {
			list = append(list, stretch(t.Path, t.Load))
		}
		for _, c := range r.Cuts {
			list = append(list, depth(c.Name))
		}
	}
	seen := map[string]bool{}
	return slices.DeleteFunc(list, func(q Quantity) bool {
		again := seen[q.Key]
		seen[q.Key] = true
		return again || !slices.ContainsFunc(options, func(r answer.Result) bool { _, ok := q.Value(r); return ok })
	})
}

// names gathers names over all options, each once, in the order in which they come.
func names(options []answer.Result, of func(answer.Result) []string) (list []string) {
	for _, r := range options {
		for _, name := range of(r) {
			if !slices.Contains(list, name) {
				list = append(list, name)
			}
		}
	}
	return list
}

// loadOf is an option's result under a load; nil when it has none.
func loadOf(r answer.Result, name string) *answer.LoadResult {
	i := slices.IndexFunc(r.Loads, func(l answer.LoadResult) bool { return l.Name == name })
	if i < 0 {
		return nil
	}
	return &r.Loads[i]
}

// quoted sets a name of the file apart from the words about it.
func quoted(name string) string { return "“" + wrap.OneLine(name) + "”" }

// directions are the three axes and the softest direction.
func directions() (list []Quantity) {
	for _, d := range []struct {
		name string
		of   func(answer.Stiffness) float64
	}{
		{"x", func(s answer.Stiffness) float64 { return s.X }},
		{"y", func(s answer.Stiffness) float64 { return s.Y }},
		{"z", func(s answer.Stiffness) float64 { return s.Z }},
		{Softest, func(s answer.Stiffness) float64 { return s.Softest }},
	} {
		list = append(list, Quantity{answer.StiffnessKey(d.name), Stiffness, "stiffness", d.name, "N/µm", true,
			func(r answer.Result) (float64, bool) {
				if r.Tip == nil {
					return 0, false
				}
				return d.of(r.Tip.StiffnessNPerUm), true
			}, func(r answer.Result) *answer.Range { return r.StiffnessRange(d.name) }, ""})
	}
	return list
}

// movement is how far a load moves the tip, or a point.
func movement(load, point string) Quantity {
	kind, group := Tip, "tip under"
	if point != "" {
		kind, group = Point, "point "+wrap.OneLine(point)+" under"
	}
	return Quantity{answer.MovementKey(load, point), kind, group, quoted(load), "µm", false,
		func(r answer.Result) (float64, bool) {
			l := loadOf(r, load)
			switch {
			case l == nil || point == "" && l.TipUm == nil:
				return 0, false
			case point == "":
				return number.Norm(*l.TipUm), true
			}
			um, ok := l.PointsUm[point]
			return number.Norm(um), ok
		}, func(r answer.Result) *answer.Range { return r.MovementRange(load, point) }, load}
}

// losesToPlay tells whether any option loses something to play under a load.
func losesToPlay(options []answer.Result, load string) bool {
	return slices.ContainsFunc(options, func(r answer.Result) bool {
		l := loadOf(r, load)
		return l != nil && l.LostMotionSizeUm != nil
	})
}

// play is what a load loses to play at the tip; nothing in an option without play. It is not drawn.
func play(load string) Quantity {
	return Quantity{"play " + load, Play, "lost to play under", quoted(load), "µm", false,
		func(r answer.Result) (float64, bool) {
			l := loadOf(r, load)
			switch {
			case l == nil || l.TipUm == nil:
				return 0, false
			case l.LostMotionSizeUm == nil:
				return 0, true
			}
			return *l.LostMotionSizeUm, true
		}, func(answer.Result) *answer.Range { return nil }, load}
}

// stretch is how much of a path keeps its tolerance under a load.
func stretch(path, load string) Quantity {
	return Quantity{answer.StretchKey(path, load), Stretch, "stretch of " + wrap.OneLine(path) + " under", quoted(load), "mm", true,
		func(r answer.Result) (float64, bool) {
			for _, t := range r.Travel {
				if t.Path == path && t.Load == load && t.ToleranceUm > 0 {
					if t.WithinMM == nil {
						return 0, true
					}
					return t.WithinMM[1] - t.WithinMM[0], true
				}
			}
			return 0, false
		}, func(r answer.Result) *answer.Range { return r.StretchRange(path, load) }, ""}
}

// depth is how deep a cut may go.
func depth(cut string) Quantity {
	return Quantity{answer.DepthKey(cut), Depth, "depth of cut", quoted(cut), "mm", true,
		func(r answer.Result) (float64, bool) {
			for _, c := range r.Cuts {
				if c.Name == cut && c.Typical.DeepestMM != nil {
					return *c.Typical.DeepestMM, true
				}
			}
			return 0, false
		}, func(r answer.Result) *answer.Range { return r.DepthRange(cut) }, ""}
}

// Mass and Hours are what an option costs: they do not count, what is gained for them does.
var (
	Mass = Quantity{Key: "mass", Group: "mass", Unit: "kg",
		Value: func(r answer.Result) (float64, bool) { return r.MassKg, true }}
	Hours = Quantity{Key: "hours", Group: "holes,", Item: "at the drill press", Unit: "hours",
		Value: func(r answer.Result) (float64, bool) { return r.Holes.Minutes / 60, true }}
)
