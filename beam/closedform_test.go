package beam

import (
	"testing"

	"pgregory.net/rapid"

	"tiploop/testdata/checks"
)

// The closed forms are tested against check values and assembled members in beamchecks_test.go;
// here are the relations between them.

func TestSteppedCantileverOfOneSliceIsStubby(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := rapid.Float64Range(1, 500).Draw(t, "length")
		cut := rapid.Float64Range(0.1, 0.9).Draw(t, "cut") * length
		const ei, ga = 2e9, 2e7
		want, _ := stubbyCantilever(100, length, ei, ga)
		got := SteppedCantilever(100, []Slice{{cut, ei, ga}, {length - cut, ei, ga}})
		if !(got >= want*(1-1e-12) && got <= want*(1+1e-12)) {
			t.Fatalf("two like slices give %g, one beam %g", got, want)
		}
	})
}

func TestLongFreeBedIsTheInfiniteOne(t *testing.T) {
	const ei, bed = 2e9, 8.0
	lambda := bedLambda(bed, ei)
	wantUnder, wantMoment := infiniteBed(100, bed, ei)
	for _, u := range []float64{40, 79.9, 80.1, 1e6} {
		middle, end, moment := freeBedCentral(100, u/lambda, bed, ei)
		checks.CloseTo(t, "middle", middle, wantUnder, 1e-8)
		checks.CloseTo(t, "moment", moment, wantMoment, 1e-8)
		within(t, "end", end, 0, 1e-8*wantUnder)
	}
}

func TestShortFreeBedSinksEvenly(t *testing.T) {
	const ei, bed, length = 2e12, 8.0, 100.0 // rigid: force/(k·L)
	middle, end, _ := freeBedCentral(100, length, bed, ei)
	checks.CloseTo(t, "middle", middle, 100/(bed*length), 1e-5)
	checks.CloseTo(t, "end", end, 100/(bed*length), 1e-5)
}

func TestTwoLayersOfOneMaterialStayStraight(t *testing.T) {
	a := layer{E: 70000, Area: 100, I: 800, Expansion: 23e-6}
	within(t, "curvature", twoLayerCurvature(a, a, 10, 50), 0, 0)
	// Swapping the layers turns the bow over.
	b := layer{E: 210000, Area: 50, I: 100, Expansion: 12e-6}
	checks.CloseTo(t, "swapped", twoLayerCurvature(a, b, 10, 50), -twoLayerCurvature(b, a, 10, 50), 1e-15)
}
