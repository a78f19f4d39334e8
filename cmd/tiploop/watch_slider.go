package main

import (
	"math"

	"tiploop/frame/modelfile"
	"tiploop/report/live"
)

// A slider runs from half its number to double, in about so many steps of one, two or five of a power of ten. Of numbers
// that no machine has, double may be none, and a step have more digits than a browser writes (100 behind the point).
const (
	stepsOfSlider = 100
	leastStep     = 1e-90
)

// sliderOf is a number of the file with the slider that moves it. From zero, which has neither half nor double, it runs
// ten of its unit each way.
func sliderOf(w modelfile.Written) live.Value {
	v := live.Value{Name: w.Name, Unit: w.Unit, File: w.At, At: w.At, Whole: w.Whole, ByOption: w.ByOption, Made: w.Made,
		From: w.At / 2, To: max(-math.MaxFloat64, min(2*w.At, math.MaxFloat64))}
	if w.At == 0 {
		v.From, v.To = -10, 10
	}
	if v.From > v.To {
		v.From, v.To = v.To, v.From
	}
	if w.Whole {
		v.From, v.To = math.Floor(v.From), math.Ceil(v.To)
		if w.At > 0 {
			v.From = max(v.From, 1)
		}
	}
	v.Step = max(roundStep((v.To-v.From)/stepsOfSlider), leastStep)
	if w.Whole {
		v.Step = 1
	}
	return v
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
