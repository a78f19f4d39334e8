package report

import (
	"fmt"
	"math"

	"tiploop/frame/answer"
	"tiploop/report/wrap"
)

// What is not worth a line: a beam model that differs by less than sameModel percent, and a mesh that may hold back less
// than slightMesh percent.
const (
	sameModel  = 1.0
	slightMesh = 3.0
)

// opinions says how far the beam model of the same machine differs, and what the meshes may hold back where that is
// much: of several options the worst of each. Nothing of an answer that has neither.
func (p *page) opinions(options ...answer.Result) {
	beam, mesh := -1, -1
	most := func(r answer.Result) float64 { percent, _ := r.Beam.Worst(); return math.Abs(percent) }
	for i, r := range options {
		if r.Beam != nil && (beam < 0 || most(r) > most(options[beam])) {
			beam = i
		}
		if percent, _ := meshDoubt(r.Loads); percent > slightMesh {
			if least, _ := meshDoubt(options[max(mesh, 0)].Loads); mesh < 0 || percent > least {
				mesh = i
			}
		}
	}
	of := func(option int) string {
		if len(options) == 1 {
			return "."
		}
		return ", with " + wrap.OneLine(options[option].Name) + "; less with the others."
	}
	if beam >= 0 {
		words := beamInWords(options[beam].Beam)
		if words == sameBeam {
			p.say("Beam model: " + words + ".")
		} else {
			p.say("Beam model: " + words + of(beam))
		}
	}
	if mesh >= 0 {
		percent, under := meshDoubt(options[mesh].Loads)
		p.say(fmt.Sprintf("The meshes may hold back up to %.0f %% of the movement under %s%s Ask for %s to see.",
			math.Ceil(percent), wrap.OneLine(under), of(mesh), p.asks.ForFinerMesh()))
	}
}

// sameBeam is what is said of a beam model that differs by nothing worth a number.
const sameBeam = "the same within 1 %"

// beamInWords says how far a beam model differs at most: "4 % softer in y".
func beamInWords(b *answer.BeamModel) string {
	percent, at := b.Worst()
	if math.Abs(percent) < sameModel {
		return sameBeam
	}
	how := "softer"
	if percent < 0 {
		how = "stiffer"
	}
	if b.TipPercent != nil {
		return fmt.Sprintf("%.0f %% %s in %s", math.Abs(percent), how, at)
	}
	return fmt.Sprintf("%.0f %% %s under %s", math.Abs(percent), how, wrap.OneLine(at))
}

// meshDoubt is what the meshes may hold back at most, percent, and under which load.
func meshDoubt(loads []answer.LoadResult) (percent float64, under string) {
	for _, l := range loads {
		if l.MeshErrorPercent != nil && *l.MeshErrorPercent > percent {
			percent, under = *l.MeshErrorPercent, l.Name
		}
	}
	return percent, under
}
