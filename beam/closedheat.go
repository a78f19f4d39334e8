package beam

// GradientCurvature is the curvature, 1/mm, of a free beam one of whose faces is warmer than the
// other by difference K over height mm: α·ΔT/h, convex on the warm side.
func GradientCurvature(expansion, difference, height float64) float64 {
	return expansion * difference / height
}

// BowOfCurvature is what an even curvature (1/mm) does to a beam on two supports: the middle moves
// by κ·L²/8, mm, and the ends turn by κ·L/2, rad.
func BowOfCurvature(curvature, span float64) (middle, endSlope float64) {
	return curvature * span * span / 8, curvature * span / 2
}

// HeldCurvatureMoment is the moment, N·mm, with which a beam fixed at both ends keeps a thermal
// curvature from showing: E·I·κ.
func HeldCurvatureMoment(curvature, ei float64) float64 { return ei * curvature }

// Layer is one of two layers bonded along their length.
type Layer struct {
	E         float64 // MPa
	Area      float64 // mm²
	I         float64 // second moment about the layer's own centroid, mm⁴
	Expansion float64 // 1/K
}

// TwoLayerCurvature is the curvature, 1/mm, that a temperature rise in K gives two bonded layers
// whose centroids are gap mm apart, convex on the side of the layer that grows more; positive
// when the first does:
//
//	κ = Δα·ΔT·e / [(E₁I₁+E₂I₂)(1/E₁A₁+1/E₂A₂) + e²]
//
// (Timoshenko, J. Opt. Soc. Am. 11 (1925) 233, written for unequal widths; from memory).
func TwoLayerCurvature(first, second Layer, gap, rise float64) float64 {
	bending := first.E*first.I + second.E*second.I
	stretch := 1/(first.E*first.Area) + 1/(second.E*second.Area)
	return (first.Expansion - second.Expansion) * rise * gap / (bending*stretch + gap*gap)
}

// BimetalCurvature is TwoLayerCurvature for two strips of equal width and of thickness t1 and t2,
// moduli e1 and e2, whose free strains differ by mismatch = (α₁−α₂)·ΔT. With m = t1/t2 and
// n = e1/e2 Timoshenko (1925) writes
//
//	κ = 6·mismatch·(1+m)² / {(t1+t2)·[3(1+m)² + (1+mn)(m² + 1/mn)]}
func BimetalCurvature(t1, t2, e1, e2, mismatch float64) float64 {
	m, n := t1/t2, e1/e2
	q := (1 + m) * (1 + m)
	return 6 * mismatch * q / ((t1 + t2) * (3*q + (1+m*n)*(m*m+1/(m*n))))
}
