package live

import (
	"math"
	"slices"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
	"tiploop/report/verdict"
)

// The answers that a readout is made of, by the keys under which the page's script has words for them.
const (
	ByBeams  = "beams"
	ByMeshes = "meshes"
)

// What is still being worked out, likewise.
const (
	MeshesFollow = "meshes" // the meshed answer
	DrawsFollow  = "draws"  // how sure that is
	NextFollows  = "next"   // what to change next
)

// ReadoutOf tells what an option does with the present numbers against what it does with those of the file; file is nil
// where nothing was moved. How sure a change is it tells of answers that were drawn under the same luck.
func ReadoutOf(by string, now, file *answer.Result) Readout {
	r := Readout{By: by, Moved: file != nil, Rows: []Row{}}
	options := []answer.Result{*now}
	var duels []answer.Duel
	if file != nil {
		options = append(options, *file)
		duels = answer.Duels([]answer.Result{*file, *now})
	}
	for _, q := range told(verdict.Quantities(options)) {
		v, ok := q.Value(*now)
		if !ok {
			continue
		}
		row := Row{What: q.Words(), Now: phrase.Ranged(v, q.Range(*now), q.Unit)}
		if file != nil {
			if old, ok := q.Value(*file); ok {
				row.File = phrase.Ranged(old, q.Range(*file), q.Unit)
				row.Change = change(old, v)
				row.judge(q, old, v, duels)
			}
		}
		r.Rows = append(r.Rows, row)
	}
	mass := Row{What: "mass", Now: phrase.WithUnit(number.Significant(now.MassKg), "kg")}
	if file != nil {
		mass.File, mass.Change = phrase.WithUnit(number.Significant(file.MassKg), "kg"), change(file.MassKg, now.MassKg)
	}
	r.Rows = append(r.Rows, mass)
	return r
}

// told are those of the quantities that stand beside the sliders: the softest direction, loads at the tip or, where there
// is none, at points, paths and cuts.
func told(all []verdict.Quantity) (list []verdict.Quantity) {
	hasTip := slices.ContainsFunc(all, func(q verdict.Quantity) bool { return q.Kind == verdict.Tip })
	for _, q := range all {
		direction := q.Kind == verdict.Stiffness && q.Key != answer.StiffnessKey(verdict.Softest)
		if !direction && !(q.Kind == verdict.Point && hasTip) {
			list = append(list, q)
		}
	}
	return list
}

// sameChange is the part of a number below which a change of it is none.
const sameChange = 5e-4

func isSame(old, now float64) bool { return math.Abs(now-old) <= sameChange*math.Abs(old) }

// change says by how much a number grew or shrank.
func change(old, now float64) string {
	switch {
	case isSame(old, now):
		return "no change"
	case old == 0:
		return "was nothing"
	}
	return number.Digits(100*math.Abs(now/old-1), 2) + " % " + phrase.MoreOrLess(now-old)
}

// judge says whether a change is for the better, and how sure that is where it was drawn.
func (r *Row) judge(q verdict.Quantity, old, now float64, duels []answer.Duel) {
	i := slices.IndexFunc(duels, func(d answer.Duel) bool { return d.Quantity == q.Key })
	if i < 0 {
		switch {
		case isSame(old, now):
		case (now > old) == q.MoreIsBetter:
			r.Good = 1
		default:
			r.Good = -1
		}
		return
	}
	switch d := duels[i]; d.Verdict {
	case answer.Better, answer.ProbablyBetter:
		r.Good, r.Sure = 1, "better in "+phrase.Chance(d.WinsPercent)
	case answer.Worse, answer.ProbablyWorse:
		r.Good, r.Sure = -1, "worse in "+phrase.Chance(d.LossesPercent)
	default:
		r.Sure = d.Verdict
	}
}
