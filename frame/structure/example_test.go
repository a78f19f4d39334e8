package structure_test

import (
	"context"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame/answer"
	"tiploop/frame/drive"
	"tiploop/frame/guide"
	"tiploop/frame/machine"
	"tiploop/frame/structure"
)

// steel is what the examples are built of.
func steel() beam.Material {
	m, _ := beam.LookupMaterial("steel")
	return m
}

// cantilever is a square bar of steel, 30 mm wide, that sticks out of the ground along x beside a block that the work
// is on.
func cantilever(length float64) *machine.Machine {
	return &machine.Machine{
		Name: "cantilever",
		Parts: []machine.Part{
			{
				Name:     "arm",
				Material: steel(),
				Bar:      &machine.Bar{To: r3.Vec{X: length}, Shape: beam.Rect{Width: 30, Height: 30}},
			},
			{
				Name:     "block",
				Material: steel(),
				Plate:    &machine.Plate{From: r3.Vec{X: 0, Y: -50, Z: -100}, To: r3.Vec{X: 500, Y: 50, Z: -50}},
			},
		},
		Grounds: []machine.Ground{
			{Part: 0, At: &r3.Vec{}, Hold: [6]bool{true, true, true, true, true, true}},
			{Part: 1, Face: machine.Bottom, Fixed: true},
		},
		Tool:  &machine.Tool{Part: 0, At: r3.Vec{X: length}},
		Work:  &machine.Work{Part: 1},
		Loads: []machine.Load{{Name: "down", Actions: []machine.Action{{Kind: machine.OnTip, Force: r3.Vec{Z: -100}}}}},
	}
}

// sinks is how far the end of the cantilever sinks under a force, mm: F·L³/(3·E·I) by bending and F·L/(G·As) by
// shear (Timoshenko). The block adds what its own metal gives, a thousandth of that.
func sinks(force, length float64) float64 {
	section, _ := beam.Rect{Width: 30, Height: 30}.Section(steel().Nu)
	return force*math.Pow(length, 3)/(3*steel().E*section.Iy) + force*length/(steel().G()*section.Az)
}

func Example() {
	m := cantilever(300)
	r, err := new(structure.Builder).Answer(context.Background(), m, structure.TipOnly)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("compliance down %.3f µm/N, closed form %.3f µm/N\n", r.Tip.ComplianceUmPerN[2][2], 1000*sinks(1, 300))
	fmt.Printf(
		"%s: the tip moves %.1f µm, closed form %.1f µm\n",
		r.Loads[0].Name,
		r.Loads[0].TipUm[2],
		-1000*sinks(100, 300),
	)
	for _, s := range r.Shares {
		if s.Percent > 1 {
			fmt.Printf("%.1f %% of it is the give of %s\n", s.Percent, s.Source)
		}
	}
	// Output:
	// compliance down 0.649 µm/N, closed form 0.649 µm/N
	// down: the tip moves -64.9 µm, closed form -64.9 µm
	// 100.0 % of it is the give of part arm
}

// A machine that no one can build is told in the builder's words.
func ExampleBuilder_Build() {
	m := cantilever(300)
	m.Joints = []machine.Joint{{Parts: [2]int{0, 7}, Bonded: true}}
	m.Work = nil
	_, err := new(structure.Builder).Build(context.Background(), m)
	fmt.Println(err)
	// Output:
	// joint 0: there is no part 7; the machine has 2
	// 	they are counted from 0: 0 to 1
	// there is a tool, but no work
	// 	set Work: it says which part the work is clamped to
}

