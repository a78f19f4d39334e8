package report

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
)

// sampleNext is an invented list of what to stiffen next.
func sampleNext() *answer.Next {
	of := func(v float64) *float64 { return &v }
	loads := func(side, down float64) []answer.LoadGain {
		return []answer.LoadGain{{Load: "side push", Um: side}, {Load: "down push", Um: down}}
	}
	return &answer.Next{
		Direction: [3]float64{0, 1, 0},
		Gains: []answer.Gain{
			{What: "stickout", Kind: answer.OfValue, Unit: "mm", At: 35, StiffnessNPerUm: -0.12,
				Loads: loads(-2, -0.1), Side: answer.MoreOnly},
			{What: "paper", Kind: answer.OfValue, Unit: "mm", At: 0.1, StiffnessNPerUm: -3, Loads: loads(-80, -72),
				Side: answer.BothSides},
			{What: "young", Kind: answer.OfValue, Unit: "N/mm2", At: 71000, StiffnessNPerUm: 5e-6,
				Loads: loads(1e-4, 1e-4), Side: answer.BothSides},
			{What: "x: rail 1, rail 2", Kind: answer.OfSpacing, Unit: "mm", At: 90, StiffnessNPerUm: 0.006,
				Loads: loads(0.2, 0.1), Side: answer.BothSides, Room: of(10.5), Bound: "with axis x at -60 mm a " +
					"carriage of rail 1 is at the end of its rail"},
			{What: "y: rail 1", Kind: answer.OfSpacing, Unit: "mm", At: 60, StiffnessNPerUm: 0.004,
				Loads: loads(0.1, 0.1), Side: answer.LessOnly, Room: of(0.4375), Bound: "a carriage of rail 1 is at " +
					"the end of table"},
			{What: "y: rail 2", Kind: answer.OfSpacing, Unit: "mm", At: 120, StiffnessNPerUm: -0.003,
				Loads: loads(-0.1, 0), Side: answer.BothSides, Room: of(60), Bound: "carriages of rail 2 touch"},
			{What: "upright", Kind: answer.OfThickness, Unit: "mm", At: 40, StiffnessNPerUm: 0.05,
				Loads: loads(0.5, 2.5), MassKg: 0.136, PerKg: of(0.3676), Side: answer.BothSides},
			{What: "leg", Kind: answer.OfValue, Unit: "mm", At: 90, StiffnessNPerUm: 0.001, Loads: loads(0, 0.2),
				MassKg: 0.01, PerKg: of(0.1), Side: answer.LessOnly},
			{What: "rows", Kind: answer.OfValue, At: 2, Whole: true, StiffnessNPerUm: 0.04, Loads: loads(1, 3),
				Operations: 22, PerOperation: of(0.00181818), Side: answer.MoreOnly},
			{What: "upright/head", Kind: answer.OfScrews, Unit: "row", At: 3, Whole: true, StiffnessNPerUm: 0.02,
				Loads: loads(2, 9), Operations: 11, PerOperation: of(0.00181818), Side: answer.MoreOnly},
			{What: "nothing", Kind: answer.OfValue, Unit: "mm", At: 12, StiffnessNPerUm: 1e-9, Loads: loads(0, 0),
				Side: answer.BothSides},
		},
		Without: []answer.NoGain{
			{What: "bed_length", Kind: answer.OfValue, Why: "the model jumps at this very number"},
			{What: "a/b", Kind: answer.OfScrews, Why: "no room"},
			{What: "z: rail 1", Kind: answer.OfSpacing, Why: "they would have to go farther apart: a carriage of " +
				"rail 1 is at the end of slide already"},
		},
	}
}

func TestWriteNext(t *testing.T) {
	one := sampleOption("as drawn", 1, 4, 130)
	one.Next = sampleNext()
	beam := sampleOption("as drawn", 0.93, 4, 130)
	beam.Next = sampleNext()
	for name, a := range map[string]answer.Answer{
		"tip_next":      sampleAnswer(one),
		"tip_next_both": bothAnswer(withBeam(solidOption("as drawn", 1, 4, 130), beam)),
	} {
		t.Run(name, func(t *testing.T) {
			golden(t, name+".txt", written(t, func(b *bytes.Buffer) error { return WriteTip(b, a) }))
		})
	}
}

