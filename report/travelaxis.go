package report

import (
	"fmt"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
	"tiploop/report/wrap"
)

// travelHeading names an option, the path or the axis that runs, and the load.
func travelHeading(r answer.Result, t answer.Travel) string {
	return fmt.Sprintf("%s: %s under %s", wrap.OneLine(r.Name), pathInWords(t), phrase.Quoted(t.Load))
}

// pathInWords names a path of the work spot, or an axis with the path it runs along where that has another name.
func pathInWords(t answer.Travel) string {
	switch t.Axis {
	case "":
		return "path " + phrase.Quoted(t.Path)
	case t.Path:
		return "axis " + wrap.OneLine(t.Axis)
	}
	return fmt.Sprintf("axis %s, path %s", wrap.OneLine(t.Axis), phrase.Quoted(t.Path))
}

// firstOfPath tells whether a travel is the first along its path: those after it are the same path under other loads.
func firstOfPath(r answer.Result, i int) bool {
	return i == 0 || r.Travel[i-1].Path != r.Travel[i].Path
}

// leftOutAlong says at which positions of an axis no work is under the tool.
func (p *page) leftOutAlong(t answer.Travel) {
	n := len(t.LeftOutMM)
	if n == 0 {
		return
	}
	where := number.Along(t.LeftOutMM[0]) + " mm"
	if n > 1 {
		where = fmt.Sprintf("between %s and %s mm", number.Along(t.LeftOutMM[0]), number.Along(t.LeftOutMM[n-1]))
	}
	p.Say(fmt.Sprintf("At %d of %d positions no work is under the tool: %s. They are left out.", n, n+len(t.AtMM),
		where))
}

// stiffnessAlong says where along an axis the tip is softest.
func (p *page) stiffnessAlong(t answer.Travel) {
	if t.SoftestNPerUm == nil {
		return
	}
	least, most := 0, 0
	for k, s := range t.SoftestNPerUm {
		if number.Exceeds(t.SoftestNPerUm[least], s) {
			least = k
		}
		if number.Exceeds(s, t.SoftestNPerUm[most]) {
			most = k
		}
	}
	soft, stiff := t.SoftestNPerUm[least], t.SoftestNPerUm[most]
	if stiff-soft < alike*stiff {
		p.Say(fmt.Sprintf("The tip is about as stiff all along: %s N/µm in its softest direction.",
			number.Significant(soft)))
		return
	}
	p.Say(fmt.Sprintf("In its softest direction the tip is least stiff at %s mm: %s N/µm, and stiffest at %s "+
		"mm: %s N/µm.", placeOn(t, t.AtMM[least]), number.Significant(soft), placeOn(t, t.AtMM[most]),
		number.Significant(stiff)))
}

// howStraight is what the straightness of an axis means.
const howStraight = "How straight an axis runs: as it goes through its travel and nothing but the machine's own " +
	"weight acts, the tip leaves, as the work sees it, the straight line through its places at the two ends (the " +
	"end-point reference straight line of ISO 230-1); the number is the distance between its farthest places on " +
	"either side of that line. Only the machine's bending is in it: what rails and faces add by not being straight " +
	"themselves comes on top."

// straightness says how straight each axis of an option runs.
func (p *page) straightness(r answer.Result) {
	if len(r.Straight) == 0 {
		return
	}
	p.Heading(wrap.OneLine(r.Name) + ": how straight the axes run under the machine's own weight")
	for _, run := range straightRuns(r) {
		p.Say(run.inWords())
	}
	p.straightBeside(r)
}

// straightRun is an axis that runs from one position to another, seen across two directions.
type straightRun []answer.Straightness

// straightRuns are those of an option, in its order.
func straightRuns(r answer.Result) (runs []straightRun) {
	for _, s := range r.Straight {
		i := slices.IndexFunc(runs, func(o straightRun) bool {
			return o[0].Axis == s.Axis && slices.Equal(o[0].AtMM, s.AtMM)
		})
		if i < 0 {
			runs = append(runs, straightRun{s})
			continue
		}
		runs[i] = append(runs[i], s)
	}
	return runs
}

// across is the line that a straightness is seen along, in words.
func across(s answer.Straightness) string { return phrase.Lines[strings.Index("xyz", s.Across)] }

// unseen is a straightness that nobody can measure, µm: less than a hundredth of the finest dial indicator's division.
const unseen = 0.01

// inWords says how straight the axis runs in each direction.
func (r straightRun) inWords() string {
	var words, never []string
	for _, s := range r {
		if s.Um >= unseen {
			words = append(words, fmt.Sprintf("%s µm %s", number.Significant(s.Um), across(s)))
		} else {
			never = append(never, across(s))
		}
	}
	of := fmt.Sprintf("Axis %s, from %s to %s mm, runs straight", wrap.OneLine(r[0].Axis), number.Along(r[0].AtMM[0]),
		number.Along(r[0].AtMM[len(r[0].AtMM)-1]))
	if len(words) == 0 {
		return of + fmt.Sprintf(": it leaves the line by less than %g µm.", unseen)
	}
	if len(never) > 0 {
		return of + " to within " + phrase.List(words) + fmt.Sprintf(", and leaves the line by less than %g µm ", unseen) +
			phrase.List(never) + "."
	}
	return of + " to within " + phrase.List(words) + "."
}

// straightBeside sets the beam model's straightness beside that of solid bodies; nothing when there is none.
func (p *page) straightBeside(r answer.Result) {
	if r.Section == nil {
		return
	}
	var rows [][]string
	for _, s := range r.Straight {
		i := slices.IndexFunc(r.Section.Straight, func(o answer.Straightness) bool {
			return o.Axis == s.Axis && o.Across == s.Across && slices.Equal(o.AtMM, s.AtMM)
		})
		if i >= 0 {
			rows = append(rows, besideCells(fmt.Sprintf("axis %s, %s, µm", wrap.OneLine(s.Axis), across(s)),
				r.Section.Straight[i].Um, s.Um))
		}
	}
	if len(rows) > 0 {
		p.besideTable(rows)
	}
}

// besideCells set two values beside each other, and how far the beam model's is off.
func besideCells(what string, beam, solid float64) []string {
	off := absent
	if percent, ok := offBy(beam, solid); ok {
		off = change(percent)
	}
	return []string{what, number.Significant(beam), number.Significant(solid), off}
}
