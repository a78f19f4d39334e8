package modelfile

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/constant"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// feet is a model whose feet have a stiffness; the text of it begins at column 59 of line 7.
func feet(stiffness string) string {
	return twoGrounded("feet: [[0, 0]], face: bottom, stiffness: " + stiffness)
}

// Of a share either way, the ends are the number less and more by it; of two ends the middle is their geometric mean,
// the median of a log-normal with these as its 5 and 95 % points.
func TestRanges(t *testing.T) {
	for text, want := range map[string]constant.Band{
		"8 N/um +- 40 %":             constant.Between(4800, 8000, 11200),
		"8 N/um ± 40%":               constant.Between(4800, 8000, 11200),
		"8 N/um +/- 2.5 %":           constant.Between(7800, 8000, 8200),
		"5..12 N/um":                 constant.Between(5000, math.Sqrt(60e6), 12000),
		"5 .. 12 N/um":               constant.Between(5000, math.Sqrt(60e6), 12000),
		"5 N/um..12000 N/mm":         constant.Between(5000, math.Sqrt(60e6), 12000),
		"5000..12000":                constant.Between(5000, math.Sqrt(60e6), 12000),
		"0.5..1.5 N/um":              constant.Between(500, math.Sqrt(0.75e6), 1500),
		"\"5..12 N/um\"":             constant.Between(5000, math.Sqrt(60e6), 12000),
		"2 * 4 N/um +- (30 + 10) %":  constant.Between(4800, 8000, 11200),
		"2 * 4 N/um .. 3 * 4 N/um/1": constant.Between(8000, math.Sqrt(96e6), 12000),
	} {
		g := readMachine(t, feet(text)).Grounds[0]
		require.Len(t, g.Unsure, 1, text)
		b := g.Unsure[0].Band
		require.Equal(t, "stiffness", g.Unsure[0].What, text)
		require.Equal(t, g.Normal, b.Typical, text)
		for k, v := range [][2]float64{{want.Low, b.Low}, {want.Typical, b.Typical}, {want.High, b.High}} {
			require.InEpsilon(t, v[0], v[1], 1e-12, "%s, %d", text, k)
		}
	}
	require.Empty(t, readMachine(t, feet("8 N/um")).Grounds[0].Unsure)
}

func TestRangeFaults(t *testing.T) {
	testFaults(t, []faultCase{
		{"backwards", feet("12..5 N/um"), `
m.yaml:7:59: the range of stiffness runs backwards: from 12000 N/mm to 5000 N/mm
	write the lesser end first`},
		{"as wide as nothing", feet("1e-3..1e3 N/um"), `
m.yaml:7:59: the range of stiffness, 1 N/mm to 1e+06 N/mm, says nothing: at most 10000 times from end to end
	look for a wrong unit`},
		{"of no width", feet("5..5 N/um"), `
m.yaml:7:59: the range of stiffness has no width: 5000 N/mm
	write one number for one that is known`},
		{"from nothing", feet("0..5 N/um"), `
m.yaml:7:59: stiffness must be positive, not 0 N/mm`},
		{"from below nothing", feet("-3..5 N/um"), `
m.yaml:7:59: stiffness must be positive, not -3 N/mm`},
		{"from without its unit", feet("k/2..12 N/um") + "values: {k: 10}\n", `
m.yaml:7:59: stiffness of 5 N/mm is 0.005 N/um, softer than any support or bearing
	a plain number is in N/mm; write k/2 N/um, or k/2 N/mm if that is meant`},
		{"to no number", feet("5 N/um..inf"), `
m.yaml:7:67: "inf" is not a finite number`},
		{"to too large a one", feet("5..1e999 N/um"), `
m.yaml:7:62: "1e999" is too large a number`},
		{"without an end", feet("5..N/um"), `
m.yaml:7:62: value "N" is not known
m.yaml:7:64: value "um" is not known`},
		{"of three", feet("5..8..12 N/um"), `
m.yaml:7:62: "8..12 N/um" is a range, and a stiffness takes none
	write one number; only stiffnesses may carry a range`},
		{"off by nothing", feet("8 N/um +- 0 %"), `
m.yaml:7:69: stiffness must be off by more than nothing, not by 0 %
	leave it out for one that is known`},
		{"off by less", feet("8 N/um +- -40 %"), `
m.yaml:7:69: stiffness must be off by more than nothing, not by -40 %
	leave it out for one that is known`},
		{"off by all", feet("8 N/um +- 100 %"), `
m.yaml:7:69: stiffness that may be off by 100 % may be nothing: at most 99 %
	write both ends: 2..20 N/um`},
		{"off by no number", feet("8 N/um +- inf %"), `
m.yaml:7:69: "inf" is not a finite number`},
		{"off by a stiffness", feet("8 N/um +- 3 N/um"), `
m.yaml:7:69: stiffness may be off by a share of it, in %, not by "3 N/um"
	write +- 40 %, or both ends: 5..12 N/um`},
		{"off by no share", feet("8 N/um ± 40"), `
m.yaml:7:68: stiffness may be off by a share of it, in %, not by "40"
	write +- 40 %, or both ends: 5..12 N/um`},
		{"of a length", feet("8 um +- 40 %"), `
m.yaml:7:59: a length (8 um) where a stiffness belongs`},
		{"where none belongs", twoGrounded("feet: [[0, 5..6]], face: bottom, stiffness: 8 N/um"), `
m.yaml:7:29: "5..6" is a range, and a length takes none
	write one number; only stiffnesses may carry a range`},
		{"of a value", two + "values: {k: 5..12 N/um}\n" +
			"grounds:\n  - {part: base, face: bottom, feet: [[0, 0]], stiffness: k}\n", `
m.yaml:6:13: "5..12 N/um" is a range, and a value takes none
	write the range where the stiffness stands: stiffness: k +- 40 %`},
	})
}

