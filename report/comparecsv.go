package report

import (
	"io"
	"slices"
	"strconv"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/verdict"
)

// WriteCompareCSV writes a row for each option, with what WriteCompare sets side by side, and behind it a row of the
// beam model's answer where that stands beside. Behind all that stand the ranges of what was drawn and the verdict: what
// the option is picked for, by which it is beaten in everything, in how many of 100 draws at least, and how often it is
// the better and the worse one over all pairs and quantities. The beam model's rows have no verdict, and a single option
// has none.
func WriteCompareCSV(w io.Writer, a answer.Answer) error {
	lines := comparedLines(eachDetail(a.Options))
	judged := verdict.Of(a)
	rows := [][]string{comparedHead(lines)}
	for _, r := range a.Options {
		rows = append(rows, append(comparedCells(lines, r), verdictCells(judged, r.Name)...))
		if r.Section != nil {
			rows = append(rows, append(comparedCells(lines, *r.Section), blanks(len(verdictHead))...))
		}
	}
	return writeCSV(w, a, rows)
}

// head names the line's column.
func (l comparedLine) head() string { return l.what + ", " + l.unit }

// comparedHead names all columns.
func comparedHead(lines []comparedLine) []string {
	head, ranges := []string{"option"}, []string(nil)
	for _, l := range lines {
		head = append(head, l.head())
		if l.known != nil {
			ranges = append(ranges, ends(l.head())...)
		}
	}
	return slices.Concat(head, []string{"detail"}, ranges, verdictHead)
}

// comparedCells are an option's numbers and their ranges.
func comparedCells(lines []comparedLine, r answer.Result) []string {
	row, ranges := []string{r.Name}, []string(nil)
	for _, l := range lines {
		cell := ""
		if v, ok := l.value(r); ok {
			cell = one(v)
		}
		row = append(row, cell)
		if l.known != nil {
			ranges = append(ranges, endCells(l.known(r))...)
		}
	}
	return slices.Concat(row, []string{r.Detail}, ranges)
}

// verdictHead names the columns of the verdict.
var verdictHead = []string{"picked_for", "beaten_by", "beaten_in_percent", "better_in_number", "worse_in_number"}

// verdictCells are the verdict on an option; blank without one. Where several beat it, they stand in one cell and their
// chances in the same order in the next.
func verdictCells(v *answer.Verdict, option string) []string {
	if v == nil {
		return blanks(len(verdictHead))
	}
	var picked, by, chances []string
	drawn := false
	if slices.Contains(v.Steadiest.Options, option) {
		picked = append(picked, "steadiest")
	}
	if v.Kilogram.Option == option {
		picked = append(picked, "most for a kilogram")
	}
	if v.Hour.Option == option {
		picked = append(picked, "most for an hour of holes")
	}
	for _, b := range v.Beaten {
		if b.Option != option {
			continue
		}
		by, chances = append(by, b.By), append(chances, perhaps(b.LeastPercent))
		drawn = drawn || b.LeastPercent != nil
	}
	if !drawn {
		chances = nil
	}
	better, worse := verdict.Counts(v.Pairs, option)
	const between = "; "
	return []string{strings.Join(picked, between), strings.Join(by, between), strings.Join(chances, between),
		strconv.Itoa(better), strconv.Itoa(worse)}
}
