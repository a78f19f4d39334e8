// Package machine holds what a builder says of a machine: its parts, how they are joined and held, axes, tool, loads
// and paths. It builds and solves nothing (frame/structure does) and reads no file (frame/modelfile does): a
// [Machine] may as well be written in Go.
//
//	m := &machine.Machine{Parts: …, Joints: …, Grounds: …} // things refer to one another by their index in these lists
//	err := m.Check()                                       // what is wrong, in the builder's words
//	moved, err := m.At(map[string]float64{"x": 20})        // the same machine with an axis elsewhere
//
// # Conventions
//
// Units are N, mm, MPa, tonne, s, K, rad throughout: N/mm for a stiffness, N·mm for a moment, tonne/mm³ for a
// density. Axes are the trade's: x right, y away from the operator, z up; rotations are right-handed about them. A
// face of a plate is named as the operator in front of the machine sees it: left and right look along x, front and
// back along y, bottom and top along z.
//
// A field that may be left zero says what zero means, and that is what a builder would mean by saying nothing; where
// it is not, because zero names one of several choices (Guide.Preload, Drive.Screw.Shaft.Ends, Ground.Face), it says
// so. An index that must be given is an int, from 0; one that may be left out is a pointer, nil without one. Whatever
// takes a machine completes a copy of it ([Machine.Complete]) and never writes into the machine itself, so that one may
// be given to several goroutines.
//
// # Faults
//
// What is wrong with a machine is a [Fault]: what, and what to do about it. Those of a file carry their position in it.
// All that are found at once come as [Faults].
//
// Records of the trade come from the rooms that know them: beam.LookupMaterial("steel"), joint.LookupScrew("M6"),
// guide.LookupCarriage("profile-15"), drive.LookupBallScrew("1605").
package machine
