package sample

import (
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame/answer"
	"tiploop/frame/machine"
)

// LongName has sixty letters.
const LongName = "long bed of forty millimetre plate held in the middle only a"

// v is a place or direction, mm.
func v(x, y, z float64) r3.Vec { return r3.Vec{X: x, Y: y, Z: z} }

// Mill is a mill of plates: base, two ribs, bed, upright, head, two braces, clamp, spindle.
func Mill() (*machine.Machine, answer.Inventory) {
	m := &machine.Machine{Name: "Clock-plate mill", Option: "short bed held all along"}
	inv := answer.Inventory{
		Tiploop: 1, Machine: m.Name, About: "Small mill for brass clock plates; 40 mm plate, M6 screws.",
		Option: m.Option,
		MassKg: 51.234, CentreMM: [3]float64{0, 120.456, 74.1}, Holes: answer.Holes{Through: 22, Tapped: 22,
			Operations: 242, Minutes: 330},
		ExtentFromMM: [3]float64{-260, -220, 0}, ExtentToMM: [3]float64{260, 320, 380},
		Notes: []string{"Part upright is stubby: 2.3 times as long as it is wide."},
	}
	plate := func(name string, from, to r3.Vec) {
		m.Parts = append(m.Parts, machine.Part{Name: name, Plate: &machine.Plate{From: from, To: to}})
		d := r3.Sub(to, from)
		inv.Parts = append(inv.Parts, answer.PartLine{Name: name, Kind: "plate", SizeMM: components(d),
			Material: "aluminium-5083", MassKg: d.X * d.Y * d.Z * 2.66e-6})
	}
	gusset := func(name string, x float64) {
		m.Parts = append(m.Parts, machine.Part{Name: name, Gusset: &machine.Gusset{
			Corner: v(x, 280, 40), Legs: [2]r3.Vec{v(0, -90, 0), v(0, 0, 90)}, Thickness: v(20, 0, 0)}})
		inv.Parts = append(inv.Parts, answer.PartLine{Name: name, Kind: "gusset", SizeMM: [3]float64{20, 90, 90},
			Material: "aluminium-5083", MassKg: 0.215})
	}
	plate("base", v(-260, -220, 0), v(260, 320, 40))
	plate("rib_left", v(-90, -140, 40), v(-60, 140, 70))
	plate("rib_right", v(60, -140, 40), v(90, 140, 70))
	plate("bed", v(-120, -140, 70), v(120, 140, 90))
	plate("upright", v(-75, 280, 40), v(75, 320, 380))
	plate("head", v(-60, 20, 300), v(60, 280, 340))
	gusset("brace_left", -75)
	gusset("brace_right", 55)
	plate("clamp", v(-40, -40, 300), v(40, 20, 340))
	m.Parts = append(m.Parts, machine.Part{Name: "spindle", Material: beam.Material{Nu: 0.3},
		Bar: &machine.Bar{From: v(0, -10, 360), To: v(0, -10, 130), Shape: beam.Round{Diameter: 65}, Up: v(0, 1, 0)}})
	inv.Parts = append(inv.Parts, answer.PartLine{Name: "spindle", Kind: "bar", SizeMM: [3]float64{65, 65, 230},
		Section: "round 65", Material: "steel", MassKg: 5.98})

	inv.Joints = millJoints()
	drillMill(&inv)
	inv.Grounds = []answer.GroundLine{{Kind: "feet", Part: "base", FromMM: [3]float64{-260, -220, 0},
		ToMM: [3]float64{260, 320, 0}, PlacesMM: [][3]float64{{-240, -200, 0}, {240, -200, 0}, {-240, 300, 0},
			{240, 300, 0}}}}
	m.Tool = &machine.Tool{Part: 9, At: v(0, -10, 95), Stickout: 35, Diameter: 6}
	m.Work = &machine.Work{Part: 3}
	return m, inv
}

