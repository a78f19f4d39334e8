// Package structure turns a machine into a frame and works out what it does: how far the tip moves under each load,
// what gives way, what screws, carriages and drives bear, how that changes along paths, and what to stiffen next.
//
//	var by structure.Builder                               // meshes plates; {Detail: structure.Section} takes beams
//	r, err := by.Answer(ctx, m, structure.FullTravel)      // all there is to say: loads, cuts, and every path
//
// or in steps, where more than that is asked of one model:
//
//	model, err := by.Build(ctx, m)                         // m is checked first; faults come as machine.Faults
//	r, err := model.SolveContext(ctx, structure.TipOnly)   // r.Tip.ComplianceUmPerN, r.Loads, r.Shares, …
//	inv := model.Inventory()                               // parts, joints, masses, holes
//	next, err := model.Next(ctx, variables)                // what more of each variable, plate, screw would gain
//	s, err := by.Sweep(ctx, values, draw, nil)             // a machine drawn anew at every number of a value
//
// # Conventions
//
// A machine is never written into, and must stay as it is while a model of it is in use. A [Builder] keeps the meshed
// bodies it has reduced and uses them again for machines that leave them alone; it is not for several goroutines at
// once. The same machine gives the same bytes on every run.
//
// # From a machine to a frame
//
// Parts become bodies, and where they touch they are joined by springs and ties between spots; grounds, guides and
// drives join them likewise. Bars are members; a plate or gusset is, by the detail, a member, a strip or a triangle,
// or a body of hexahedra reduced to what its neighbours feel. frame and frame/solid solve; frame/coupling joins the
// pieces of a machine again in every position of its axes.
//
// # Rails and carriages
//
// A rail of a known size is a member on its screws, a carriage of a known size a rigid block: between its part and the
// block are the carriage's screws, between the block and the rail the springs of its rows. Both stand on parts and go
// along with them, are as warm as they are, and weigh; only the rows' springs run when an axis does.
//
// # Cuts
//
// A cut is worked out by frame/cutting over a revolution of the cutter; frame/yielding turns the force at every angle
// into a movement, by the tip's compliance, which is solved once. Its load case, "name, peak", is the moment at which
// the typical force is greatest: shares, screws, stresses and travel go by that. What the cut costs stands apart in
// [answer.CutResult]: the largest movement, and for each surface the error of the moments in which a tooth makes it.
// Forces act at the tip of the tool, with the torque about it.
//
// # Parts that do not line up
//
// A misfit stretches the springs of its mounting, and moves its ties, as if it were drawn out of place and pulled shut:
// a load like any other. [Builder.Align] tries every foot, rail, carriage, nut and bearing out of place.
//
// # What is not known
//
// The numbers of frame/doubt, and how every spring, member and block comes from them, are worked out of a model that
// has been drawn, when somebody asks. Springs in a row are told exactly, for any numbers; a screw or a belt with two
// ways to the frame, and the springs of a zone that edges cut, near typical ones.
//
// # Axes that gain speed
//
// The action Accelerating puts the opposite of an axis's acceleration on the mass of all it moves (FeedAxis.Moves),
// by d'Alembert's principle. Loads on carriages and drives are held against typical ratings of their sizes, as an
// indication: static safety C0/P0 (ISO 14728-2, ISO 3408-5), life (C/P)³ (ISO 14728-1, ISO 3408-5) with the preload
// in P.
package structure
