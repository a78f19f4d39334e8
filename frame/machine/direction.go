package machine

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// besideAxis is how far a unit vector may stray from an axis and still be told as along it: rounding leaves less.
const besideAxis = 1e-6

// DirectionInWords names an axis, or gives the direction's components.
func DirectionInWords(v r3.Vec) string {
	v = r3.Unit(v)
	for k := X; k <= Z; k++ {
		if math.Abs(Component(v, k)) > 1-besideAxis {
			return k.String()
		}
	}
	for k := X; k <= Z; k++ {
		if c := Component(v, k); math.Abs(c) > besideAxis {
			v = r3.Scale(math.Copysign(1, c), v)
			break
		}
	}
	hundredths := func(c float64) float64 { return math.Round(c*100)/100 + 0 }
	return fmt.Sprintf("(%g, %g, %g)", hundredths(v.X), hundredths(v.Y), hundredths(v.Z))
}
