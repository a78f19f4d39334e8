package beam

import "math"

// The handbook's formulae that members are held against. Forces and loads act down and deflections
// are down, so both are positive; lengths mm, forces N, loads N/mm, slopes rad, moments N·mm, bending
// stiffness ei = E·I in N·mm², shear stiffness ga = G·(shear area) in N. Moments are sizes, not
// signed, unless said.
//
// Sources, all from memory: Gere & Timoshenko, Mechanics of Materials, appendix on deflections and
// slopes of beams, where none is given; "Roark" is Young, Budynas & Sadegh, Roark's Formulas for
// Stress and Strain, table of elastic straight beams.

// cantileverUniform is a cantilever with an even load: q·L⁴/8EI, q·L³/6EI, q·L²/2.
func cantileverUniform(load, length, ei float64) (tip, tipSlope, rootMoment float64) {
	l2 := length * length
	return load * l2 * l2 / (8 * ei), load * l2 * length / (6 * ei), load * l2 / 2
}

// cantileverTriangular is a cantilever with a load that falls from rootLoad at the root to nothing
// at the tip: q·L⁴/30EI, q·L²/6.
func cantileverTriangular(rootLoad, length, ei float64) (tip, rootMoment float64) {
	l2 := length * length
	return rootLoad * l2 * l2 / (30 * ei), rootLoad * l2 / 6
}

// simpleCentral is a beam on two supports with a force in the middle: F·L³/48EI, F·L²/16EI, F·L/4.
func simpleCentral(force, span, ei float64) (middle, endSlope, midMoment float64) {
	return force * span * span * span / (48 * ei), force * span * span / (16 * ei), force * span / 4
}

// simpleOffset is a beam on two supports with a force at the distance at from one of them. With
// a = at and b = L − a it returns the deflection under the force, F·a²b²/3EIL, that in the middle
// of the span, and the slope at the support a is counted from, F·a·b·(L+b)/6EIL.
func simpleOffset(force, at, span, ei float64) (underLoad, middle, nearSlope float64) {
	a, b := at, span-at
	short := math.Min(a, b)
	underLoad = force * a * a * b * b / (3 * ei * span)
	middle = force * short * (3*span*span - 4*short*short) / (48 * ei)
	nearSlope = force * a * b * (span + b) / (6 * ei * span)
	return underLoad, middle, nearSlope
}

// simpleUniform is a beam on two supports with an even load: 5q·L⁴/384EI, q·L³/24EI, q·L²/8.
func simpleUniform(load, span, ei float64) (middle, endSlope, midMoment float64) {
	l2 := span * span
	return 5 * load * l2 * l2 / (384 * ei), load * l2 * span / (24 * ei), load * l2 / 8
}

// simpleTriangular is a beam on two supports with a load that rises from nothing at the low end to
// highLoad at the other: 5q·L⁴/768EI in the middle, slopes 7q·L³/360EI and 8q·L³/360EI.
func simpleTriangular(highLoad, span, ei float64) (middle, lowSlope, highSlope float64) {
	l3 := span * span * span
	return 5 * highLoad * l3 * span / (768 * ei), 7 * highLoad * l3 / (360 * ei), 8 * highLoad * l3 / (360 * ei)
}

// fixedFixedCentral is a beam fixed at both ends with a force in the middle: F·L³/192EI, F·L/8
// (Roark).
func fixedFixedCentral(force, span, ei float64) (middle, endMoment float64) {
	return force * span * span * span / (192 * ei), force * span / 8
}

// fixedFixedUniform is a beam fixed at both ends with an even load: q·L⁴/384EI, q·L²/12, q·L²/24
// (Roark).
func fixedFixedUniform(load, span, ei float64) (middle, endMoment, midMoment float64) {
	l2 := span * span
	return load * l2 * l2 / (384 * ei), load * l2 / 12, load * l2 / 24
}

// fixedFixedSettlement is a beam fixed at both ends, one of which moves sideways by settlement
// without turning: 6EI·δ/L², 12EI·δ/L³ (Roark).
func fixedFixedSettlement(settlement, span, ei float64) (endMoment, shear float64) {
	return 6 * ei * settlement / (span * span), 12 * ei * settlement / (span * span * span)
}

// proppedCentral is a beam fixed at one end and propped at the other with a force in the middle:
// deflection under it 7F·L³/768EI, prop 5F/16, moment at the fixed end 3F·L/16 (Roark).
func proppedCentral(force, span, ei float64) (underLoad, prop, fixedMoment float64) {
	return 7 * force * span * span * span / (768 * ei), 5 * force / 16, 3 * force * span / 16
}