// A step is one that somebody could take: a millimetre or a degree of what is 5 of them and more, a tenth and a
// hundredth of that of what is thinner; a hundredth of what has another unit; one of what is counted; never more than
// there is room.
func TestStep(t *testing.T) {
	mm := func(at float64) answer.Gain { return answer.Gain{Unit: "mm", At: at, StiffnessNPerUm: 1} }
	with := func(g answer.Gain, change func(*answer.Gain)) answer.Gain { change(&g); return g }
	for _, tt := range []struct {
		name  string
		gain  answer.Gain
		want  float64
		words string
	}{
		{"a plate", mm(40), 1, "1 mm more"},
		{"5 mm", mm(5), 1, "1 mm more"},
		{"not quite 5 mm", mm(4.99), 0.1, "0.1 mm more"},
		{"half a millimetre", mm(0.5), 0.1, "0.1 mm more"},
		{"a shim", mm(0.49), 0.01, "0.01 mm more"},
		{"nothing yet", mm(0), 1, "1 mm more"},
		{"before the zero", mm(-40), 1, "1 mm more"},
		{"less is stiffer", with(mm(40), func(g *answer.Gain) { g.StiffnessNPerUm = -1 }), -1, "1 mm less"},
		{"no gain either way", with(mm(40), func(g *answer.Gain) { g.StiffnessNPerUm = 0 }), 1, "1 mm more"},
		{"an angle", with(mm(30), func(g *answer.Gain) { g.Unit = "deg" }), 1, "1 deg more"},
		{"a modulus", with(mm(71000), func(g *answer.Gain) { g.Unit = "N/mm2" }), 710, "1 % more"},
		{"a modulus of nothing", with(mm(0), func(g *answer.Gain) { g.Unit = "N/mm2" }), 1, "1 N/mm2 more"},
		{"rows", with(mm(3), func(g *answer.Gain) { g.Unit, g.Whole = "", true }), 1, "1 more"},
		{"little room", with(mm(90), func(g *answer.Gain) { g.Room = new(0.4) }), 0.4, "0.4 mm more"},
		{"much room", with(mm(90), func(g *answer.Gain) { g.Room = new(10.5) }), 1, "1 mm more"},
	} {
		require.InDelta(t, tt.want, step(tt.gain), 1e-12, tt.name)
		require.Equal(t, tt.words, stepInWords(tt.gain), tt.name)
	}
}

// A gain is worth a line if ten percent more, or one more of what counts, makes the tip a thousandth stiffer or softer.
func TestWorthALine(t *testing.T) {
	for _, tt := range []struct {
		name string
		gain answer.Gain
		want bool
	}{
		{"a thousandth", answer.Gain{At: 40, StiffnessNPerUm: 0.002}, true}, // 4 more give 0.008 of 8
		{"less", answer.Gain{At: 40, StiffnessNPerUm: 0.00199}, false},
		{"the other way", answer.Gain{At: -40, StiffnessNPerUm: -0.002}, true},
		{"one more", answer.Gain{At: 40, Whole: true, StiffnessNPerUm: 0.008}, true},
		{"less of one more", answer.Gain{At: 40, Whole: true, StiffnessNPerUm: 0.0079}, false},
		{"from nothing", answer.Gain{StiffnessNPerUm: 0.008}, true},
		{"less from nothing", answer.Gain{StiffnessNPerUm: 0.0079}, false},
	} {
		require.Equal(t, tt.want, len(worthALine([]answer.Gain{tt.gain}, 8)) == 1, tt.name)
	}
}

// The gain is told from the other side where the model holds on one side only, and that is not the way that stiffens.
func TestSideInWords(t *testing.T) {
	for _, tt := range []struct {
		side      answer.Side
		stiffness float64
		want      string
	}{
		{answer.MoreOnly, 1, ""}, {answer.MoreOnly, 0, ""}, {answer.MoreOnly, -1, " *"},
		{answer.LessOnly, 1, " *"}, {answer.LessOnly, 0, " *"}, {answer.LessOnly, -1, ""},
		{answer.BothSides, 1, ""}, {answer.BothSides, -1, ""},
	} {
		g := answer.Gain{Side: tt.side, StiffnessNPerUm: tt.stiffness}
		require.Equal(t, tt.want, sideInWords(g), "%v, %g", tt.side, tt.stiffness)
		g.Whole = true
		require.Empty(t, sideInWords(g), "what is counted has no side")
	}
}
