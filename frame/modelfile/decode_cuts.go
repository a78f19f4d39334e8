package modelfile

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/constant"
	"tiploop/frame/cutting"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// cutKeys are the keys of a cut; some go with some modes only.
var cutKeys = Mapping{
	Name:  "cut",
	About: "A cut, which becomes a load of its name. It needs a tool with stickout, diameter, flutes and material.",
	Keys: []Key{
		{Name: "material", Takes: either(oneWord("cutting", cutMaterialWords...), keysOf(&workMaterialKeys)),
			About: "what is cut"},
		{Name: "mode", Takes: oneWord("", modeWords...),
			About: "up (conventional) and down (climb) are against and with the feed; centred is a strip in the middle"},
		{Name: "radial", Takes: sized(aLength), With: []string{"up", "down", "centred"},
			About: "width of the strip that the tool takes"},
		{Name: "axial", Takes: sized(aLength), With: milling, About: "depth along the tool"},
		{Name: "feed", Takes: sized(aFeed), About: "how fast the tool goes"},
		{Name: "feed_per_tooth", Takes: sized(aTolerance), With: milling, About: "how far it goes from tooth to tooth"},
		{Name: "feed_per_turn", Takes: sized(aTolerance), With: []string{drillingWord},
			About: "how far a drill goes in a turn"},
		{Name: "speed", Takes: sized(aSpin), About: "how fast it turns"},
		{Name: "along", Takes: oneWord("", wayWords...), With: milling,
			About: "the way that the tool goes through the work"},
		{Name: "direction", Takes: vectorOf(aNumber), With: milling, About: "the same, askew; its length is of no account"},
		{Name: "tolerance", Takes: sized(aTolerance), Default: "none: no depth is searched",
			About: "how far the tip may be off"},
		{Name: "runout", Takes: sized(aTolerance), Default: "0", With: milling,
			About: "what an indicator at the tool swings"},
		{Name: "pilot", Takes: sized(aLength), Default: "none", With: []string{drillingWord},
			About: "diameter of a hole that is there already"},
		{Name: "point", Takes: sized(anAngle), Default: "118", With: []string{drillingWord},
			About: "point angle of the drill"},
	},
	Choices: [][]string{{"feed", "feed_per_tooth", "feed_per_turn"}, {"along", "direction"}},
}

// milling are the modes in which teeth go round through the work.
var milling = modeWords[:len(modeWords)-1]

var workMaterialKeys = Mapping{
	Name: "work material", About: "Your own numbers of what is cut, by one of two laws.",
	Keys: []Key{
		{Name: "kc11", Takes: sized(aModulus), About: "specific cutting force of a chip 1 mm thick and wide"},
		{Name: "exponent", Takes: sized(aNumber), With: []string{"kc11"}, About: "m in kc = kc11·h^-m, from 0 to below 1"},
		{Name: "ktc", Takes: sized(aModulus), About: "tangential, per area of the chip"},
		{Name: "krc", Takes: sized(aModulus), Default: "0", With: []string{"ktc"}, About: "radial, per area"},
		{Name: "kac", Takes: sized(aModulus), Default: "0", With: []string{"ktc"}, About: "axial, per area"},
		{Name: "kte", Takes: sized(aLineLoad), Default: "0", With: []string{"ktc"},
			About: "tangential, per length of the edge"},
		{Name: "kre", Takes: sized(aLineLoad), Default: "0", With: []string{"ktc"}, About: "radial, per length"},
		{Name: "kae", Takes: sized(aLineLoad), Default: "0", With: []string{"ktc"}, About: "axial, per length"},
	},
	Choices: [][]string{{"kc11", "ktc"}},
}

// cutMaterialWords are the work materials of the table.
var cutMaterialWords = wordsOf(cutting.Materials(), func(m cutting.Material) string { return m.Key })

// wayWords are the ways along the axes, each followed by its opposite.
var wayWords = []string{"x", "-x", "y", "-y", "z", "-z"}

