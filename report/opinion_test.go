package report

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
)

// TestOpinions: how far the beam model differs is one line, of several options the worst; what the meshes hold back is
// said from three percent on.
func TestOpinions(t *testing.T) {
	option := func(name string, y, held float64) answer.Result {
		return answer.Result{Name: name, Beam: &answer.BeamModel{TipPercent: &[3]float64{0.5, y, -0.2}},
			Loads: []answer.LoadResult{{Name: "side cut", MeshErrorPercent: &held}}}
	}
	frame := answer.Result{Beam: &answer.BeamModel{Loads: []answer.BeamOff{{Load: "press", Percent: 2},
		{Load: "weight", Percent: -6.4}}}}
	for _, tt := range []struct {
		options []answer.Result
		want    string
	}{
		{[]answer.Result{{}}, ""},
		{[]answer.Result{option("a", 4.4, 2.9)}, "Beam model: 4 % softer in y.\n"},
		{[]answer.Result{option("a", -0.9, 1)}, "Beam model: the same within 1 %.\n"},
		{[]answer.Result{frame}, "Beam model: 6 % stiffer under “weight”.\n"},
		{[]answer.Result{option("a", 4.4, 3.2)}, "Beam model: 4 % softer in y.\nThe meshes may hold back up to 4 % of " +
			"the movement under “side cut”. Ask for a finer mesh to see.\n"},
		{[]answer.Result{option("a", 4.4, 1), option("b", -7.2, 5.5), {}}, "Beam model: 7 % stiffer in y, with “b”; " +
			"less with the others.\nThe meshes may hold back up to 6 % of the movement under “side cut”, with “b”; less " +
			"with the others. Ask for a finer mesh to see.\n"},
	} {
		var b bytes.Buffer
		p := newPage(&b)
		p.opinions(tt.options...)
		require.NoError(t, p.Close())
		require.Equal(t, strings.Fields(tt.want), strings.Fields(b.String()))
	}
}

// What the meshes may hold back stands once at the foot of a sweep, of its worst place, and of a travel, beside how far
// the beam model differs; nothing of it up to three percent.
func TestMeshOpinionAtTheFoot(t *testing.T) {
	asks := answer.Asks{Mesh: "--mesh"}
	sweep := sampleSweep()
	sweep.Asks = asks
	for i := range sweep.Places {
		held := 3 - float64(i)
		sweep.Places[i].Loads[0].MeshErrorPercent = &held
	}
	line := func(of []byte) string {
		words := strings.Join(strings.Fields(string(of)), " ")
		_, after, ok := strings.Cut(words, "The meshes may hold back ")
		if !ok {
			return ""
		}
		require.NotContains(t, after, "The meshes may")
		before, _, _ := strings.Cut(after, "Ask for")
		return before
	}
	write := func(b *bytes.Buffer) error { return WriteSweep(b, sweep) }
	require.Empty(t, line(written(t, write)))
	most := 5.5
	sweep.Places[2].Loads[0].MeshErrorPercent = &most
	require.Equal(t, "up to 6 % of the movement under “"+sweep.Places[2].Loads[0].Name+"” at leg 50 mm; elsewhere less. ",
		line(written(t, write)))

	option := sampleOption("a", 1, 4, 130)
	option.Beam = &answer.BeamModel{TipPercent: &[3]float64{0.5, 4.4, -0.2}}
	option.Loads[0].MeshErrorPercent = &most
	travel := sampleAnswer(option)
	travel.Asks = asks
	words := written(t, func(b *bytes.Buffer) error { return WriteTravel(b, travel) })
	require.Contains(t, string(words), "Beam model: 4 % softer in y.")
	require.Equal(t, "up to 6 % of the movement under “"+option.Loads[0].Name+"”. ", line(words))
}

// What differs between the two models is the error of both; the meshes' part has a number where it is much.
func TestWhyOff(t *testing.T) {
	held := 2.9
	options := []answer.Result{{}, {Loads: []answer.LoadResult{{Name: "a", MeshErrorPercent: &held}}}}
	require.NotContains(t, whyOff(options), "%")
	held = 4.2
	require.Contains(t, whyOff(options), "errors of both")
	require.Contains(t, whyOff(options), "up to 5 %")
}
