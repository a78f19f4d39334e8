package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
)

// outOfLine is the example with texts replaced, each by the one behind it.
func outOfLine(t *testing.T, replaced ...string) string {
	t.Helper()
	text, err := os.ReadFile("../../examples/supports-out-of-line.yaml")
	require.NoError(t, err)
	for i := 0; i < len(replaced); i += 2 {
		require.Contains(t, string(text), replaced[i])
	}
	path := filepath.Join(t.TempDir(), "model.yaml")
	require.NoError(t, os.WriteFile(path, []byte(strings.NewReplacer(replaced...).Replace(string(text))), 0o600))
	return path
}

const shortFoot = "foot: 4, low: 0.1 mm"

// A foot ten times as short makes the column's joint slip; the text says so and no longer that nothing is near.
func TestMisfitsThatSlipJointsAreNamed(t *testing.T) {
	path := outOfLine(t, shortFoot, "foot: 4, low: 1 mm")
	text := string(outputOf(t, "tip", path, "--detail", "section", "--all", "--option", "as screwed down"))
	require.Regexp(t, `(?m)^Joints against slip and opening under the misfits$`, text)
	require.Regexp(t, `(?m)^  fourth foot short +base/column .* slips`, text)
	require.Regexp(t, `(?m)^  all together +base/column .* slips`, text)
	require.Contains(t, strings.Join(strings.Fields(text), " "), "Under the loads no screw reaches 50 %")
	// the worst that it locks in is that, by what is used up
	require.Regexp(t, `(?m)^  fourth foot short +ground bench, foot 4 +screw of base/riser_right .* slip `, text)
	var found answer.Answer
	require.NoError(t, json.Unmarshal(outputOf(t, "tip", path, "--detail", "section", "--json", "--option",
		"as screwed down"), &found))
	for _, s := range found.Options[0].Misfits.Each[2].Screws {
		require.Equal(t, s.SlipPercent >= 50 || s.OpenPercent >= 50,
			regexp.MustCompile(`(?m)^  fourth foot short +`+s.Joint+` `).MatchString(text), s.Joint)
	}
	require.Contains(t, strings.Join(found.Options[0].Notes, "\n"), "joints slip")
}

// What uses most up is the worst, not what has the most newtons: of the screws those of the riser, which slip
// first, not those of the column, which hold 128 N.
func TestWorstLockedInIsByWhatIsUsedUp(t *testing.T) {
	text := string(outputOf(t, "tip", outOfLine(t), "--detail", "section", "--all", "--option", "as screwed down"))
	require.Regexp(t, `(?m)^  fourth foot short .* screw of base/riser_right +34\.9 +43\.1 +slip `, text)
}

// Options that differ in what misfits do are not the same: a half of the riser's misfit, and nothing else.
func TestCompareSetsMisfitsSideBySide(t *testing.T) {
	path := outOfLine(t, "packed: false             # the low riser packed up", "lowered: 0.1 mm",
		"right riser low:      {joint: [base, riser_right], low: 0.1 mm}",
		"right riser low:      {joint: [base, riser_right], low: lowered}",
		"    if: packed\n", "    if: false\n", "{packed: true}", "{lowered: 0.02 mm}")
	text := strings.Join(strings.Fields(string(outputOf(t, "compare", path, "--all", "--detail", "section"))), " ")
	require.NotContains(t, text, "no difference in anything compared here")
	require.Contains(t, text, "tip out of place by misfits, µm")
	require.Contains(t, text, "most used up by misfits, % of its limit")
	require.NotContains(t, text, "equally good")
	require.Contains(t, text, "gains tip out of place by misfits ")
	text = strings.Join(strings.Fields(string(outputOf(t, "compare", path, "--detail", "section"))), " ")
	require.Regexp(t, `Tip out of place by misfits: least with B, [0-9.]+ instead of up to [0-9.]+ µm\. `+
		`Most used up by misfits: least with B, `, text)
}

// A misfit of size 0 is none, in an option too.
func TestMisfitOfNoSizeIsNone(t *testing.T) {
	path := outOfLine(t, shortFoot, "foot: 4, low: 0")
	text := string(outputOf(t, "tip", path, "--detail", "section", "--all", "--option", "as screwed down"))
	require.NotContains(t, text, "fourth foot short")
	require.Contains(t, text, "right riser low")
}