// overhang is a beam on two supports a span apart with a force at the end of an overhang:
// F·a²(L+a)/3EI there, and the far support is pulled up by F·a/L.
func overhang(force, span, overhang, ei float64) (tip, farUplift float64) {
	return force * overhang * overhang * (span + overhang) / (3 * ei), force * overhang / span
}

// twoSpanUniform is a beam on three supports, two equal spans, with an even load on both: reactions
// 5q·L/4 and 3q·L/8, moment over the middle support q·L²/8 (Roark).
func twoSpanUniform(load, span float64) (middleReaction, endReaction, middleMoment float64) {
	return 5 * load * span / 4, 3 * load * span / 8, load * span * span / 8
}

// twoSpanOneLoad is a beam on three supports, two equal spans, with a force in the middle of one:
// 11F/16, 13F/32 beside the force, −3F/32 (a pull) at the far end, moment 3F·L/32 (Roark).
func twoSpanOneLoad(force, span float64) (middleReaction, nearReaction, farReaction, middleMoment float64) {
	return 11 * force / 16, 13 * force / 32, -3 * force / 32, 3 * force * span / 32
}

// stubbyCantilever is CantileverTipLoad with shear deflection: F·L³/3EI + F·L/GA. shearShare is
// the part of the deflection that is shear.
func stubbyCantilever(force, length, ei, ga float64) (tip, shearShare float64) {
	bending, _, _ := CantileverTipLoad(force, length, ei)
	shear := force * length / ga
	return bending + shear, shear / (bending + shear)
}

// stubbyFixedFixedCentral is fixedFixedCentral with shear deflection: F·L³/192EI + F·L/4GA, F·L/8.
func stubbyFixedFixedCentral(force, span, ei, ga float64) (middle, endMoment float64) {
	bending, endMoment := fixedFixedCentral(force, span, ei)
	return bending + force*span/(4*ga), endMoment
}

// stubbyProppedUniform is a beam fixed at one end and propped at the other with an even load and
// shear deflection. The prop undoes the deflection of the free cantilever there:
// R = (q·L⁴/8EI + q·L²/2GA)/(L³/3EI + L/GA).
func stubbyProppedUniform(load, span, ei, ga float64) (prop float64) {
	free, _, _ := cantileverUniform(load, span, ei)
	perForce, _ := stubbyCantilever(1, span, ei, ga)
	return (free + load*span*span/(2*ga)) / perForce
}

// simpleOverSpring is simpleCentral with a spring (N/mm) under the middle: the beam's 48EI/L³ and
// the spring side by side.
func simpleOverSpring(force, span, ei, spring float64) (middle, springForce float64) {
	alone, _, _ := simpleCentral(1, span, ei)
	middle = force / (1/alone + spring)
	return middle, spring * middle
}

// cantileverOnHinge is CantileverTipLoad with a root that turns by moment/rootSpring (N·mm/rad):
// F·L³/3EI + F·L²/c.
func cantileverOnHinge(force, length, ei, rootSpring float64) (tip float64) {
	tip, _, _ = CantileverTipLoad(force, length, ei)
	return tip + force*length*length/rootSpring
}

// hingedEndsUniform is an even load on a beam both of whose ends turn by moment/endSpring
// (N·mm/rad): end moment q·L²/12/(1 + 2EI/cL), middle 5q·L⁴/384EI − M·L²/8EI (slope-deflection).
func hingedEndsUniform(load, span, ei, endSpring float64) (middle, endMoment float64) {
	simple, _, _ := simpleUniform(load, span, ei)
	endMoment = load * span * span / 12 / (1 + 2*ei/(endSpring*span))
	return simple - endMoment*span*span/(8*ei), endMoment
}

// taperedCantilever is the tip deflection of a cantilever of rectangular section with a force at
// the tip, whose height goes evenly from rootHeight to tipHeight while its width stays. With
// r = root/tip − 1, the integral of moment·lever/EI is
//
//	12F·L³/(E·b·h³) · [ln(1+r) + 2/(1+r) − 1/(2(1+r)²) − 3/2]/r³,  h = tipHeight
//
// (Roark, tapered beams). E in MPa, sizes in mm.
func taperedCantilever(force, length, E, width, rootHeight, tipHeight float64) (tip float64) {
	r := rootHeight/tipHeight - 1
	var integral float64
	if math.Abs(r) < taperSeries {
		// ∫₀¹ u²/(1+ru)³ du by powers of r: the closed form would lose its digits.
		power := 1.0
		for n := range 14 {
			integral += power * float64((n+1)*(n+2)) / float64(2*(n+3))
			power *= -r
		}
	} else {
		integral = (math.Log1p(r) + 2/(1+r) - 1/(2*(1+r)*(1+r)) - 1.5) / (r * r * r)
	}
	return 12 * force * length * length * length / (E * width * tipHeight * tipHeight * tipHeight) * integral
}