// The ways of cutting.
const drillingWord = "drilling"

var modes = map[string]cutting.Mode{"slot": cutting.Slot, "up": cutting.Up, "down": cutting.Down,
	"centred": cutting.Centred}

var modeWords = []string{"slot", "up", "down", "centred", drillingWord}

// tradeModes are modes by other words of the trade.
var tradeModes = map[string]string{"climb": "down", "conventional": "up", "drill": drillingWord}

// largestRunout is what is believed of a tool's run-out, mm: a collet with a tenth of it is a bad one. A house value.
const largestRunout = 0.5

// squareTo is how far a feed may be from square to the tool, as a cosine: half a degree.
const squareTo = 0.01

// decodeCuts reads the cuts and makes loads of them; tool, spindle and loads must have been read.
func (d *decoder) decodeCuts(n *source.Node) {
	d.named(n, "cuts", func(name string, at machine.FilePos, body *source.Node) {
		if _, taken := d.loads[name]; taken {
			d.fault(at, fmt.Sprintf("cut %s has the name of a load", machine.Quote(name)),
				"a cut is a load itself: give one of them another name")
		}
		d.loadCaseNames = append(d.loadCaseNames, name)
		load := len(d.m.Loads)
		c := machine.Cut{Name: name, Pos: at, Load: &load}
		d.loads[name] = load
		d.m.Loads = append(d.m.Loads, c.Case(cutting.Load{})) // a path may name the cut even when it turns out wrong
		what := "cut " + machine.Quote(name)
		f, ok := d.fields(body, &cutKeys, name)
		if !ok {
			return
		}
		along := d.cut(&c, f)
		if d.toolCuts(at, what) && len(d.faults) == 0 {
			d.finishCut(&c, body, along)
		}
	})
}

// toolCuts tells whether there is a tool that can cut, and reports when not.
func (d *decoder) toolCuts(at machine.FilePos, what string) bool {
	t := d.m.Tool
	switch {
	case t == nil:
		d.fault(at, what+" has no tool", "tool: {part: …, at: […], stickout: …, diameter: …, flutes: …, material: …}")
	case t.Stickout == 0 || t.Diameter == 0 || t.Flutes == 0:
		d.fault(at, what+" needs to know the tool", "give the tool its stickout, diameter, flutes and material")
	default:
		return true
	}
	return false
}

// cut reads what a cut says, and gives the way the tool goes.
func (d *decoder) cut(c *machine.Cut, f fields) (along r3.Vec) {
	if n := f.need("material"); n != nil {
		c.Material, _ = d.workMaterial(n)
	}
	if n := f.get("tolerance"); n != nil {
		c.Tolerance, _ = d.positive(n, aTolerance, "tolerance")
	}
	n := f.need("mode")
	if n == nil {
		return along
	}
	if way := tradeModes[n.Text]; way != "" {
		d.fault(n.Pos, fmt.Sprintf("mode %s is not known", machine.Quote(n.Text)),
			fmt.Sprintf("here it is %s: write mode: %s", way, way))
		return along
	}
	word, ok := d.word(n, "mode", modeWords)
	switch {
	case !ok:
	case word == drillingWord:
		d.drilling(c, f)
	default:
		along = d.milling(c, f, word)
	}
	return along
}

// speed reads how fast the tool turns, in rpm; 0 when it does not say.
func (d *decoder) speed(f fields) float64 {
	n := f.need("speed")
	if n == nil {
		return 0
	}
	speed, _ := d.positive(n, aSpin, "speed")
	return inRPM(speed)
}

