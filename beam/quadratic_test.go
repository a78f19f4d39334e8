package beam

import (
	"math"
	"testing"
)

// The rule integrates all products of area coordinates up to degree four exactly: their mean over a triangle is
// 2·a!·b!·c!/(a+b+c+2)! (Zienkiewicz & Taylor, The Finite Element Method, area coordinates; from memory).
func TestTriangleRule(t *testing.T) {
	factorial := func(n int) float64 { return math.Gamma(float64(n + 1)) }
	for a := range 5 {
		for b := range 5 - a {
			for c := range 5 - a - b {
				sum := 0.0
				for _, r := range dunavant4 {
					l := [3]float64{}
					for i, n := range [3]int{a, b, c} {
						l[i] = math.Pow(r.l[i], float64(n))
					}
					sum += r.weight * l[0] * l[1] * l[2]
				}
				want := 2 * factorial(a) * factorial(b) * factorial(c) / factorial(a+b+c+2)
				within(t, "mean", sum, want, 1e-14)
			}
		}
	}
}
