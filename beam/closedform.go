package beam

// Closed forms for slender beams (Gere & Timoshenko, Mechanics of Materials, appendix on deflections
// and slopes of beams; from memory). Forces act down and deflections are down, so both are positive;
// lengths mm, forces N, slopes rad, moments N·mm, bending stiffness ei = E·I in N·mm², shear stiffness
// ga = G·(shear area) in N. Arguments are not checked: stiffness and length must be positive.

// CantileverTipLoad is a cantilever with a force at its tip: F·L³/3EI, F·L²/2EI, F·L.
func CantileverTipLoad(force, length, ei float64) (tip, tipSlope, rootMoment float64) {
	return force * length * length * length / (3 * ei), force * length * length / (2 * ei), force * length
}

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
