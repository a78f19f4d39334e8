package answer

import (
	"math"
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
