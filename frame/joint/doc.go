// Package joint describes screwed joints between plates, one screw at a time.
//
// A screw presses two faces together over a ring around it, the pressure zone. The pressure there
// sets how stiff the faces are against each other, and the metal on both sides gives way as the
// force spreads into it. A [Clamping] holds what one screw's joint is made of; [Clamping.Stiffness] turns
// it into two springs, one along the screw and one across it, and says at what force the clamping
// slips or opens.
//
//	screw, _ := joint.LookupScrew("M6")
//	faces, _ := joint.LookupSurface("milled")
//	plate := joint.Plate{E: 70000, Nu: 0.33, Thickness: 20, Depth: 10}
//	k, err := joint.Clamping{Screw: screw, Surface: faces, Drilled: plate, Tapped: plate}.Stiffness()
//
// # The spring of one clamping
//
// Along the screw, four things give way one after the other: the drilled part between its axis
// and the face, the faces, the shim if there is one, and the tapped part. The screw runs beside
// all of them. As long as the faces stay closed, pulling the parts apart only takes pressure off
// them, so the faces act as a spring in tension too, and screw and faces add up:
//
//	k_normal = 1/(1/k_drilled + 1/k_faces + 1/k_shim + 1/k_tapped) + k_screw
//
// Across the screw the same four lie in series with their shear values. The screw does not help:
// it stands free in its clearance hole. Both springs are tangents at the preloaded state; they
// hold until [ClampingStiffness].SlipForce or OpenForce, or with moments until [ClampingStiffness.Use] says 1.
//
// # Other parts of the package
//
//   - [SpreadNormal], [SpreadTangential], [SpreadTilt], [SpreadSpin]: metal under a compact loaded
//     zone; [Zone]: under a rectangle with bounded metal around it.
//   - [PressureZone], [Outline]: a pressure zone cut by the edges of the face and by its neighbours.
//   - [Thread], [Tightening], [Preloaded], [Settling], [Frustum]: torque, preload, what is left of it, how a load is
//     shared.
//   - [ClampingStiffness.Use], [Ring], [Pressed]: when a pressed ring slips and when its edge opens.
//   - [Head], [HolePlay]: how a head sits; how far a joint can shift and turn in its holes.
//   - [RodStiffness], [Series]: pieces in a row.
//   - [Screw.TapInto], [HoleWork]: how a tapped hole is drilled, what a hole costs at the drill press.
//   - [Constants], [Surfaces], [Screws]: every number used, with its band and its source.
//
// The tool needs none of the following; they are the handbook's way to the same joint, for whoever
// works one out by hand or wants to hold a model against it:
//
//   - [Preloaded.ScrewLoad], [Preloaded.ClampLoad]: the triangle of forces of a loaded screw.
//   - [Tightening.EquivalentStress], [Tightening.NutFactor], [Thread.ScrewShear]: how far a screw may be tightened.
//   - [Pattern]: a group of screws as one rigid connection, without any give of the parts.
//   - [Footing]: a row of screws under a bending moment, beyond the moment at which its edge opens.
//   - [SeriesShares]: who gives way in a row. [BallOnPlane]: Hertz, for a levelling screw or a burr.
//
// # Conventions
//
// N, mm, MPa throughout, so stiffness is N/mm and stiffness per area MPa/mm; torque is N·mm unless
// the name says Nm; the contact law keeps the µm of its source in [Surface].C. Tension is
// positive, and so is a force along the screw that pulls the parts apart; a force across it has no
// preferred direction. A programmer's mistake (a negative length, an index out of range) panics; bad data in
// a Clamping is an error. Functions use the typical value of each constant, but the load at which
// a clamping slips or opens uses the low friction and the low preload, less what settles.
//
// Left out: creep, the prying of a bent flange, microslip below the slip force, the
// change of contact stiffness as the working load changes the pressure, and friction between
// faces outside the zones.
package joint
