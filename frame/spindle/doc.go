// Package spindle describes the last links of the chain at the tool's side: the spindle's bearings,
// the collet or taper, and the fluted cutter itself, each as springs.
//
//	class, _ := spindle.LookupClass("round-spindle")
//	cutter := spindle.Cutter{Diameter: 6, Flutes: 2, Stickout: 24, FluteLength: 24, E: 580e3}
//	shares, err := spindle.Tip(class.Springs().Typical, cutter) // compliances at the cutter's tip
//
// The cutter is often softer than the machine. Its compliance grows with the cube of what sticks
// out, so a shorter grip is worth more than any gusset, and a report has to show it apart.
//
// The tool makes the spindle's [Springs], the collet's turning ([Cutter.ColletTilt]) and the share of
// the fluted part ([EffectiveShare]) part of its frame, and bends the cutter there. [Tip],
// [Cutter.TipStiffness] and [Cutter.Slices] are the same chain in closed form, to hold an answer
// against; [TwoBearings] makes springs of a shaft whose bearings are known; [Constants] lists every
// number of the package.
//
// # Units and axes
//
// N, mm, MPa, rad; compliances mm/N, all positive. Radial is across the spindle's axis, alike in both directions; axial
// along it; tilt about an axis across it, at the nose. A programmer's mistake panics; bad data is an error.
//
// # Left out
//
// Gyroscopic and thermal effects, the change of bearing stiffness with speed, and runout. Most numbers
// here are common practice and low in confidence: a push at the spindle's nose with a dial beside it
// replaces them all.
package spindle
