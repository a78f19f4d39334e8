package modelfile

import (
	"regexp"
	"strings"
	"testing"

	"tiploop/testdata/models"

	"github.com/stretchr/testify/require"

	"tiploop/frame/machine"
	"tiploop/frame/structure"
)

// sledgeGrounds is the line of the sledge's grounds.
var sledgeGrounds = regexp.MustCompile(`(?m)^grounds: .*$`).FindString(models.Sledge)

// sledgeFaults is the models.Sledge with some of its text replaced, and what is wrong with it then.
func sledgeFaults(t *testing.T, pairs ...string) string {
	t.Helper()
	text := models.Sledge
	for i := 0; i < len(pairs); i += 2 {
		require.Contains(t, text, pairs[i])
		text = strings.Replace(text, pairs[i], pairs[i+1], 1)
	}
	m, err := machineOf(text, "")
	if err == nil {
		_, err = structure.Build(m)
	}
	if err == nil {
		return ""
	}
	require.IsType(t, machine.Faults{}, err)
	return err.Error()
}

func TestAxisFaults(t *testing.T) {
	const second = "\n  u:\n    along: y\n    carries: [table]\n    travel: [0, 1]\n    guides: [{stiffness: {press: " +
		"1e5}, on: base, part: table, from: [0, -80, 20], to: [0, 80, 20], carriages: [0]}]\n    drive: {stiffness: 1e4, " +
		"part: table, on: base, at: [0, 0, 34]}\npositions:"
	const drive = "    drive: {screw: 1605, from: [180, 0, 34], to: [-150, 0, 34], nut: {part: table, at: 0}, bearing: " +
		"{part: wall}}\n"
	const ring = "\n  u:\n    along: x\n    carries: [base]\n    travel: [0, 1]\n    guides: [{stiffness: {press: 1e5}, " +
		"on: table, part: base, from: [-60, 0, 48], to: [60, 0, 48], carriages: [0]}]\n    drive: {stiffness: 1e4, part: " +
		"table, on: base, at: [0, 0, 34]}\npositions:"
	for _, c := range []struct {
		name  string
		pairs []string
		want  string
	}{
		{"nothing wrong", nil, ""},
		{"carries nothing", []string{"carries: [table]", "carries: []"},
			"m.yaml:12:14: axis \"x\" carries nothing\n\tname the part that moves; parts joined to it move along"},
		{"unknown part", []string{"carries: [table]", "carries: [tabel]"},
			"m.yaml:12:15: part \"tabel\" is not known\n\tdid you mean table? one of: base, table, vice, wall"},
		{"carries itself", []string{"carries: [table]", "carries: [table, base]",
			sledgeGrounds, "grounds: []"},
			"m.yaml:15:9: axis x carries itself: it carries both table and base, the two sides of its rail 1\n\ttake one of " +
				"them out of carries, or stand the rail 1 on what does not move\nm.yaml:16:9: axis x carries itself: it carries " +
				"both table and base, the two sides of its rail 2\n\ttake one of them out of carries, or stand the rail 2 on " +
				"what does not move\nm.yaml:17:12: axis x carries itself: it carries both table and wall, the two sides of its " +
				"drive\n\ttake one of them out of carries, or stand the drive on what does not move"},
		{"screwed to what does not move", []string{"{between: [base, wall], bonded: true}",
			"{between: [base, wall], bonded: true}, {between: [vice, wall], bonded: true}"},
			"m.yaml:10:3: axis x cannot move table: it is held to the ground (table – vice – wall – base)\n\ttake out the " +
				"joint or the ground that holds it"},
		{"no drive", []string{drive, ""}, "m.yaml:10:3: axis \"x\" has no drive: it is loose along x\n\tgive it one, " +
			"drive: {screw: …}, belt, rack or stiffness: 30 N/um"},
		{"ring", []string{"\npositions:", ring, sledgeGrounds, "grounds: []"},
			"m.yaml:10:3: axes x, u stand on one another in a ring\n\tlet one of them stand on a part that none of them " +
				"carries"},
		{"fight along one line", []string{"\npositions:", strings.Replace(strings.Replace(second, "along: y", "along: x", 1),
			"from: [0, -80, 20], to: [0, 80, 20]", "from: [-80, 0, 20], to: [80, 0, 20]", 1)},
			"m.yaml:18:3: axes x and u both move table along x and fight each other\n\tmake them one axis: a list under drive " +
				"gives it two drives"},
		{"carried by two", []string{"\npositions:", second},
			"m.yaml:18:3: table is carried by both x and u, and neither stands on the other\n\tput a part between them, such " +
				"as a saddle, that one carries and the other stands on"},
		{"off its rail", []string{"to: [180, -40, 20]", "to: [140, -40, 20]"},
			"m.yaml:15:9: axis x, rail 1: with the axis at 80 mm the carriage at 40 mm runs off its rail by 10 mm\n\tmake the " +
				"rail 10 mm longer there, or the travel shorter"},
		{"off its rail at the other end", []string{"from: [-180, 40, 20]", "from: [-149, 40, 20]"},
			"m.yaml:16:9: axis x, rail 2: with the axis at -80 mm the carriage at -40 mm runs off its rail by 1 mm\n\tmake " +
				"the rail 1 mm longer there, or the travel shorter"},
		{"rail not on a face", []string{"from: [-180, 40, 20], to: [180, 40, 20]", "from: [-180, 40, 25], to: [180, 40, 25]"},
			"m.yaml:16:9: axis x, rail 2: the rail from [-180, 40, 25] to [180, 40, 25] does not lie on a face of " +
				"base\n\tbase reaches from [-200, -80, 0] to [200, 80, 20]"},
		{"rail across", []string{"to: [180, 40, 20]", "to: [180, 45, 20]"},
			"m.yaml:16:77: the rail of axis \"x\" must run along x, and its ends differ by 5 mm along y"},
		{"carriages too high", []string{"rail: profile-15", "rail: profile-25"},
			"m.yaml:15:111: carriages at -40 and 40 mm run into each other: each is 83 mm long\n\tmove them apart"},
		{"carriages too high for the gap", []string{"rail: profile-15", "rail: profile-25", "carriages: [-40, 40]",
			"carriages: [0]"},
			"m.yaml:15:9: axis x, rail 1: base and table are 28 mm apart along z, and a carriage of profile-25 is 40 mm " +
				"high\n\tleave about 40 mm between them: the rail and its carriage"},
		{"carriage off the table", []string{"carriages: [-40, 40]", "carriages: [-40, 70]"},
			"m.yaml:15:9: the middle of the carriage of axis x, rail 1, at [70, -40, 48] is not on table: it is 10 mm " +
				"away\n\ttable reaches from [-60, -60, 48] to [60, 60, 68]"},
		{"nut off its screw", []string{"to: [-150, 0, 34]", "to: [-70, 0, 34]"},
			"m.yaml:17:12: axis x: with the axis at -80 mm the nut is 260 mm from the driven end, and the screw is 250 mm " +
				"long\n\tlengthen the screw, move the nut, or shorten the travel"},
		{"bearing off its mount", []string{"from: [180, 0, 34]", "from: [175, 0, 34]"},
			"m.yaml:17:12: the driven end of the screw of axis x at [175, 0, 34] is not on wall: it is 5 mm away\n\twall " +
				"reaches from [180, -80, 20] to [200, 80, 120]"},
		{"runs into something", []string{"to: [30, 30, 108]", "to: [110, 30, 108]"},
			"m.yaml:10:3: with axis x at 80 mm: vice and wall run into each other: they share 10 x 60 x 40 mm (x, y, " +
				"z)\n\tshorten its travel, or move one of them by 10 mm"},
		{"drawn beyond its travel", []string{"travel: [-80, 80]", "travel: [20, 80]"},
			"m.yaml:13:13: axis \"x\" is drawn at 0 mm, beyond its travel from 20 to 80 mm\n\tsay where it is drawn with at: " +
				"…\nm.yaml:18:23: axis x cannot stand at -80 mm: it travels from 20 mm to 80 mm\n\tchoose a position within its " +
				"travel, or give it more travel"},
		{"heads on one another", []string{"rail: profile-15, on: base, part: table, from: [-180, -40",
			"rail: profile-15, screw_pitch: 6 mm, on: base, part: table, from: [-180, -40"},
			"m.yaml:15:41: screws 6 mm apart run into each other: the head of M4 is 7 mm wide\n\tmakers drill this rail " +
				"every 60 mm"},
		{"no pitch", []string{"rail: profile-15, on: base, part: table, from: [-180, -40",
			"rail: profile-15, screw_pitch: 0 mm, on: base, part: table, from: [-180, -40"},
			"m.yaml:15:41: screw_pitch must be positive, not 0 mm"},
		{"a pitch of no size", []string{"rail: profile-15, on: base, part: table, from: [-180, -40",
			"stiffness: {press: 1e5}, screw_pitch: 60 mm, on: base, part: table, from: [-180, -40"},
			"m.yaml:15:48: screw_pitch needs rail beside it\n\trail: profile-15 for a size of the trade"},
		{"unknown rail", []string{"rail: profile-15", "rail: profile-16"},
			"m.yaml:15:16: rail \"profile-16\" is not known\n\tdid you mean profile-12 or profile-15?"},
		{"neither side", []string{"on: base, part: table, from: [-180, -40, 20]",
			"on: base, part: wall, from: [-180, -40, 20]"},
			"m.yaml:15:9: axis x carries neither wall nor base, the two sides of its rail 1\n\tone side must be among what it " +
				"carries, table, or joined to it"},
		{"unknown axis in a position", []string{"{x: -80}", "{y: -80}"},
			"m.yaml:18:20: axis \"y\" is not known\n\tone of: x"},
	} {
		t.Run(c.name, func(t *testing.T) { require.Equal(t, c.want, sledgeFaults(t, c.pairs...)) })
	}
}