// taperSeries is the taper below which a series is used: there its 14 terms are good to 1e-16 and
// the closed form to 1e-12.
const taperSeries = 0.05

// bedLambda is the reciprocal of the length over which a beam on an elastic bed spreads a force:
// λ = (k/4EI)^¼, 1/mm, with the bed k in N/mm per mm of length (Hetényi, Beams on Elastic
// Foundation, 1946; from memory, as all of this file on beds).
func bedLambda(bed, ei float64) float64 { return math.Pow(bed/(4*ei), 0.25) }

// infiniteBed is a very long beam on an elastic bed with a force on it; deflection and moment
// under the force are F·λ/2k, F/4λ.
func infiniteBed(force, bed, ei float64) (underLoad, moment float64) {
	lambda := bedLambda(bed, ei)
	return force * lambda / (2 * bed), force / (4 * lambda)
}

// freeBedCentral is a beam with free ends, its whole length on an elastic bed, with a force in the
// middle. With u = λL and S = sinh u + sin u:
//
//	middle = (Fλ/2k)(cosh u + cos u + 2)/S
//	ends   = (2Fλ/k)·cosh(u/2)·cos(u/2)/S   (negative: they lift)
//	moment under the force = (F/4λ)(cosh u − cos u)/S
//
// Beyond u = 80 the infinite beam's values are the same to all digits and are returned.
func freeBedCentral(force, length, bed, ei float64) (middle, end, moment float64) {
	lambda := bedLambda(bed, ei)
	u := lambda * length
	if u > 80 { // cosh would overflow before long
		middle, moment = infiniteBed(force, bed, ei)
		return middle, 0, moment
	}
	s := math.Sinh(u) + math.Sin(u)
	middle = force * lambda / (2 * bed) * (math.Cosh(u) + math.Cos(u) + 2) / s
	end = 2 * force * lambda / bed * math.Cosh(u/2) * math.Cos(u/2) / s
	moment = force / (4 * lambda) * (math.Cosh(u) - math.Cos(u)) / s
	return middle, end, moment
}

// gradientCurvature is the curvature, 1/mm, of a free beam one of whose faces is warmer than the
// other by difference K over height mm: α·ΔT/h, convex on the warm side.
func gradientCurvature(expansion, difference, height float64) float64 {
	return expansion * difference / height
}

// bowOfCurvature is what an even curvature (1/mm) does to a beam on two supports: the middle moves
// by κ·L²/8, mm, and the ends turn by κ·L/2, rad.
func bowOfCurvature(curvature, span float64) (middle, endSlope float64) {
	return curvature * span * span / 8, curvature * span / 2
}

// heldCurvatureMoment is the moment, N·mm, with which a beam fixed at both ends keeps a thermal
// curvature from showing: E·I·κ.
func heldCurvatureMoment(curvature, ei float64) float64 { return ei * curvature }

// layer is one of two layers bonded along their length.
type layer struct {
	E         float64 // MPa
	Area      float64 // mm²
	I         float64 // second moment about the layer's own centroid, mm⁴
	Expansion float64 // 1/K
}

// twoLayerCurvature is the curvature, 1/mm, that a temperature rise in K gives two bonded layers
// whose centroids are gap mm apart, convex on the side of the layer that grows more; positive
// when the first does:
//
//	κ = Δα·ΔT·e / [(E₁I₁+E₂I₂)(1/E₁A₁+1/E₂A₂) + e²]
//
// (Timoshenko, J. Opt. Soc. Am. 11 (1925) 233, written for unequal widths; from memory).
func twoLayerCurvature(first, second layer, gap, rise float64) float64 {
	bending := first.E*first.I + second.E*second.I
	stretch := 1/(first.E*first.Area) + 1/(second.E*second.Area)
	return (first.Expansion - second.Expansion) * rise * gap / (bending*stretch + gap*gap)
}

// bimetalCurvature is twoLayerCurvature for two strips of equal width and of thickness t1 and t2,
// moduli e1 and e2, whose free strains differ by mismatch = (α₁−α₂)·ΔT. With m = t1/t2 and
// n = e1/e2 Timoshenko (1925) writes
//
//	κ = 6·mismatch·(1+m)² / {(t1+t2)·[3(1+m)² + (1+mn)(m² + 1/mn)]}
func bimetalCurvature(t1, t2, e1, e2, mismatch float64) float64 {
	m, n := t1/t2, e1/e2
	q := (1 + m) * (1 + m)
	return 6 * mismatch * q / ((t1 + t2) * (3*q + (1+m*n)*(m*m+1/(m*n))))
}
