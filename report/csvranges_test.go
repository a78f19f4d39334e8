package report

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/answer"
	"tiploop/report/verdict"
)

// readRows reads a CSV back: a map of cells by their heads for each row.
func readRows(t require.TestingT, write func(*bytes.Buffer) error) (rows []map[string]string) {
	var b bytes.Buffer
	require.NoError(t, write(&b))
	all, err := csv.NewReader(&b).ReadAll()
	require.NoError(t, err)
	for _, cells := range all[1:] {
		row := map[string]string{}
		for i, head := range all[0] {
			row[head] = cells[i]
		}
		require.Len(t, row, len(all[0]))
		rows = append(rows, row)
	}
	return rows
}

// drawnOption is an option of which everything was drawn; every range has ends of its own.
func drawnOption(name string) answer.Result {
	r := sampleOption(name, 1, 4, 130)
	n := 0.0
	next := func() answer.Range { n++; return answer.Range{Low: 100 + n, Median: 200 + n, High: 300 + n} }
	r.Sure = &answer.Sure{Draws: 256, Stiffness: &answer.StiffnessRanges{X: next(), Y: next(), Z: next(), Softest: next()}}
	for _, l := range r.Loads {
		r.Sure.Movements = append(r.Sure.Movements, answer.MovementRange{Load: l.Name, SizeUm: next()})
		for _, at := range pointLoads([]answer.Result{r}) {
			if at.load == l.Name {
				r.Sure.Movements = append(r.Sure.Movements, answer.MovementRange{Load: l.Name, Point: at.point, SizeUm: next()})
			}
		}
	}
	for _, v := range r.Travel {
		along := answer.AlongRange{Path: v.Path, Load: v.Load}
		for range v.AtMM {
			of := next()
			along.LowUm, along.HighUm = append(along.LowUm, of.Low), append(along.HighUm, of.High)
		}
		r.Sure.Along = append(r.Sure.Along, along)
		r.Sure.Stretches = append(r.Sure.Stretches, answer.StretchRange{Path: v.Path, Load: v.Load, StretchMM: next()})
	}
	r.Cuts = sampleCuts(1)[:1]
	r.Cuts[0].Load = r.Loads[1].Name
	r.Sure.Depths = []answer.DepthRange{{Cut: r.Cuts[0].Name, DepthMM: next()}}
	r.Check = []answer.Check{{Part: "head", Place: "its end", Direction: [3]float64{0, -1, 0}, ForceN: 50, ReadingUm: 7}}
	r.Sure.Checks = []answer.Range{next()}
	r.Sure.Risks = []answer.Risk{{Load: r.Loads[0].Name, What: "joint base/upright", How: answer.Slips, Percent: 12.5}}
	return r
}

// requireEnds looks for a range beside its number.
func requireEnds(t *testing.T, row map[string]string, head string, r answer.Range) {
	t.Helper()
	require.Contains(t, row, head)
	require.Equal(t, strconv.FormatFloat(r.Low, 'g', -1, 64), row[head+"_low"], head)
	require.Equal(t, strconv.FormatFloat(r.High, 'g', -1, 64), row[head+"_high"], head)
}

