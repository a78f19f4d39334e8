package shopwork

import (
	"fmt"
	"math"

	"tiploop/frame/machine"
)

// Flange is what holes belong to that move together: that of a nut, a bearing or a motor.
type Flange struct {
	Of       string     // "nut of y"
	MiddleMM [3]float64 // on its face
	OuterMM  float64    // diameter over all; 0: not known
}

// SquareFace finds the face of a box of metal on which a flange lies whose shaft runs along an axis: the one square to the
// shaft that the flange's place is on. Where there is none, why says what to draw.
func SquareFace(shaft machine.Axis, lo, hi, at [3]float64) (face machine.Face, why string) {
	for k := machine.X; k <= machine.Z; k++ {
		if out := math.Max(lo[k]-at[k], at[k]-hi[k]); k != shaft && out > -machine.Touching {
			return 0, "there is no metal round it: draw the bracket that holds it as a part, or say its face and screws"
		}
	}
	near, far := at[shaft]-lo[shaft], hi[shaft]-at[shaft]
	switch {
	case math.Abs(near) <= machine.Touching:
		return machine.FaceOf(shaft, false), ""
	case math.Abs(far) <= machine.Touching:
		return machine.FaceOf(shaft, true), ""
	case near < 0 || far < 0:
		return 0, fmt.Sprintf("it is %s from the face before it: draw it on that face, or the bracket between them as a part",
			machine.MM(-math.Min(near, far)))
	}
	return 0, fmt.Sprintf("it is drawn inside the metal: draw it on the face that its flange lies on, %s = %s or %s, or say its face",
		shaft, machine.MM(lo[shaft]), machine.MM(hi[shaft]))
}

// FlangePlace is where a place of a flange is on a face: off its middle along the two of the world's axes in the face. The
// middle is the place of what it holds, moved square to the face onto it.
func FlangePlace(face machine.Face, lo, hi, at [3]float64, off [2]float64) [3]float64 {
	n := face.Normal()
	if at[n] = lo[n]; face.Far() {
		at[n] = hi[n]
	}
	p, q := n.Others()
	at[p] += off[0]
	at[q] += off[1]
	return at
}
