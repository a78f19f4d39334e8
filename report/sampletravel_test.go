package report

import (
	"math"

	"tiploop/frame/answer"
	"tiploop/report/number"
)

// travelLoads are the loads of the invented machines that follow their axes.
var travelLoads = []string{"side push", "down push", "own weight"}

// axisOption is an invented option whose axis x runs from -60 to 60 mm under the first few loads, and whose plane of x
// and y is followed under the same; scale multiplies every movement.
func axisOption(name string, scale float64, loads int) answer.Result {
	r := answer.Result{Name: name, Detail: "section", AtMM: map[string]float64{"x": 0, "y": 0, "z": -12.5}}
	r.Travel = axisTravel("x", scale, loads)
	for _, s := range []answer.Straightness{{Axis: "x", Across: "y"}, {Axis: "x", Across: "z"}} {
		for i := range 21 {
			at := -60 + 6*float64(i)
			s.AtMM = append(s.AtMM, at)
			off := 0.0
			if s.Across == "z" {
				off = -scale * (1 - at*at/3600)
			}
			s.OffUm = append(s.OffUm, off)
		}
		if s.Across == "z" {
			s.Um = scale
		}
		r.Straight = append(r.Straight, s)
	}
	r.Maps = []answer.Map{sampleMap("x, y", 20, loads, func(x, y float64) (float64, bool) {
		return scale * (6 + x*x/600 + y*y/900 + (x+y)/40), true
	})}
	return r
}

// axisTravel is an invented axis from -60 to 60 mm, a parabola of movement under each load.
func axisTravel(axis string, scale float64, loads int) (list []answer.Travel) {
	for n, load := range travelLoads[:loads] {
		t := answer.Travel{Path: axis, Axis: axis, Load: load, ToleranceUm: 20}
		for i := range 21 {
			at := -60 + 6*float64(i)
			um := scale * (6 + at*at/300 + at/20) / float64(n+1)
			t.AtMM = append(t.AtMM, at)
			t.TipUm = append(t.TipUm, [3]float64{0, 0.6 * um, -0.8 * um})
			t.SoftestNPerUm = append(t.SoftestNPerUm, 50/(scale*(6+at*at/300+at/20)))
			if um <= 20 {
				if t.WithinMM == nil {
					t.WithinMM = &[2]float64{at, at}
				}
				t.WithinMM[1] = at
			}
		}
		list = append(list, t)
	}
	return list
}

// sampleMap is an invented map over x from -60 to 60 and y from -40 to 40 mm; um gives the movement under the first
// load, that under the n-th is an n-th of it, and whether work is under the tool.
func sampleMap(name string, tolerance float64, loads int, um func(x, y float64) (float64, bool)) answer.Map {
	m := answer.Map{Name: name, Axes: [2]string{"x", "y"}, ToleranceUm: tolerance}
	for i := range 13 {
		m.AtMM[0] = append(m.AtMM[0], -60+10*float64(i))
	}
	for k := range 9 {
		m.AtMM[1] = append(m.AtMM[1], -40+10*float64(k))
	}
	m.Softest.Value = math.Inf(1)
	for n, load := range travelLoads[:loads] {
		l := answer.MapLoad{Load: load}
		kept, all := 0.0, 0.0
		m.SoftestNPerUm = nil
		for _, x := range m.AtMM[0] {
			var tips []*[3]float64
			var stiff []*float64
			for _, y := range m.AtMM[1] {
				v, ok := um(x, y)
				if !ok {
					tips, stiff = append(tips, nil), append(stiff, nil)
					continue
				}
				s := v / float64(n+1)
				k := 200.0
				if v > 0 {
					k = 50 / v
				}
				tips, stiff = append(tips, &[3]float64{0, 0.6 * s, -0.8 * s}), append(stiff, &k)
				if all++; s <= tolerance {
					kept++
				}
				if s > l.Worst.Value {
					l.Worst = answer.MapPosition{AtMM: [2]float64{x, y}, Value: number.Norm(*tips[len(tips)-1])}
				}
				if k < m.Softest.Value {
					m.Softest = answer.MapPosition{AtMM: [2]float64{x, y}, Value: k}
				}
			}
			l.TipUm, m.SoftestNPerUm = append(l.TipUm, tips), append(m.SoftestNPerUm, stiff)
		}
		if tolerance > 0 {
			share := 100 * kept / all
			l.WithinPercent = &share
		}
		m.Loads = append(m.Loads, l)
	}
	return m
}

// The invented answers of machines that follow their axes.
var (
	followedOne = sampleAnswer(axisOption("as drawn", 1, 1))

	followedThree = sampleAnswer(axisOption("short arm", 1, 3),
		axisOption("long arm of which nobody knows whether it helps", 1.7, 3), axisOption("heavy arm", 2.6, 3))

	// followedCorner has a plane in one corner of which no work is under the tool, and one in which nothing changes; no
	// tolerance.
	followedCorner = sampleAnswer(answer.Result{Name: "as drawn", Detail: "section", Maps: []answer.Map{
		sampleMap("table", 0, 1, func(x, y float64) (float64, bool) { return 6 + (x+y)/40, x < 30 || y > -10 }),
		sampleMap("x, y", 20, 1, func(x, y float64) (float64, bool) { return 7, true }),
	}})

	// followedBoth has its path beside that of the work spot, in solid bodies and by the beam model.
	followedBoth = bothAnswer(withBeam(followed(solidOption("as drawn", 1, 4, 130), 1),
		followed(sampleOption("as drawn", 0.9, 4, 130), 0.9)))

	followedAnswers = map[string]answer.Answer{
		"travel_axis": followedOne, "travel_axes": followedThree, "travel_corner": followedCorner,
		"travel_axis_both": followedBoth,
	}
)

// followed gives an option an axis and a plane beside its own paths.
func followed(r answer.Result, scale float64) answer.Result {
	o := axisOption(r.Name, scale, 2)
	r.Travel, r.Straight, r.Maps, r.AtMM = append(r.Travel, o.Travel...), o.Straight, o.Maps, o.AtMM
	return r
}
