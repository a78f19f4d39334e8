package report

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/frame/structure"
)

// The numbers of these tests are invented: they guard words and layout.

func TestOffBy(t *testing.T) {
	for _, tt := range []struct {
		beam, solid float64
		want        string
	}{
		{11, 10, "+10.0"}, {9, 10, "-10.0"}, {10, 10, "0.0"}, {10.0001, 10, "0.0"}, {9.9999, 10, "0.0"},
		{0, 10, "-100.0"}, {0, 0, "0.0"},
		{1e-9, 0, "0.0"}, {1, 0, absent}, {1, 1e-9, absent},
	} {
		got := absent
		if percent, ok := offBy(tt.beam, tt.solid); ok {
			got = change(percent)
		}
		require.Equal(t, tt.want, got, "%g against %g", tt.beam, tt.solid)
	}
}

func TestBesideInWords(t *testing.T) {
	beside := func(scale float64) string {
		text := tipText(t, withBeam(solidOption("as drawn", 1, 4, 130), sampleOption("as drawn", scale, 4, 130)))
		return strings.Join(strings.Fields(text), " ")
	}
	const both = "the errors of both, of the beam model's parts and of the meshes: "
	require.Contains(t, beside(0.8), both+"most in stiffness left–right (x), +25.0 %.")
	require.Contains(t, beside(1.002), both+"here nothing that matters.")
	require.NotContains(t, tipText(t, solidOption("as drawn", 1, 4, 130)), besideHeading)
}

// TestBesideUnlikeModels: what only one of the two has is left blank, and nothing is divided by nothing.
func TestBesideUnlikeModels(t *testing.T) {
	solid, beam := solidFrame("as drawn", 10, 100), bareFrame("as drawn", 0, 100)
	beam.Loads[0].PointsUm["ridge"] = [3]float64{1, 0, 0}
	beam.Shares = []answer.Share{{Load: "wind", Source: "part post", Percent: 100}}
	text := tipText(t, withBeam(solid, beam))
	require.Regexp(t, `point eaves under “wind”, µm +0 +10\.0 +-100\.0\n`, text)
	require.Regexp(t, `point ridge under “wind”, µm +1\.00 +– +–\n`, text)
	require.Regexp(t, `wind +part beam +– +35\.0 +-35\.0\n`, text)
	still := zero("still")
	still.Solid = []answer.SolidSize{{Parts: []string{"a"}, Elements: 1, Unknowns: 24}}
	text = tipText(t, withBeam(still, zero("still")))
	require.Contains(t, text, besideHeading)
	require.NotRegexp(t, `NaN|Inf`, text)

	bars := zero("bars only")
	bars.Detail = structure.Solid.String()
	text = tipText(t, withBeam(bars, zero("bars only")))
	require.NotContains(t, text, besideHeading)
	require.Contains(t, text, "nothing to mesh")
}

// TestTravelBeside: one of the two may keep the tolerance nowhere, or have no such path.
func TestTravelBeside(t *testing.T) {
	text := func(a answer.Answer) string {
		return string(written(t, func(b *bytes.Buffer) error { return WriteTravel(b, a) }))
	}
	nowhere := text(bothAnswer(withBeam(solidOption("soft", 30, 4, 130), sampleOption("soft", 1, 4, 130))))
	require.Regexp(t, `stretch within 20 µm, mm +234 +0 +–\n`, nowhere)
	require.Regexp(t, `from … to, mm +-117 … 117 +–\n`, nowhere)
	free := withBeam(solidOption("free", 1, 4, 130), sampleOption("free", 0.9, 4, 130))
	for i := range free.Travel {
		free.Travel[i].ToleranceUm = 0
	}
	require.NotContains(t, text(bothAnswer(free)), "stretch within")
	other := withBeam(solidOption("other", 1, 4, 130), sampleOption("other", 1, 4, 130))
	other.Section.Travel = nil
	require.NotContains(t, text(bothAnswer(other)), besideHeading)
	_, err := TravelPicture(bothAnswer(other))
	require.NoError(t, err)
}

// TestDetailIsSaid wherever the numbers are not those of the usual detail alone.
func TestDetailIsSaid(t *testing.T) {
	const beams, bodies = "Plates and gussets as beams", "Plates and gussets as solid bodies"
	for _, tt := range []struct {
		a    answer.Answer
		said string
	}{
		{sampleAnswer(sampleOption("as drawn", 1, 4, 130)), beams}, {solidAnswer(solidOption("as drawn", 1, 4, 130)), ""},
		{bothAlike(), bodies},
	} {
		for name, write := range map[string]func(b *bytes.Buffer) error{
			"compare": func(b *bytes.Buffer) error { return WriteCompare(b, tt.a) },
			"travel":  func(b *bytes.Buffer) error { return WriteTravel(b, tt.a) },
		} {
			for _, words := range []string{beams, bodies} {
				require.Equal(t, words == tt.said, strings.Contains(string(written(t, write)), words), "%s %s", name, tt.a.Detail)
			}
		}
		require.Equal(t, tt.said, detailInWords(tt.a))
	}
}

// TestSectionIsChecked: what stands beside is looked at as closely as the answer itself.
func TestSectionIsChecked(t *testing.T) {
	short := bothAnswer(withBeam(solidOption("as drawn", 1, 4, 130), sampleOption("as drawn", 1, 4, 130)))
	short.Options[0].Section.Travel[1].AtMM = nil
	var b bytes.Buffer
	require.ErrorContains(t, WriteTravel(&b, short), "0 places and 41 movements")
	require.ErrorContains(t, WriteTravelCSV(&b, short), "0 places and 41 movements")
	_, err := TravelPicture(short)
	require.ErrorContains(t, err, "0 places and 41 movements")
	bad := bothAnswer(withBeam(solidOption("as drawn", 1, 4, 130), sampleOption("as drawn", 1, 4, 130)))
	bad.Options[0].Section.Tip.StiffnessNPerUm.X = math.NaN()
	require.ErrorContains(t, WriteTip(&b, bad), "Options[0].Section.Tip.StiffnessNPerUm.X is NaN")
	bad = solidAnswer(solidOption("as drawn", 1, 4, 130))
	*bad.Options[0].Stress[2].TimesYield = math.Inf(1)
	require.ErrorContains(t, WriteTip(&b, bad), "Options[0].Stress[2].TimesYield is +Inf")
	require.Empty(t, b.String())
}

// TestJSONOfBoth guards the order of the keys and the form of stresses, bodies and the answer beside.
func TestJSONOfBoth(t *testing.T) {
	r := withBeam(asSolid(bareFrame("as drawn", 1, 100)), bareFrame("as drawn", 1.1, 100))
	r.Stress, r.Section.Stress, r.Section.Solid = solidStress()[8:11], []answer.Stress{}, []answer.SolidSize{}
	golden(t, "answer_both.json", written(t, func(b *bytes.Buffer) error { return WriteJSON(b, bothAnswer(r)) }))
}
