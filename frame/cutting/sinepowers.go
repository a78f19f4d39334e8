package cutting

import "math"

// sinePowers integrates powers of the sine from 0, which is what Kienzle's chip h^(1−m) with
// h ∝ sin φ asks for. sin φ/φ is an even function without zeros for |φ| < π, so
//
//	(sin φ/φ)^p = Σ c_k φ^2k,     ∫ sin^p = φ^(p+1) Σ c_k φ^2k/(p+1+2k)
//
// converge there; up to π/2 each term is at most a quarter of the last. The other half of the arc
// follows from sin(π−φ) = sin φ.
type sinePowers struct {
	p       float64            // the lower power, 1−m
	lower   [sineTerms]float64 // of ∫ sin^p
	upper   [sineTerms]float64 // of ∫ sin^(p+1)
	own     [sineTerms]float64 // of sin^(p+1)
	wholeLo float64            // ∫ sin^p from 0 to π
	wholeHi float64            // ∫ sin^(p+1) from 0 to π
}

// sineTerms leaves out less than 4^−26, about 2e-16.
const sineTerms = 26

// newSinePowers returns the series of sin^p and sin^(p+1).
func newSinePowers(p float64) *sinePowers {
	s := &sinePowers{p: p}
	c := sinePowerSeries(p)
	s.own = sinePowerSeries(p + 1)
	for k := range c {
		s.lower[k] = c[k] / (p + 1 + 2*float64(k))
		s.upper[k] = s.own[k] / (p + 2 + 2*float64(k))
	}
	lo, hi, _ := s.firstHalf(math.Pi / 2)
	s.wholeLo, s.wholeHi = 2*lo, 2*hi
	return s
}

// sinePowerSeries returns the coefficients of (sin φ/φ)^p in φ². The power of a series a with
// a_0 = 1 follows from k b_k = Σ (p j − (k−j)) a_j b_(k−j), j = 1…k (J. C. P. Miller; Knuth, The Art of Computer
// Programming 2, 4.7, from memory).
func sinePowerSeries(p float64) (b [sineTerms]float64) {
	var a [sineTerms]float64 // sin φ/φ = Σ (−1)^k φ^2k/(2k+1)!
	a[0], b[0] = 1, 1
	for k := 1; k < sineTerms; k++ {
		a[k] = -a[k-1] / float64(2*k*(2*k+1))
		for j := 1; j <= k; j++ {
			b[k] += (p*float64(j) - float64(k-j)) * a[j] * b[k-j]
		}
		b[k] /= float64(k)
	}
	return b
}

// firstHalf returns ∫ sin^p, ∫ sin^(p+1) from 0 to φ, and sin^(p+1) φ, for φ from 0 to π/2.
func (s *sinePowers) firstHalf(phi float64) (lower, upper, own float64) {
	x := phi * phi
	for k := sineTerms - 1; k >= 0; k-- {
		lower = lower*x + s.lower[k]
		upper = upper*x + s.upper[k]
		own = own*x + s.own[k]
	}
	f := math.Pow(phi, s.p+1)
	return lower * f, upper * f * phi, own * f
}

// at is firstHalf for φ from 0 to π.
func (s *sinePowers) at(phi float64) (lower, upper, own float64) {
	if phi <= math.Pi/2 {
		return s.firstHalf(math.Max(phi, 0))
	}
	lower, upper, own = s.firstHalf(math.Max(math.Pi-phi, 0))
	return s.wholeLo - lower, s.wholeHi - upper, own
}
