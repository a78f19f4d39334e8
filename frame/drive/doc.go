// Package drive describes what holds an axis along its travel: ball screws and lead screws in their
// bearings, toothed belts, racks, and the motors behind them, each as a spring along the travel.
//
//	size, _ := drive.LookupBallScrew("1605")
//	shaft := drive.Shaft{Root: size.Root.Typical, E: 206e3, Nu: 0.3, Length: 400, Ends: drive.FixedSupported}
//	chain := drive.ScrewDrive{Shaft: shaft, Lead: size.Lead, Nut: 186e3, NearBearing: 100e3}
//	k, err := chain.Stiffness(300) // the nut 300 mm from the driven end, N/mm
//
// # The chain of a screw
//
// From the motor to the table one thing gives way after the other, so their compliances add: the
// bearing and the shaft between it and the nut (along itself), the shaft's twist, the motor and what
// lies before the screw (turning, seen through the lead), the nut, and the brackets. A shaft held
// along itself at both ends has two ways to the frame, side by side. [ScrewDrive.Parts] lists what
// each adds, for the report's shares.
//
// A turn of the screw by an angle moves the nut by lead/2π per radian; so a rotary stiffness K in
// N·mm/rad acts along the travel as K (2π/lead)², in N/mm ([AxialOfRotary]).
//
// # Other drives
//
// [BeltAxis] and [Rack] move an axis without a screw, [Reduction] stands before one; [LeadScrew] and
// its nuts slide where balls roll. [PreloadedLife], [StaticSafety], [TravelKm] say how long a ball
// screw lasts. What the tool does not ask for, a user of the package may: [MeanLoad] of a duty that
// changes, [Torque] for a force, [LeadScrew.Locking] for a vertical axis, and [Constants], every
// number in one list, such as those that stand for parts a model leaves out (bracket, rack_play,
// stepper_reduced).
//
// # Units and signs
//
// N, mm, MPa, rad: stiffness N/mm, rotary stiffness N·mm/rad, torque N·mm unless the name says
// Nm, speed in revolutions per minute where the name says RPM. Places along a shaft count from the
// driven end. A programmer's mistake panics; bad data is an error.
//
// # Strength and speed
//
// [Shaft.BucklingLoad], [Shaft.CriticalRPM], [LifeRevolutions] and the rest use the
// trade's formulae, on generic sizes whose ratings differ by a factor of two between makers. They
// indicate; they replace no maker's calculation and say nothing about who may stand below: a
// vertical axis on a ball screw or a belt falls when its motor is off.
//
// # Left out
//
// Play inside the springs (no linear model can hold it; [Play], [Crosses] and [PreloadedPair] tell what it adds
// beside them), friction, a controller's
// own stiffness, and the bending of brackets that are parts of the machine themselves.
package drive