// One value over a range: a machine is drawn anew at each of its numbers.
func ExampleBuilder_Sweep() {
	values := []answer.SweptValue{{Name: "length", Unit: "mm", Drawn: 300, At: []float64{200, 250, 300, 350, 400}}}
	draw := func(at []float64) (*machine.Machine, error) { return cantilever(at[0]), nil }
	s, err := new(structure.Builder).Sweep(context.Background(), values, draw, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range s.Places {
		fmt.Printf("%g mm: %.2f N/µm up and down, closed form %.2f N/µm\n",
			p.At[0], p.Tip.StiffnessNPerUm.Z, 1/(1000*sinks(1, p.At[0])))
	}
	// Output:
	// 200 mm: 5.15 N/µm up and down, closed form 5.15 N/µm
	// 250 mm: 2.65 N/µm up and down, closed form 2.65 N/µm
	// 300 mm: 1.54 N/µm up and down, closed form 1.54 N/µm
	// 350 mm: 0.97 N/µm up and down, closed form 0.97 N/µm
	// 400 mm: 0.65 N/µm up and down, closed form 0.65 N/µm
}

// An axis that runs: along a screw held at one end the tip gets softer by Δx/(E·A) for every bit of screw between nut
// and bearing.
func ExampleModel_Solve() {
	carriage, _ := guide.LookupCarriage("profile-15")
	ball, _ := drive.LookupBallScrew("1605")
	rail := func(y float64) machine.Guide {
		return machine.Guide{On: 0, Part: 1, Rail: &carriage, Preload: guide.Light,
			From: r3.Vec{X: -300, Y: y}, To: r3.Vec{X: 300, Y: y}, Carriages: []float64{-60, 60}}
	}
	m := &machine.Machine{
		Name: "sledge",
		Parts: []machine.Part{
			{
				Name:     "base",
				Material: steel(),
				Plate:    &machine.Plate{From: r3.Vec{X: -300, Y: -150, Z: -60}, To: r3.Vec{X: 300, Y: 150, Z: 0}},
			},
			{
				Name:     "table",
				Material: steel(),
				Plate:    &machine.Plate{From: r3.Vec{X: -100, Y: -120, Z: 28}, To: r3.Vec{X: 100, Y: 120, Z: 68}},
			},
			{
				Name:     "post",
				Material: steel(),
				Plate:    &machine.Plate{From: r3.Vec{X: -60, Y: 150, Z: -60}, To: r3.Vec{X: 60, Y: 210, Z: 200}},
			},
		},
		Grounds: []machine.Ground{
			{Part: 0, Face: machine.Bottom, Fixed: true},
			{Part: 2, Face: machine.Bottom, Fixed: true},
		},
		Axes: []machine.FeedAxis{{
			Name: "x", Along: machine.X, Carries: []int{1}, Travel: [2]float64{-100, 100},
			Guides: []machine.Guide{rail(-100), rail(100)},
			Drives: []machine.Drive{{
				Kind: machine.ByScrew, Part: 1, On: 0, From: r3.Vec{X: -300}, To: r3.Vec{X: 300}, Ball: &ball,
				Screw: drive.ScrewDrive{Nut: 200e3, NearBearing: 100e3, Twisting: drive.TwistLeftOut},
			}},
		}},
		Tool:   &machine.Tool{Part: 2, At: r3.Vec{Y: 150, Z: 100}},
		Work:   &machine.Work{Part: 1, At: &r3.Vec{Z: 68}},
		Loads:  []machine.Load{{Name: "side", Actions: []machine.Action{{Kind: machine.OnTip, Force: r3.Vec{X: 100}}}}},
		Travel: []machine.Path{{Name: "run", Axes: []int{0}}},
	}
	model, err := (&structure.Builder{Detail: structure.Section}).Build(context.Background(), m)
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := model.Solve(structure.FullTravel)
	if err != nil {
		fmt.Println(err)
		return
	}
	run := r.Travel[0]
	first, last := 0, len(run.AtMM)-1
	area := math.Pi / 4 * ball.Root.Typical * ball.Root.Typical
	fmt.Printf("%s under %s: %.2f µm at %g mm, %.2f µm at %g mm\n",
		run.Path, run.Load, run.TipUm[first][0], run.AtMM[first], run.TipUm[last][0], run.AtMM[last])
	fmt.Printf("%.3f µm more, closed form %.3f µm\n", run.TipUm[last][0]-run.TipUm[first][0],
		1000*100*(run.AtMM[last]-run.AtMM[first])/(machine.ScrewE*area))
	// Output:
	// run under side: 5.40 µm at -100 mm, 6.11 µm at 100 mm
	// 0.709 µm more, closed form 0.709 µm
}
