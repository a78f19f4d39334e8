package report

import (
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile"
	"tiploop/frame/structure"
	"tiploop/report/paper"
	"tiploop/report/paper/papertest"
)

// crossMill is a small mill with a cross table; the post stands on the base, and the tool leaves the work in one
// corner.
const crossMill = `machine: Cross mill
values: {reach: 165 mm}
parts:
  base:    {plate: {from: [-150, -200, 0], to: [150, 200, 20]}, material: aluminium-5083}
  saddle:  {plate: {from: [-100, -90, 48], to: [100, 90, 68]}, material: aluminium-5083}
  table:   {plate: {from: [-120, -70, 96], to: [120, 70, 116]}, material: aluminium-5083}
  mount_y: {plate: {from: [-40, -200, 20], to: [40, -190, 60]}, material: aluminium-5083}
  mount_x: {plate: {from: [100, -20, 48], to: [110, 20, 90]}, material: aluminium-5083}
  post:    {plate: {from: [-50, 200, 0], to: [50, 230, 320]}, material: aluminium-5083}
  arm:     {plate: {from: [-30, 200 - reach, 260], to: [30, 200, 290]}, material: aluminium-5083}
  spindle: {bar: {from: [0, 210 - reach, 300], to: [0, 210 - reach, 180]}, section: {round: 43}, material: steel}
joints:
  - {between: [base, mount_y], screws: {size: M5, grid: [3, 1]}}
  - {between: [saddle, mount_x], screws: {size: M5, grid: [2, 1]}}
  - {between: [base, post], screws: {size: M6, grid: [3, 1]}}
  - {between: [post, arm], screws: {size: M6, grid: [2, 1]}}
  - {between: [arm, spindle], bonded: true}
grounds: [{part: base, face: bottom, feet: [[-140, -190], [140, -190], [-140, 190], [140, 190]], stiffness: 40 N/um}]
axes:
  y:
    along: y
    carries: [saddle]
    travel: [-40, 40]
    guides:
      - {rail: profile-15, on: base, part: saddle, from: [-80, -150, 20], to: [-80, 150, 20], carriages: [-40, 40]}
      - {rail: profile-15, on: base, part: saddle, from: [80, -150, 20], to: [80, 150, 20], carriages: [-40, 40]}
    drive: {screw: 1605, from: [0, -190, 34], to: [0, 150, 34], nut: {part: saddle, at: 0}, bearing: {part: mount_y}}
  x:
    along: x
    carries: [table]
    travel: [-70, 70]
    guides:
      - {rail: profile-15, on: saddle, part: table, from: [-100, -50, 68], to: [100, -50, 68], carriages: [0]}
      - {rail: profile-15, on: saddle, part: table, from: [-100, 50, 68], to: [100, 50, 68], carriages: [0]}
    drive: {screw: 1204, from: [100, 0, 82], to: [-100, 0, 82], nut: {part: table, at: 0}, bearing: {part: mount_x}}
tool: {part: spindle, at: [0, 210 - reach, 150], stickout: 30 mm, diameter: 6 mm, material: carbide}
work: {part: table}
loads:
  side cut: {tip: [30, 0, 0]}
  down: {tip: [0, 0, 40]}
  own weight: {gravity: true}
travel:
  row: {axis: x, tolerance: 60 um}
  table: {axes: [x, y], tolerance: 60 um}
options:
  short arm: {reach: 165 mm}
  long arm: {reach: 195 mm}
`

// solvedAt is a machine drawn with its axes elsewhere and solved there; nil where it cannot be built, which is where no
// work is under the tool.
func solvedAt(t *testing.T, m *machine.Machine, at map[string]float64) *answer.Result {
	t.Helper()
	moved, err := m.At(at)
	require.NoError(t, err)
	model, err := (&structure.Builder{Detail: structure.Section}).Build(context.Background(), moved)
	if err != nil {
		require.ErrorContains(t, err, "spot under the tool")
		return nil
	}
	r, err := model.Solve(structure.TipOnly)
	require.NoError(t, err)
	return r
}

// sameThere is how far what is told of a position in the six digits of a CSV may be from the machine solved there.
const sameThere = 5e-6

// TestTravelOfSolvedMachine: what the table says of any position is what the machine does when it is drawn there, built
// and solved by itself.
func TestTravelOfSolvedMachine(t *testing.T) {
	if testing.Short() {
		t.Skip("builds a machine at each position")
	}
	doc, err := modelfile.Parse("mill.yaml", []byte(crossMill))
	require.NoError(t, err)
	a := answer.Answer{Tiploop: 1, Machine: doc.Name(), Detail: "section"}
	for _, option := range doc.OptionNames() {
		m, err := doc.Machine(option)
		require.NoError(t, err)
		r, err := (&structure.Builder{Detail: structure.Section}).Answer(context.Background(), m, structure.FullTravel)
		require.NoError(t, err)
		a.Options = append(a.Options, *r)
	}
	rows, err := csv.NewReader(bytes.NewReader(written(t, func(b *bytes.Buffer) error {
		return WriteTravelCSV(b, a)
	}))).ReadAll()
	require.NoError(t, err)
	column := map[string]int{}
	for i, head := range rows[0] {
		column[head] = i
	}
	number := func(row []string, head string) float64 {
		v, err := strconv.ParseFloat(row[column[head]], 64)
		require.NoError(t, err, head)
		return v
	}
	moved, missing := 0, 0
	for i, row := range rows[1:] {
		if row[column["tip_size_um"]] == "" {
			missing++
			continue
		}
		if i%211 != 0 { // building the machine anew at all of them would take minutes
			continue
		}
		m, err := doc.Machine(row[column["option"]])
		require.NoError(t, err)
		r := solvedAt(t, m, map[string]float64{"x": number(row, "axis_x_mm"), "y": number(row, "axis_y_mm")})
		for _, l := range r.Loads {
			if l.Name == row[column["load"]] {
				moved++
				require.InEpsilon(t, *l.TipSizeUm, number(row, "tip_size_um"), sameThere, "%v", row)
				require.InEpsilon(t, r.Tip.StiffnessNPerUm.Softest, number(row, "stiffness_softest_n_per_um"),
					sameThere, "%v", row)
			}
		}
	}
	require.Greater(t, moved, 10)
	require.Positive(t, missing, "the tool leaves the table")
	text := string(written(t, func(b *bytes.Buffer) error { return WriteTravel(b, a) }))
	for _, r := range a.Options {
		for _, m := range r.Maps {
			if n := len(withoutWork(m)); n > 0 {
				require.Contains(t, text, fmt.Sprintf("At %d of 441 positions no work is under the tool", n))
			}
		}
	}
	p, err := TravelPicture(a)
	require.NoError(t, err)
	require.NotRegexp(t, "NaN|Inf", string(papertest.Encoded(t, p, paper.SVG)))
}
