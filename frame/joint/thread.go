package joint

import "math"

// Thread is a metric ISO thread.
type Thread struct {
	D, Pitch float64 // nominal diameter and pitch, mm
}

// The basic profile of ISO 68-1 is a triangle of height H = (√3/2) P. The pitch line lies 3/8 H
// below the crest; the root of the screw, rounded, 17/24 H below it.
const (
	pitchLinePerPitch = 2 * 3. / 8 * halfSqrt3
	rootLinePerPitch  = 2 * 17. / 24 * halfSqrt3
	halfSqrt3         = 0.866025403784438646763723170752936183
)

// D2 returns the pitch diameter, mm: d - 0.64952 P (ISO 724).
func (th Thread) D2() float64 { return th.D - pitchLinePerPitch*th.Pitch }

// D3 returns the root diameter, mm: d - 1.22687 P (ISO 724).
func (th Thread) D3() float64 { return th.D - rootLinePerPitch*th.Pitch }

// StressDiameter returns the mean of pitch and root diameter, mm.
func (th Thread) StressDiameter() float64 { return (th.D2() + th.D3()) / 2 }

// StressArea returns the tensile stress area, mm²: π/4 ((d2 + d3)/2)² (ISO 898-1).
func (th Thread) StressArea() float64 {
	d := th.StressDiameter()
	return math.Pi / 4 * d * d
}

// Tightening says what turning a screw works against.
type Tightening struct {
	Thread         Thread
	BearingOuter   float64 // outer diameter of the ring under the head, mm
	Hole           float64 // inner diameter of that ring, the hole, mm
	ThreadFriction float64
	HeadFriction   float64
}

// torquePerForce returns VDI 2230's M/F = 0.16 P + 0.58 d2 µG + DKm/2 µK, mm. The three terms
// stretch the screw, overcome the thread and overcome the head.
func (t Tightening) torquePerForce() float64 {
	bearing := (t.BearingOuter + t.Hole) / 2
	return 0.16*t.Thread.Pitch + 0.58*t.Thread.D2()*t.ThreadFriction + bearing/2*t.HeadFriction
}

// Preload returns the force in the screw under a tightening torque in N·mm, N.
func (t Tightening) Preload(torque float64) float64 { return torque / t.torquePerForce() }

// Torque returns the tightening torque for a preload in N, N·mm.
func (t Tightening) Torque(preload float64) float64 { return preload * t.torquePerForce() }

// NutFactor returns K of the short form M = K F d.
func (t Tightening) NutFactor() float64 { return t.torquePerForce() / t.Thread.D }

// AssemblyPreload returns the preload, N, at which tension and the twist of tightening together
// use the given share of a yield strength in MPa. The twist is taken fully plastic over the
// stress section (VDI 2230 part 1):
//
//	F = A_s use Rp / √(1 + 3 (1.5 d2/d0 (P/(π d2) + 1.155 µG))²)
func (t Tightening) AssemblyPreload(yield, use float64) float64 {
	d2, d0 := t.Thread.D2(), t.Thread.StressDiameter()
	twist := t.twistPerTension(d2, d0)
	return t.Thread.StressArea() * use * yield / math.Sqrt(1+3*twist*twist)
}

// EquivalentStress returns the combined stress of tension and tightening twist under a preload in
// N, MPa.
func (t Tightening) EquivalentStress(preload float64) float64 {
	d2, d0 := t.Thread.D2(), t.Thread.StressDiameter()
	twist := t.twistPerTension(d2, d0)
	return preload / t.Thread.StressArea() * math.Sqrt(1+3*twist*twist)
}

// twistPerTension returns the shear stress from the thread's torque over the tensile stress.
func (t Tightening) twistPerTension(d2, d0 float64) float64 {
	return 1.5 * d2 / d0 * (t.Thread.Pitch/(math.Pi*d2) + 1.155*t.ThreadFriction)
}
