package solid

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Beside ports a place reads what it reads alone, and what ports and place do to each other is what it is between
// ports.
func TestReadingsBesidePorts(t *testing.T) {
	worst := 0.0
	rapid.Check(t, func(t *rapid.T) {
		b := drawBody(t, rapid.IntRange(0, 2).Draw(t, "held"))
		r := reducedIfApart(t, b)
		if evenCondition(r.inner) > 1e5 {
			t.Skip("zones nearly on one place, or nearly on held metal")
		}
		zones, places := drawPlaces(t, b, 1), drawPlaces(t, b, 1)
		both, err := r.Ports(slices.Concat(zones, places)...)
		require.NoError(t, err)
		for _, copies := range []int{1, 40} {
			ports, err := r.Ports(slices.Repeat(zones, copies)...)
			require.NoError(t, err)
			beside, err := r.ReadBeside(ports, slices.Repeat(places, 41-copies)...)
			require.NoError(t, err)
			for j, place := range places {
				_, size := r.readSingly(t, place)
				reading := beside.Gauge((40-copies)*len(places) + j)
				e := off(both.Gauge(len(zones)+j), reading, size)
				for i, zone := range zones {
					_, other := r.readSingly(t, zone)
					want := both.Between(i, len(zones)+j)
					for k, terms := range ports.Zones[(copies-1)*len(zones)+i] {
						for l := range 6 {
							got := 0.0
							for _, term := range terms {
								got += term.Factor * reading.Across[l][term.Unknown]
							}
							if size := other[k] * size[l]; size > 0 || got != want[k][l] {
								e = max(e, math.Abs(got-want[k][l])/size)
							}
						}
					}
				}
				worst = max(worst, e)
				if !(e <= 1e-9) {
					t.Fatalf("place %d is off by %g", j, e)
				}
			}
		}
	})
	t.Logf("worst %.1e", worst)
}

// What was read is had again without any work, also by a mirrored body of the same shape, the latest keptReads of it.
func TestPlacesAreReadOnce(t *testing.T) {
	b := sheetWith("a", 20, 9)
	r, mirrored := placedOf(t, b), mirroredBody(b, [3]float64{-1, 1, 1}, [3]float64{300, 0, 0})
	shape, err := mirrored.Shape()
	require.NoError(t, err)
	twin, none := shape.Place(r.reduced), &Ports{}
	read := func(p *Placed, x float64) *Places {
		places, err := p.ReadBeside(none, patchOn(span{[3]float64{x, 200, 20}, [3]float64{x + 8, 208, 20}}))
		require.NoError(t, err)
		return places
	}
	first := read(r, 100)
	require.Same(t, first.placesRead, read(r, 100).placesRead)
	there := read(twin, 192)
	require.Same(t, first.placesRead, there.placesRead)
	here, gauge := first.Gauge(0), there.Gauge(0)
	require.InDelta(t, -here.Local[0][2], gauge.Local[0][2], 1e-12*here.Local[2][2])
	for i := range keptReads {
		require.NotSame(t, first.placesRead, read(r, 101+float64(i)).placesRead)
	}
	again := read(r, 100)
	require.NotSame(t, first.placesRead, again.placesRead)
	require.Equal(t, here, again.Gauge(0))
}
