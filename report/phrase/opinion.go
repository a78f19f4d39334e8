package phrase

import (
	"fmt"
	"math"

	"tiploop/frame/answer"
)

// sameModel is how much a beam model may differ, percent, without its being worth a number.
const sameModel = 1.0

// SlightMesh is what a mesh may hold back, percent, without its being worth a line.
const SlightMesh = 3.0

// Opinions say how far the beam model of the same machine differs, and what the meshes may hold back where that is
// much: of several options the worst of each. Nothing of an answer that has neither.
func Opinions(asks answer.Asks, options ...answer.Result) (says []string) {
	beam, most := -1, 0.0
	for i, r := range options {
		if r.Beam == nil {
			continue
		}
		if percent, _, _ := r.Beam.Worst(); beam < 0 || math.Abs(percent) > most {
			beam, most = i, math.Abs(percent)
		}
	}
	if beam >= 0 {
		words := "A second, simpler model (beams) "
		if most < sameModel {
			says = append(says, words+"agrees within 1 %.")
		} else {
			says = append(says, words+"comes out "+beamOff(options[beam].Beam)+withOption(options, beam)+".")
		}
	}
	mesh, most, under := -1, SlightMesh, ""
	for i, r := range options {
		if percent, load := answer.MeshDoubt(r.Loads); percent > most {
			mesh, most, under = i, percent, load
		}
	}
	if mesh >= 0 {
		says = append(says, MeshHolds(asks, most, Quoted(under)+withOption(options, mesh)))
	}
	return says
}

// beamOff says how far a beam model differs at most: "4 % softer in y".
func beamOff(b *answer.BeamModel) string {
	percent, axis, load := b.Worst()
	how := "softer"
	if percent < 0 {
		how = "stiffer"
	}
	if axis != "" {
		return fmt.Sprintf("%.0f %% %s in %s", math.Abs(percent), how, axis)
	}
	return fmt.Sprintf("%.0f %% %s under %s", math.Abs(percent), how, Quoted(load))
}

// MeshHolds says what the meshes may hold back, percent, under which load and where.
func MeshHolds(asks answer.Asks, percent float64, under string) string {
	return fmt.Sprintf("The meshes may hold back up to %.0f %% of the movement under %s. Ask for %s to see.",
		math.Ceil(percent), under, asks.ForFinerMesh())
}

// withOption names the worst of several options.
func withOption(options []answer.Result, worst int) string {
	if len(options) == 1 {
		return ""
	}
	return " with " + Quoted(options[worst].Name) + ", no more with the others"
}