func TestPositionFaults(t *testing.T) {
	m := readMachine(t, models.Sledge)
	_, err := m.At(map[string]float64{"x": 81})
	require.EqualError(t, err, "m.yaml:10:3: axis x cannot stand at 81 mm: it travels from -80 mm to 80 mm\n\tchoose a "+
		"position within its travel, or give it more travel")
	_, err = m.At(map[string]float64{"xx": 0})
	require.EqualError(t, err, "m.yaml: axis \"xx\" is not known\n\tdid you mean x? one of: x")
	doc, err := Parse("m.yaml", []byte(models.Sledge))
	require.NoError(t, err)
	moved, err := doc.At("left", nil).Machine("")
	require.NoError(t, err)
	require.Equal(t, -80.0, moved.Axes[0].At)
	require.Equal(t, -140.0, moved.Parts[1].Plate.From.X)
	require.Equal(t, -110.0, moved.Parts[2].Plate.From.X, "what is joined to the table moves along")
	_, err = doc.At("lefd", nil).Machine("")
	require.EqualError(t, err, "m.yaml: position \"lefd\" is not known\n\tdid you mean left? one of: left")
	moved, err = doc.At("left", map[string]float64{"x": 10}).Machine("")
	require.NoError(t, err)
	require.Equal(t, 10.0, moved.Axes[0].At)
}

