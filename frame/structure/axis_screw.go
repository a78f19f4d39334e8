package structure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/drive"
	"tiploop/frame/machine"
)

// nutAt is how far the nut or clamp is from the driven end.
func nutAt(v *machine.Drive) float64 { return r3.Norm(r3.Sub(v.Push, v.From)) }

// metersPerMinute turns mm/s into m/min.
const metersPerMinute = 0.06

// whirl is the speed at which the screw whirls, revolutions per minute, over the longest length beside the nut within
// the travel, and that length, mm.
func whirl(v *machine.Drive, a *machine.FeedAxis) (rpm, length float64) {
	s := v.Screw.Shaft
	length = longestFree(v, a)
	return s.CriticalRPM(length, machine.ScrewDensity, s.Ends), length
}

// longestFree is the longest free length of a screw beside its nut within the travel.
func longestFree(v *machine.Drive, a *machine.FeedAxis) float64 {
	most := 0.0
	for _, end := range a.Travel {
		at := nutAt(v) + runs(v, a)*(end-a.At)
		most = math.Max(most, math.Max(at, v.Screw.Shaft.Length-at))
	}
	return math.Min(most, v.Screw.Shaft.Length)
}

// runs is 1 when the nut moves away from the driven end as the axis goes on, −1 when towards it.
func runs(v *machine.Drive, a *machine.FeedAxis) float64 {
	sign := math.Copysign(1, machine.Component(r3.Sub(v.To, v.From), a.Along))
	if !moves(a, v.Part) {
		sign = -sign
	}
	return sign
}

// buckling is Euler's load of the longest stretch between the nut and the bearing that takes a push, N. The driven end
// takes it; with both ends fixed the longer side may.
func buckling(v *machine.Drive, a *machine.FeedAxis) float64 {
	longest := 0.0
	for _, end := range a.Travel {
		at := nutAt(v) + runs(v, a)*(end-a.At)
		longest = math.Max(longest, at)
		if v.Screw.Shaft.Ends == drive.FixedFixed {
			longest = math.Max(longest, v.Screw.Shaft.Length-at)
		}
	}
	held := v.Screw.Shaft.Ends
	if held == drive.FixedFree {
		held = drive.FixedSupported // the nut holds the end of the stretch that is pushed
	}
	return v.Screw.Shaft.BucklingLoad(longest, held)
}
