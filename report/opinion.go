package report

import (
	"fmt"
	"math"

	"tiploop/frame/answer"
	"tiploop/report/phrase"
)

// slightMesh is what a mesh may hold back, percent, without its being worth a line.
const slightMesh = 3.0

// opinions writes what opinionsOf says.
func (p *page) opinions(options ...answer.Result) {
	for _, s := range p.opinionsOf(options...) {
		p.Say(s)
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
		words := phrase.Beam(options[beam].Beam)
		if words == phrase.SameBeam {
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
		if percent, load := answer.MeshDoubt(r.Loads); percent > most {
			mesh, most, under = i, percent, load
		}
	}
	if mesh < 0 {
		return nil
	}
	return []string{p.meshInWords(most, phrase.Quoted(under)+withOption(options, mesh))}
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
	return ", with " + phrase.Quoted(options[worst].Name) + "; less with the others."
}

// worstMeshDoubt is what the meshes of the worst option may hold back at most, percent.
func worstMeshDoubt(options []answer.Result) (percent float64) {
	for _, r := range options {
		one, _ := answer.MeshDoubt(r.Loads)
		percent = math.Max(percent, one)
	}
	return percent
}
