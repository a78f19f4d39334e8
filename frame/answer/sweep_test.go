package answer

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// swept is a sweep of two values whose stiffness grows with the first up to 2 more than the second, by hand, and whose
// load moves the tip so much the less.
func swept() *Sweep {
	s := &Sweep{Values: []SweptValue{
		{Name: "leg", Drawn: 5.1, At: []float64{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10}},
		{Name: "foot", Drawn: 2.2, At: []float64{1, 2, 3, 4}},
	}}
	for _, leg := range s.Values[0].At {
		for _, foot := range s.Values[1].At {
			up := math.Min(leg, 2+foot) + leg/100
			size := 20 - up
			tip := &Tip{}
			tip.StiffnessNPerUm.Softest = up
			s.Places = append(s.Places, SweptStep{At: []float64{leg, foot}, Tip: tip,
				Loads: []SweptLoad{{Name: "push", OnTip: true, TipSizeUm: &size}, {Name: "weight", TipSizeUm: &size}}})
		}
	}
	return s
}

// TestKneesOfTwoValues: along each value the corner is where it is by hand with the other at the place nearest to where
// it is drawn: with foot at 2 the leg's at 4, with leg at 5 the foot's at 3.
func TestKneesOfTwoValues(t *testing.T) {
	s := swept()
	s.FindKnees()
	require.Len(t, s.Knees, 4)
	for i, want := range []struct {
		of, along      string
		other, at      float64
		before, beyond float64
	}{
		{stiffnessWord, "leg", 2, 4, 1.01, 0.01},
		{"push", "leg", 2, 4, 1.01, 0.01},
		{stiffnessWord, "foot", 5, 3, 1, 0},
		{"push", "foot", 5, 3, 1, 0},
	} {
		k := s.Knees[i]
		require.Equal(t, want.of, k.Of)
		require.Equal(t, want.along, k.Along)
		require.Equal(t, want.other, *k.AtOther)
		require.Equal(t, LevelsOff, k.Kind)
		require.Equal(t, want.at, *k.At)
		require.InDelta(t, want.before, k.Before, 1e-12)
		require.InDelta(t, want.beyond, k.Beyond, 1e-12)
	}
}

// TestKneesOfOneValue: the same with the second value left out.
func TestKneesOfOneValue(t *testing.T) {
	s := swept()
	s.Values = s.Values[:1]
	places := s.Places
	s.Places = nil
	for _, p := range places {
		if p.At[1] == 4 {
			p.At = p.At[:1]
			s.Places = append(s.Places, p)
		}
	}
	s.FindKnees()
	require.Len(t, s.Knees, 2)
	require.Equal(t, 6.0, *s.Knees[0].At)
	require.Nil(t, s.Knees[0].AtOther)
}

// A sweep that lacks numbers has no knees, and is no reason to fall over.
func TestNoKneesWithoutNumbers(t *testing.T) {
	for name, spoil := range map[string]func(*Sweep){
		"no numbers":     func(s *Sweep) { s.Values[0].At, s.Values[1].At, s.Places = nil, nil, nil },
		"no places":      func(s *Sweep) { s.Places = nil },
		"short places":   func(s *Sweep) { cut(s, func(p *SweptStep) { p.At = p.At[:1] }) },
		"no tool at all": func(s *Sweep) { cut(s, func(p *SweptStep) { p.Tip = nil }) },
	} {
		s := swept()
		spoil(s)
		s.FindKnees()
		require.Empty(t, s.Knees, name)
	}
	s := swept()
	s.Places[6].Tip = nil // leg at 1, foot at 3: on neither of the two lines that knees are looked for on
	s.FindKnees()
	require.Len(t, s.Knees, 4)
	s = swept()
	s.Places[5].Tip = nil // leg at 1, foot at 2
	s.FindKnees()
	require.Len(t, s.Knees, 2, "of the foot alone")
}

func cut(s *Sweep, each func(*SweptStep)) {
	for i := range s.Places {
		each(&s.Places[i])
	}
}

// The knee in every draw against the closed form: 1 - exp(-x/a) keeps nine tenths of its gain up to the end from
// x = -a·ln(1 - 0.9·(1 - exp(-end/a))) on, here with a different in every draw; every tenth draw is a straight line.
func TestKneesOfDraws(t *testing.T) {
	const end, step, draws = 100.0, 5.0, 200
	var x []float64
	for at := 0.0; at <= end; at += step {
		x = append(x, at)
	}
	length := func(draw int) float64 { return 8 + 12*float64(draw%draws)/draws }
	curve := func(draw int, at float64) float64 {
		if draw%10 == 0 {
			return 1 + at/end
		}
		return 2 - math.Exp(-at/length(draw))
	}
	const typical = 101
	s := Sweep{Values: []SweptValue{{Name: "leg", At: x}}}
	for i, at := range x {
		k := curve(typical, at)
		um := 100 - k
		p := SweptStep{At: []float64{at}, Tip: &Tip{StiffnessNPerUm: Stiffness{Softest: k}},
			Loads: []SweptLoad{{Name: "push", OnTip: true, TipUm: &[3]float64{um}, TipSizeUm: &um}}}
		for draw := range draws + i { // not as many at all places
			p.SoftestNPerUm = append(p.SoftestNPerUm, curve(draw, at))
			p.Loads[0].DrawnUm = append(p.Loads[0].DrawnUm, 5-curve(draw, at))
		}
		s.Places = append(s.Places, p)
	}
	var places []float64
	same := 0
	place := func(draw int) float64 {
		a := length(draw)
		return step * math.Ceil(-a*math.Log(1-0.9*(1-math.Exp(-end/a)))/step)
	}
	for draw := range draws {
		if draw%10 == 0 {
			continue
		}
		places = append(places, place(draw))
		if math.Abs(place(draw)-place(typical)) <= step {
			same++
		}
	}
	slices.Sort(places)
	s.FindKnees()
	require.Len(t, s.Knees, 2)
	k := s.Knees[0]
	require.Equal(t, LevelsOff, k.Kind)
	require.Equal(t, place(typical), *k.At)
	require.Equal(t, 100*float64(same)/draws, *k.SamePercent)
	require.Equal(t, [2]float64{places[len(places)/20-1], places[len(places)*19/20-1]}, *k.At90)
	require.Less(t, k.At90[0], k.At90[1])
	require.Less(t, *k.SamePercent, 90.0)

	s.Knees, s.Places[3].SoftestNPerUm = nil, nil
	s.FindKnees()
	require.Nil(t, s.Knees[0].SamePercent, "one place was not drawn")
	require.Nil(t, s.Knees[0].At90)
}
