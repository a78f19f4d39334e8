package chance

import (
	"fmt"
	"math"

	"tiploop/frame/constant"
)

// Unknown is a number that is known only as a range.
type Unknown struct {
	Key  string        // what it is: the same key is the same draw, wherever it stands
	Band constant.Band // 5 % point, median, 95 % point; above zero
}

// point95 is the standard normal's 95 % point.
const point95 = 1.6448536269514722

// Check returns an error unless 0 < Low <= Typical <= High, all finite.
func (u Unknown) Check() error {
	if err := u.Band.Check(); err != nil {
		return fmt.Errorf("%s: %w", u.Key, err)
	}
	if !(u.Band.Low > 0) {
		return fmt.Errorf("%s: a range that is drawn starts above zero, not at %g", u.Key, u.Band.Low)
	}
	return nil
}

// At returns the value at a standard normal z: typical × exp(s z), with s from the low number below z = 0 and from the
// high one above it.
func (u Unknown) At(z float64) float64 { return u.Band.Typical * u.Factor(z) }

// Factor returns the value at a standard normal z over the typical one.
func (u Unknown) Factor(z float64) float64 { return math.Exp(u.Log(z)) }

// Log returns the logarithm of the factor at a standard normal z.
func (u Unknown) Log(z float64) float64 {
	s := math.Log(u.Band.High / u.Band.Typical)
	if z < 0 {
		s = math.Log(u.Band.Typical / u.Band.Low)
	}
	return s / point95 * z
}
