package answer_test

import (
	"encoding/json"
	"fmt"

	"tiploop/frame/answer"
)

// The JSON of the program reads back as an Answer.
func ExampleAnswer() {
	text := `{"tiploop": 1, "machine": "mill", "detail": "section", "options": [{"name": "as drawn",
		"tip": {"stiffness_n_per_um": {"x": 12.5, "softest": 10}},
		"loads": [{"name": "side", "on_tip": true, "tip_um": [8, 0, 0], "tip_size_um": 8}]}]}`
	var a answer.Answer
	if err := json.Unmarshal([]byte(text), &a); err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range a.Options {
		fmt.Printf("%s: %g N/µm along x\n", r.Name, r.Tip.StiffnessNPerUm.X)
		for _, l := range r.Loads {
			// A force of 100 N over 12.5 N/µm is 8 µm.
			fmt.Printf("%s: %g µm, %g by hand\n", l.Name, *l.TipSizeUm, 100/r.Tip.StiffnessNPerUm.X)
		}
	}
	// Output:
	// as drawn: 12.5 N/µm along x
	// side: 8 µm, 8 by hand
}

// A curve that rises by 2 N/µm a millimetre up to 30 mm, and by 0.1 beyond, stands farthest above its chord at 30 mm.
func ExampleSweep_FindKnees() {
	s := answer.Sweep{Values: []answer.SweptValue{{Name: "leg", Unit: "mm", At: []float64{10, 20, 30, 40, 50}}}}
	for _, at := range s.Values[0].At {
		k := 2*min(at, 30) + 0.1*max(at-30, 0)
		s.Places = append(
			s.Places,
			answer.SweptStep{At: []float64{at}, Tip: &answer.Tip{StiffnessNPerUm: answer.Stiffness{Softest: k}}},
		)
	}
	s.FindKnees()
	k := s.Knees[0]
	fmt.Printf(
		"the %s of the tip %s at %s %g mm: %.1f N/µm per mm before, %.1f beyond\n",
		k.Of,
		k.Kind,
		k.Along,
		*k.At,
		k.Before,
		k.Beyond,
	)
	// Output:
	// the stiffness of the tip levels off at leg 30 mm: 2.0 N/µm per mm before, 0.1 beyond
}
