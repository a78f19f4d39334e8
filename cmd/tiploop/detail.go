package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"tiploop/frame/answer"
	"tiploop/frame/structure"
)

// The values of --detail. Both asks for solid bodies and for the beam model beside them.
const (
	sectionDetail = "section"
	solidDetail   = "solid"
	bothDetails   = "both"
)

// detailNames are the values of --detail, the default first.
var detailNames = []string{sectionDetail, solidDetail, bothDetails}

// detailsOf lists the details that a value of --detail asks for; the last one is the answer, the one before stands
// beside.
var detailsOf = map[string][]structure.Detail{
	sectionDetail: {structure.Section}, solidDetail: {structure.Solid}, bothDetails: {structure.Section, structure.Solid},
}

// detailsInWords lists values of --detail with what they mean.
func detailsInWords(details []string) string {
	meaning := map[string]string{sectionDetail: " (beams)", solidDetail: " (meshed bodies)",
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
	if _, ok := detailsOf[o.detail]; !ok {
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
		return misuse("--mesh is for meshed bodies, and --detail section has none\n\tadd --detail solid, or leave out --mesh")
	}
	return nil
}

// flags are the words by which answers ask for more.
var flags = answer.Asks{Detail: "--detail", Mesh: "--mesh", At: "--at", JSON: "--json"}

// builders are those of the details asked for, in their order; they tell the bar how far they are.
func (o *modelOptions) builders(bar *progress) (list []*structure.Builder) {
	for _, d := range detailsOf[o.detail] {
		list = append(list, &structure.Builder{Detail: d, Mesh: o.mesh.times, Progress: bar.within, Asks: flags})
	}
	return list
}
