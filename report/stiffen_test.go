package report

import (
	"bytes"
	"testing"

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
