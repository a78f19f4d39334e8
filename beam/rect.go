package beam

import (
	"fmt"
	"math"
)

// Rect is a solid rectangle, mm. The drawing's origin is its lower left corner.
type Rect struct {
	Width, Height float64 // along y, along z
}

// Section returns exact properties: J from Saint-Venant's series (Timoshenko & Goodier, Theory of
// Elasticity, art. 109), shear areas from Cowper, J. Appl. Mech. 33 (1966) 335:
// κ = 10(1+ν)/(12+11ν), which does not depend on the proportions. Shear stress is the parabola of
// elementary theory, at most 1.5·V/A. A section wide across the force has more at its edges: twice
// that at 4 : 1 and ν = 0.25 (art. 124, from memory).
func (r Rect) Section(nu float64) (Section, error) {
	if err := checkShape("rectangle", nu, size{"width", r.Width}, size{"height", r.Height}); err != nil {
		return Section{}, err
	}
	b, h := r.Width, r.Height
	area := b * h
	kappa := 10 * (1 + nu) / (12 + 11*nu)
	s := Section{
		Name: fmt.Sprintf("rectangle %g x %g", b, h),
		A:    area, Iy: b * h * h * h / 12, Iz: h * b * b * b / 12,
		J:  rectangleTorsion(b, h),
		Ay: kappa * area, Az: kappa * area,
		Wt:   rectangleTorsionModulus(b, h),
		TauY: 1.5 / area, TauZ: 1.5 / area,
		Outline: [][][2]float64{{{-b / 2, -h / 2}, {b / 2, -h / 2}, {b / 2, h / 2}, {-b / 2, h / 2}}},
	}
	s.setBox(b, h)
	return s, nil
}

// rectangleTorsion is Saint-Venant's torsion constant of an a × b rectangle, mm⁴:
//
//	J = a·b³·[1/3 − (64/π⁵)·(b/a)·Σ tanh(nπa/2b)/n⁵],  n = 1, 3, 5 …,  a ≥ b
func rectangleTorsion(a, b float64) float64 {
	if a < b {
		a, b = b, a
	}
	// Past the last term the sum is short by less than 1/(8·lastTerm⁴) = 2e-13; J by less than that.
	const lastTerm = 901
	sum := 0.0
	for n := float64(lastTerm); n >= 1; n -= 2 { // small terms first
		sum += math.Tanh(n*math.Pi*a/(2*b)) / (n * n * n * n * n)
	}
	return a * b * b * b * (1.0/3 - 64/math.Pow(math.Pi, 5)*b/a*sum)
}

// rectangleTorsionModulus is Saint-Venant's torsional section modulus of an a × b rectangle, mm³,
// for the middles of the long sides (Timoshenko & Goodier, art. 109):
//
//	Wt = J / {b·[1 − (8/π²)·Σ 1/(n²·cosh(nπa/2b))]},  n = 1, 3, 5 …,  a ≥ b
func rectangleTorsionModulus(a, b float64) float64 {
	if a < b {
		a, b = b, a
	}
	const lastTerm = 25 // in a square, where they fall slowest, the next term is 1e-21
	sum := 0.0
	for n := float64(lastTerm); n >= 1; n -= 2 {
		sum += 1 / (n * n * math.Cosh(n*math.Pi*a/(2*b)))
	}
	return rectangleTorsion(a, b) / (b * (1 - 8/(math.Pi*math.Pi)*sum))
}
