package phrase

import (
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
	const beams = "A second, simpler model (beams) "
	for _, tt := range []struct {
		options []answer.Result
		want    string
	}{
		{[]answer.Result{{}}, ""},
		{[]answer.Result{option("a", 4.4, 2.9)}, beams + "comes out 4 % softer in y."},
		{[]answer.Result{option("a", -0.9, 1)}, beams + "agrees within 1 %."},
		{[]answer.Result{frame}, beams + "comes out 6 % stiffer under “weight”."},
		{[]answer.Result{option("a", 4.4, 3.2)}, beams + "comes out 4 % softer in y. The meshes may hold back up to 4 % of " +
			"the movement under “side cut”. Ask for a finer mesh to see."},
		{[]answer.Result{option("a", 7.1, 1), option("b", -7.2, 5.5), {}}, beams + "comes out 7 % stiffer in y with “b”, " +
			"no more with the others. The meshes may hold back up to 6 % of the movement under “side cut” with “b”, no " +
			"more with the others. Ask for a finer mesh to see."},
	} {
		require.Equal(t, tt.want, strings.Join(Opinions(answer.Asks{}, tt.options...), " "))
	}
}
