package main

import (
	"math"
	"strconv"

	"tiploop/frame/modelfile"
	"tiploop/report/live"
)

// A slider runs over what the file says that its value is worth trying at, or else from half its number to double, in about
// so many steps of one, two or five of a power of ten; a step below leastStep has more places behind the point than a page can
// write.
const (
	stepsOfSlider = 100
	leastStep     = 1e-90
)

// sliderOf is a number of the file with the slider that moves it. From zero, which has neither half nor double, it runs
// ten of its unit each way.
func sliderOf(w modelfile.Written) live.Value {
	v := live.Value{Name: w.Name, Unit: w.Unit, File: w.At, At: w.At, Whole: w.Whole, ByOption: w.ByOption, Fixed: fixed(w),
		From: w.At / 2, To: min(max(2*w.At, -math.MaxFloat64), math.MaxFloat64)}
	if w.At == 0 {
		v.From, v.To = -10, 10
	}
	if v.From > v.To {
		v.From, v.To = v.To, v.From
	}
	if w.Whole && w.Sweep == nil {
		v.From, v.To = math.Floor(v.From), math.Ceil(v.To)
		if w.At > 0 {
			v.From = max(v.From, 1)
		}
	}
	if w.Sweep != nil {
		v.From, v.To = min(w.Sweep.From, w.At), max(w.Sweep.To, w.At)
	}
	v.Step = max(roundStep((v.To-v.From)/stepsOfSlider), leastStep)
	if w.Whole {
		v.Step = 1
	}
	return v
}

// fixed is why a number cannot be moved; "" when it can be.
func fixed(w modelfile.Written) string {
	switch {
	case w.Made:
		return "made by an expression"
	case w.Apart:
		return "not written in one piece behind its name"
	}
	return ""
}

// roundStep is the largest of one, two or five of a power of ten that is not above x.
func roundStep(x float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(x)))
	for _, times := range []float64{5, 2} {
		if times*power <= x {
			return times * power
		}
	}
	return power
}

// asMeant is a number that a page worked out, without what its working out left behind the fifteenth digit: 0.1 + 0.2 is
// 0.3. The largest of all stays as it is, which would be none if it were rounded.
func asMeant(x float64) float64 {
	if rounded, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 15, 64), 64); err == nil {
		return rounded
	}
	return x
}