// drillMill adds a hole of each kind, what is not known, and a cut list of three stocks.
func drillMill(inv *answer.Inventory) {
	inv.HoleList = []answer.HoleLine{
		{Part: "base", Number: 1, Face: "top", OutOn: "bottom", XMM: 200, YMM: 520, EdgeMM: 20, AtMM: [3]float64{-60, 300, 40},
			Kind: "through", Screw: "M6", DrillMM: 6.6, DepthMM: 40, For: "joint base/upright", Source: "ISO 273"},
		{Part: "bed", Number: 1, Face: "bottom", OutOn: "top", XMM: 45, YMM: 12, EdgeMM: 12, AtMM: [3]float64{-75, -128, 70},
			Kind: "counterbored through", Screw: "M6", DrillMM: 6.6, DepthMM: 20, SinkMM: 11, SinkDepthMM: 6,
			For: "joint rib_left/bed", Source: "ISO 273"},
		{Part: "upright", Number: 1, Face: "bottom", XMM: 15, YMM: 20, EdgeMM: 15, AtMM: [3]float64{-60, 300, 40},
			Kind: "tapped", Screw: "M6", DrillMM: 5, DepthMM: 17.1, ThreadMM: 12, For: "joint base/upright", Source: "ISO 2306"},
		{Part: "upright", Number: 2, Face: "front", XMM: 15, YMM: 66.666, EdgeMM: 15, AtMM: [3]float64{-60, 280, 106.666},
			Kind: "tapped", Screw: "M4", DrillMM: 3.3, DepthMM: 11.8, ThreadMM: 8, For: "rail 1 of axis z", Typical: true,
			Source: "ISO 2306"},
	}
	inv.HolesOpen = []answer.OpenHoles{{What: "feet", For: "feet 1", Part: "base",
		PlacesMM: [][3]float64{{-240, -200, 0}, {240, -200, 0}}, Why: "2 feet: their thread is that of the feet in hand"}}
	inv.CutList = []answer.CutLine{
		{Kind: "plate", Material: "aluminium-5083", SizeMM: [3]float64{540, 520, 40}, Parts: []string{"base"}, MassKg: 29.88},
		{Kind: "bar", Section: "round 65", Material: "steel", SizeMM: [3]float64{230}, Parts: []string{"spindle"}, MassKg: 5.98},
		{Kind: "gusset", Material: "aluminium-5083", SizeMM: [3]float64{90, 90, 20},
			Parts: []string{"brace_left", "brace_right"}, MassKg: 0.215},
	}
	inv.BarStock = []answer.BarStock{{Section: "round 65", Material: "steel", Pieces: 1, LengthMM: 230, MassKg: 5.98}}
}

func millJoints() (list []answer.JointLine) {
	screwed := func(name string, from, to [3]float64, through, tapped string, places ...[3]float64) {
		head := "proud"
		if through == "bed" {
			head = "sunk"
		}
		list = append(list, answer.JointLine{Name: name, Kind: "screwed", FromMM: from, ToMM: to,
			Screw: "M6", Class: "8.8", Head: head, HoleMM: 6.6, ShiftMM: 0.3, ThroughIn: through, TappedIn: tapped,
			Surface: "milled", PlacesMM: places, PreloadN: 9040, LeastPreloadN: 4100,
			ZoneMM2: 620, PressMPa: 14.6, NormalNPerUm: 1450, TangentNPerUm: 820})
	}
	for _, x := range []float64{-90, 60} {
		name := "rib_left"
		if x > 0 {
			name = "rib_right"
		}
		for _, z := range []float64{40, 70} {
			var places [][3]float64
			for _, y := range []float64{-128, -43, 43, 128} {
				places = append(places, [3]float64{x + 15, y, z})
			}
			joint, through := "base/"+name, "base"
			if z == 70 {
				joint, through = name+"/bed", "bed"
			}
			screwed(joint, [3]float64{x, -140, z}, [3]float64{x + 30, 140, z}, through, name, places...)
		}
	}
	screwed("base/upright", [3]float64{-75, 280, 40}, [3]float64{75, 320, 40}, "base", "upright",
		[3]float64{-60, 300, 40}, [3]float64{-20, 300, 40}, [3]float64{20, 300, 40}, [3]float64{60, 300, 40})
	screwed("upright/head", [3]float64{-60, 280, 300}, [3]float64{60, 280, 340}, "upright", "head",
		[3]float64{-45, 280, 320}, [3]float64{0, 280, 320}, [3]float64{45, 280, 320})
	list[len(list)-1].Shim = "0.1 mm paper"
	screwed("head/clamp", [3]float64{-40, 20, 300}, [3]float64{40, 20, 340}, "clamp", "head", [3]float64{-28, 20, 310},
		[3]float64{28, 20, 310}, [3]float64{-28, 20, 330}, [3]float64{28, 20, 330})
	list = append(list, answer.JointLine{Name: "clamp/spindle", Kind: "bonded",
		FromMM: [3]float64{0, -10, 300}, ToMM: [3]float64{0, -10, 340}})
	return list
}

// Portal is a flat frame of two posts and a rafter, with names of sixty letters and a skew bar.
func Portal() (*machine.Machine, answer.Inventory) {
	m := &machine.Machine{Name: "Portal"}
	inv := answer.Inventory{Machine: m.Name}
	bar := func(name string, from, to, up r3.Vec) {
		m.Parts = append(m.Parts, machine.Part{Name: name, Material: beam.Material{Nu: 0.3},
			Bar: &machine.Bar{From: from, To: to, Shape: beam.Rect{Width: 60, Height: 120}, Up: up}})
	}
	bar("left post", v(0, 0, 0), v(0, 0, 3000), v(1, 0, 0))
	bar("right post", v(5000, 0, 0), v(5000, 0, 3000), v(1, 0, 0))
	bar(LongName, v(0, 0, 3000), v(2500, 0, 4000), r3.Unit(v(-1000, 0, 2500)))
	bar(LongName+" again", v(2500, 0, 4000), v(5000, 0, 3000), r3.Unit(v(1000, 0, 2500)))
	for _, p := range [][3]float64{{0, 0, 3000}, {2500, 0, 4000}, {5000, 0, 3000}} {
		inv.Joints = append(inv.Joints, answer.JointLine{Name: "j", Kind: "sprung", FromMM: p, ToMM: p})
	}
	for _, p := range [][3]float64{{0, 0, 0}, {5000, 0, 0}} {
		inv.Grounds = append(inv.Grounds, answer.GroundLine{Kind: "hold", Part: "left post", FromMM: p, ToMM: p})
	}
	return m, inv
}

