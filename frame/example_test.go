package frame_test

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame"
)

// A bracket in one plane: a post of 300 mm, clamped at its foot, and an arm of 200 mm square to its head. A force on
// the end of the arm bends the arm by F·b³/3EI; its moment F·b bends the post, whose head turns by F·b·a/EI and takes
// the arm with it. Both lengthen by a trifle, F·a/EA (Gere & Timoshenko, Mechanics of Materials, superposition; from
// memory).
func Example() {
	const post, arm, force = 300.0, 200.0, 100.0
	steel := beam.Material{E: 210e3, Nu: 0.3}
	section := beam.Section{A: 400, Iy: 13333, Iz: 13333, J: 22500} // 20 × 20; no shear areas: no shear deflection

	var f frame.Frame
	foot := f.AddNode(r3.Vec{})
	head := f.AddNode(r3.Vec{Z: post})
	end := f.AddNode(r3.Vec{X: arm, Z: post})
	f.AddMember(frame.Member{Ends: [2]int{foot, head}, Up: r3.Vec{Y: 1}, Section: section, Made: steel, Source: "post"})
	f.AddMember(frame.Member{Ends: [2]int{head, end}, Up: r3.Vec{Y: 1}, Section: section, Made: steel, Source: "arm"})
	for freedom := range frame.NodeFreedoms {
		f.Hold(foot, freedom, "foot")
	}

	system, err := f.Factor()
	if err != nil {
		fmt.Println(err)
		return
	}
	down := frame.Move(end, r3.Vec{}, r3.Vec{Z: -1})
	solution, err := system.Solve(frame.Load{Pushes: []frame.Push{{Form: down, Force: force}}})
	if err != nil {
		fmt.Println(err)
		return
	}
	ei := steel.E * section.Iy
	closed := force*arm*arm*arm/(3*ei) + force*arm*arm*post/ei + force*post/(steel.E*section.A)
	fmt.Printf("end sinks %.4f mm, closed form %.4f mm\n", solution.Value(down), closed)
	for _, part := range solution.Energy() {
		fmt.Printf("%s: %.0f %% of the strain energy\n", part.Source, 100*part.Energy/solution.Work())
	}
	// Output:
	// end sinks 0.5242 mm, closed form 0.5242 mm
	// post: 82 % of the strain energy
	// arm: 18 % of the strain energy
}
