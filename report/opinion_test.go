package report

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
)

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
	require.Equal(t, "up to 6 % of the movement under “"+sweep.Places[2].Loads[0].Name+"” at leg 50 mm, elsewhere less. ",
		line(written(t, write)))

	option := sampleOption("a", 1, 4, 130)
	option.Beam = &answer.BeamModel{TipPercent: &[3]float64{0.5, 4.4, -0.2}}
	option.Loads[0].MeshErrorPercent = &most
	travel := sampleAnswer(option)
	travel.Asks = asks
	words := written(t, func(b *bytes.Buffer) error { return WriteTravel(b, travel) })
	require.Contains(t, string(words), "A second, simpler model (beams) comes out 4 % softer in y.")
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
