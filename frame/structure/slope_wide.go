package structure

import (
	"tiploop/frame/answer"
)

// Where two things act on one place of a member they share a node, and go on sharing it until they are stationMerge
// apart, the one on a rigid arm. What the tip moves is as good as exact with that, but not its slope: the arm turns
// with the section, and the section's shear, which has its place on the stretch that opens between the two, is missed.
// The slope even differs from side to side then, for a shear force jumps where something acts. So no step is taken that
// lets places part without parting their nodes; where there is no other, whole solutions over steps that part the
// nodes, too, give the slope to one side.

// sharedRounding is by how much places may move against their nodes for nothing but rounding, mm.
const sharedRounding = 1e-9

// The wide steps, as multiples of an ordinary one, which is at most longestStep: some tenths of a millimetre, or a
// millimetre.
var wideSteps = []float64{16, 64}

// besideNodes is by how much in all places stand beside the nodes that they share.
func (m *Model) besideNodes() (mm float64) {
	for _, b := range m.allBodies() {
		mm += b.shared
	}
	return mm
}

// wideSlope is the slope to one side, more before less, found by whole solutions; false when there is none.
func (a *adjoint) wideSlope(draw func(by float64) (*Model, error), step float64) (slopes, bool) {
	mass, shared := a.model.mass(), a.model.besideNodes()
	for _, wide := range wideSteps {
		for side, name := range []answer.Side{answer.MoreOnly, answer.LessOnly} {
			h, sign := wide*step, float64(1-2*side)
			s := slopes{side: name, step: h}
			var along [3][]float64
			parted := true
			for n := range along {
				other, c, err := a.solved(draw, sign*h/float64(int(1)<<n))
				if err != nil || other.besideNodes() > shared+sharedRounding {
					parted = false
					break
				}
				if n == 0 {
					s.mass = sign * (other.mass() - mass) / h
				}
				along[n] = c
			}
			if !parted {
				continue
			}
			smooth := true
			for i, still := range a.still {
				slope, straight := slopeToOneSide(still, [3]float64{along[0][i], along[1][i], along[2][i]}, h)
				smooth = smooth && straight
				s.moved = append(s.moved, sign*slope)
			}
			if smooth {
				return s, true
			}
		}
	}
	return slopes{}, false
}
