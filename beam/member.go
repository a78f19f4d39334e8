package beam

import "fmt"

// Member is one straight, prismatic member. Its matrices are for the twelve freedoms of its two
// ends in local axes (see the package comment).
//
// # Theory
//
// The internal forces S = (N, Vy, Vz, T, My, Mz) at a section, those that the part beyond puts on
// the part before, strain it by e = C·S, the rates at which (ux, uy, uz, rx, ry, rz) grow along
// the member beyond what a rigid body would do:
//
//	ux' = e₁, uy' = rz + e₂, uz' = −ry + e₃, rx' = e₄, ry' = e₅, rz' = e₆
//
// C holds 1/EA, 1/GAy, 1/GAz, the inverse of the bending stiffness E·[Iy −Iyz; −Iyz Iz], and
// 1/GJ times t·tᵀ, where t·S = T − ys·Vz + zs·Vy is the torque about the shear centre (ys, zs).
//
// A rigid arm of length l carries end movements by R(l) = I + l·Q, Q² = 0, so the flexibility of
// a length x held at its start is, in closed form,
//
//	F(x) = ∫₀ˣ R(x−s)·C·R(x−s)ᵀ ds = x·C + x²/2·(QC + CQᵀ) + x³/3·QCQᵀ
//
// and k = F(L)⁻¹ with equilibrium gives the whole stiffness:
//
//	K = [RᵀkR  −Rᵀk; −kR  k],  R = R(L)
//
// It is exact for Timoshenko's theory, whatever the section (Przemieniecki, Theory of Matrix
// Structural Analysis, ch. 5, has the symmetric case; from memory).
//
// On an elastic bed the exact shapes are no longer cubic. The matrices then hold the bed by the
// unbedded shapes (as a consistent mass matrix does for mass), an approximation that converges
// as (length)⁴ when a member is cut into shorter ones.
type Member struct {
	Section  Section
	Material Material // of the section, or the base material of a built-up one
	Length   float64  // mm

	// BedY and BedZ are the stiffness of a bed along the whole length that resists movement of
	// the centroid along y and z: force per length per deflection, N/mm². 0: none.
	BedY, BedZ float64
}

// Check returns an error unless the member has a positive length, a possible material and a
// section with positive A, J and bending stiffness. The other methods panic where Check fails.
func (m Member) Check() error {
	if err := positive("length", m.Length); err != nil {
		return fmt.Errorf("member: %w", err)
	}
	if err := m.Material.Check(); err != nil {
		return fmt.Errorf("member: %w", err)
	}
	s := m.Section
	for _, q := range []size{
		{"area", s.A}, {"Iy", s.Iy}, {"Iz", s.Iz}, {"J", s.J}, {"Iy·Iz − Iyz²", s.Iy*s.Iz - s.Iyz*s.Iyz},
	} {
		if err := positive(q.name, q.value); err != nil {
			return fmt.Errorf("member: section %q: %w", s.Name, err)
		}
	}
	for _, q := range []size{
		{"shear area Ay", s.Ay}, {"shear area Az", s.Az},
		{"bed stiffness along y", m.BedY}, {"bed stiffness along z", m.BedZ},
	} {
		if !finite(q.value) || q.value < 0 {
			return fmt.Errorf("member: %s is %g, must not be negative", q.name, q.value)
		}
	}
	if !finite(s.ShearY) || !finite(s.ShearZ) {
		return fmt.Errorf("member: section %q: shear centre is not finite", s.Name)
	}
	return nil
}

// mustCheck panics where a method is called on a member that Check refuses.
func (m Member) mustCheck() {
	if err := m.Check(); err != nil {
		panic("beam: " + err.Error())
	}
}

// MassPerLength is the mass of one mm of the member, tonne/mm. In a built-up section its centre may
// lie off the line of centroids; Mass counts that.
func (m Member) MassPerLength() float64 { return m.massIntegrals()[0][0] }

// Stiffness returns the symmetric matrix of end forces per end movement: N/mm, N, N·mm. It is
// exact without a bed; a bed is added as Member's comment says.
func (m Member) Stiffness() (K [12][12]float64) {
	m.mustCheck()
	k := inverse6(m.flexibility(m.Length))
	r := rigid(m.Length)
	kr := mul6(k, r)
	rkr := mul6(transpose6(r), kr)
	for i := range 6 {
		for j := range 6 {
			K[i][j] = (rkr[i][j] + rkr[j][i]) / 2
			K[6+i][j] = -kr[i][j]
			K[j][6+i] = -kr[i][j]
			K[6+i][6+j] = k[i][j]
		}
	}
	if m.BedY != 0 || m.BedZ != 0 {
		var bed mat6
		bed[1][1], bed[2][2] = m.BedY, m.BedZ
		m.addConsistent(&K, bed)
	}
	return K
}

