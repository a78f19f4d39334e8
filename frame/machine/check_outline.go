package machine

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame/outline"
)

// What a saw or a mill can leave of a plate.
const (
	// LeastWeb is the narrowest web or slot of an outline, mm: what is narrower is a slip of the pen (common practice, no
	// source). Against thick metal it is leastWebShare of the thickness: a mesh takes steps smaller than half of that for
	// none.
	LeastWeb      = 0.5
	leastWebShare = 0.02
	// leastPoint is the sharpest point, of metal or of a slot, degrees.
	leastPoint = 5
)

// OutlineError is what is wrong with a plate's outline, and at which corner of it; of a whole outline at none.
type OutlineError struct {
	At         *outline.Point // along the outline's axes, mm
	What, Hint string
}

// Error returns what is wrong.
func (e *OutlineError) Error() string { return e.What }

// CheckOutline returns the loops in order of a plate's outline in its plane, the outer one first, or what is wrong with
// them, an [*OutlineError].
func CheckOutline(outer []outline.Point, windows [][]outline.Point, thickness float64) (outline.Shape, error) {
	loops, err := beam.CleanOutline(outer, windows)
	var bad *beam.OutlineError
	switch {
	case errors.As(err, &bad):
		return nil, &OutlineError{At: &bad.At, What: bad.What}
	case err != nil:
		return nil, &OutlineError{What: err.Error()}
	}
	shape := outline.Shape(loops)
	least := math.Max(LeastWeb, leastWebShare*thickness)
	// What is less than that by rounding alone is that wide.
	if mm, at := shape.Thinnest(least - Touching); mm < least-Touching {
		return nil, &OutlineError{At: &at, What: fmt.Sprintf("metal or a slot is only %.3g mm wide here", mm),
			Hint: fmt.Sprintf("leave %s at least", MM(least))}
	}
	if degrees, at := shape.Sharpest(); degrees < leastPoint {
		return nil, &OutlineError{At: &at, What: fmt.Sprintf("it runs to a point of %.2g degrees here", degrees),
			Hint: fmt.Sprintf("a point of %d degrees is the sharpest that can be made", leastPoint)}
	}
	return shape, nil
}

// checkOutline returns what is wrong with the plate's outline, whose loops may be those of a file or a programmer's.
func (p *Plate) checkOutline() error {
	if err := p.CheckThin(); err != nil {
		return err
	}
	loops, err := CheckOutline(p.Outline[0], p.Outline[1:], p.Thickness())
	if err != nil {
		return fmt.Errorf("its outline: %w", err)
	}
	if loops.Area() != p.Outline.Area() {
		return errors.New("its outline must run anticlockwise and its windows clockwise, with no corner on a straight side")
	}
	lo, hi := p.Outline.Bounds()
	from, to := p.OnPlane(p.From), p.OnPlane(p.To)
	for k := range lo {
		if math.Abs(lo[k]-from[k]) > squareSlack || math.Abs(hi[k]-to[k]) > squareSlack {
			return fmt.Errorf("its outline reaches from (%g, %g) to (%g, %g), and the plate from (%g, %g) to (%g, %g)",
				lo[0], lo[1], hi[0], hi[1], from[0], from[1], to[0], to[1])
		}
	}
	return nil
}

// CheckThin returns what is wrong with a plate that is to have an outline and is not thinner than it is long and wide.
func (p *Plate) CheckThin() error {
	size := r3.Sub(p.To, p.From)
	u, v := p.Across().Others()
	if p.Thickness() < math.Min(Component(size, u), Component(size, v))-Touching {
		return nil
	}
	return errors.New("a plate with an outline must be thinner than it is long and wide, or nothing says which way it lies")
}
