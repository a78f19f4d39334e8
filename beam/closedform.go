package beam

import "math"

// The handbook's formulae for slender beams. Forces and loads act down and deflections are down,
// so both are positive; lengths mm, forces N, loads N/mm, slopes rad, moments N·mm, bending
// stiffness ei = E·I in N·mm², shear stiffness ga = G·(shear area) in N. Moments are sizes, not
// signed, unless said. Arguments are not checked: stiffness and length must be positive.
//
// Sources, all from memory: Gere & Timoshenko, Mechanics of Materials, appendix on deflections and
// slopes of beams, where none is given; "Roark" is Young, Budynas & Sadegh, Roark's Formulas for
// Stress and Strain, table of elastic straight beams.

// CantileverTipLoad is a cantilever with a force at its tip: F·L³/3EI, F·L²/2EI, F·L.
func CantileverTipLoad(force, length, ei float64) (tip, tipSlope, rootMoment float64) {
	return force * length * length * length / (3 * ei), force * length * length / (2 * ei), force * length
}

// CantileverUniform is a cantilever with an even load: q·L⁴/8EI, q·L³/6EI, q·L²/2.
func CantileverUniform(load, length, ei float64) (tip, tipSlope, rootMoment float64) {
	l2 := length * length
	return load * l2 * l2 / (8 * ei), load * l2 * length / (6 * ei), load * l2 / 2
}

// CantileverTriangular is a cantilever with a load that falls from rootLoad at the root to nothing
// at the tip: q·L⁴/30EI, q·L²/6.
func CantileverTriangular(rootLoad, length, ei float64) (tip, rootMoment float64) {
	l2 := length * length
	return rootLoad * l2 * l2 / (30 * ei), rootLoad * l2 / 6
}

// SimpleCentral is a beam on two supports with a force in the middle: F·L³/48EI, F·L²/16EI, F·L/4.
func SimpleCentral(force, span, ei float64) (middle, endSlope, midMoment float64) {
	return force * span * span * span / (48 * ei), force * span * span / (16 * ei), force * span / 4
}

// SimpleOffset is a beam on two supports with a force at the distance at from one of them. With
// a = at and b = L − a it returns the deflection under the force, F·a²b²/3EIL, that in the middle
// of the span, and the slope at the support a is counted from, F·a·b·(L+b)/6EIL.
func SimpleOffset(force, at, span, ei float64) (underLoad, middle, nearSlope float64) {
	a, b := at, span-at
	short := math.Min(a, b)
	underLoad = force * a * a * b * b / (3 * ei * span)
	middle = force * short * (3*span*span - 4*short*short) / (48 * ei)
	nearSlope = force * a * b * (span + b) / (6 * ei * span)
	return underLoad, middle, nearSlope
}

// SimpleUniform is a beam on two supports with an even load: 5q·L⁴/384EI, q·L³/24EI, q·L²/8.
func SimpleUniform(load, span, ei float64) (middle, endSlope, midMoment float64) {
	l2 := span * span
	return 5 * load * l2 * l2 / (384 * ei), load * l2 * span / (24 * ei), load * l2 / 8
}

// SimpleTriangular is a beam on two supports with a load that rises from nothing at the low end to
// highLoad at the other: 5q·L⁴/768EI in the middle, slopes 7q·L³/360EI and 8q·L³/360EI.
func SimpleTriangular(highLoad, span, ei float64) (middle, lowSlope, highSlope float64) {
	l3 := span * span * span
	return 5 * highLoad * l3 * span / (768 * ei), 7 * highLoad * l3 / (360 * ei), 8 * highLoad * l3 / (360 * ei)
}

// FixedFixedCentral is a beam fixed at both ends with a force in the middle: F·L³/192EI, F·L/8
// (Roark).
func FixedFixedCentral(force, span, ei float64) (middle, endMoment float64) {
	return force * span * span * span / (192 * ei), force * span / 8
}

// FixedFixedUniform is a beam fixed at both ends with an even load: q·L⁴/384EI, q·L²/12, q·L²/24
// (Roark).
func FixedFixedUniform(load, span, ei float64) (middle, endMoment, midMoment float64) {
	l2 := span * span
	return load * l2 * l2 / (384 * ei), load * l2 / 12, load * l2 / 24
}

// FixedFixedSettlement is a beam fixed at both ends, one of which moves sideways by settlement
// without turning: 6EI·δ/L², 12EI·δ/L³ (Roark).
func FixedFixedSettlement(settlement, span, ei float64) (endMoment, shear float64) {
	return 6 * ei * settlement / (span * span), 12 * ei * settlement / (span * span * span)
}

// ProppedCentral is a beam fixed at one end and propped at the other with a force in the middle:
// deflection under it 7F·L³/768EI, prop 5F/16, moment at the fixed end 3F·L/16 (Roark).
func ProppedCentral(force, span, ei float64) (underLoad, prop, fixedMoment float64) {
	return 7 * force * span * span * span / (768 * ei), 5 * force / 16, 3 * force * span / 16
}

