package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/paper"
	"tiploop/report/phrase"
)

// The two models of a part, as heads of columns.
const (
	beamHead  = "beam model"
	solidHead = "solid bodies"
	offHead   = "beam model off by, %"
)

// whyOff says what the difference between the two means, and the meshes' own share of it where that is much.
func whyOff(options []answer.Result) string {
	words := "Contacts and grounds are alike in both, so what differs is the errors of both, of the beam model's parts " +
		"and of the meshes"
	if percent := worstMeshDoubt(options); percent > phrase.SlightMesh {
		words += fmt.Sprintf(", of which the meshes' may be up to %.0f %%", math.Ceil(percent))
	}
	return words
}

// besideHeading stands above every table that sets the two beside each other.
const besideHeading = "Beam model against solid bodies"

// detailInWords says that an answer is that of the beam model, or has it beside; nothing of one of meshed parts alone,
// which is the usual.
func detailInWords(a answer.Answer) string {
	switch {
	case a.Detail == answer.SectionDetail:
		return "Plates and gussets as beams"
	case slices.ContainsFunc(a.Options, func(r answer.Result) bool { return r.Section != nil }):
		return "Plates and gussets as solid bodies"
	}
	return ""
}

// detail writes of which detail the answer is, where that is not the usual one.
func (p *page) detail(a answer.Answer) {
	if words := detailInWords(a); words != "" {
		p.Say(words + ".")
	}
}

// eachDetail gives each option, and behind one that has the beam model's answer beside it that answer.
func eachDetail(options []answer.Result) []answer.Result {
	var all []answer.Result
	for _, r := range options {
		all = append(all, r)
		if r.Section != nil {
			all = append(all, *r.Section)
		}
	}
	return all
}

// offBy is how far the beam model is off against solid bodies, percent; false when there is nothing to be off against.
func offBy(beam, solid float64) (percent float64, ok bool) {
	switch {
	case !differs(beam, solid) && math.Abs(solid) < number.Noise:
		return 0, true
	case math.Abs(solid) < number.Noise:
		return 0, false
	}
	return 100 * (beam/solid - 1), true
}

// change writes a percentage with its sign, to a tenth.
func change(percent float64) string {
	s := strconv.FormatFloat(percent, 'f', 1, 64)
	switch {
	case s == "0.0" || s == "-0.0":
		return "0.0"
	case percent > 0:
		return "+" + s
	}
	return s
}

// besideRow sets one line of an answer beside that of the beam model.
func besideRow(l comparedLine, r answer.Result) []string {
	off := absent
	if percent, ok := besideOff(l, r); ok {
		off = change(percent)
	}
	return []string{l.what + ", " + l.unit, l.cell(*r.Section), l.cell(r), off}
}

// besideOff is how far the beam model is off in one line, percent; false when either has no value.
func besideOff(l comparedLine, r answer.Result) (percent float64, ok bool) {
	beam, okBeam := l.value(*r.Section)
	solid, okSolid := l.value(r)
	if !okBeam || !okSolid {
		return 0, false
	}
	return offBy(beam, solid)
}

// besideLines are what the two models of an option are compared by: stiffness and movement of the tip, or movement of
// the points where there is no tool.
func besideLines(r answer.Result) []comparedLine {
	both := []answer.Result{*r.Section, r}
	lines := present(slices.Concat(stiffnessLines(), tipLines(both)), both)
	if len(lines) == 0 {
		lines = pointLines(both)
	}
	return lines
}

// beside sets the beam model's answer beside that of solid bodies; nothing when there is none.
func (p *page) beside(r answer.Result) {
	if r.Section == nil || len(r.Solid) == 0 {
		return
	}
	p.Heading(besideHeading)
	lines := besideLines(r)
	var rows [][]string
	for _, l := range lines {
		rows = append(rows, besideRow(l, r))
	}
	if len(rows) > 0 {
		p.Table([]column{named(""), measured(beamHead), measured(solidHead), measured(offHead)}, rows)
	}
	p.Say(besideInWords(lines, r))
	p.sharesBeside(r)
}

// besideInWords says what the difference means and how large it is at most.
func besideInWords(lines []comparedLine, r answer.Result) string {
	why := whyOff([]answer.Result{r})
	var most comparedLine
	worst := 0.0
	for _, l := range lines {
		if percent, ok := besideOff(l, r); ok && number.Exceeds(math.Abs(percent), math.Abs(worst)) {
			most, worst = l, percent
		}
	}
	if math.Abs(worst) < 100*sameWithin {
		return why + ": here nothing that matters."
	}
	return fmt.Sprintf("%s: most in %s, %s %%.", why, most.what, change(worst))
}

