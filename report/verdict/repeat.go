package verdict

import (
	"cmp"
	"math"
	"slices"

	"tiploop/frame/answer"
	"tiploop/report/number"
)

// axes are the directions that a stiffness stands for, in the order of a vector.
var axes = []string{"x", "y", "z"}

// Softest names the direction in which there is least stiffness.
const Softest = "softest"

// repeats finds among what differs the quantities that are one number with another, by the rule of [answer.Repeat].
func repeats(options []answer.Result, differ []Quantity) []answer.Repeat {
	list := []answer.Repeat{}
	for axis, name := range axes {
		var loads, stiffnesses []Quantity
		for _, q := range differ {
			switch {
			case slices.ContainsFunc(list, func(r answer.Repeat) bool { return r.Quantity == q.Key }):
			case q.Key == answer.StiffnessKey(name), q.Key == answer.StiffnessKey(Softest) && softestAlong(options, axis):
				stiffnesses = append(stiffnesses, q)
			case q.load != "" && q.Key == answer.MovementKey(q.load, "") && pushesAlong(options, q.load, axis):
				loads = append(loads, q)
			}
		}
		slices.SortStableFunc(loads, func(a, b Quantity) int {
			x, _ := a.Value(options[0])
			y, _ := b.Value(options[0])
			return cmp.Compare(y, x)
		})
		if one := append(loads, stiffnesses...); len(one) > 1 {
			for _, q := range one[1:] {
				list = append(list, answer.Repeat{Quantity: q.Key, Of: one[0].Key})
			}
		}
	}
	return list
}

// along is a tip's stiffness in an axis.
func along(s answer.Stiffness, axis int) float64 { return [3]float64{s.X, s.Y, s.Z}[axis] }

// softestAlong tells whether every option is softest in an axis.
func softestAlong(options []answer.Result, axis int) bool {
	return !slices.ContainsFunc(options, func(r answer.Result) bool {
		if r.Tip == nil {
			return true
		}
		s := r.Tip.StiffnessNPerUm
		return along(s, axis)-s.Softest >= alike*along(s, axis)
	})
}

// pushesAlong tells whether a load pushes the tip along an axis alone, in every option by the same force, and moves it by as
// much as the stiffness along the axis alone says.
func pushesAlong(options []answer.Result, load string, axis int) bool {
	var force, times []float64 // N; the movement over what force and stiffness make
	for _, r := range options {
		l := loadOf(r, load)
		if l == nil || !l.OnTip || l.TipUm == nil || r.Tip == nil {
			return false
		}
		var yields [3]float64 // µm/N: what a push along the axis moves
		var by, square float64
		for i := range yields {
			yields[i] = r.Tip.ComplianceUmPerN[i][axis]
			by += yields[i] * l.TipUm[i]
			square += yields[i] * yields[i]
		}
		if square == 0 || by == 0 {
			return false
		}
		f := by / square
		var off [3]float64
		for i := range off {
			off[i] = l.TipUm[i] - f*yields[i]
		}
		size := number.Norm(*l.TipUm)
		if number.Norm(off) >= alike*size {
			return false
		}
		force = append(force, f)
		times = append(times, size*along(r.Tip.StiffnessNPerUm, axis)/math.Abs(f))
	}
	return slices.Min(force)*slices.Max(force) > 0 && level(force) && level(times)
}

// level tells whether numbers differ by less than 1 %.
func level(values []float64) bool {
	least, most := slices.Min(values), slices.Max(values)
	return most-least < alike*max(math.Abs(least), math.Abs(most))
}