// feedPer reads a feed, either as a rate or for each of so many steps in a revolution, and gives it as the latter, in
// mm.
func (d *decoder) feedPer(f fields, key string, steps int, rpm float64) float64 {
	word, n := f.oneOf("feed", key)
	if n == nil {
		return 0
	}
	if word == key {
		per, _ := d.positive(n, aTolerance, key)
		return per
	}
	rate, ok := d.positive(n, aFeed, "feed")
	if !ok || rpm == 0 || steps == 0 {
		return 0
	}
	return cutting.FeedPerToothMM(rate*aFeed.unit.den/aFeed.unit.num, rpm, steps)
}

func (d *decoder) milling(c *machine.Cut, f fields, word string) (along r3.Vec) {
	m := &cutting.Milling{Mode: modes[word], Spindle: d.m.Spindle.Limits()}
	c.Milling = m
	f.only(word)
	if t := d.m.Tool; t != nil {
		const degree = math.Pi / 180
		m.Mill = cutting.Mill{DiameterMM: t.Diameter, Flutes: t.Flutes, HelixDeg: t.Helix / degree,
			EnteringDeg: t.Entering / degree}
	}
	m.SpeedRPM = d.speed(f)
	m.FeedPerToothMM = d.feedPer(f, "feed_per_tooth", m.Mill.Flutes, m.SpeedRPM)
	if n := f.get("runout"); n != nil {
		swing, ok := d.number(n, aTolerance)
		switch {
		case ok && swing < 0:
			d.misfit(n.Pos, fmt.Sprintf("runout must not be negative: %s", aTolerance.show(swing)),
				"it is what an indicator at the tool swings")
		case ok && swing > largestRunout:
			d.misfit(n.Pos, fmt.Sprintf("runout of %s is beyond belief: at most %s", aTolerance.show(swing),
				aTolerance.show(largestRunout)), "look for a wrong unit")
		}
		m.Mill.OffsetMM = swing / 2
	}
	d.depths(m, f)
	return d.way(f)
}

// depths reads how much a milling cut takes across and along the tool.
func (d *decoder) depths(m *cutting.Milling, f fields) {
	if m.Mode != cutting.Slot {
		if n := f.need("radial"); n != nil {
			var ok bool
			m.RadialDepthMM, ok = d.positive(n, aLength, "radial")
			if ok && d.m.Tool != nil && d.m.Tool.Diameter > 0 && m.RadialDepthMM > d.m.Tool.Diameter {
				d.misfit(n.Pos, fmt.Sprintf("radial depth of %s is more than the tool's %s", aLength.show(m.RadialDepthMM),
					aLength.show(d.m.Tool.Diameter)),
					"radial is the width of the strip that the tool takes; the whole tool is mode: slot")
			}
		}
	}
	if n := f.need("axial"); n != nil {
		var ok bool
		m.AxialDepthMM, ok = d.positive(n, aLength, "axial")
		if t := d.m.Tool; ok && t != nil && t.Stickout > 0 && m.AxialDepthMM > t.FluteLength() {
			d.misfit(n.Pos, fmt.Sprintf("axial depth of %s is more than the %s of flutes that stick out",
				aLength.show(m.AxialDepthMM), aLength.show(t.FluteLength())),
				"cut in several passes, or let the tool stick out farther")
		}
	}
}

// way reads which way the tool goes through the work.
func (d *decoder) way(f fields) r3.Vec {
	word, n := f.choose("along")
	switch {
	case n == nil:
		return r3.Vec{}
	case word == "direction":
		v, _ := d.direction(n, "direction")
		return v
	}
	text, ok := d.word(n, "along", wayWords)
	if !ok {
		return r3.Vec{}
	}
	i := slices.Index(wayWords, text)
	v := machine.Axis(i / 2).Direction()
	if i%2 == 1 {
		v = r3.Scale(-1, v)
	}
	return v
}

