package main

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"tiploop/frame/answer"
	"tiploop/frame/structure"
)

// The values of --detail. Solid is the usual one: its answer says in a line how far the beam model differs. Both shows
// the beam model's answer beside it.
const (
	sectionDetail = answer.SectionDetail
	solidDetail   = answer.SolidDetail
	bothDetails   = "both"
)

// detailNames are the values of --detail, the default first.
var detailNames = []string{solidDetail, sectionDetail, bothDetails}

// detailsInWords lists values of --detail with what they mean.
func detailsInWords(details []string) string {
	meaning := map[string]string{sectionDetail: " (beams)", solidDetail: " (meshed)",
		bothDetails: " (one beside the other)"}
	var words []string
	for _, d := range details {
		words = append(words, d+meaning[d])
	}
	return strings.Join(words, ", ")
}

// meshFactor is the value of --mesh.
type meshFactor struct {
	times float64
	asked bool
}

// Set reads the factor.
func (m *meshFactor) Set(word string) error {
	times, err := strconv.ParseFloat(word, 64)
	if err != nil && !errors.Is(err, strconv.ErrRange) { // out of range is beyond the coarsest
		return errors.New("not a number")
	}
	m.times, m.asked = times, true
	return nil
}

func (m *meshFactor) String() string { return fmt.Sprintf("%g", m.times) }

// Type is what the factor is called where the flag's own words do not say it.
func (m *meshFactor) Type() string { return "factor" }

// checkDetail finds what is wrong with --detail and --mesh.
func (o *modelOptions) checkDetail() error {
	if !slices.Contains(detailNames, o.detail) {
		hint := "one of: " + strings.Join(detailNames, ", ")
		if near := nearest(o.detail, detailNames); near != "" {
			hint = "did you mean " + near + "? " + hint
		}
		return misuse("--detail %q is not known\n\t%s", o.detail, hint)
	}
	if !(o.mesh.times >= structure.FinestMesh && o.mesh.times <= structure.CoarsestMesh) { // written so that NaN fails
		return misuse("--mesh %g is not between %g and %g", o.mesh.times, structure.FinestMesh, structure.CoarsestMesh)
	}
	if o.mesh.asked && o.detail == sectionDetail {
		return misuse("--mesh is for meshed bodies, and --detail section has none\n\tleave out one of the two")
	}
	return nil
}

// flags are the words by which answers ask for more.
var flags = answer.Asks{Detail: "--detail", Mesh: "--mesh", At: "--at", JSON: "--json", All: "--all", Show: "--show",
	Option: "--option"}

// asks are the words by which the answer asks for more: none where nobody can.
func (o *modelOptions) asks() answer.Asks {
	if o.posted {
		return answer.Asks{}
	}
	return flags
}

// builder is that of the answer, which tells the bar how far it is; beams is that of the beam model.
func (o *modelOptions) builder(bar *progress) *structure.Builder {
	if o.detail == sectionDetail {
		return o.beams()
	}
	return &structure.Builder{Detail: structure.Solid, Mesh: o.mesh.times, Progress: bar.within, Asks: o.asks()}
}

func (o *modelOptions) beams() *structure.Builder {
	return &structure.Builder{Detail: structure.Section, Asks: o.asks()}
}
