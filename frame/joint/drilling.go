package joint

import (
	"fmt"

	"tiploop/frame/constant"
)

// HoleKind is a kind of hole a joint asks for.
type HoleKind int

const (
	Counterbored HoleKind = iota // through hole with a sunk seat for the head
	Clearance                    // plain through hole
	Tapped                       // blind hole with thread
	Bored                        // wide, for a nut, a bearing or a motor's pilot, to fit
)

// String returns the kind as the trade says it.
func (k HoleKind) String() string {
	switch k {
	case Counterbored:
		return "counterbored through"
	case Clearance:
		return "through"
	case Tapped:
		return "tapped"
	case Bored:
		return "bored"
	}
	panic(fmt.Sprintf("joint: unknown hole kind %d", int(k)))
}

// Drilling is one line of work at a hole.
type Drilling struct {
	Operation string
	Count     int           // operations it stands for: deburring both sides is two
	Minutes   constant.Band // all of them together, one hole, on a home drill press in 10 to 40 mm aluminium
	Source    string
}

var (
	markHole    = Drilling{"mark or transfer, punch", 1, constant.Between(0.5, 1, 3), sourcePractice}
	pilotHole   = Drilling{"spot or pilot", 1, constant.Between(0.5, 1, 2), sourcePractice}
	drillHole   = Drilling{"drill to size", 1, constant.Between(1, 2, 5), sourcePractice}
	counterbore = Drilling{"counterbore", 1, constant.Between(1, 2, 4), sourcePractice}
	deburrBoth  = Drilling{"deburr both sides", 2, constant.Between(0.5, 1, 2), sourcePractice}
	deburrOne   = Drilling{"deburr", 1, constant.Between(0.25, 0.5, 1), sourcePractice}
	openUp      = Drilling{"open up with larger drills", 1, constant.Between(2, 5, 10), sourcePractice}
	boreHole    = Drilling{"bore to size", 1, constant.Between(5, 15, 40), sourcePractice}
	tapHole     = Drilling{"tap by hand, cut back, clean", 1, constant.Between(2, 4, 8), sourcePractice}
)

// Drillings returns the work on one hole in the order it is done.
func Drillings(kind HoleKind) []Drilling {
	switch kind {
	case Counterbored:
		return []Drilling{markHole, pilotHole, drillHole, counterbore, deburrBoth}
	case Clearance:
		return []Drilling{markHole, pilotHole, drillHole, deburrBoth}
	case Tapped:
		return []Drilling{markHole, pilotHole, drillHole, deburrOne, tapHole}
	case Bored:
		return []Drilling{markHole, pilotHole, openUp, boreHole, deburrBoth}
	}
	panic(fmt.Sprintf("joint: unknown hole kind %d", int(kind)))
}

// HoleWork returns the operations one hole takes and the minutes they last. A socket-head screw
// in a plate that takes a counterbore (see [Screw.ThroughHole]) costs one counterbored and one
// tapped hole: 6 + 5 = 11 operations.
func HoleWork(kind HoleKind) (operations int, minutes constant.Band) {
	for _, d := range Drillings(kind) {
		operations += d.Count
		minutes.Low += d.Minutes.Low
		minutes.Typical += d.Minutes.Typical
		minutes.High += d.Minutes.High
	}
	return operations, minutes
}
