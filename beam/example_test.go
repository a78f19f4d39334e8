package beam_test

import (
	"fmt"

	"tiploop/beam"
)

// A 300 mm arm of 40 × 20 flat aluminium, clamped at one end, 100 N down at the other.
func Example() {
	alu, _ := beam.LookupMaterial("aluminium-6082")
	section, err := beam.Rect{Width: 40, Height: 20}.Section(alu.Nu)
	if err != nil {
		fmt.Println(err)
		return
	}
	ei, ga := alu.E*section.Iy, alu.G()*section.Az
	tip, shear := beam.StubbyCantilever(100, 300, ei, ga)
	fmt.Printf("moves %.3f mm, %.1f %% of it by shear\n", tip, 100*shear)
	// Output:
	// moves 0.484 mm, 0.3 % of it by shear
}

// Internal forces and sag of a beam on two supports under its own even load.
func ExampleMember_Inside() {
	steel, _ := beam.LookupMaterial("steel")
	section, err := beam.Tube{Width: 40, Height: 40, Wall: 2}.Section(steel.Nu)
	if err != nil {
		fmt.Println(err)
		return
	}
	m := beam.Member{Section: section, Material: steel, Length: 1000}
	weight := -9810 * m.MassPerLength() // N/mm
	load := beam.LineLoad{From: 0, To: 1000, QFrom: [3]float64{2: weight}, QTo: [3]float64{2: weight}}

	// Ends held against moving and turning.
	forces, move := m.Inside(500, [12]float64{}, beam.SpanLoads{Lines: []beam.LineLoad{load}})
	fmt.Printf("moment %.0f N·mm, sag %.4f mm\n", forces[4], move[2])
	// Output:
	// moment -975 N·mm, sag -0.0043 mm
}
