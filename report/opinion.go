package report

import (
	"fmt"
	"math"

	"tiploop/frame/answer"
)

// What is not worth a line: a beam model that differs by less than sameModel percent, and a mesh that may hold back
// less than slightMesh percent.
const (
	sameModel  = 1.0
	slightMesh = 3.0
)

// opinions writes what opinionsOf says.
func (p *page) opinions(options ...answer.Result) {
	for _, s := range p.opinionsOf(options...) {
		p.say(s)
	}
}

// opinionsOf says how far the beam model of the same machine differs, and what the meshes may hold back where that is
// much: of several options the worst of each. Nothing of an answer that has neither.
func (p *page) opinionsOf(options ...answer.Result) (says []string) {
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
		words := beamInWords(options[beam].Beam)
		if words == sameBeam {
			says = append(says, "Beam model: "+words+".")
		} else {
			says = append(says, "Beam model: "+words+withOption(options, beam))
		}
	}
	return append(says, p.meshOpinion(options...)...)
}

// meshOpinion says what the meshes may hold back where that is much, of several options the worst.
func (p *page) meshOpinion(options ...answer.Result) []string {
	mesh, most, under := -1, slightMesh, ""
	for i, r := range options {
		if percent, load := meshDoubt(r.Loads); percent > most {
			mesh, most, under = i, percent, load
		}
	}
	if mesh < 0 {
		return nil
	}
	return []string{p.meshInWords(most, quoted(under)+withOption(options, mesh))}
}

// meshInWords says what the meshes may hold back, percent, under which load and where: words that end their sentence.
func (p *page) meshInWords(percent float64, under string) string {
	return fmt.Sprintf("The meshes may hold back up to %.0f %% of the movement under %s Ask for %s to see.",
		math.Ceil(percent), under, p.asks.ForFinerMesh())
}

// withOption ends a sentence on the worst of several options.
func withOption(options []answer.Result, worst int) string {
	if len(options) == 1 {
		return "."
	}
	return ", with " + quoted(options[worst].Name) + "; less with the others."
}

// sameBeam is what is said of a beam model that differs by nothing worth a number.
const sameBeam = "the same within 1 %"

// beamInWords says how far a beam model differs at most: "4 % softer in y".
func beamInWords(b *answer.BeamModel) string {
	percent, axis, load := b.Worst()
	if math.Abs(percent) < sameModel {
		return sameBeam
	}
	how := "softer"
	if percent < 0 {
		how = "stiffer"
	}
	if axis != "" {
		return fmt.Sprintf("%.0f %% %s in %s", math.Abs(percent), how, axis)
	}
	return fmt.Sprintf("%.0f %% %s under %s", math.Abs(percent), how, quoted(load))
}

// worstMeshDoubt is what the meshes of the worst option may hold back at most, percent.
func worstMeshDoubt(options []answer.Result) (percent float64) {
	for _, r := range options {
		one, _ := meshDoubt(r.Loads)
		percent = math.Max(percent, one)
	}
	return percent
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
