package joint

import "tiploop/frame/constant"

// Preloaded is a tightened screw and what it clamps: two springs side by side as long as the
// faces are closed (Shigley's Mechanical Engineering Design, tension joints: the external load).
type Preloaded struct {
	Screw   float64 // axial stiffness of the screw, N/mm
	Members float64 // axial stiffness of the clamped parts, N/mm
	Preload float64 // N
}

// LoadShare returns Φ, the share of an external tension that the screw takes.
func (p Preloaded) LoadShare() float64 {
	constant.MustBePositive("joint: screw stiffness", p.Screw)
	constant.MustBePositive("joint: member stiffness", p.Members)
	return p.Screw / (p.Screw + p.Members)
}

// ScrewLoad returns the force in the screw under an external tension below the separation load, N.
func (p Preloaded) ScrewLoad(tension float64) float64 { return p.Preload + p.LoadShare()*tension }

// ClampLoad returns the force left between the faces under an external tension, N; negative
// beyond the separation load, where it stands for nothing.
func (p Preloaded) ClampLoad(tension float64) float64 {
	return p.Preload - (1-p.LoadShare())*tension
}

// SeparationLoad returns the external tension at which the faces part, N: F_V/(1 - Φ).
func (p Preloaded) SeparationLoad() float64 { return p.Preload / (1 - p.LoadShare()) }

// Stiffness returns the stiffness while the faces are closed, N/mm.
func (p Preloaded) Stiffness() float64 { return p.Screw + p.Members }
