package beam_test

import (
	"fmt"

	"gonum.org/v1/gonum/mat"

	"tiploop/beam"
)

// A 300 mm arm of 40 × 20 flat aluminium, clamped at one end, 100 N down at the other, solved from its
// matrix and by the closed form F·L³/3EI + F·L/GA (Timoshenko, Strength of Materials; from memory).
func Example() {
	alu, _ := beam.LookupMaterial("aluminium-6082")
	section, err := beam.Rect{Width: 40, Height: 20}.Section(alu.Nu)
	if err != nil {
		fmt.Println(err)
		return
	}
	const length, force = 300, 100
	stiffness := beam.Member{Section: section, Material: alu, Length: length}.Stiffness()
	free := mat.NewDense(6, 6, nil) // the freedoms of end 2, end 1 held
	for i := range 6 {
		for j := range 6 {
			free.Set(i, j, stiffness[6+i][6+j])
		}
	}
	var moved mat.VecDense
	if err := moved.SolveVec(free, mat.NewVecDense(6, []float64{2: -force, 5: 0})); err != nil {
		fmt.Println(err)
		return
	}
	bending := force * length * length * length / (3 * alu.E * section.Iy)
	shear := force * length / (alu.G() * section.Az)
	fmt.Printf("solved %.5f mm, closed form %.5f mm, %.1f %% of it by shear\n",
		-moved.AtVec(2), bending+shear, 100*shear/(bending+shear))
	// Output:
	// solved 0.48382 mm, closed form 0.48382 mm, 0.3 % of it by shear
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
