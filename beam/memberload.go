package beam

import "slices"

// SpanLoads are the loads a member carries between its ends, in local axes.
type SpanLoads struct {
	Lines  []LineLoad
	Points []PointLoad
	Heat   Heat
}

// LineLoad is a load per length along the line of centroids that varies linearly between two places.
type LineLoad struct {
	From, To float64    // places from end 1, mm; 0 ≤ From ≤ To ≤ length
	QFrom    [3]float64 // load at From along x, y, z, N/mm
	QTo      [3]float64 // load at To
}

// PointLoad is a force and a moment at one section.
type PointLoad struct {
	At     float64    // place from end 1, mm
	Force  [3]float64 // along x, y, z, N
	Moment [3]float64 // about x, y, z, N·mm
}

// Heat is a temperature change that varies linearly over the section: Mean + GradY·y + GradZ·z.
type Heat struct {
	Mean         float64 // at the centroid, K
	GradY, GradZ float64 // K/mm
}

// LineLoad returns the end forces (N, N·mm) that move the ends exactly as a load per length
// would that varies linearly from qFrom at the place from to qTo at the place to, N/mm, along
// the local axes, on the line of centroids. It panics if the places are not in order on the member.
//
// By Betti's theorem these are ∫ Nᵀq dx over the shapes of the unloaded member.
func (m Member) LineLoad(from, to float64, qFrom, qTo [3]float64) (F [12]float64) {
	m.mustCheck()
	m.mustContain(from)
	m.mustContain(to)
	if from > to {
		panic("beam: line load ends before it starts")
	}
	k := inverse6(m.flexibility(m.Length))
	for _, g := range gauss4 {
		N := m.shapes(k, from+g.at*(to-from))
		for i := range 3 {
			q := (1-g.at)*qFrom[i] + g.at*qTo[i]
			for j := range 12 {
				F[j] += g.weight * (to - from) * q * N[i][j]
			}
		}
	}
	return F
}

// PointLoad returns the end forces (N, N·mm) that move the ends exactly as a force (N) and a
// moment (N·mm) on the section at x would.
func (m Member) PointLoad(x float64, force, moment [3]float64) (F [12]float64) {
	N := m.ShapeAt(x)
	for j := range 12 {
		for i := range 3 {
			F[j] += N[i][j]*force[i] + N[3+i][j]*moment[i]
		}
	}
	return F
}

// ThermalLoad returns the end forces (N, N·mm) that move the ends exactly as a temperature change
// mean + gradY·y + gradZ·z would (K, K/mm; y and z from the centroid). A held member pushes on
// its supports with these forces.
func (m Member) ThermalLoad(mean, gradY, gradZ float64) (F [12]float64) {
	m.mustCheck()
	s := m.thermalForces(Heat{mean, gradY, gradZ})
	for i := range 6 {
		F[i], F[6+i] = -s[i], s[i]
	}
	return F
}

// EndForces returns the end forces that act as all the loads together.
func (m Member) EndForces(loads SpanLoads) (F [12]float64) {
	add := func(part [12]float64) {
		for i := range F {
			F[i] += part[i]
		}
	}
	for _, q := range loads.Lines {
		add(m.LineLoad(q.From, q.To, q.QFrom, q.QTo))
	}
	for _, p := range loads.Points {
		add(m.PointLoad(p.At, p.Force, p.Moment))
	}
	if loads.Heat != (Heat{}) {
		add(m.ThermalLoad(loads.Heat.Mean, loads.Heat.GradY, loads.Heat.GradZ))
	}
	return F
}

// thermalForces are N, My and Mz, as internal forces, of the stress E·α·ΔT that would squeeze the
// thermal strain back.
func (m Member) thermalForces(h Heat) (S [6]float64) {
	a := m.Section.areaIntegrals(m.Material.Expansion)
	if m.Section.Composite != nil {
		a = m.Section.Composite.Expansion
	}
	t := [3]float64{h.Mean, h.GradY, h.GradZ}
	E := m.Material.E
	for i, ti := range t {
		S[0] += E * a[0][i] * ti
		S[4] += E * a[2][i] * ti
		S[5] -= E * a[1][i] * ti
	}
	return S
}

