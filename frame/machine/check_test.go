package machine_test

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame/constant"
	"tiploop/frame/cutting"
	"tiploop/frame/drive"
	"tiploop/frame/guide"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
)

// whole is a machine in Go that has one of most things, and everything right.
func whole(t *testing.T) *machine.Machine {
	t.Helper()
	steel, ok := beam.LookupMaterial("steel")
	require.True(t, ok)
	m6, ok := joint.LookupScrew("M6")
	require.True(t, ok)
	rail, ok := guide.LookupCarriage("profile-15")
	require.True(t, ok)
	ball, ok := drive.LookupBallScrew("1605")
	require.True(t, ok)
	work, ok := cutting.LookupMaterial("steel")
	require.True(t, ok)
	return &machine.Machine{
		Parts: []machine.Part{
			{
				Name:     "base",
				Material: steel,
				Plate:    &machine.Plate{From: r3.Vec{X: -200, Y: -200}, To: r3.Vec{X: 200, Y: 200, Z: 40}},
			},
			{
				Name:     "post",
				Material: steel,
				Plate:    &machine.Plate{From: r3.Vec{X: -50, Y: 160, Z: 40}, To: r3.Vec{X: 50, Y: 200, Z: 300}},
			},
			{
				Name:     "quill",
				Material: steel,
				Bar: &machine.Bar{
					From:  r3.Vec{Y: 160, Z: 200},
					To:    r3.Vec{Z: 200},
					Shape: beam.Round{Diameter: 40},
				},
			},
			{
				Name:     "table",
				Material: steel,
				Plate:    &machine.Plate{From: r3.Vec{X: -60, Y: -100, Z: 68}, To: r3.Vec{X: 60, Y: 100, Z: 90}},
			},
			{Name: "brace", Material: steel, Gusset: &machine.Gusset{
				Corner: r3.Vec{X: 50, Y: 160, Z: 40}, Legs: [2]r3.Vec{{X: 60}, {Z: 60}}, Thickness: r3.Vec{Y: 20}}},
		},
		Joints: []machine.Joint{
			{Parts: [2]int{0, 1}, Screws: &machine.Screws{Size: m6, Grid: [2]int{2, 1}}},
			{Parts: [2]int{1, 2}, Bonded: true},
			{Parts: [2]int{0, 4}, Bonded: true},
		},
		Grounds: []machine.Ground{
			{
				Name:   "feet",
				Part:   0,
				Face:   machine.Bottom,
				Feet:   [][2]float64{{-150, -150}, {150, -150}, {0, 150}},
				Normal: 4e4,
			},
			{Part: 2, At: &r3.Vec{Y: 160, Z: 200}, Skew: &machine.Skew{Direction: r3.Vec{X: 1}, Stiffness: 10}},
		},
		Axes: []machine.FeedAxis{{
			Name: "x", Along: machine.X, Carries: []int{3}, Travel: [2]float64{-50, 50},
			Guides: []machine.Guide{
				{
					On:        0,
					Part:      3,
					Rail:      &rail,
					Preload:   guide.Light,
					From:      r3.Vec{X: -200, Z: 40},
					To:        r3.Vec{X: 200, Z: 40},
					Carriages: []float64{-40, 40},
				},
			},
			Drives: []machine.Drive{
				{
					Kind:  machine.ByScrew,
					Part:  3,
					On:    0,
					From:  r3.Vec{X: -200, Z: 40},
					To:    r3.Vec{X: 200, Z: 40},
					Push:  r3.Vec{Z: 40},
					Ball:  &ball,
					Screw: drive.ScrewDrive{Nut: 1e5, NearBearing: 1e5},
				},
			},
		}},
		Positions: []machine.Position{{Name: "left", At: map[string]float64{"x": -50}}},
		Tool:      &machine.Tool{Part: 2, At: r3.Vec{Z: 150}, Stickout: 30, Diameter: 6, Flutes: 2, Material: steel},
		Work:      &machine.Work{Part: 3},
		Points:    []machine.Point{{Name: "nose", Part: 1, At: r3.Vec{Y: 160, Z: 300}}},
		Loads: []machine.Load{
			{Name: "cut", Actions: []machine.Action{{Kind: machine.OnTip, Force: r3.Vec{X: 10}}}},
			{Name: "rest", Actions: []machine.Action{
				{
					Kind:  machine.OnPoint,
					Force: r3.Vec{Z: -1},
				}, {Kind: machine.AlongBar, Bar: 2, Force: r3.Vec{Z: -1}}, {Kind: machine.Weight},
				{
					Kind: machine.Settling,
					By:   [6]float64{2: 0.1},
				}, {Kind: machine.Warming, Rise: 5}, {Kind: machine.Accelerating, Force: r3.Vec{X: 2000}},
			}},
		},
		Cuts: []machine.Cut{{Name: "slot", Material: work, Feed: r3.Vec{X: 1}, Milling: &cutting.Milling{
			Mill: cutting.Mill{
				DiameterMM: 6,
				Flutes:     2,
			}, Mode: cutting.Slot, AxialDepthMM: 1, FeedPerToothMM: 0.02, SpeedRPM: 8000}}},
		Travel: []machine.Path{{Name: "bed", Along: machine.X, From: -40, To: 40}, {Name: "run", Axes: []int{0}}},
	}
}