// sharesBeside sets beside each other who gives way in the two models, the largest sources of each load.
func (p *page) sharesBeside(r answer.Result) {
	both := []answer.Result{*r.Section, r}
	var rows [][]string
	for _, load := range shareLoads(both) {
		kept, _, restCount := largest(mostShares(both, load), mostSources)
		var rest [2]float64
		for i, one := range both {
			for _, s := range one.Shares {
				if s.Load == load && !slices.ContainsFunc(kept,
					func(k answer.Share) bool { return k.Source == s.Source }) {
					rest[i] += s.Percent
				}
			}
		}
		for _, s := range kept {
			var cells [2]string
			var percents [2]float64
			for i, one := range both {
				k := slices.IndexFunc(one.Shares,
					func(o answer.Share) bool { return o.Load == load && o.Source == s.Source })
				if k < 0 {
					cells[i] = absent
					continue
				}
				percents[i] = one.Shares[k].Percent
				cells[i] = number.Percent(percents[i])
			}
			rows = append(rows, []string{load, s.Source, cells[0], cells[1], change(percents[0] - percents[1])})
		}
		if restCount > 0 {
			rows = append(rows, []string{load, fmt.Sprintf("all others (%d)", restCount), number.Percent(rest[0]),
				number.Percent(rest[1]), change(rest[0] - rest[1])})
		}
	}
	if len(rows) > 0 {
		p.Line("")
		p.Table([]column{named("load"), named("share of the movement"), measured(beamHead + ", %"),
			measured(solidHead + ", %"), measured("apart, % points")}, rows)
		p.Say("The metal that gives way round a screw counts to the joint in the beam model, to the part in " +
			"solid bodies.")
	}
}

// travelBeside sets the beam model's travel beside that of solid bodies; nothing when there is none.
func (p *page) travelBeside(r answer.Result, solid answer.Travel) {
	beam := sectionTravel(r, solid)
	if beam == nil {
		return
	}
	var rows [][]string
	row := func(what string, write func(float64) string, beamValue, solidValue float64) {
		off := absent
		if percent, ok := offBy(beamValue, solidValue); ok {
			off = change(percent)
		}
		rows = append(rows, []string{what, write(beamValue), write(solidValue), off})
	}
	worstBeam, _ := extremePlaces(*beam)
	worstSolid, _ := extremePlaces(solid)
	row("most movement, µm", number.Significant, number.Norm(beam.TipUm[worstBeam]),
		number.Norm(solid.TipUm[worstSolid]))
	rows = append(rows, []string{"  at, mm", placeOn(*beam, beam.AtMM[worstBeam]),
		placeOn(solid, solid.AtMM[worstSolid]), ""})
	if solid.ToleranceUm > 0 {
		row("stretch within "+number.Given(solid.ToleranceUm)+" µm, mm", number.Along, within(*beam), within(solid))
		rows = append(rows, []string{"  from … to, mm", stretch(*beam), stretch(solid), ""})
	}
	p.besideTable(rows)
}

// besideTable writes values of the beam model beside those of solid bodies.
func (p *page) besideTable(rows [][]string) {
	p.Line("")
	p.Table([]column{named(besideHeading), measured(beamHead), measured(solidHead), measured(offHead)}, rows)
}

// sectionTravel is the beam model's travel on the same path under the same load; nil when there is none.
func sectionTravel(r answer.Result, t answer.Travel) *answer.Travel {
	if r.Section == nil {
		return nil
	}
	for i := range r.Section.Travel {
		if o := &r.Section.Travel[i]; o.Path == t.Path && o.Load == t.Load {
			return o
		}
	}
	return nil
}

// stretch writes from where to where a travel keeps its tolerance.
func stretch(t answer.Travel) string {
	if t.WithinMM == nil {
		return absent
	}
	return strings.Join([]string{placeOn(t, t.WithinMM[0]), "…", placeOn(t, t.WithinMM[1])}, " ")
}

// addDetail ends the line below the title with the detail of the answer, where that is not the usual one.
func addDetail(s *paper.Sheet, a answer.Answer) {
	words := detailInWords(a)
	if s.Subtitle != "" && words != "" {
		s.Subtitle += ". "
	}
	s.Subtitle += words
}

// worstMeshDoubt is what the meshes of the worst option may hold back at most, percent.
func worstMeshDoubt(options []answer.Result) (percent float64) {
	for _, r := range options {
		one, _ := answer.MeshDoubt(r.Loads)
		percent = math.Max(percent, one)
	}
	return percent
}