// Inside returns what a place inside the member feels, given the movements of its ends and the
// loads between them: the internal forces (N, Vy, Vz, T, My, Mz; N, N·mm), those that the part
// beyond x puts on the part before, and the displacement and rotation (mm, rad). At a point load
// the forces are those just before it. Both are exact without a bed; with one they are as good
// as its cubic approximation.
//
// T acts about the centroid: the torque that twists the section is T − ys·Vz + zs·Vy.
func (m Member) Inside(x float64, ends [12]float64, loads SpanLoads) (forces, movement [6]float64) {
	m.mustCheck()
	m.mustContain(x)
	run := m.run(ends, loads)
	movement = mulVec6(rigid(x), [6]float64(ends[:6]))
	breaks := run.breaks(x)
	for i := 1; i < len(breaks); i++ {
		a, b := breaks[i-1], breaks[i]
		for _, g := range gauss4 {
			s := a + g.at*(b-a)
			S := run.forces(s)
			for j := range S {
				S[j] += run.heat[j] // strain = C·S + thermal strain = C·(S + thermal forces)
			}
			carried := mulVec6(rigid(x-s), mulVec6(run.c, S))
			for j := range movement {
				movement[j] += g.weight * (b - a) * carried[j]
			}
		}
	}
	return run.forces(x), movement
}

// ForcesInside returns the internal forces of Inside as a function of the place, for looking at many places of one
// member under one load.
func (m Member) ForcesInside(ends [12]float64, loads SpanLoads) func(x float64) [6]float64 {
	m.mustCheck()
	run := m.run(ends, loads)
	return func(x float64) [6]float64 {
		m.mustContain(x)
		return run.forces(x)
	}
}

// run finds the forces on the first end, from which all others follow by equilibrium.
func (m Member) run(ends [12]float64, loads SpanLoads) spanRun {
	K, F := m.Stiffness(), m.EndForces(loads)
	var f1 [6]float64
	for i := range 6 {
		for j, d := range ends {
			f1[i] += K[i][j] * d
		}
		f1[i] -= F[i]
	}
	return spanRun{
		m: m, k: inverse6(m.flexibility(m.Length)), c: m.compliance(),
		f1: f1, ends: ends, loads: loads, heat: m.thermalForces(loads.Heat),
	}
}

// spanRun is one walk along a loaded member.
type spanRun struct {
	m     Member
	k, c  mat6
	f1    [6]float64 // forces on end 1
	ends  [12]float64
	loads SpanLoads
	heat  [6]float64
}

// breaks returns 0, x and the places between where the internal forces kink or jump, in order.
func (r spanRun) breaks(x float64) []float64 {
	at := []float64{0, x}
	for _, q := range r.loads.Lines {
		at = append(at, q.From, q.To)
	}
	for _, p := range r.loads.Points {
		at = append(at, p.At)
	}
	at = slices.DeleteFunc(at, func(s float64) bool { return s < 0 || s > x })
	slices.Sort(at)
	return slices.Compact(at)
}

// forces returns the internal forces at s by equilibrium of the part before it.
func (r spanRun) forces(s float64) [6]float64 {
	sum := mulVec6(transpose6(rigid(-s)), r.f1) // end forces about the section at s
	add := func(at float64, w [6]float64) {
		moved := mulVec6(transpose6(rigid(at-s)), w)
		for i := range sum {
			sum[i] += moved[i]
		}
	}
	for _, p := range r.loads.Points {
		if p.At < s {
			add(p.At, [6]float64{p.Force[0], p.Force[1], p.Force[2], p.Moment[0], p.Moment[1], p.Moment[2]})
		}
	}
	for _, q := range r.loads.Lines {
		if q.From >= s || q.To <= q.From {
			continue
		}
		to := min(q.To, s)
		for _, g := range gauss4 {
			at := q.From + g.at*(to-q.From)
			part := (at - q.From) / (q.To - q.From)
			var w [6]float64
			for i := range 3 {
				w[i] = g.weight * (to - q.From) * ((1-part)*q.QFrom[i] + part*q.QTo[i])
			}
			add(at, w)
		}
	}
	if r.m.BedY != 0 || r.m.BedZ != 0 {
		for _, g := range gauss4 {
			at := g.at * s
			N := r.m.shapes(r.k, at)
			var w [6]float64
			for j, d := range r.ends {
				w[1] -= g.weight * s * r.m.BedY * N[1][j] * d
				w[2] -= g.weight * s * r.m.BedZ * N[2][j] * d
			}
			add(at, w)
		}
	}
	for i := range sum {
		sum[i] = 0 - sum[i]
	}
	return sum
}
