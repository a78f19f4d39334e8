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

// TestKneesWithoutATool: a value that leaves the tool out at one place has no curve of the tip.
func TestKneesWithoutATool(t *testing.T) {
	s := swept()
	s.Places[5].Tip = nil // leg 1, foot 2
	require.NotPanics(t, s.FindKnees)
	require.Len(t, s.Knees, 2, "along the foot alone, where the leg is 5")
}