// All that was drawn stands in the CSV of the command that tells its number, in the row of its load, path or option; an
// option of which nothing was drawn has blanks.
func TestRangesInCSV(t *testing.T) {
	drawn, bare := drawnOption("drawn"), sampleOption("bare", 1, 4, 130)
	a := sampleAnswer(drawn, bare)
	tip := readRows(t, func(b *bytes.Buffer) error { return WriteTipCSV(b, a) })
	require.Len(t, tip, 4)
	of := func(load string) map[string]string {
		return tip[slices.IndexFunc(tip, func(row map[string]string) bool {
			return row["option"] == "drawn" && row["load"] == load
		})]
	}
	k := drawn.Sure.Stiffness
	for _, l := range drawn.Loads {
		row := of(l.Name)
		requireEnds(t, row, "stiffness_x_n_per_um", k.X)
		requireEnds(t, row, "stiffness_y_n_per_um", k.Y)
		requireEnds(t, row, "stiffness_z_n_per_um", k.Z)
		requireEnds(t, row, "stiffness_softest_n_per_um", k.Softest)
		requireEnds(t, row, "check_1_reading_um", drawn.Sure.Checks[0])
		require.Equal(t, "head: its end", row["check_1_pushed"])
		require.Equal(t, "-1", row["check_1_direction_y_unit_vector"])
	}
	for _, m := range drawn.Sure.Movements {
		if m.Point == "" {
			requireEnds(t, of(m.Load), "tip_size_um", m.SizeUm)
		} else {
			requireEnds(t, of(m.Load), csvHead("point "+m.Point+" size_um"), m.SizeUm)
		}
	}
	requireEnds(t, of(drawn.Cuts[0].Load), "cut_typical_deepest_mm", drawn.Sure.Depths[0].DepthMM)
	require.Equal(t, "12.5", of(drawn.Loads[0].Name)["joint_base_upright_slips_percent"])
	require.Empty(t, of(drawn.Loads[1].Name)["joint_base_upright_slips_percent"])

	compare := readRows(t, func(b *bytes.Buffer) error { return WriteCompareCSV(b, a) })
	require.Len(t, compare, 2)
	ranges := 0
	for _, l := range comparedLines(a.Options) {
		if l.known != nil && l.known(drawn) != nil {
			requireEnds(t, compare[0], csvHead(l.head()), *l.known(drawn))
			ranges++
		}
	}
	require.Equal(t, 4+len(drawn.Sure.Movements)+len(drawn.Sure.Stretches)+len(drawn.Sure.Depths), ranges)

	travel := readRows(t, func(b *bytes.Buffer) error { return WriteTravelCSV(b, a) })
	for _, s := range drawn.Sure.Stretches {
		i := slices.IndexFunc(travel, func(row map[string]string) bool {
			return row["option"] == "drawn" && row["path"] == s.Path && row["load"] == s.Load
		})
		requireEnds(t, travel[i], "stretch_mm", s.StretchMM)
		along := drawn.Sure.Along[slices.IndexFunc(drawn.Sure.Along, func(a answer.AlongRange) bool {
			return a.Path == s.Path && a.Load == s.Load
		})]
		for n := range along.LowUm {
			requireEnds(t, travel[i+n], "tip_size_um", answer.Range{Low: along.LowUm[n], High: along.HighUm[n]})
		}
	}
	for _, rows := range [][]map[string]string{tip, compare, travel} {
		for _, row := range rows {
			for head, cell := range row {
				if row["option"] == "bare" && (strings.HasSuffix(head, "_low") || strings.HasSuffix(head, "_high")) {
					require.Empty(t, cell, head)
				}
			}
		}
	}
}

// parted are the words of a cell that holds several.
func parted(cell string) []string {
	return strings.FieldsFunc(cell, func(r rune) bool { return r == ';' || r == ' ' })
}

// The verdict in compare's CSV against what the duels alone say of every pair.
func TestVerdictInCSV(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := randomOptions(t)
		rows := readRows(t, func(b *bytes.Buffer) error { return WriteCompareCSV(b, a) })
		steadiest := verdict.Of(a).Steadiest.Options
		for i, r := range a.Options {
			beats, beaten, by, chances := 0, 0, []string{}, []string{}
			for _, o := range a.Options {
				better, worse, open, _, _ := standing(a, r.Name, o.Name)
				beats, beaten = beats+better, beaten+worse
				if o.Name != r.Name && worse > 0 && better+open == 0 {
					_, _, _, _, least := standing(a, o.Name, r.Name)
					by, chances = append(by, o.Name), append(chances, fmt.Sprint(least))
				}
			}
			row := rows[i]
			require.Equal(t, r.Name, row["option"])
			require.Equal(t, []string{fmt.Sprint(beats), fmt.Sprint(beaten)},
				[]string{row["better_in_number"], row["worse_in_number"]})
			require.ElementsMatch(t, by, parted(row["beaten_by"]))
			require.ElementsMatch(t, chances, parted(row["beaten_in_percent"]))
		}
		for _, row := range rows {
			require.Equal(t, slices.Contains(steadiest, row["option"]), strings.HasPrefix(row["picked_for"], "steadiest"))
		}
	})
}
