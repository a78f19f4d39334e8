package main

import (
	"math"
	"strconv"

	"tiploop/frame/modelfile"
	"tiploop/report/live"
)

// A slider has about so many steps of one, two or five of a power of ten; a step below leastStep has more places behind the
// point than a page can write.
const (
	stepsOfSlider = 100
	leastStep     = 1e-90
)

// sliderOf is a number of the file with the slider that moves it.
func sliderOf(w modelfile.Written) live.Value {
	from, to := endsOf(w)
	step := max(roundStep((to-from)/stepsOfSlider), leastStep)
	if w.Whole {
		step = 1
	}
	return live.Value{Name: w.Name, Unit: w.Unit, File: w.At, At: w.At, From: from, To: to, Step: step, Whole: w.Whole,
		ByOption: w.ByOption, Fixed: fixed(w)}
}

// endsOf are those of a number's slider: of what the file says that it is worth trying at, or else half of it and double.
// From zero, which has neither half nor double, it runs ten of its unit each way.
func endsOf(w modelfile.Written) (from, to float64) {
	switch {
	case w.Sweep != nil:
		return w.Sweep.From, w.Sweep.To
	case w.At == 0:
		return -10, 10
	}
	half, double := w.At/2, min(max(2*w.At, -math.MaxFloat64), math.MaxFloat64)
	from, to = min(half, double), max(half, double)
	if w.Whole {
		from, to = math.Floor(from), math.Ceil(to)
	}
	if w.Whole && w.At > 0 {
		from = max(from, 1)
	}
	return from, to
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