// Mass returns the symmetric consistent mass matrix: tonne, tonne·mm, tonne·mm². The member
// moves in the shapes of ShapeAt, so axial movement and twist vary linearly and bending as
// Timoshenko's cubic; rotary inertia goes with the rotation of the section, not with the slope
// of the axis.
func (m Member) Mass() (M [12][12]float64) {
	m.mustCheck()
	w := m.massIntegrals()
	// Velocities of the point (y, z): ux + z·ry − y·rz, uy − z·rx, uz + y·rx.
	area, sy, sz := w[0][0], w[0][1], w[0][2] // ∫ρ, ∫ρy, ∫ρz
	yy, yz, zz := w[1][1], w[1][2], w[2][2]
	section := mat6{
		{area, 0, 0, 0, sz, -sy},
		{0, area, 0, -sz, 0, 0},
		{0, 0, area, sy, 0, 0},
		{0, -sz, sy, yy + zz, 0, 0},
		{sz, 0, 0, 0, zz, -yz},
		{-sy, 0, 0, 0, -yz, yy},
	}
	m.addConsistent(&M, section)
	return M
}

// ShapeAt returns the displacement and rotation (ux, uy, uz, rx, ry, rz) of the section at x,
// 0 ≤ x ≤ Length, per end freedom, for a member that carries no load between its ends and rests
// on no bed. The rotation is that of the section, not the slope of the axis.
func (m Member) ShapeAt(x float64) (N [6][12]float64) {
	m.mustCheck()
	m.mustContain(x)
	return m.shapes(inverse6(m.flexibility(m.Length)), x)
}

// shapes is ShapeAt given k, the stiffness of end 2 with end 1 held: u(x) = R(x)·d₁ + F(x)·S(x),
// where S(x) = R(L−x)ᵀ·k·(d₂ − R(L)·d₁).
func (m Member) shapes(k mat6, x float64) (N [6][12]float64) {
	n2 := mul6(m.flexibility(x), mul6(transpose6(rigid(m.Length-x)), k))
	arm, n2r := rigid(x), mul6(n2, rigid(m.Length))
	for i := range 6 {
		for j := range 6 {
			N[i][j] = arm[i][j] - n2r[i][j]
			N[i][6+j] = n2[i][j]
		}
	}
	return N
}

// mustContain panics unless x lies on the member; a rounding error beyond its ends is let pass.
func (m Member) mustContain(x float64) {
	if !(x >= -placeTolerance*m.Length && x <= (1+placeTolerance)*m.Length) {
		panic(fmt.Sprintf("beam: place %g is not on a member of length %g", x, m.Length))
	}
}

// placeTolerance is how far beyond an end a place may lie, as a part of the length: the rounding
// of places worked out from world coordinates.
const placeTolerance = 1e-9

// compliance is the section's C of the Member comment, strains per internal force.
func (m Member) compliance() (C mat6) {
	s, E, G := m.Section, m.Material.E, m.Material.G()
	C[0][0] = 1 / (E * s.A)
	if s.Ay > 0 {
		C[1][1] = 1 / (G * s.Ay)
	}
	if s.Az > 0 {
		C[2][2] = 1 / (G * s.Az)
	}
	t := [6]float64{1: s.ShearZ, 2: -s.ShearY, 3: 1}
	for i := 1; i <= 3; i++ {
		for j := 1; j <= 3; j++ {
			C[i][j] += t[i] * t[j] / (G * s.J)
		}
	}
	det := E * (s.Iy*s.Iz - s.Iyz*s.Iyz)
	C[4][4], C[5][5] = s.Iz/det, s.Iy/det
	C[4][5], C[5][4] = s.Iyz/det, s.Iyz/det
	return C
}

// flexibility is F(x) of the Member comment: movements of a section at x per force there, with
// end 1 held.
func (m Member) flexibility(x float64) (F mat6) {
	C := m.compliance()
	qc := leverRows(C)
	qcq := transpose6(leverRows(transpose6(qc)))
	for i := range 6 {
		for j := range 6 {
			F[i][j] = x*C[i][j] + x*x/2*(qc[i][j]+qc[j][i]) + x*x*x/3*qcq[i][j]
		}
	}
	return F
}

// massIntegrals is ∫ρ·(1, y, z)ᵀ(1, y, z) dA.
func (m Member) massIntegrals() [3][3]float64 {
	if m.Section.Composite != nil {
		return m.Section.Composite.Mass
	}
	return m.Section.areaIntegrals(m.Material.Density)
}

// areaIntegrals is c·∫(1, y, z)ᵀ(1, y, z) dA about the centroid.
func (s Section) areaIntegrals(c float64) [3][3]float64 {
	return [3][3]float64{{c * s.A, 0, 0}, {0, c * s.Iz, c * s.Iyz}, {0, c * s.Iyz, c * s.Iy}}
}

// addConsistent adds ∫ NᵀwN dx over the length to dst; w is per length, N the shapes.
func (m Member) addConsistent(dst *[12][12]float64, w mat6) {
	k := inverse6(m.flexibility(m.Length))
	for _, g := range gauss4 { // exact: N is cubic, the integrand of degree 6
		N := m.shapes(k, g.at*m.Length)
		var wn [6][12]float64
		for i := range 6 {
			for l := range 6 {
				if w[i][l] == 0 {
					continue
				}
				for j := range 12 {
					wn[i][j] += w[i][l] * N[l][j]
				}
			}
		}
		for i := range 12 {
			for j := range 12 {
				sum := 0.0
				for l := range 6 {
					sum += N[l][i] * wn[l][j]
				}
				dst[i][j] += g.weight * m.Length * sum
			}
		}
	}
	for i := range 12 {
		for j := range i {
			dst[i][j] = (dst[i][j] + dst[j][i]) / 2
			dst[j][i] = dst[i][j]
		}
	}
}
