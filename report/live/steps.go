package live

import (
	"math"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
)

// TellSteps says beside each slider what a step does by the beam model: to the movement under the load that moves the tip most.
func TellSteps(values []Value, r *answer.Result) {
	if r.Next == nil {
		return
	}
	worst, most := "", 0.0
	for _, l := range r.Loads {
		if l.OnTip && l.TipSizeUm != nil && *l.TipSizeUm > most {
			worst, most = l.Name, *l.TipSizeUm
		}
	}
	for i := range values {
		v := &values[i]
		v.Does = ""
		for _, g := range r.Next.Gains {
			if g.Kind != answer.OfValue || g.What != v.Name || g.Unit != v.Unit {
				continue
			}
			for _, l := range g.Loads {
				if l.Load == worst {
					v.Does = stepInWords(v.Step, v.Unit, l.Um, worst)
				}
			}
		}
	}
}

// stepInWords says what one step more does to the movement under a load, of which a whole unit takes so much off.
func stepInWords(step float64, unit string, perUnit float64, load string) string {
	um := step * perUnit
	words := phrase.WithUnit(number.Given(step), unit) + " more: "
	if math.Abs(um) < number.Noise {
		return words + "nothing under " + phrase.Quoted(load)
	}
	return words + number.Digits(math.Abs(um), 2) + " µm " + phrase.MoreOrLess(-um) + " under " + phrase.Quoted(load)
}