func TestCheck(t *testing.T) {
	require.NoError(t, whole(t).Check())
	for _, c := range []struct {
		name  string
		spoil func(m *machine.Machine)
		want  string
	}{
		{"misfit of no foot", func(m *machine.Machine) {
			m.Misfits = []machine.Misfit{{Name: "out", At: machine.Mounting{Foot: 3}, From: machine.Offset{High: 0.1}}}
		}, "misfit \"out\": there is no foot 3; the machine has 3\n\tthey are counted from 0: 0 to 2"},
		{"misfit beyond belief", func(m *machine.Machine) {
			m.Misfits = []machine.Misfit{{Name: "out", At: machine.Mounting{Foot: 1}, From: machine.Offset{High: 21}}}
		}, "misfit \"out\" is out of place beyond belief\n\tat most 20 mm, or 0.0873 rad: look for a wrong unit"},
		{"misfit aside of a foot", func(m *machine.Machine) {
			m.Misfits = []machine.Misfit{{Name: "out", At: machine.Mounting{Foot: 1}, From: machine.Offset{Aside: 0.1}}}
		}, "misfit \"out\": only a rail or a carriage is aside or twisted\n\tuse By and Turn"},
		{"misfit of a nut along its screw", func(m *machine.Machine) {
			m.Misfits = []machine.Misfit{{Name: "out", At: machine.Mounting{Kind: machine.AtNut},
				From: machine.Offset{By: r3.Vec{X: 1}}}}
		}, "misfit \"out\": along x a nut has no place to be out of\n\tgive what is across it"},
		{"screws of a rail in each other", func(m *machine.Machine) { m.Axes[0].Guides[0].Rail.Rail.HolePitch = 1e-12 },
			"axis \"x\", guide 0: screws of its rail 1e-12 mm apart run into each other: the head of M4 is 7 mm wide\n\t" +
				"HolePitch is how far apart they stand, mm"},
		{"rail that floats", func(m *machine.Machine) { m.Axes[0].Guides[0].Rail.Rail.KgPerM = -1 },
			"axis \"x\", guide 0: the rail's mass per metre must not be negative: -1"},
		{"rail without a seat", func(m *machine.Machine) { m.Axes[0].Guides[0].Rail.Rail.SeatWidth = 1e-12 },
			"axis \"x\", guide 0: the seat of its rail, 1e-12 mm wide, is narrower than its screws, M4\n\t" +
				"SeatWidth is that of the face that sits on the machine, mm"},
		{"screws of a rail side by side", func(m *machine.Machine) { m.Axes[0].Guides[0].Rail.Rail.ScrewRows = 99 },
			"axis \"x\", guide 0: 99 rows of screws under a rail, at most 2"},
		{"misfit of a carriage along its rail", func(m *machine.Machine) {
			m.Misfits = []machine.Misfit{{Name: "out", At: machine.Mounting{Kind: machine.AtCarriage},
				From: machine.Offset{By: r3.Vec{X: 1}}}}
		}, "misfit \"out\": along x a carriage has no place to be out of\n\tgive what is across it"},
		{"shim pressed on a point", func(m *machine.Machine) {
			m.Shims = []machine.Shimmed{{Name: "packing", At: machine.Mounting{Foot: 1}, Area: 1e-6,
				Stack: []machine.Shim{{Key: "steel", Material: m.Parts[0].Material, Thickness: 0.1}}}}
		}, "shim \"packing\": 1e-06 mm² is too small an area to press on, at least 1 mm²\n\tlook for a wrong unit"},
		{"play beyond belief", func(m *machine.Machine) {
			m.Axes[0].Drives[0].Play = []drive.Play{{Name: "nut", Gap: constant.Exactly(50)}}
		}, "axis \"x\", drive 0: a play of 50 mm is beyond belief: at most 5 mm\n\tlook for a wrong unit"},
		{"holes narrower than screws", func(m *machine.Machine) { m.Joints[0].Screws.Size.Clearance = 5 },
			"joint \"base/post\": through holes of 5 mm are too narrow for M6 screws\n\tholes for M6 are 6.4 mm to 7 mm"},
		{"shim of a joint of no part", func(m *machine.Machine) {
			m.Joints[1].Parts[1] = 7
			m.Shims = []machine.Shimmed{{Name: "packing", At: machine.Mounting{Kind: machine.AtJoint, Joint: 1},
				Stack: []machine.Shim{{Key: "steel", Material: m.Parts[0].Material, Thickness: 0.1}}}}
		}, "joint 1: there is no part 7; the machine has 5\n\tthey are counted from 0: 0 to 4"},
		{"shim without sheets", func(m *machine.Machine) {
			m.Shims = []machine.Shimmed{{Name: "packing", At: machine.Mounting{Foot: 1}}}
		}, "shim \"packing\": its stack is empty\n\tStack lists the sheets"},
		{"load of no misfit", func(m *machine.Machine) {
			m.Loads[0].Actions = []machine.Action{{Kind: machine.Misfitting, Misfit: 2}}
		}, "load \"cut\", action 0: there is no misfit 2; the machine has 0\n\t" +
			"add the misfit to the machine, or take out what refers to it"},
		{"no parts", func(m *machine.Machine) { *m = machine.Machine{} }, "there are no parts\n\t" +
			"add a plate, a gusset or a bar"},
		{"no name", func(m *machine.Machine) { m.Parts[1].Name = "" }, "part 1 has no name\n\t" +
			"give it one: answers speak of it by its name"},
		{"name twice", func(m *machine.Machine) { m.Parts[1].Name = "base" },
			"part 1: the name \"base\" stands here a second time\n\tgive one of them another name"},
		{"two kinds", func(m *machine.Machine) { m.Parts[0].Bar = m.Parts[2].Bar },
			"part \"base\" is more than one of plate, gusset and bar\n\t" +
				"keep one of them"},
		{"no kind", func(m *machine.Machine) { m.Parts[4].Gusset = nil },
			"part \"brace\" is none of plate, gusset and bar\n\t" +
				"set one of them"},
		{"backwards", func(m *machine.Machine) { m.Parts[0].Plate.To.Z = -1 },
			"part \"base\" has no thickness along z: from 0 to -1 mm\n\tFrom is below To in every axis"},
		{"thinner than faces are apart", func(m *machine.Machine) { m.Parts[0].Plate.To.Z = 0.001 },
			"part \"base\" is only 0.001 mm thick along z\n\t" +
				"make it 0.01 mm at least: faces nearer than 0.001 mm are one"},
		{"NaN", func(m *machine.Machine) { m.Parts[0].Plate.To.Z = math.NaN() },
			"Parts[0].Plate.To.Z is NaN, which is no number to build with"},
		{"infinite", func(m *machine.Machine) { m.Loads[0].Actions[0].Force.Y = math.Inf(-1) },
			"Loads[0].Actions[0].Force.Y is -Inf, which is no number to build with"},
		{"position NaN", func(m *machine.Machine) { m.Positions[0].At["x"] = math.NaN() },
			"Positions[0].At[\"x\"] is NaN, which is no number to build with"},
		{"material", func(m *machine.Machine) { m.Parts[0].Material = beam.Material{Key: "air"} },
			"part \"base\": material \"air\": E is 0, must be positive"},
		{"skew gusset", func(m *machine.Machine) { m.Parts[4].Gusset.Legs[0].Y = 1 },
			"part \"brace\": its first leg must run along one axis\n\ttwo of its components must be zero"},
		{"flat gusset", func(m *machine.Machine) { m.Parts[4].Gusset.Thickness = r3.Vec{X: 20} },
			"part \"brace\": its thickness runs along x like an edge before it\n\t" +
				"the legs and the thickness take one axis each"},
		{"gusset without thickness", func(m *machine.Machine) { m.Parts[4].Gusset.Thickness = r3.Vec{} },
			"part \"brace\": its thickness has no length"},
		{"no section", func(m *machine.Machine) { m.Parts[2].Bar.Shape = nil },
			"part \"quill\" has no section\n\tShape: beam.Round{Diameter: 20}, or another of its kind"},
		{"section of no size", func(m *machine.Machine) { m.Parts[2].Bar.Shape = beam.Round{} },
			"part \"quill\": round: diameter is 0, must be positive"},
		{"up along", func(m *machine.Machine) { m.Parts[2].Bar.Up = r3.Vec{Y: 1} },
			"part \"quill\": Up must be square to the bar\n\tleave it zero for the direction nearest to z"},
		{"up long", func(m *machine.Machine) { m.Parts[2].Bar.Up = r3.Vec{Z: 2} },
			"part \"quill\": Up must have length 1, not 2\n\tdivide it by its length: r3.Unit"},
		{"joint of nothing", func(m *machine.Machine) { m.Joints[2].Parts[1] = 7 },
			"joint 2: there is no part 7; the machine has 5\n\tthey are counted from 0: 0 to 4"},
		{"joint to itself", func(m *machine.Machine) { m.Joints[1].Parts[1] = 1 },
			"joint 1 joins part \"post\" to itself\n\tParts are the indices of two different parts"},
		{"joined twice", func(m *machine.Machine) { m.Joints[2].Parts = [2]int{1, 0} },
			"joint 2 joins parts \"post\" and \"base\" a second time\n\ttake one of them out"},
		{"no way", func(m *machine.Machine) { m.Joints[1].Bonded = false },
			"joint 1 is none of bonded, screwed and sprung\n\t" +
				"set one of them"},
		{"no grid", func(m *machine.Machine) { m.Joints[0].Screws.Grid[1] = 0 },
			"joint 0: a grid of 2 by 0 screws has none\n\tGrid: [2]int{2, 3}, or places under At"},
		{"no screw", func(m *machine.Machine) { m.Joints[0].Screws.Size = joint.Screw{} },
			"joint 0, screws: D must be positive, not 0\n\t" +
				"joint.LookupScrew(\"M6\") gives a size of the trade"},
		{"drilled", func(m *machine.Machine) { m.Joints[0].Drilled = 3 },
			"joint 0: there is no part to be drilled 3\n\tuse one of the named constants"},
		{"all loose", func(m *machine.Machine) {
			m.Joints[1] = machine.Joint{Parts: [2]int{1, 2}, Sprung: &machine.Sprung{
				Loose: [6]bool{true, true, true, true, true, true}}}
		}, "joint 1 is loose in every freedom and joins nothing\n\tleave it out"},
		{"ground of nothing", func(m *machine.Machine) { m.Grounds[0].Part = -1 },
			"ground \"feet\": there is no part -1; the machine has 5\n\tthey are counted from 0: 0 to 4"},
		{"held nowhere", func(m *machine.Machine) { m.Grounds[1].At = nil },
			"ground 1 holds a part, and At does not say where\n\t" +
				"set At"},
		{"no unit", func(m *machine.Machine) { m.Grounds[1].Skew.Direction.X = 2 },
			"ground 1: the spring's direction must have length 1, not 2\n\tdivide it by its length: r3.Unit"},
		{"foot of no stiffness", func(m *machine.Machine) { m.Grounds[0].Normal = 0 },
			"ground \"feet\": Normal, the stiffness of its feet, must be positive, not 0"},
		{"no work", func(m *machine.Machine) { m.Work, m.Travel = nil, nil },
			"there is a tool, but no work\n\tset Work: it says which part the work is clamped to"},
		{"tool on nothing", func(m *machine.Machine) { m.Tool.Part = 5 },
			"the tool: there is no part 5; the machine has 5\n\t" +
				"they are counted from 0: 0 to 4"},
		{"work on nothing", func(m *machine.Machine) { m.Work.Part = 9 },
			"the work: there is no part 9; the machine has 5\n\t" +
				"they are counted from 0: 0 to 4"},
		{"long shank", func(m *machine.Machine) { m.Tool.Shank = &machine.Shank{Diameter: 8, Length: 30} },
			"the tool: a shank of 30 mm leaves nothing of the 30 mm that stick out\n\t" +
				"Length is what sticks out of the shank; the rest of the stickout is fluted"},
		{"needle", func(m *machine.Machine) { m.Tool.Diameter, m.Tool.Shank, m.Cuts = 0.05, nil, nil },
			"the tool: none of 0.05 mm sticks out 30 mm; at most 300 times as far\n\tlook for a wrong unit"},
		{"half a patch", func(m *machine.Machine) { m.Points[0].Patch[0] = 5 },
			"point \"nose\": a patch of 5 by 0 mm has no area\n\tgive both sides, or none for a point"},
		{"point on nothing", func(m *machine.Machine) { m.Loads[1].Actions[0].Point = 1 },
			"load \"rest\", action 0: there is no point 1; the machine has 1\n\t" +
				"they are counted from 0: the only one is 0"},
		{"along a plate", func(m *machine.Machine) { m.Loads[1].Actions[1].Bar = 0 },
			"load \"rest\", action 1 acts along part \"base\", which is not a bar\n\t" +
				"a plate can be loaded at a point, over a patch"},
		{"beyond the bar", func(m *machine.Machine) { m.Loads[1].Actions[1].To = 170 },
			"load \"rest\", action 1 from 0 to 170 mm does not lie on the bar, which is 160 mm long\n\t" +
				"From and To are measured from the bar's From end"},
		{"settles nothing", func(m *machine.Machine) { m.Loads[1].Actions[3].Ground = 2 },
			"load \"rest\", action 3: there is no ground 2; the machine has 2\n\t" +
				"they are counted from 0: 0 to 1"},
		{"warms nothing", func(m *machine.Machine) { m.Loads[1].Actions[4].Part = new(8) },
			"load \"rest\", action 4: there is no part 8; the machine has 5\n\t" +
				"they are counted from 0: 0 to 4"},
		{"across the axis", func(m *machine.Machine) { m.Loads[1].Actions[5].Force = r3.Vec{Y: 1} },
			"load \"rest\", action 5: the acceleration must be along axis \"x\", not (0, 1, 0)\n\t" +
				"Force is the acceleration, mm/s², along the axis"},
		{"empty load", func(m *machine.Machine) { m.Loads[0].Actions, m.Travel = nil, nil },
			"load \"cut\" is empty\n\t" +
				"add an action, or take the load out"},
		{"load twice", func(m *machine.Machine) { m.Loads[1].Name = "cut" },
			"load 1: the name \"cut\" stands here a second time\n\tgive one of them another name"},
		{"feed along the tool", func(m *machine.Machine) { m.Cuts[0].Feed = r3.Vec{Z: 1} },
			"cut \"slot\": the tool cannot be fed that way and mill: it points along z\n\t" +
				"feed it square to the tool, or set Drilling"},
		{"skew cut", func(m *machine.Machine) {
			m.Cuts[0].Normal, m.Cuts[0].Axis = r3.Vec{Y: 1}, r3.Vec{Y: 0.6, Z: 0.8}
		}, "cut \"slot\": Feed, Normal and Axis must be square to one another\n\t" +
			"leave Normal and Axis zero: they follow from the tool"},
		{"kind of drive", func(m *machine.Machine) { m.Axes[0].Drives[0].Kind = 9 },
			"axis \"x\", drive 0: there is no kind of drive 9\n\tuse one of the named constants"},
		{"cut without flutes", func(m *machine.Machine) { m.Tool.Flutes = 0 },
			"cut \"slot\" needs to know the tool\n\t" +
				"give the tool its Stickout, Diameter, Flutes and Material"},
		{"path to nowhere", func(m *machine.Machine) { m.Travel[0].To = -40 },
			"path \"bed\" goes nowhere: from -40 to -40 mm\n\tFrom must be less than To"},
		{"path of nothing", func(m *machine.Machine) { m.Travel[1].Axes[0] = 1 },
			"path \"run\": there is no axis 1; the machine has 1\n\t" +
				"they are counted from 0: the only one is 0"},
		{"path beyond", func(m *machine.Machine) { m.Travel[1].To = 60 },
			"path \"run\": axis x cannot stand at 60 mm: it travels from -50 mm to 50 mm\n\t" +
				"choose a position within its travel, or give it more travel"},
		{"path under rest", func(m *machine.Machine) { m.Travel[0].Loads = []int{1} },
			"path \"bed\": load \"rest\" does not act on the tip"},
		{"path under nothing", func(m *machine.Machine) { m.Travel[1].Loads = []int{0, 4} },
			"path \"run\": there is no load 4; the machine has 2\n\tthey are counted from 0: 0 to 1"},
		{"carries nothing", func(m *machine.Machine) { m.Axes[0].Carries = nil },
			"axis \"x\" carries nothing\n\tname the part that moves; parts joined to it move along"},
		{"carries what is held", func(m *machine.Machine) { m.Axes[0].Carries[0] = 0 },
			"axis x cannot move base: it is held to the ground (base)\n\t" +
				"take out the joint or the ground that holds it"},
		{"no travel", func(m *machine.Machine) { m.Axes[0].Travel, m.Positions = [2]float64{}, nil },
			"axis \"x\": its travel goes nowhere: from 0 to 0 mm\n\t" +
				"Travel is the least and the greatest position"},
		{"stands beyond", func(m *machine.Machine) { m.Axes[0].At = 51 },
			"axis \"x\" stands at 51 mm, beyond its travel from -50 to 50 mm\n\tAt must be within Travel"},
		{"rail across", func(m *machine.Machine) { m.Axes[0].Guides[0].To = r3.Vec{X: -200, Y: 400, Z: 40} },
			"axis \"x\", guide 0 must run along x\n\tFrom and To differ in this direction only"},
		{"one side twice", func(m *machine.Machine) { m.Axes[0].Guides[0].On = 3 },
			"axis \"x\", guide 0: both its sides are part \"table\"\n\t" +
				"one side moves and the other does not"},
		{"carriages collide", func(m *machine.Machine) { m.Axes[0].Guides[0].Carriages[1] = -20 },
			"axis \"x\", guide 0: carriages at -40 and -20 mm run into each other: each is 60 mm long\n\t" +
				"move them apart"},
		{"no carriages", func(m *machine.Machine) { m.Axes[0].Guides[0].Carriages = nil },
			"axis \"x\", guide 0 has no carriages\n\t" +
				"Carriages are the places of their middles, world coordinates along the axis"},
		{"held at both ends by one", func(m *machine.Machine) { m.Axes[0].Drives[0].Screw.Shaft.Ends = drive.FixedFixed },
			"axis \"x\", drive 0: both ends of the screw are held, and Far does not say by which part\n\t" +
				"set Far, or other Ends of the shaft"},
		{"larger than anything", func(m *machine.Machine) { m.Parts[0].Material.E = 1e300 },
			"Parts[0].Material.E is 1e+300, which is no number to build with"},
		{"shape of nothing", func(m *machine.Machine) { m.Parts[2].Bar.Shape = (*beam.Round)(nil) },
			"part \"quill\" has no section\n\tShape: beam.Round{Diameter: 20}, or another of its kind"},
		{"load of a cut's name", func(m *machine.Machine) { m.Loads[0].Name = "slot, peak" },
			"cut \"slot\" makes a load called \"slot, peak\", and there is one of that name\n\t" +
				"call the load otherwise, or name it as the cut's own by Load"},
		{"mill of another tool", func(m *machine.Machine) { m.Cuts[0].Milling.Mill.DiameterMM = 60 },
			"cut \"slot\": a mill of 60 mm in a tool of 6 mm\n\tgive the mill the diameter of the tool"},
		{"range that begins with nothing", func(m *machine.Machine) {
			m.Grounds[0].Unsure = []machine.Unsure{{What: "stiffness", Band: constant.Between(0, 4e4, 5e4)}}
		}, "ground \"feet\": \"stiffness\" from 0 to 50000, typically 40000, is no range\n\t" +
			"low, typical and high, above zero and in this order"},
		{"more of a give than all", func(m *machine.Machine) {
			m.Axes[0].Drives[0].Unsure = []machine.Unsure{{What: machine.UnsureNut, Band: constant.Exactly(1), Share: 2}}
		}, "axis \"x\", drive 0: \"nut\" is unsure in a share of 2\n\tfrom 0 to 1; 0 for all"},
		{"position of nothing", func(m *machine.Machine) { m.Positions[0].At["q"] = 1 },
			"position \"left\": axis \"q\" is not known\n\t" +
				"one of: x"},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := whole(t)
			c.spoil(m)
			err := m.Check()
			require.EqualError(t, err, c.want)
			var faults machine.Faults
			require.True(t, errors.As(err, &faults))
			_, at := m.At(nil)
			require.Equal(t, err, at, "At checks, too")
		})
	}
}

// What an axis moves is found for a machine in Go: the table, what stands joined to it, and nothing of what it stands
// on.
func TestMovesAreFound(t *testing.T) {
	m := whole(t)
	complete, err := m.Complete()
	require.NoError(t, err)
	require.Equal(t, []int{3}, complete.Axes[0].Moves)
	require.Nil(t, m.Axes[0].Moves, "the machine itself stays as it is")
	m.Axes[0].Moves = []int{0, 1} // what is written there is not read
	moved, err := m.At(map[string]float64{"x": 20})
	require.NoError(t, err)
	require.Equal(t, []int{3}, moved.Axes[0].Moves)
	require.Equal(t, 20.-60, moved.Parts[3].Plate.From.X)
	require.Equal(t, -200., moved.Parts[0].Plate.From.X)
	require.Equal(t, 0., moved.Axes[0].DrawnAt())
	again, err := moved.At(map[string]float64{"x": -5})
	require.NoError(t, err)
	require.Equal(t, 0., again.Axes[0].DrawnAt(), "where it was drawn at first")
}
