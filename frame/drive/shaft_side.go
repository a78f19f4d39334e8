package drive

// SideHold is what a shaft does to a nut across itself: a spring between the nut and the line that the shaft would take
// without it.
type SideHold struct {
	Stiffness float64    // N/mm
	Slope     float64    // of the shaft at the nut over how far it is bent aside there, towards the far end, 1/mm
	Near, Far SideWeight // what the driven and the far end do to that line at the nut
}

// SideWeight says how an end moves the line at the nut: Factor times the movement of a place that is Arm from the end,
// on a rigid arm along the shaft, towards the far end.
type SideWeight struct{ Factor, Arm float64 }

// Side returns how the shaft holds a nut across itself, that far from the driven end; a fixed end holds the shaft
// against tilting, a supported one does not. Deflections under a force are those of the beam tables (Gere & Timoshenko,
// Mechanics of Materials; from memory), the line between ends that move the cubic that such a beam takes. Shear is left
// out, and so is how the nut resists being tilted.
func (s Shaft) Side(nutAt float64) SideHold {
	s.mustContain(nutAt)
	ei := s.E * s.section().Iy
	l, a, b := s.Length, nutAt, s.Length-nutAt
	x := a / l
	weight := func(factor, slope float64) SideWeight {
		if factor == 0 {
			return SideWeight{}
		}
		return SideWeight{Factor: factor, Arm: slope / factor}
	}
	switch {
	case s.Ends == FixedFree || b <= 0:
		return SideHold{Stiffness: 3 * ei / (a * a * a), Slope: 1.5 / a, Near: weight(1, a)}
	case s.Ends == FixedFixed:
		return SideHold{Stiffness: 3 * ei * l * l * l / (a * a * a * b * b * b), Slope: 1.5 * (b - a) / (a * b),
			Near: weight(1-3*x*x+2*x*x*x, l*(x-2*x*x+x*x*x)), Far: weight(3*x*x-2*x*x*x, l*(x*x*x-x*x))}
	case s.Ends == FixedSupported:
		return SideHold{Stiffness: 12 * ei * l * l * l / (a * a * a * b * b * (3*a + 4*b)),
			Slope: 3 * (b*b + 2*l*b - l*l) / (a * b * (3*a + 4*b)),
			Near:  weight(1-1.5*x*x+0.5*x*x*x, l*(x-1.5*x*x+0.5*x*x*x)), Far: weight(1.5*x*x-0.5*x*x*x, 0)}
	default:
		return SideHold{Stiffness: 3 * ei * l / (a * a * b * b), Slope: (b - a) / (a * b),
			Near: weight(1-x, 0), Far: weight(x, 0)}
	}
}
