package beam

import (
	"fmt"
	"math"
)

// Polygon is a section with straight sides and, if wanted, holes, in the drawing's own
// coordinates (y, z), mm. Loops may run either way round and are closed by themselves.
type Polygon struct {
	Outer [][2]float64
	Holes [][][2]float64
}

// Section returns exact area properties; J, shear areas and shear centre come from a numerical
// solution of Saint-Venant's torsion and flexure, good to about 1e-4. The shear areas follow
// Cowper (1966). Wt, TauY and TauZ come from the same solution, good to 1 %, for shear across a
// flat plate to 3 %; they leave out the notch effect of re-entrant corners and, of shear, what ν
// adds. It returns an error for an outline that crosses or touches itself, encloses nothing, or has
// a hole that is not wholly inside.
func (p Polygon) Section(nu float64) (Section, error) {
	return outlineSection("polygon", p.Outer, p.Holes, nu)
}

// outlineSection works out a section from its outline.
func outlineSection(name string, outer []point, holes [][]point, nu float64) (Section, error) {
	if err := checkShape(name, nu); err != nil {
		return Section{}, err
	}
	loops, err := CleanOutline(outer, holes)
	if err != nil {
		return Section{}, fmt.Errorf("%s: %w", name, err)
	}
	// About the middle of the drawing first: far from it the moments would lose their digits.
	low, high := extent(loops[0])
	middle := midpoint(low, high)
	local := shifted(loops, middle, 1)
	a, sy, sz, _, _, _ := areaMoments(local)
	centroid := point{sy / a, sz / a}
	local = shifted(local, centroid, 1)
	_, _, _, syy, szz, syz := areaMoments(local)

	// Solved at unit area, so that tolerances and pivots do not depend on the unit of length.
	unit := math.Sqrt(a)
	scaled := shifted(local, point{}, 1/unit)
	m, err := triangulate(scaled)
	if err != nil {
		return Section{}, fmt.Errorf("%s: %w", name, err)
	}
	m.refine(gradedCorners(scaled), meshCoarse)
	el, err := solveSection(m, []stiffnessRatio{{1, 1}}, nu)
	if err != nil {
		return Section{}, fmt.Errorf("%s: %w", name, err)
	}
	peaks := el.shearPeaks(m, notches(scaled))
	low, high = extent(local[0])
	j := (el.jLow + el.jHigh) / 2
	return Section{
		Name: name,
		A:    a, Iy: szz, Iz: syy, Iyz: syz,
		J:  j * unit * unit * unit * unit,
		Ay: el.ay * a, Az: el.az * a,
		Wt:   j / peaks.twist * unit * unit * unit,
		TauY: peaks.alongY / a, TauZ: peaks.alongZ / a,
		ShearY: el.shearY * unit, ShearZ: el.shearZ * unit,
		YMin: low[0], YMax: high[0], ZMin: low[1], ZMax: high[1],
		CentroidY: middle[0] + centroid[0], CentroidZ: middle[1] + centroid[1],
		Outline: local,
	}, nil
}
