package drive

import (
	"math"

	"tiploop/frame/constant"
)

// Play is a gap in a chain that must close before the chain pushes the other way.
type Play struct {
	Name string        // "nut", BearingPlay, FarBearingPlay
	Gap  constant.Band // mm
}

// The names of the play in the bearings at a screw's two ends.
const (
	BearingPlay    = "bearing"
	FarBearingPlay = "far bearing"
)

// SideBySide returns the gaps of a screw that bearings at both ends hold along itself: the tighter of the two bearings
// is felt alone, and none where one has no play.
func SideBySide(list []Play) (felt []Play) {
	var near, far *Play
	for i, p := range list {
		switch p.Name {
		case BearingPlay:
			near = &list[i]
		case FarBearingPlay:
			far = &list[i]
		default:
			felt = append(felt, p)
		}
	}
	switch {
	case near == nil || far == nil:
	case far.Gap.Typical < near.Gap.Typical:
		felt = append(felt, *far)
	default:
		felt = append(felt, *near)
	}
	return felt
}

// LeadNutPlay returns the play of a lead screw's nut, mm.
func LeadNutPlay() constant.Band { return leadNutPlay.Band }

// RackPlay returns the play of a rack and pinion, mm.
func RackPlay() constant.Band { return rackPlay.Band }

// heldShare is the least share of a push that a resting force must be of to hold a gap closed: less of it the friction
// of any guide or nut takes up, and the gap may be found open at either side.
const heldShare = 0.01

// Crosses tells whether a push, N, goes through a gap that a resting force, N, holds to one side: when none to speak of
// does, or when the push is against it and is the larger. A chain that rests against one side of its gap moves
// elastically until then.
func Crosses(resting, push float64) bool {
	if push == 0 {
		return false
	}
	return math.Abs(resting) < heldShare*math.Abs(push) || resting*(resting+push) < 0
}

// PreloadedPair is two springs, or two rows of balls, pressed against each other: a nut's or a carriage's two sides.
type PreloadedPair struct {
	Preload  float64 // N
	Approach float64 // of each at the preload, mm
	Balls    bool    // force goes with the power 3/2 of the approach (Hertz), instead of with the approach
}

func (p PreloadedPair) exponent() float64 {
	if p.Balls {
		return 1.5
	}
	return 1
}

// LetsGo returns the load at which the relieved side comes free, N: then the other has twice the approach, so 2
// preloads of springs and 2√2 of balls (Johnson, Contact Mechanics; from memory).
func (p PreloadedPair) LetsGo() float64 { return p.Preload * math.Pow(2, p.exponent()) }

// Movement returns how far a load, N, moves what the pair holds, mm: the loaded side comes nearer by as much as the
// relieved one goes away, as long as that touches; from there on the loaded side is alone.
func (p PreloadedPair) Movement(load float64) float64 {
	constant.MustBePositive("drive: preload", p.Preload)
	constant.MustBePositive("drive: approach at the preload", p.Approach)
	constant.MustNotBeNegative("drive: load", load)
	n := p.exponent()
	if load >= p.LetsGo() {
		return p.Approach * (math.Pow(load/p.Preload, 1/n) - 1)
	}
	low, high := 0., 1. // of the approach: the force grows with the movement
	for range 60 {
		middle := (low + high) / 2
		if math.Pow(1+middle, n)-math.Pow(1-middle, n) < load/p.Preload {
			low = middle
		} else {
			high = middle
		}
	}
	return p.Approach * (low + high) / 2
}
