package report

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
)

// The numbers of these tests are invented: they guard words.

// compareText is what WriteCompare says, on one line.
func compareText(t *testing.T, a answer.Answer) string {
	t.Helper()
	return strings.Join(strings.Fields(string(written(t, func(b *bytes.Buffer) error { return WriteCompare(b, a) }))),
		" ")
}

// ranked are options a, b, c of which the tip moves so many times as far in solid bodies and in the beam model.
func ranked(solid, beam []float64) answer.Answer {
	var options []answer.Result
	for i := range solid {
		name := string(rune('a' + i))
		options = append(options, withBeam(solidOption(name, solid[i], 4, 30), sampleOption(name, beam[i], 4, 30)))
	}
	return bothAnswer(options...)
}

func TestRank(t *testing.T) {
	for _, tt := range []struct {
		name        string
		solid, beam []float64
		want        string
	}{
		{"alike", []float64{1, 1.1, 0.9}, []float64{0.8, 0.9, 0.7}, "Both models rank the options alike in " +
			"stiffness, tip steadiness and travel: to choose between them the beam model is enough."},
		{"the same but for scatter", []float64{1, 1.001}, []float64{0.9, 0.8999}, "Both models rank the options " +
			"alike in stiffness, tip steadiness and travel: to choose"},
		{"the other way round", []float64{1, 1.1}, []float64{0.9, 0.8}, "Both models rank the options alike in " +
			"travel. The two models rank the options differently in stiffness and tip steadiness, best first: by the " +
			"beam model “b”, “a”; by solid bodies “a”, “b”. There, go by solid bodies."},
		{"told apart by one only", []float64{1, 1.1, 1.2}, []float64{0.9, 0.9, 1}, "best first: by the beam model " +
			"“a” = “b”, “c”; by solid bodies “a”, “b”, “c”."},
	} {
		t.Run(tt.name, func(t *testing.T) { require.Contains(t, compareText(t, ranked(tt.solid, tt.beam)), tt.want) })
	}
	one := compareText(t, ranked([]float64{1}, []float64{0.9}))
	require.Contains(t, one, besideHeading)
	require.NotContains(t, one, "rank the options")
	require.NotContains(t, compareText(t, sixOptions()), besideHeading)
	require.NotContains(t, compareText(t, sampleAnswer()), besideHeading)
}

// TestWorstTipLoad: a load that only weighs on the machine decides where none is on the tip.
func TestWorstTipLoad(t *testing.T) {
	r := sampleOption("as drawn", 1, 4, 130)
	require.Equal(t, "side push", worstTipLoad(r.Loads))
	r.Loads[0].OnTip = false
	require.Equal(t, "down push", worstTipLoad(r.Loads))
	r.Loads[1].OnTip = false
	require.Equal(t, "side push", worstTipLoad(r.Loads))
	require.Empty(t, worstTipLoad(nil))
	require.Empty(t, worstTipLoad(bareFrame("as drawn", 1, 1).Loads))
}
