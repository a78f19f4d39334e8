package machine_test

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
	"tiploop/frame/structure"
)

// A machine in Go, without a file: a spindle bar on a screwed column, over a bed.
func Example() {
	steel, _ := beam.LookupMaterial("steel")
	m6, _ := joint.LookupScrew("M6")
	m := &machine.Machine{
		Name: "small mill",
		Parts: []machine.Part{
			{
				Name:     "bed",
				Material: steel,
				Plate:    &machine.Plate{From: r3.Vec{X: -100, Y: -100}, To: r3.Vec{X: 100, Y: 140, Z: 30}},
			},
			{
				Name:     "column",
				Material: steel,
				Plate:    &machine.Plate{From: r3.Vec{X: -50, Y: 100, Z: 30}, To: r3.Vec{X: 50, Y: 140, Z: 300}},
			},
			{Name: "spindle", Material: steel, Bar: &machine.Bar{
				From: r3.Vec{Y: 140, Z: 250}, To: r3.Vec{Z: 250}, Shape: beam.Round{Diameter: 60},
			}},
		},
		Joints: []machine.Joint{
			{
				Parts:  [2]int{0, 1},
				Screws: &machine.Screws{Size: m6, Grid: [2]int{4, 2}},
			}, // of an as-rolled face, the column drilled
			{Parts: [2]int{1, 2}, Bonded: true},
		},
		Grounds: []machine.Ground{
			{
				Part:   0,
				Face:   machine.Bottom,
				Feet:   [][2]float64{{-90, -90}, {90, -90}, {-90, 130}, {90, 130}},
				Normal: 40e3,
			},
		},
		Tool:  &machine.Tool{Part: 2, At: r3.Vec{Z: 220}},
		Work:  &machine.Work{Part: 0},
		Loads: []machine.Load{{Name: "side", Actions: []machine.Action{{Kind: machine.OnTip, Force: r3.Vec{X: 20}}}}},
	}
	model, err := structure.Build(m)
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := model.Solve(structure.TipOnly)
	if err != nil {
		fmt.Println(err)
		return
	}
	c := r.Tip.ComplianceUmPerN
	fmt.Printf("under 20 N the tip moves %.3f µm along x\n", r.Loads[0].TipUm[0])
	fmt.Printf("20 N times its compliance is %.3f µm\n", 20*c[0][0])
	fmt.Printf("mass %.2f kg, by hand %.2f kg\n", r.MassKg, 7.85e-6*(200*240*30+100*40*270+math.Pi/4*60*60*140))
	// Output:
	// under 20 N the tip moves 1.772 µm along x
	// 20 N times its compliance is 1.772 µm
	// mass 22.89 kg, by hand 22.89 kg
}

// What is wrong is said of each thing by its number in its list, or its name, with what to do.
func ExampleMachine_Check() {
	m := &machine.Machine{
		Parts:   []machine.Part{{Name: "bed", Plate: &machine.Plate{To: r3.Vec{X: 100, Y: 100}}}},
		Grounds: []machine.Ground{{Part: 3, Fixed: true}},
	}
	fmt.Println(m.Check())
	// Output:
	// part "bed": material "": E is 0, must be positive
	// part "bed" has no thickness along z: from 0 to 0 mm
	// 	From is below To in every axis
	// ground 0: there is no part 3; the machine has 1
	// 	they are counted from 0: the only one is 0
}
