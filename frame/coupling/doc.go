// Package coupling cuts a frame where something runs along an axis, and joins it again in every position.
//
// From one position to the next only a few springs change place: those that hold a carriage on its rail, or a nut on
// its screw. The frame without them falls into pieces, which do not change by being moved. They are factored once; a
// position is then solved for the forces in its springs alone, with as many unknowns as there are springs (see Pieces
// for the equations). It is the same frame, solved whole in that position, to rounding.
//
// # Calls
//
//	pieces, err := coupling.Detach(f)         // f has no spring that runs
//	first := pieces.AddSkin(weights, local)   // if a body is touched where the frame has no freedom
//	pieces.Watch(forms...)                    // all forms of the springs, tips and targets of all positions
//	free, err := pieces.Solve(load)           // what loads do to the pieces by themselves
//	probe := pieces.Probe(tips, free.U)       // what is read in every position
//	target := probe.Target(forms)               // what it is read against, such as a place of the work
//	joined := probe.Join(probe.Connect(springs)) // a first axis in one position
//	joined.At(probe.Connect(others), target, &r)   // a second axis in one position, or nil
//
// Each step is made once for all that follow it: a plane of n by n positions is n calls of Join and n·n of At, and the
// connections of the second axis are made before, once each.
//
// # Conventions
//
// Units, signs and forms are those of package frame. A tip is a form of the pieces, a target has one form for each tip,
// and a response is of tip less target. A state is the movement of all freedoms under some load on the pieces by
// themselves, with those of the skins after those of the frame. Anchors that keep loose pieces still until they are
// joined come out again exactly in every response; in Pieces.Solve they are still there.
//
// What must be so and is not (a form that was not watched, a state of the wrong length, a spring of no stiffness) is a
// programmer's mistake and panics.
//
// # What it does not do
//
// More than two axes at a time; stiffnesses of the pieces that change with the position; the energies and the reactions
// in a position, and the forces in its springs. A Joined and its Response serve one goroutine; connections and targets
// may be shared. A position in which the springs leave something loose gives numbers without meaning: one position
// solved whole tells.
package coupling
