package modelfile

import (
	"fmt"
	"testing"

	"tiploop/testdata/models"

	"github.com/stretchr/testify/require"

	"tiploop/frame/machine"
)

// namesOfPaths are the names of a machine's paths, with their tolerances in µm.
func namesOfPaths(t *testing.T, doc *Document, option string) (list []string) {
	t.Helper()
	m, err := doc.Machine(option)
	require.NoError(t, err)
	for _, p := range m.Travel {
		list = append(list, fmt.Sprintf("%s %g", p.Name, p.Tolerance*1000))
	}
	return list
}

func TestOver(t *testing.T) {
	doc, err := Parse("m.yaml",
		[]byte(models.CrossTravel("  x: {along: y, from: -40, to: 40}\n  xy: {axes: [x, y], tolerance: 30 um}\n")))
	require.NoError(t, err)
	require.True(t, doc.HasTravel())
	file := []string{"x 0", "xy 30"}
	require.Equal(t, append(file, "x again 20", "z 20"), namesOfPaths(t, doc.Over(0.02, []string{"x"}, []string{"z"}), ""))
	require.Equal(t, append(file, "x again 20"), namesOfPaths(t, doc.Over(0.02, []string{"x"}, []string{"z"}),
		"fixed quill"), "an axis left out")
	require.Equal(t, file, namesOfPaths(t, doc.Over(0, []string{"x", "y"}), ""), "the file has it")
	require.Equal(t, file, namesOfPaths(t, doc.Over(0.03, []string{"x", "y"}), ""), "the file has it")
	require.Equal(t, append(file, "x, y 20"), namesOfPaths(t, doc.Over(0.02, []string{"x", "y"}), ""),
		"with another tolerance")
	require.Equal(t, append(file, "y, x 0"), namesOfPaths(t, doc.Over(0, []string{"y", "x"}), ""), "the other way round")
	require.Equal(t, file, namesOfPaths(t, doc.OverEachAxis(0.02), ""), "a file with paths of its own")
	require.Equal(t, file, namesOfPaths(t, doc, ""), "the document itself stays as it was")

	m, err := doc.Over(0.02, []string{"z"}).At("", map[string]float64{"z": 10}).Machine("")
	require.NoError(t, err)
	require.Equal(t, machine.Path{Name: "z", Pos: m.Axes[2].Pos, Axes: []int{2}, From: -50, To: 20, Tolerance: 0.02,
		Loads: []int{0, 1, 2, 3}}, m.Travel[2])

	for want, over := range map[string][][]string{
		"m.yaml: axis \"u\" is not known\n\tone of: y, x, z": {{"u"}},
		"m.yaml: axis \"xx\" is not known\n\tdid you mean x? one of: y, x, z\nm.yaml: axis \"zz\" is not known\n\tdid you " +
			"mean z? one of: y, x, z": {{"y", "xx"}, {"zz"}},
	} {
		_, err := doc.Over(0, over...).Machine("")
		require.EqualError(t, err, want)
	}
}

func TestOverEachAxis(t *testing.T) {
	doc, err := Parse("m.yaml", []byte(models.CrossTravel("")))
	require.NoError(t, err)
	require.False(t, doc.HasTravel())
	require.Empty(t, namesOfPaths(t, doc, ""))
	require.Equal(t, []string{"y 20", "x 20", "z 20"}, namesOfPaths(t, doc.OverEachAxis(0.02), ""))
	require.Equal(t, []string{"y 0", "x 0"}, namesOfPaths(t, doc.OverEachAxis(0), "fixed quill"))
	for _, text := range []string{two, pushed, models.Sledge} { // no axes, no tool
		doc, err := Parse("m.yaml", []byte(text))
		require.NoError(t, err)
		require.Empty(t, namesOfPaths(t, doc.OverEachAxis(0.02), ""))
	}
	doc, err = Parse("m.yaml", []byte(pushed))
	require.NoError(t, err)
	_, err = doc.Over(0, []string{"x"}).Machine("")
	require.EqualError(t, err, "m.yaml: axis \"x\" is not known\n\tthe model has no axes")
	doc, err = Parse("m.yaml", []byte(models.Sledge))
	require.NoError(t, err)
	_, err = doc.Over(0, []string{"x"}).Machine("")
	require.EqualError(t, err, "m.yaml: the model has no tool to follow along x\n\tsay where the tool and the work are: "+
		"tool: …, work: …")
	doc, err = Parse("m.yaml", []byte(models.Sledge+"tool: {part: wall, at: [180, 0, 100]}\nwork: {part: table}\n"))
	require.NoError(t, err)
	_, err = doc.Over(0, []string{"x"}).Machine("")
	require.EqualError(t, err, "m.yaml: the model has no load under which to follow x\n\tgive one under loads: a name "+
		"with tip: [x, y, z]")
}

func TestParseOver(t *testing.T) {
	axes, err := ParseOver(" x, y ")
	require.NoError(t, err)
	require.Equal(t, []string{"x", "y"}, axes)
	axes, err = ParseOver("table")
	require.NoError(t, err)
	require.Equal(t, []string{"table"}, axes)
	for text, want := range map[string]string{
		"":      `"" names no axis`,
		"x,":    `"x," names no axis`,
		"x,x":   `axis "x" is given twice; two different axes span a plane`,
		"x,y,z": "3 axes are given, and two span a plane",
	} {
		_, err := ParseOver(text)
		require.EqualError(t, err, want)
	}
}

func TestParseTolerance(t *testing.T) {
	mm, err := ParseTolerance("20um")
	require.NoError(t, err)
	require.Equal(t, 0.02, mm)
	mm, err = ParseTolerance("0.001 in")
	require.NoError(t, err)
	require.InDelta(t, 0.0254, mm, 1e-15, "an inch is 25.4 mm")
	for text, want := range map[string]string{
		"0":    "it must be positive, not 0 mm",
		"-1um": "it must be positive, not -0.001 mm",
		"20 N": "a force (20 N) where a length belongs",
		"wide": `value "wide" is not known`,
	} {
		_, err := ParseTolerance(text)
		require.EqualError(t, err, want)
	}
}

// Lists of axes that span nothing are told as faults, whatever program made them.
func TestOverNothing(t *testing.T) {
	doc, err := Parse("m.yaml", []byte(models.CrossTravel("  x: {along: y, from: -40, to: 40}\n")))
	require.NoError(t, err)
	for _, c := range []struct {
		axes []string
		want string
	}{
		{[]string{}, "m.yaml: 0 axes are named to follow the tool over\n\tname one axis, or two that span a plane"},
		{[]string{"x", "y", "z"},
			"m.yaml: 3 axes are named to follow the tool over\n\tname one axis, or two that span a plane"},
		{[]string{"x", "x"}, "m.yaml: axis \"x\" is named twice to follow the tool over\n\t" +
			"two different axes span a plane"},
	} {
		_, err := doc.Over(0, c.axes).Machine("")
		require.EqualError(t, err, c.want)
	}
}
