package beam

import (
	"fmt"
	"math"
)

// Round is a solid round bar, mm. The drawing's origin is the lower left corner of the square
// around it.
type Round struct {
	Diameter float64
}

// Section returns exact properties; shear areas are Cowper's (1966), κ = 6(1+ν)/(7+6ν). Shear
// stress is elementary theory's V·Q/(I·t), at most 4/3·V/A; the exact solution has
// (3+2ν)/(2+2ν)·V/A in the middle, 4 % more at ν = 0.3.
func (r Round) Section(nu float64) (Section, error) {
	if err := checkShape("round", nu, size{"diameter", r.Diameter}); err != nil {
		return Section{}, err
	}
	s := ring(r.Diameter, 0, nu)
	s.Name = fmt.Sprintf("round %g", r.Diameter)
	return s, nil
}

// Pipe is a round tube, mm. The drawing's origin is the lower left corner of the square around it.
type Pipe struct {
	Outer, Wall float64 // outer diameter, wall thickness
}

// Section returns exact properties; shear areas are Cowper's (1966) for a hollow circle:
//
//	κ = 6(1+ν)(1+m²)² / [(7+6ν)(1+m²)² + (20+12ν)m²],  m = inner/outer diameter
//
// Shear stress is elementary theory's V·Q/(I·t) across both walls; the exact solution has more on the
// inside of a thick wall, 15 % at m = 0.7.
func (p Pipe) Section(nu float64) (Section, error) {
	if err := checkShape("pipe", nu, size{"outer diameter", p.Outer}, size{"wall", p.Wall}); err != nil {
		return Section{}, err
	}
	if err := checkLess("pipe", size{"wall", p.Wall}, "half the outer diameter", p.Outer/2); err != nil {
		return Section{}, err
	}
	s := ring(p.Outer, p.Outer-2*p.Wall, nu)
	s.Name = fmt.Sprintf("pipe %g x %g", p.Outer, p.Wall)
	return s, nil
}

// ring returns the properties of a circle of diameter outer with a concentric hole; inner 0 is
// a solid bar.
func ring(outer, inner, nu float64) Section {
	area := math.Pi / 4 * (outer - inner) * (outer + inner)
	second := area / 16 * (outer*outer + inner*inner)
	m2 := inner / outer * inner / outer
	q := (1 + m2) * (1 + m2)
	// V·Q/(I·t) with Q = (D³−d³)/12 and t = D−d.
	tau := (outer*outer + outer*inner + inner*inner) / (12 * second)
	kappa := 6 * (1 + nu) * q / ((7+6*nu)*q + (20+12*nu)*m2)
	s := Section{
		A: area, Iy: second, Iz: second, J: 2 * second,
		Ay: kappa * area, Az: kappa * area,
		Wt:   4 * second / outer,
		TauY: tau, TauZ: tau,
		Outline: [][][2]float64{circle(outer)},
	}
	if inner > 0 {
		s.Outline = append(s.Outline, circle(inner))
	}
	s.setBox(outer, outer)
	return s
}

// circle draws a circle about the origin as a polygon of its points.
func circle(diameter float64) [][2]float64 {
	const sides = 64
	loop := make([][2]float64, sides)
	for i := range loop {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / sides)
		loop[i] = [2]float64{diameter / 2 * cos, diameter / 2 * sin}
	}
	return loop
}
