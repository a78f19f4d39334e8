package report

import "tiploop/frame/answer"

// Invented stresses and answers of solid bodies.

// solidStress is an invented stress of twelve parts under two loads: one that would yield, two alike, a material
// without a yield, bars without edges, one part that carries nothing.
func solidStress() []answer.Stress {
	var all []answer.Stress
	for k, load := range []string{"side push", "down push"} {
		for i, part := range []string{"base", "rib_left", "rib_right", "bed", "upright", "head", "brace_left",
			"brace_right", "clamp", "spindle", "motor mount", longName} {
			s := answer.Stress{Load: load, Part: part, MPa: []float64{2, 7.5, 7.5, 9, 42, 6, 12, 12, 131, 3, 0.25,
				0}[i] * (1 - 0.3*float64(k)), AtMM: [3]float64{-0.2, 12.34, 300.7}}
			if part != "spindle" {
				s.EdgeMPa, s.EdgeAtMM = new(4*s.MPa), &[3]float64{-75, 280, 40}
			}
			if part != "motor mount" && s.MPa > 0 {
				s.YieldMPa, s.TimesYield = new(125.0), new(125/s.MPa)
			}
			all = append(all, s)
		}
	}
	return all
}

// stressedBars adds the stress of two bars, as the beam model tells it.
func stressedBars(r answer.Result) answer.Result {
	r.Stress = []answer.Stress{
		{Load: "side push", Part: "spindle", MPa: 0.1, AtMM: [3]float64{0, -10, 300}, YieldMPa: new(235.0),
			TimesYield: new(2350.0)},
		{Load: "side push", Part: "arm", MPa: 1.234, AtMM: [3]float64{0, -10, 300}},
		{Load: "down push", Part: "spindle", MPa: 0.3, AtMM: [3]float64{0, -10, 130}, YieldMPa: new(235.0),
			TimesYield: new(235 / 0.3)},
		{Load: "down push", Part: "arm", MPa: 0, AtMM: [3]float64{}},
	}
	return r
}

// asSolid makes an invented answer one of solid bodies.
func asSolid(r answer.Result) answer.Result {
	r.Detail = "solid"
	r.Solid = []answer.SolidSize{
		{Parts: []string{"upright"}, Elements: 4320, Unknowns: 18421, Spots: 9},
		{Parts: []string{"rib_left", "rib_right"}, Elements: 1200, Unknowns: 5200, Spots: 8},
	}
	return r
}

// solidOption is sampleOption with solid bodies.
func solidOption(name string, scale float64, sources int, bed float64) answer.Result {
	r := asSolid(sampleOption(name, scale, sources, bed))
	r.Stress = solidStress()
	return r
}

// solidFrame is bareFrame with solid bodies.
func solidFrame(name string, moved, mass float64) answer.Result {
	r := asSolid(bareFrame(name, moved, mass))
	r.Shares = []answer.Share{{Load: "wind", Source: "part post", Percent: 65},
		{Load: "wind", Source: "part beam", Percent: 35}}
	return r
}

// withBeam sets the beam model's answer beside another.
func withBeam(r, beam answer.Result) answer.Result {
	r.Section = &beam
	return r
}

// solidAnswer and bothAnswer are invented answers of detail solid, and of both.
func solidAnswer(options ...answer.Result) answer.Answer {
	a := sampleAnswer(options...)
	a.Detail = "solid"
	return a
}

func bothAnswer(options ...answer.Result) answer.Answer {
	a := sampleAnswer(options...)
	a.Detail = "both"
	return a
}

// bothAlike are three options that both models put in the same order.
func bothAlike() answer.Answer {
	var options []answer.Result
	for i, name := range []string{"short bed", "long bed", "four more screws"} {
		scale := 1 + 0.2*float64(i)
		options = append(options, withBeam(solidOption(name, scale, 4, 130), sampleOption(name, 0.9*scale, 4, 130)))
	}
	return bothAnswer(options...)
}

// bothUnlike are three options of which the beam model takes the second for the best, and the third for as good as the
// first.
func bothUnlike() answer.Answer {
	return bothAnswer(
		withBeam(solidOption("short bed", 1, 4, 130), sampleOption("short bed", 0.95, 4, 130)),
		withBeam(solidOption(longName, 1.1, 4, 180), sampleOption(longName, 0.9, 4, 180)),
		withBeam(solidOption("with gussets", 0.8, 4, 130), sampleOption("with gussets", 0.95, 4, 130)),
	)
}
