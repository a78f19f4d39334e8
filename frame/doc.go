// Package frame assembles straight members, springs and blocks into one linear structure and solves it.
//
// # Units and signs
//
// Lengths are mm, forces N, moments N·mm, stiffnesses N/mm and N·mm/rad, masses tonne, accelerations mm/s²,
// temperatures K: a consistent set, in which stresses are MPa. Axes are right-handed; a rotation or a moment is
// positive when it turns a right-handed screw along its axis. Every node has six freedoms in the world's axes: three
// translations, then three rotations. Displacements are small, so that rotations add like vectors.
//
// # Forms
//
// Everything that holds, pushes or measures is a linear form in the freedoms (type Form): the movement of a spot 40 mm
// off a node along some direction is one, the opening of a joint there is the difference of two. A spring is a form
// and a stiffness, a constraint a form and a value, a load a form and a force, a reading a form alone. Skew directions,
// rigid offsets and hinges need nothing more.
//
// # Solving
//
// Constraints are eliminated exactly (u = T·q + V·v, v the prescribed values), never by a penalty. The reduced matrix
// Tᵀ·K·T is factored once; every load case is a solve, followed by one step of iterative refinement. The work of a
// constraint's force on its own prescribed movement gives that force: r = Vᵀ·(K·u − f).
//
// # Calls
//
//	var f frame.Frame
//	foot, tip := f.AddNode(r3.Vec{}), f.AddNode(r3.Vec{Z: 300})
//	f.AddMember(frame.Member{Ends: [2]int{foot, tip}, Up: r3.Vec{Y: 1}, Section: section, Made: steel})
//	f.Hold(foot, 0, "foot")              // and the other five freedoms
//	system, err := f.Factor()            // a *LooseError says what can move freely
//	aside := frame.Move(tip, r3.Vec{}, r3.Vec{X: 1})
//	solution, err := system.Solve(frame.Load{Pushes: []frame.Push{{Form: aside, Force: 100}}})
//	mm := solution.Value(aside)
//
// A frame is not changed by Factor, and one System serves any number of loads. Hold is offered to users of the library:
// the tool builds its own constraints.
//
// # Beside it
//
// Where something runs along an axis only a few springs change place: package frame/coupling cuts a frame there.
//
// What the package leaves out: large displacements, buckling, plasticity, contact that opens.
package frame