// Overhang is a beam on two supports a span apart with a force at the end of an overhang:
// F·a²(L+a)/3EI there, and the far support is pulled up by F·a/L.
func Overhang(force, span, overhang, ei float64) (tip, farUplift float64) {
	return force * overhang * overhang * (span + overhang) / (3 * ei), force * overhang / span
}

// TwoSpanUniform is a beam on three supports, two equal spans, with an even load on both: reactions
// 5q·L/4 and 3q·L/8, moment over the middle support q·L²/8 (Roark).
func TwoSpanUniform(load, span float64) (middleReaction, endReaction, middleMoment float64) {
	return 5 * load * span / 4, 3 * load * span / 8, load * span * span / 8
}

// TwoSpanOneLoad is a beam on three supports, two equal spans, with a force in the middle of one:
// 11F/16, 13F/32 beside the force, −3F/32 (a pull) at the far end, moment 3F·L/32 (Roark).
func TwoSpanOneLoad(force, span float64) (middleReaction, nearReaction, farReaction, middleMoment float64) {
	return 11 * force / 16, 13 * force / 32, -3 * force / 32, 3 * force * span / 32
}

// StubbyCantilever is CantileverTipLoad with shear deflection: F·L³/3EI + F·L/GA. shearShare is
// the part of the deflection that is shear.
func StubbyCantilever(force, length, ei, ga float64) (tip, shearShare float64) {
	bending, _, _ := CantileverTipLoad(force, length, ei)
	shear := force * length / ga
	return bending + shear, shear / (bending + shear)
}

// StubbyFixedFixedCentral is FixedFixedCentral with shear deflection: F·L³/192EI + F·L/4GA, F·L/8.
func StubbyFixedFixedCentral(force, span, ei, ga float64) (middle, endMoment float64) {
	bending, endMoment := FixedFixedCentral(force, span, ei)
	return bending + force*span/(4*ga), endMoment
}

// StubbyProppedUniform is a beam fixed at one end and propped at the other with an even load and
// shear deflection. The prop undoes the deflection of the free cantilever there:
// R = (q·L⁴/8EI + q·L²/2GA)/(L³/3EI + L/GA).
func StubbyProppedUniform(load, span, ei, ga float64) (prop float64) {
	free, _, _ := CantileverUniform(load, span, ei)
	perForce, _ := StubbyCantilever(1, span, ei, ga)
	return (free + load*span*span/(2*ga)) / perForce
}

// SimpleOverSpring is SimpleCentral with a spring (N/mm) under the middle: the beam's 48EI/L³ and
// the spring side by side.
func SimpleOverSpring(force, span, ei, spring float64) (middle, springForce float64) {
	alone, _, _ := SimpleCentral(1, span, ei)
	middle = force / (1/alone + spring)
	return middle, spring * middle
}

// CantileverOnHinge is CantileverTipLoad with a root that turns by moment/rootSpring (N·mm/rad):
// F·L³/3EI + F·L²/c.
func CantileverOnHinge(force, length, ei, rootSpring float64) (tip float64) {
	tip, _, _ = CantileverTipLoad(force, length, ei)
	return tip + force*length*length/rootSpring
}

// HingedEndsUniform is an even load on a beam both of whose ends turn by moment/endSpring
// (N·mm/rad): end moment q·L²/12/(1 + 2EI/cL), middle 5q·L⁴/384EI − M·L²/8EI (slope-deflection).
func HingedEndsUniform(load, span, ei, endSpring float64) (middle, endMoment float64) {
	simple, _, _ := SimpleUniform(load, span, ei)
	endMoment = load * span * span / 12 / (1 + 2*ei/(endSpring*span))
	return simple - endMoment*span*span/(8*ei), endMoment
}

// TaperedCantilever is the tip deflection of a cantilever of rectangular section with a force at
// the tip, whose height goes evenly from rootHeight to tipHeight while its width stays. With
// r = root/tip − 1, the integral of moment·lever/EI is
//
//	12F·L³/(E·b·h³) · [ln(1+r) + 2/(1+r) − 1/(2(1+r)²) − 3/2]/r³,  h = tipHeight
//
// (Roark, tapered beams). E in MPa, sizes in mm.
func TaperedCantilever(force, length, E, width, rootHeight, tipHeight float64) (tip float64) {
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

// Slice is one prismatic piece of a stepped cantilever.
type Slice struct {
	Length float64 // mm
	EI     float64 // bending stiffness, N·mm²
	GA     float64 // shear stiffness, N; 0 leaves shear deflection out
}

// SteppedCantilever is the tip deflection of a cantilever of several diameters, such as a cutter's
// neck and shank, with a force at the tip. Slices run from the tip to the root; one that reaches
// from a to b behind the tip adds F·(b³−a³)/3EI + F·(b−a)/GA.
func SteppedCantilever(force float64, slices []Slice) (tip float64) {
	a := 0.0
	for _, s := range slices {
		b := a + s.Length
		tip += force * (b*b*b - a*a*a) / (3 * s.EI)
		if s.GA > 0 {
			tip += force * s.Length / s.GA
		}
		a = b
	}
	return tip
}
