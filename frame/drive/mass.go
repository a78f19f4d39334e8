package drive

import (
	"math"

	"tiploop/frame/constant"
)

// NutMass returns that of a nut on a screw of that diameter, mm, of that density, tonne/mm³, in tonnes: a sleeve of the
// usual size (nut_sleeve, nut_length).
func NutMass(diameter, density float64) float64 {
	constant.MustBePositive("drive: diameter", diameter)
	constant.MustBePositive("drive: density", density)
	outer := nutSleeve.Band.Typical
	return density * math.Pi / 4 * (outer*outer - 1) * nutLength.Band.Typical * diameter * diameter * diameter
}