func (d *decoder) drilling(c *machine.Cut, f fields) {
	h := &cutting.Drilling{Spindle: d.m.Spindle.Limits()}
	c.Drilling = h
	f.only(drillingWord)
	if d.m.Tool != nil {
		h.DiameterMM = d.m.Tool.Diameter
	}
	h.SpeedRPM = d.speed(f)
	h.FeedMMRev = d.feedPer(f, "feed_per_turn", 1, h.SpeedRPM)
	if n := f.get("pilot"); n != nil {
		h.PilotMM, _ = d.positive(n, aLength, "pilot")
	}
	if n := f.get("point"); n != nil {
		point, _ := d.positive(n, anAngle, "point")
		h.PointDeg = point * anAngle.unit.den / anAngle.unit.num
	}
}

// finishCut works out a cut's typical force, and makes a load of it.
func (d *decoder) finishCut(c *machine.Cut, body *source.Node, along r3.Vec) {
	axis := d.m.Tool.Back(&d.m.Parts[max(d.m.Tool.Part, 0)])
	if c.Milling != nil && math.Abs(r3.Dot(along, axis)) > squareTo {
		at := body.Find("along")
		if at == nil {
			at = body.Find("direction")
		}
		d.misfit(at.Value.Pos, "the tool cannot be fed that way and mill: it points along "+machine.DirectionInWords(axis),
			"feed it square to the tool, or write mode: drilling")
		return
	}
	if c.Drilling != nil && c.Material.Kienzle.Kc11.High == 0 {
		d.fault(body.Find("material").Value.Pos, "drilling goes by kc11 and exponent, and the work material has none",
			"ktc and its kin are measured by milling")
		return
	}
	c.Turn(axis, along)
	peak, err := c.Peak()
	if err != nil {
		d.misfit(body.Pos, fmt.Sprintf("cut %s cannot be worked out: %v", machine.Quote(c.Name), err),
			"look for a wrong unit among its numbers and those of the tool")
		return
	}
	d.m.Loads[*c.Load] = c.Case(peak)
	d.m.Cuts = append(d.m.Cuts, *c)
}

// edgeKeys are the coefficients of the linear edge-force law, which needs the first.
var edgeKeys = []string{"ktc", "krc", "kac", "kte", "kre", "kae"}

// workMaterial reads what is cut: a name from the table, or numbers of the builder's own.
func (d *decoder) workMaterial(n *source.Node) (m cutting.Material, ok bool) {
	if n.Kind != source.Mapping {
		word, ok := d.word(n, "work material", cutMaterialWords)
		if !ok {
			return m, false
		}
		return cutting.LookupMaterial(word)
	}
	f, ok := d.fields(n, &workMaterialKeys)
	if !ok {
		return m, false
	}
	m.Key, m.Name = "own numbers", "numbers from the model file"
	const source = "from the model file"
	switch key, _ := f.choose("kc11"); key {
	case "kc11":
		f.only(key)
		kc, _ := d.positive(f.get("kc11"), aModulus, "kc11")
		exponent := 0.0
		if n := f.need("exponent"); n != nil {
			if exponent, ok = d.number(n, aNumber); ok && !(exponent >= 0 && exponent < 1) {
				d.misfit(n.Pos, fmt.Sprintf("exponent must be from 0 to below 1, not %g", exponent), "it is m in kc = kc11·h^-m")
			}
		}
		m.Kienzle = cutting.Kienzle{Kc11: constant.Exactly(kc), M: constant.Exactly(exponent), Source: source}
	case "ktc":
		f.only(key)
		e := &cutting.EdgeForce{Source: source}
		for i, into := range []*constant.Band{&e.Ktc, &e.Krc, &e.Kac, &e.Kte, &e.Kre, &e.Kae} {
			unit := aModulus
			if i >= 3 {
				unit = aLineLoad
			}
			if n := f.get(edgeKeys[i]); n != nil {
				v, ok := d.number(n, unit)
				if ok && v < 0 {
					d.misfit(n.Pos, fmt.Sprintf("%s must not be negative: %s", edgeKeys[i], unit.show(v)), "")
				}
				*into = constant.Exactly(v)
			}
		}
		m.Edge = e
	}
	return m, true
}