// Axes is the mill with three axes of all kinds of guides and drives: a screw along y, a belt along x, a rack along z.
func Axes() (*machine.Machine, answer.Inventory) {
	m, inv := Mill()
	one := func(v float64) *float64 { return &v }
	box := func(x0, y0, z0, x1, y1, z1 float64) *answer.Block {
		return &answer.Block{FromMM: [3]float64{x0, y0, z0}, ToMM: [3]float64{x1, y1, z1}}
	}
	inv.AxesKg = 0.96
	inv.HungKg = 0.482 + 0.18 + 4
	inv.MassKg += inv.HungKg
	inv.Hung = []answer.HungLine{
		{Name: "screw of y", Part: "base", MassKg: 0.482, AtMM: [3]float64{0, 5, 55}, From: "steel as thick as its root"},
		{Name: "nut of y", Part: "bed", MassKg: 0.18, AtMM: [3]float64{0, 10, 55}, From: "a sleeve usual for its screw"},
		{Name: "vise", Part: "bed", MassKg: 4, AtMM: [3]float64{0, 20, 130}, From: "the model"},
	}
	inv.Axes = []answer.AxisLine{
		{Name: "y", Along: "y", TravelMM: [2]float64{-50, 50}, AtMM: 10, Moves: []string{"bed"},
			Guides: []answer.GuideLine{{Name: "rail 1", Kind: "profile-15, light", On: "base", Part: "bed",
				PlacesMM:    [][3]float64{{-75, -60, 48}, {-75, 60, 48}},
				PressNPerUm: &[3]float64{80, 170, 280}, MountedNPerUm: one(122), Rail: box(-82, -200, 40, -67, 200, 55),
				RailKg: one(0.56), CarriageKg: one(0.2), Blocks: []answer.Block{*box(-92, -90, 44, -58, -30, 70),
					*box(-92, 30, 44, -58, 90, 70)}}},
			Drives: []answer.DriveLine{{Kind: "screw 1605", Part: "bed", On: "base", StiffNPerUm: 33,
				EndsNPerUm: [2]float64{30, 36}, WhirlRPM: one(4000), BucklingN: one(9000),
				FromMM: [3]float64{0, -220, 55}, ToMM: [3]float64{0, 230, 55}, PushMM: [3]float64{0, 10, 55},
				FarHeld: true, Shaft: box(-8, -220, 47, 8, 230, 63), ScrewKg: one(0.482)}}},
		{Name: "x", Along: "x", TravelMM: [2]float64{-40, 40}, AtMM: 0, Moves: []string{"clamp"},
			Guides: []answer.GuideLine{{Name: "rail 1", Kind: "own numbers", On: "head", Part: "clamp",
				PlacesMM:    [][3]float64{{0, 20, 345}},
				PressNPerUm: &[3]float64{90, 90, 90}, MountedNPerUm: one(80), Rail: box(-60, 20, 345, 60, 20, 345),
				Blocks: []answer.Block{*box(0, 20, 345, 0, 20, 350)}}},
			Drives: []answer.DriveLine{{Kind: "belt", Part: "clamp", On: "head", StiffNPerUm: 4,
				EndsNPerUm: [2]float64{3, 5}, BeltMM: 15, FarHeld: true, FromMM: [3]float64{-55, 30, 360},
				ToMM: [3]float64{55, 30, 360}, PushMM: [3]float64{0, 30, 360}}}},
		{Name: "z", Along: "z", TravelMM: [2]float64{0, 25}, AtMM: 0, Moves: []string{"head"},
			Guides: []answer.GuideLine{{Name: "slide 1", Kind: "slide", On: "upright", Part: "head",
				Face: box(-60, 280, 300, 60, 280, 340)}},
			Drives: []answer.DriveLine{{Kind: "rack", Part: "head", On: "upright", StiffNPerUm: 20,
				EndsNPerUm: [2]float64{20, 20}, FromMM: [3]float64{40, 280, 320}, ToMM: [3]float64{40, 280, 320},
				PushMM: [3]float64{40, 280, 320}}}},
	}
	return m, inv
}

// components gives the components of a vector by axis.
func components(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }
