package beam

import "math"

// Stress returns the largest von Mises stress, MPa, that the internal forces (N, Vy, Vz, T, My, Mz;
// N, N·mm; signs as Member.Inside) make in the section. ok is false for a section whose stresses are
// not known: plain numbers, which have no outline, and built-up sections.
//
// Normal stress is that of unsymmetrical bending (Gere & Timoshenko, Mechanics of Materials),
//
//	σ = N/A + (Iz·My + Iyz·Mz)/D·z − (Iyz·My + Iy·Mz)/D·y,  D = Iy·Iz − Iyz²
//
// at the corners of the outline. A round bar has 64 of them, on its circle, which may miss the largest
// stress by 0.12 %. Shear stress is |T − ys·Vz + zs·Vy|/Wt, the torque about the shear centre, and
// TauY·|Vy| + TauZ·|Vz|. The largest of each are put together as if they met in one point:
//
//	√(σ² + 3·(τ_torsion + τ_force)²)
//
// This is never less than the largest of the nominal stresses, and is exact where only one of σ,
// torsion, Vy and Vz is there, or bending and torsion of a round bar. It leaves out notch effect and
// restrained warping.
func (s Section) Stress(forces [6]float64) (mpa float64, ok bool) {
	if s.Composite != nil || len(s.Outline) == 0 || !(s.Wt > 0 && s.TauY > 0 && s.TauZ > 0) {
		return 0, false
	}
	vy, vz, my, mz := forces[1], forces[2], forces[4], forces[5]
	det := s.Iy*s.Iz - s.Iyz*s.Iyz
	alongY, alongZ := -(s.Iyz*my+s.Iy*mz)/det, (s.Iz*my+s.Iyz*mz)/det
	normal := 0.0
	for _, p := range s.Outline[0] { // a hole's corners lie between those of the outline
		normal = max(normal, math.Abs(forces[0]/s.A+alongY*p[0]+alongZ*p[1]))
	}
	torque := forces[3] - s.ShearY*vz + s.ShearZ*vy
	shear := math.Abs(torque)/s.Wt + s.TauY*math.Abs(vy) + s.TauZ*math.Abs(vz)
	return math.Hypot(normal, math.Sqrt(3)*shear), true
}
