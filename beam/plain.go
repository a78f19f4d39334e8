package beam

// Plain is a section given by its numbers. It has no outline and no stress, and its shear centre is
// its centroid.
type Plain struct {
	A         float64 // area, mm²
	Iy, Iz, J float64 // second moments ∫z²dA, ∫y²dA and torsion constant, mm⁴
	Ay, Az    float64 // shear areas, mm²; 0 leaves shear deflection out
}

// Section returns the numbers as a section. A, Iy, Iz and J must be positive, Ay and Az not
// negative; nu is only checked.
func (p Plain) Section(nu float64) (Section, error) {
	if err := checkShape("plain section", nu,
		size{"area", p.A}, size{"Iy", p.Iy}, size{"Iz", p.Iz}, size{"J", p.J}); err != nil {
		return Section{}, err
	}
	for _, shear := range []size{{"shear area Ay", p.Ay}, {"shear area Az", p.Az}} {
		if shear.value == 0 {
			continue
		}
		if err := checkShape("plain section", nu, shear); err != nil {
			return Section{}, err
		}
	}
	return Section{Name: "plain numbers", A: p.A, Iy: p.Iy, Iz: p.Iz, J: p.J, Ay: p.Ay, Az: p.Az}, nil
}