// Where a bar stands in a plate no face says which way it is high.
func TestMisfitOfABarThroughAPlateIsRefused(t *testing.T) {
	for _, size := range []string{"high", "low", "gap"} {
		path := outOfLine(t, "{ground: bench, "+shortFoot+"}", "{joint: [arm, spindle], "+size+": 0.1 mm}")
		code, _, said := called("tip", path, "--detail", "section")
		require.NotEqual(t, answered, code)
		require.Contains(t, said, "nothing says which way high, low or gap is here")
		require.Contains(t, said, "write by: [x, y, z]")
		require.Regexp(t, `model\.yaml:\d+:\d+: `, said)
	}
	outputOf(t, "tip", outOfLine(t, "{ground: bench, "+shortFoot+"}", "{joint: [arm, spindle], by: [0, 0, 0.1]}"),
		"--detail", "section")
}

// Springs hold both ways: where the preload is used up the answer has left its range, and says so.
func TestMisfitsBeyondTheirRangeAreNoted(t *testing.T) {
	text := strings.Join(strings.Fields(string(outputOf(t, "align", outOfLine(t), "--detail", "section", "--option",
		"as screwed down"))), " ")
	require.Contains(t, text, "springs hold both ways: beyond its preload a carriage lifts off and takes no more")
	require.Contains(t, text, "y: rail 2, carriage 2 (199 % under “all together”)")
	require.Contains(t, text, "how far a nut is tilted is not looked at")
	require.Contains(t, text, "y: far bearing: with the axis run up to it; an indicator may move more than a millimetre")
	require.NotContains(t, text, "mrad in") // the shaft slopes by hundredths of one here
	text = strings.Join(strings.Fields(string(outputOf(t, "align", outOfLine(t, "by: [0.1 mm, 0, 0]", "by: [2 mm, 0, 0]"),
		"--detail", "section", "--option", "as screwed down"))), " ")
	require.Contains(t, text, "slopes by more than 0.5 mrad in")
}

// The order counts feet over all grounds, and a rail by its own lines.
func TestAlignOrderCountsFeetAndRailLines(t *testing.T) {
	path := outOfLine(t, "  - {name: bench, part: base, face: bottom, feet: [[-110, -220], [110, -220], [110, 220], "+
		"[-110, 220]], stiffness: 40 N/um}",
		"  - {name: bench, part: base, face: bottom, feet: [[-110, -220], [110, -220]], stiffness: 40 N/um}\n"+
			"  - {name: back, part: base, face: bottom, feet: [[110, 220], [-110, 220]], stiffness: 40 N/um}",
		"{ground: bench, "+shortFoot+"}", "{ground: back, foot: 2, low: 0.1 mm}")
	var found answer.Answer
	require.NoError(t, json.Unmarshal(outputOf(t, "align", path, "--detail", "section", "--json", "--option",
		"as screwed down"), &found))
	a := found.Options[0].Align
	free := 0
	for _, s := range a.Order {
		if strings.Contains(s.How, "set with the other feet of three") {
			free++
		}
		if s.What != "y: rail 2 and its carriages" {
			continue
		}
		for _, l := range a.Lines {
			if l.What == "y: rail 2" && l.IndicatorShare != 0 { // the most sensitive of its own
				require.InDelta(t, l.AllowedUm*l.IndicatorShare, *s.ReadingUm, 1e-6*l.AllowedUm)
				break
			}
		}
	}
	require.Equal(t, 3, free)
	require.Regexp(t, `^ground back, foot 2$`, a.Order[3].What)
	for _, l := range a.Lines {
		if strings.Contains(l.How, "twisted") {
			require.Equal(t, "twisted end to end, µm per 100 mm across", l.How)
		}
	}
}

// align says of a machine that cannot be built what tip says.
func TestAlignTellsFaultsAsTipDoes(t *testing.T) {
	path := outOfLine(t, "to: [0, 170, 58]", "to: [0, 40, 58]")
	_, _, tip := called("tip", path, "--detail", "section", "--option", "as screwed down")
	_, _, align := called("align", path, "--detail", "section", "--option", "as screwed down")
	require.Contains(t, tip, "the nut is 292 mm from the driven end")
	require.Equal(t, tip, align)
}
