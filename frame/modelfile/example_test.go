package modelfile_test

import (
	"fmt"

	"tiploop/frame/modelfile"
)

// A file of options: each gives a machine of its own.
func ExampleRead() {
	doc, err := modelfile.Read("../../examples/tube-frame.yaml")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(doc.Name())
	for _, option := range append(doc.OptionNames(), "") {
		m, err := doc.Machine(option)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%q: %d parts, %d joints\n", m.Option, len(m.Parts), len(m.Joints))
	}
	// Output:
	// Dial-engraving gantry
	// "as first drawn": 9 parts, 11 joints
	// "thicker tube": 9 parts, 11 joints
	// "two thin braces": 11 parts, 15 joints
	// "deeper posts, braced": 11 parts, 15 joints
	// "": 9 parts, 11 joints
}

// What is wrong is told with its place, all of it at once. One inch is 25.4 mm, exactly.
func ExampleParse() {
	text := `machine: post
values: {height: 10 in}
parts:
  post: {bar: {from: [0, 0, 0], to: [0, 0, height]}, section: {round: 20}, material: steel}
grounds: [{part: post, hold: [x, y, z, rx, ry, rz], at: [0, 0, 0]}]
`
	doc, err := modelfile.Parse("post.yaml", []byte(text))
	if err != nil {
		fmt.Println(err)
		return
	}
	m, err := doc.Machine("")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s is %g mm long\n", m.Parts[0].Name, m.Parts[0].Bar.To.Z)
	doc, err = modelfile.Parse("post.yaml", []byte(text+"loads: {push: {at: top, force: [1 mm, 0, 0]}}\n"))
	if err == nil { // the form is right; what it says is for Machine to check
		_, err = doc.Machine("")
	}
	fmt.Println(err)
	// Output:
	// post is 254 mm long
	// post.yaml:6:20: point "top" is not known
	// 	the model names none
	// post.yaml:6:33: a length (1 mm) where a force belongs
}

// A value over a range: the machines that it draws.
func ExampleDocument_MachineAt() {
	doc, err := modelfile.Read("../../examples/gussets.yaml")
	if err != nil {
		fmt.Println(err)
		return
	}
	leg, err := doc.Range("", "leg=60..130")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, at := range leg.Places(3) {
		m, err := doc.MachineAt("", []*modelfile.Range{leg}, []float64{at})
		if err != nil {
			fmt.Println(err)
			return
		}
		for _, p := range m.Parts {
			if p.Gusset != nil {
				fmt.Printf("leg %g %s: %s %g mm high\n", at, leg.Unit, p.Name, p.Gusset.Legs[1].Z)
				break
			}
		}
	}
	// Output:
	// leg 60 mm: gusset_left 60 mm high
	// leg 95 mm: gusset_left 95 mm high
	// leg 130 mm: gusset_left 130 mm high
}