func TestParseAt(t *testing.T) {
	at, err := ParseAt("x=20, y = -0.5 in")
	require.NoError(t, err)
	require.Equal(t, map[string]float64{"x": 20, "y": -12.7}, at)
	for text, want := range map[string]string{
		"x":       `"x" is not an axis and its position, such as x=20`,
		"x=1,x=2": `axis "x" is given twice`,
		"x=1 N":   `axis "x": a force (1 N) where a length belongs`,
		"x=side":  `axis "x": value "side" is not known`,
	} {
		_, err := ParseAt(text)
		require.EqualError(t, err, want)
	}
}

// A drive of a list that is left out, by its if or with its part, is not counted: the one that is left is the only one,
// and has no number. A misfit goes with its drive by the place in the list.
func TestDrivesLeftOut(t *testing.T) {
	const line = "    drive: {screw: 1605, from: [180, 0, 34], to: [-150, 0, 34], nut: {part: table, at: 0}, bearing: " +
		"{part: wall}}\n"
	require.Contains(t, models.Sledge, line)
	screw := strings.TrimSpace(strings.TrimPrefix(line, "    drive: "))
	text := func(first, second string) string {
		list := "    drive:\n      - " + strings.TrimSuffix(screw, "}") + first + "}\n      - {stiffness: 40 N/um, part: table, " +
			"on: wall, at: [0, 0, 34]" + second + "}\n"
		return strings.Replace(models.Sledge, line, list, 1) +
			"misfits:\n  nut: {axis: x, nut: true, drive: 1, by: [0, 0.1, 0]}\n"
	}
	for _, c := range []struct {
		name, first, second string
		drives              []string
		misfits             int
	}{
		{"both", "", "", []string{"1", "2"}, 1},
		{"the first is left out", ", if: false", "", []string{""}, 0},
		{"the second is left out", "", ", if: false", []string{""}, 1},
	} {
		m := readMachine(t, text(c.first, c.second))
		var names []string
		for _, d := range m.Axes[0].Drives {
			names = append(names, d.Name)
		}
		require.Equal(t, c.drives, names, c.name)
		require.Len(t, m.Misfits, c.misfits, c.name)
	}
	with := strings.Replace(text("", ""), "on: wall", "on: stop", 1)
	with = strings.Replace(with, "parts:\n", "parts:\n  stop: {if: false, plate: {from: [180, -10, 48], to: [190, 10, 58]}, "+
		"material: steel}\n", 1)
	m := readMachine(t, with)
	require.Len(t, m.Axes[0].Drives, 1)
	require.Empty(t, m.Axes[0].Drives[0].Name)
}
