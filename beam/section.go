package beam

import (
	"fmt"
	"math"
)

// Section holds the properties of a cross-section about the drawing axes y (width) and z
// (height) through its centroid.
//
// For a section of several materials (BuiltUp) every stiffness property is transformed to the
// base material, and Composite holds what a single density and expansion cannot say.
type Section struct {
	Name string

	A           float64 // area, mm²
	Iy, Iz, Iyz float64 // second moments Iy = ∫z²dA, Iz = ∫y²dA, Iyz = ∫yz dA, mm⁴
	J           float64 // Saint-Venant torsion constant, mm⁴ (not the polar moment)

	// Ay and Az are the shear areas for a shear force along y and along z, mm²; 0 leaves that
	// shear deflection out. In a section without symmetry a force along y also causes a small
	// shear deflection along z; that cross term is dropped.
	Ay, Az float64

	// Wt is the torsional section modulus, mm³: a torque T about the shear centre makes shear
	// stress of at most T/Wt. TauY and TauZ are the largest shear stress per shear force along y
	// and along z through the shear centre, 1/mm². All three are away from sharp re-entrant
	// corners, where a fillet decides; 0 where unknown: plain numbers and built-up sections.
	Wt         float64
	TauY, TauZ float64

	ShearY, ShearZ         float64 // shear centre from the centroid, mm
	YMin, YMax, ZMin, ZMax float64 // extent from the centroid, mm; all 0 for plain numbers
	CentroidY, CentroidZ   float64 // centroid in the drawing's own coordinates, mm

	// Outline is the outer loop, then the holes, from the centroid, mm, for drawing; nil for
	// plain numbers. Round outlines are many-sided polygons.
	Outline [][][2]float64

	Composite *Composite // nil for a section of one material
}

// Composite holds the section integrals of mass and of thermal expansion of a built-up section.
// Both matrices are ∫ c·(1, y, z)ᵀ(1, y, z) dA about the elastic centroid.
type Composite struct {
	Mass      [3][3]float64 // c = density; tonne/mm, tonne, tonne·mm
	Expansion [3][3]float64 // c = expansion·E/E of the base; mm²/K, mm³/K, mm⁴/K
}

// Shape is anything that can work out its section properties.
type Shape interface {
	// Section returns the properties for a material of Poisson's ratio nu, on which the shear
	// areas depend. It returns an error for sizes that make no section.
	Section(nu float64) (Section, error)
}

// Principal returns the larger and the smaller principal second moment, mm⁴, and the angle from
// +y to the axis about which the second moment is Imax, rad, in (−π/2, π/2].
func (s Section) Principal() (Imax, Imin, angle float64) {
	mean := (s.Iy + s.Iz) / 2
	radius := math.Hypot((s.Iy-s.Iz)/2, s.Iyz)
	// About an axis at angle a the second moment is mean + (Iy−Iz)/2·cos 2a − Iyz·sin 2a.
	if radius > isotropicSection*mean {
		angle = math.Atan2(0-s.Iyz, (s.Iy-s.Iz)/2) / 2 // 0−x, so that no −0 comes out
		if angle <= -math.Pi/2 {
			angle += math.Pi
		}
	}
	return mean + radius, mean - radius, angle
}

// isotropicSection is the relative difference of principal moments below which a section, such
// as a square or a hexagon, is taken to have no preferred axis: rounding alone makes such
// differences.
const isotropicSection = 1e-12

// checkPoisson returns an error unless an isotropic material can have that ratio.
func checkPoisson(nu float64) error {
	if !(nu > -1 && nu <= 0.5) {
		return fmt.Errorf("the Poisson's ratio is %g, must be above -1 and at most 0.5", nu)
	}
	return nil
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// positive returns an error that names the quantity unless it is finite and above zero.
func positive(name string, x float64) error {
	if !finite(x) || x <= 0 {
		return fmt.Errorf("%s is %g, must be positive", name, x)
	}
	return nil
}

// size is one named measure of a shape, in mm or a power of it.
type size struct {
	name  string
	value float64
}

// checkShape returns an error unless every size is positive and nu is possible.
func checkShape(shape string, nu float64, sizes ...size) error {
	for _, s := range sizes {
		if err := positive(s.name, s.value); err != nil {
			return fmt.Errorf("%s: %w", shape, err)
		}
	}
	if err := checkPoisson(nu); err != nil {
		return fmt.Errorf("%s: %w", shape, err)
	}
	return nil
}

// checkLess returns an error unless a is less than limit.
func checkLess(shape string, a size, what string, limit float64) error {
	if a.value < limit {
		return nil
	}
	return fmt.Errorf("%s: %s is %g, must be less than %s, %g", shape, a.name, a.value, what, limit)
}

// setBox fills in the extent and the centroid of a shape drawn with its lower left corner at
// the origin and its centroid in the middle of a width × height box.
func (s *Section) setBox(width, height float64) {
	s.YMin, s.YMax = -width/2, width/2
	s.ZMin, s.ZMax = -height/2, height/2
	s.CentroidY, s.CentroidZ = width/2, height/2
}
