package joint

import "fmt"

// mustNotBeNegative panics if v is negative or NaN. Infinity passes: room can be unlimited.
func mustNotBeNegative(what string, v float64) {
	if !(v >= 0) {
		panic(fmt.Sprintf("joint: %s %g is negative", what, v))
	}
}

// mustBePoissonRatio panics unless nu lies in the range a stable isotropic solid allows.
func mustBePoissonRatio(nu float64) {
	if !isPoissonRatio(nu) {
		panic(fmt.Sprintf("joint: Poisson's ratio %g is outside (-1, 0.5]", nu))
	}
}

func isPoissonRatio(nu float64) bool { return nu > -1 && nu <= 0.5 }
