package coupling_test

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame"
	"tiploop/frame/coupling"
)

// A carriage on a spring runs along a bar on two supports. It sinks under 100 N by F/k in the spring and by
// F·a²·b²/(3·E·I·L) in the bar under it (Young & Budynas, Roark's Formulas for Stress and Strain, 7th ed., table 8.1,
// case 1e; from memory).
func Example() {
	const (
		force     = 100.0 // N
		length    = 1000.0
		stretches = 4
		spring    = 5000.0 // N/mm
	)
	section := round(20)

	// The bar, and the carriage, which nothing holds yet.
	var f frame.Frame
	nodes := []int{f.AddNode(r3.Vec{})}
	for i := range stretches {
		nodes = append(nodes, f.AddNode(r3.Vec{X: length / stretches * float64(i+1)}))
		f.AddMember(frame.Member{Ends: [2]int{nodes[i], nodes[i+1]}, Up: axisZ, Section: section, Made: aluminium})
	}
	for _, freedom := range []int{0, 1, 2, 3} {
		f.Hold(nodes[0], freedom, "left support")
	}
	for _, freedom := range []int{1, 2} {
		f.Hold(nodes[stretches], freedom, "right support")
	}
	carriage := f.AddNode(r3.Vec{})

	// The springs that hold the carriage where it stands on the bar.
	at := func(node int) (springs []frame.Spring) {
		for _, d := range world {
			move := frame.Move(carriage, r3.Vec{}, d).Plus(-1, frame.Move(node, r3.Vec{}, d))
			turn := frame.Turn(carriage, d).Plus(-1, frame.Turn(node, d))
			springs = append(springs, frame.Spring{Form: move, Stiffness: spring}, frame.Spring{Form: turn, Stiffness: 1e8})
		}
		return springs
	}
	tip := []frame.Form{frame.Move(carriage, r3.Vec{}, r3.Vec{Z: -1})}
	watched := append([]frame.Form{}, tip...)
	for _, node := range nodes[1:stretches] {
		for _, s := range at(node) {
			watched = append(watched, s.Form)
		}
	}

	pieces, err := coupling.Detach(&f)
	if err != nil {
		fmt.Println(err)
		return
	}
	pieces.Watch(watched...)
	probe := pieces.Probe(tip)
	ground := probe.Target([]frame.Form{nil}) // it does not move
	var response coupling.Response
	for _, node := range nodes[1:stretches] {
		probe.Join(probe.Connect(at(node))).At(nil, ground, &response)
		a := f.Node(node).X
		b := length - a
		closed := force/spring + force*a*a*b*b/(3*aluminium.E*section.Iy*length)
		fmt.Printf("at %.0f mm: %.4f mm, closed form %.4f mm\n", a, force*response.Compliance[0][0], closed)
	}
	// Output:
	// at 250 mm: 2.1515 mm, closed form 2.1515 mm
	// at 500 mm: 3.8094 mm, closed form 3.8094 mm
	// at 750 mm: 2.1515 mm, closed form 2.1515 mm
}
