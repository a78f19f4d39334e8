// Package models gives tests the model files that several of them read. The machines are made up; what tests hold them
// against stands in the tests.
package models

import (
	_ "embed" // the files become part of the tests
	"fmt"
	"strings"
)

// ClockPlateMill is a small mill with options, gussets and a travel along its bed.
//
//go:embed clock-plate-mill.yaml
var ClockPlateMill string

// Sledge is a table on two rails.
//
//go:embed sledge.yaml
var Sledge string

// CrossTable is a cross table under a quill, drawn with its axes at three places: what follows the axes is written with
// them, so the same text draws the machine anywhere.
//
//go:embed cross-table.yaml
var CrossTable string

// Changeable is a machine with a value of every kind, at numbers at which no two faces, nodes or limits coincide.
//
//go:embed changeable.yaml
var Changeable string

// CrossTravel is the cross table, drawn at nought, with other paths of travel; z is left out by the option "fixed
// quill". Its line of travel is CrossTravelLine.
func CrossTravel(paths string) string {
	text := fmt.Sprintf(CrossTable, 0, 0, 0)
	text = text[:strings.Index(text, "travel: {row")]
	text = strings.Replace(text, "  z:\n    along", "  z:\n    if: held == 0\n    along", 1)
	return strings.Replace(text, "pz: 0}", "pz: 0, held: 0}", 1) + "options: {fixed quill: {held: 1}}\ntravel:\n" + paths
}

// CrossTravelLine is the line on which CrossTravel's travel begins.
const CrossTravelLine = 63