// Every stiffness that a machine's springs are made of takes a range, and no other number does.
func TestRangesStandWhereTheyMay(t *testing.T) {
	tried := map[bool]int{}
	for name, text := range corpus(t) {
		root, leaves := leavesOf(t, name, text)
		for _, l := range leaves {
			if l.takes.Kind != NumberKind || l.of == Model() || l.node.Kind != source.Scalar {
				continue
			}
			old := *l.node
			l.node.Text = old.Text + " +- 40 %"
			said := faultsWith(root)
			*l.node = old
			refused := strings.Contains(said, "is a range, and ")
			if said == "" && !l.takes.Ranged {
				continue // in what is left out; another model has it
			}
			require.Equal(t, !l.takes.Ranged, refused, "%s: %s of %s\n%s", name, l.key, l.of.Name, said)
			if l.takes.Ranged {
				require.Empty(t, said, "%s: %s of %s", name, l.key, l.of.Name)
			}
			tried[l.takes.Ranged]++
		}
	}
	require.Greater(t, tried[true], 10)
	require.Greater(t, tried[false], 100)
}

// Ranges come to what they are of.
func TestRangesArriveInTheMachine(t *testing.T) {
	text := strings.Replace(strings.Replace(cutter, "flutes: 2", "holder: {tilt: 3e6 N mm/rad +- 20 %}", 1), "work:",
		"spindle: {bearings: {front: 30..50 N/um, rear: 20 N/um, span: 60, axial: 9 N/um +- 10 %}}\nwork:", 1)
	m := readMachine(t, text)
	require.Equal(t, []machine.Unsure{{What: "tilt", Band: constant.Between(2.4e6, 3e6, 3.6e6)}}, m.Tool.Holder.Unsure)
	require.Len(t, m.Spindle.Unsure, 2)
	require.Equal(t, "front", m.Spindle.Unsure[0].What)
	require.Equal(t, "axial", m.Spindle.Unsure[1].What)
	g := readMachine(t, twoGrounded("spring: {x: 5..12 N/um, rz: 4e6 N mm/rad}, at: [0, 0, 0]")).Grounds[0]
	require.Len(t, g.Unsure, 1)
	require.Equal(t, "x", g.Unsure[0].What)
	require.InEpsilon(t, math.Sqrt(60)*1000, g.Spring[0], 1e-12)
}
