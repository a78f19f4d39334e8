package outline_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/beam"
	"tiploop/frame/outline"
)

// framed is a rectangle 100 x 60 with a window 40 x 20.
var framed = outline.Shape{
	{{0, 0}, {100, 0}, {100, 60}, {0, 60}},
	{{30, 10}, {30, 30}, {70, 30}, {70, 10}},
}

func TestFramed(t *testing.T) {
	require.InDelta(t, 5200, framed.Area(), 1e-9)
	// 6000·(50, 30) less 800·(50, 20), over what is left
	require.InDelta(t, 50, framed.Centroid()[0], 1e-9)
	require.InDelta(t, (6000*30-800*20)/5200., framed.Centroid()[1], 1e-9)
	for _, tt := range []struct {
		at   outline.Point
		room float64
	}{{outline.Point{15, 30}, 15}, {outline.Point{50, 20}, -10}, {outline.Point{50, 5}, 5}, {outline.Point{120, 30}, -20},
		{outline.Point{103, 64}, -5}} {
		require.InDelta(t, tt.room, framed.Room(tt.at), 1e-9, "%v", tt.at)
	}
	require.Equal(t, outline.Point{70, 20}, framed.Nearest(outline.Point{65, 20}))
	require.Equal(t, "M 0 60 H 100 V 0 H 0 Z M 30 50 V 30 H 70 V 50 Z", framed.Path())
	require.True(t, outline.Shape{framed[0]}.IsBox())
	require.False(t, framed.IsBox())
	require.Len(t, framed.Sides(), 8)
	for _, s := range framed.Sides() {
		// A little inside the metal, beside the middle of each side.
		at := outline.Point{}
		at[s.Normal], at[1-s.Normal] = s.At+1, (s.From+s.To)/2
		if s.Far {
			at[s.Normal] = s.At - 1
		}
		require.InDelta(t, 1, framed.Room(at), 1e-9, "%+v", s)
	}
	mm, at := framed.Thinnest(20)
	require.Equal(t, 10., mm)
	require.Contains(t, []outline.Point{{30, 10}, {70, 10}}, at)
}

// A triangle 30 x 40 with its right angle at the origin: its incircle by hand has the radius (30 + 40 − 50)/2, and beside its
// long side a place is beside the metal. Its angles are 90°, atan(40/30) and atan(30/40), wherever it begins.
func TestSlanted(t *testing.T) {
	corners := []outline.Point{{0, 0}, {30, 0}, {0, 40}}
	for i := range corners {
		s := outline.Shape{{corners[i], corners[(i+1)%3], corners[(i+2)%3]}}
		require.InDelta(t, 10, s.Room(outline.Point{10, 10}), 1e-9)
		require.InDelta(t, -10, s.Room(outline.Point{15 + 8, 20 + 6}), 1e-9)
		require.InDelta(t, 5, s.Room(outline.Point{15 - 4, 20 - 3}), 1e-9)
		degrees, at := s.Sharpest()
		require.InDelta(t, math.Atan2(30, 40)*180/math.Pi, degrees, 1e-9)
		require.Equal(t, outline.Point{0, 40}, at)
	}
}

// A curve's chords are no thin webs; a slot is.
func TestThinnest(t *testing.T) {
	var round outline.Shape
	round = append(round, nil)
	for i := range 90 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 90)
		round[0] = append(round[0], outline.Point{5 * cos, 5 * sin}) // chords of 0.35
	}
	mm, _ := round.Thinnest(0.5)
	require.Equal(t, 0.5, mm)
	slot := outline.Shape{{{0, 0}, {50, 0}, {50, 20}, {30, 20}, {30, 5}, {29.7, 5}, {29.7, 20}, {0, 20}}}
	mm, _ = slot.Thinnest(0.5)
	require.InDelta(t, 0.3, mm, 1e-9)
}

// What lies in four rectangles round a place is the whole, wherever the place is, and stays so turned about.
func TestInParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 12).Draw(t, "corners")
		var loop []outline.Point
		for i := range n {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			r := rapid.Float64Range(20, 60).Draw(t, "radius")
			loop = append(loop, outline.Point{r * cos, r * sin})
		}
		loops, err := beam.CleanOutline(loop, nil)
		if err != nil {
			t.Skip(err)
		}
		s := outline.Shape(loops)
		x, y := rapid.Float64Range(-40, 40).Draw(t, "x"), rapid.Float64Range(-40, 40).Draw(t, "y")
		sum := 0.0
		var lever outline.Point
		for _, part := range [][2]outline.Point{{{-99, -99}, {x, y}}, {{x, -99}, {99, y}}, {{-99, y}, {x, 99}}, {{x, y}, {99, 99}}} {
			for _, piece := range s.In(part[0], part[1]) {
				area := outline.ConvexArea(piece)
				middle, _ := outline.ConvexMoments(piece)
				sum += area
				lever[0], lever[1] = lever[0]+area*middle[0], lever[1]+area*middle[1]
			}
		}
		require.InEpsilon(t, s.Area(), sum, 1e-9)
		require.InDelta(t, s.Centroid()[0], lever[0]/sum, 1e-6)
		require.InDelta(t, s.Centroid()[1], lever[1]/sum, 1e-6)
		turned := s.Mapped(func(p outline.Point) outline.Point { return outline.Point{p[1], p[0]} })
		require.InEpsilon(t, s.Area(), turned.Area(), 1e-9)
		require.InEpsilon(t, outline.ConvexArea(outline.Hull(s[0])), outline.ConvexArea(outline.Hull(turned[0])), 1e-9)
		require.True(t, s.Meets(s, 1e-3))
		far := s.Mapped(func(p outline.Point) outline.Point { return outline.Point{p[0] + 125, p[1]} })
		require.False(t, s.Meets(far, 1e-3))
	})
}
