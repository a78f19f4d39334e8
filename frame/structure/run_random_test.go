package structure

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/machine"
	"tiploop/frame/modelfile"
)

// sketch is a random machine on its way into a model file.
type sketch struct {
	t                                           *rapid.T
	parts, joints, grounds, axes, points, loads []string
	axisNames, partNames, barNames, groundNames []string
	boxes                                       map[string]box
}

func (s *sketch) pick(what string, n int) int { return rapid.IntRange(0, n-1).Draw(s.t, what) }

func (s *sketch) coin(what string) bool { return s.pick(what, 2) == 1 }

func (s *sketch) between(what string, lo, hi float64) float64 {
	return lo + (hi-lo)*float64(rapid.IntRange(0, 1000).Draw(s.t, what))/1000
}

func (s *sketch) one(what string, of ...string) string { return of[s.pick(what, len(of))] }

func (s *sketch) material() string {
	return s.one("material", "aluminium-5083", "steel", "birch-plywood")
}

func v3(p [3]float64) string { return fmt.Sprintf("[%.9g, %.9g, %.9g]", p[0], p[1], p[2]) }

func (s *sketch) plate(name string, b box) {
	s.parts = append(s.parts, fmt.Sprintf("%s: {plate: {from: %s, to: %s}, material: %s}",
		name, v3(b.lo), v3(b.hi), s.material()))
	s.boxes[name] = b
	s.partNames = append(s.partNames, name)
}

func (s *sketch) bar(name string, from, to [3]float64, section string) {
	s.parts = append(s.parts, fmt.Sprintf("%s: {bar: {from: %s, to: %s}, section: %s, material: steel}",
		name, v3(from), v3(to), section))
	s.barNames = append(s.barNames, name)
}

func (s *sketch) join(a, b string) {
	how := "bonded: true"
	if s.coin("screwed") {
		how = "screws: {size: M5, grid: [2, 1]}"
	}
	s.joints = append(s.joints, fmt.Sprintf("{between: [%s, %s], %s}", a, b, how))
}

func (s *sketch) bond(a, b string) {
	s.joints = append(s.joints, fmt.Sprintf("{between: [%s, %s], bonded: true}", a, b))
}

// stage puts a part on another with an axis between them. It returns the box of the new part.
func (s *sketch) stage(
	axis, lower, upper string, along, normal machine.Axis, sign, half, thick, travel float64,
) {
	L := s.boxes[lower]
	across := 3 - along - normal
	level := L.hi[normal]
	if sign < 0 {
		level = L.lo[normal]
	}
	kinds := []string{"size", "own"}
	if normal == machine.Z {
		kinds = append(kinds, "shafts")
	}
	kind := s.one("guides", kinds...)
	gap := map[string]float64{"size": 28, "own": s.between("gap", 8, 40), "shafts": 40}[kind]
	var U box
	mid := [3]float64{L.middle(machine.X), L.middle(machine.Y), L.middle(machine.Z)}
	U.lo[along], U.hi[along] = mid[along]-half, mid[along]+half
	wide := math.Min(L.size(across)/2, s.between("half across", 60, 120))
	U.lo[across], U.hi[across] = mid[across]-wide, mid[across]+wide
	a, b := level+sign*gap, level+sign*(gap+thick)
	U.lo[normal], U.hi[normal] = math.Min(a, b), math.Max(a, b)
	s.plate(upper, U)
	var guides []string
	point := func(x, c, n float64) [3]float64 {
		var p [3]float64
		p[along], p[across], p[normal] = x, c, n
		return p
	}
	switch kind {
	case "size", "own":
		on, part, face := lower, upper, level
		if s.coin("rails move") {
			on, part, face = upper, lower, a
		}
		ends := s.boxes[on]
		span := math.Min(half-20, 35+s.between("span", 0, 30))
		span = math.Min(span, ends.size(along)/2-travel-30)
		lo, hi := ends.lo[along], ends.hi[along]
		places := fmt.Sprintf("[%.9g, %.9g]", mid[along]-span, mid[along]+span)
		if kind == "size" && span < 31 || span < 21 {
			places = fmt.Sprintf("[%.9g]", mid[along])
		}
		apart := s.between("rails apart", 30, wide-12)
		for _, c := range []float64{-apart, apart} {
			what := "rail: profile-15"
			if kind == "own" {
				what = fmt.Sprintf("stiffness: {press: %.4g N/um, roll: %.4g kN m/rad, pitch: 4 kN m/rad}, length: 40, width: 30",
					s.between("press", 20, 300), s.between("roll", 1, 9))
			}
			guides = append(guides, fmt.Sprintf("{%s, on: %s, part: %s, from: %s, to: %s, carriages: %s}", what, on, part,
				v3(point(lo, mid[across]+c, face)), v3(point(hi, mid[across]+c, face)), places))
		}
	case "shafts":
		for i, x := range []float64{L.lo[along], L.hi[along] - 15} {
			B := box{point(x, mid[across]-wide, math.Min(level, level+sign*30)), point(x+15, mid[across]+wide,
				math.Max(level, level+sign*30))}
			name := fmt.Sprintf("%s_end%d", upper, i+1)
			s.plate(name, B)
			s.bond(lower, name)
		}
		for i, c := range []float64{-0.7 * wide, 0.7 * wide} {
			name := fmt.Sprintf("%s_shaft%d", upper, i+1)
			from := point(L.lo[along], mid[across]+c, level+sign*15)
			to := point(L.hi[along], mid[across]+c, level+sign*15)
			s.bar(name, from, to, "{round: 16}")
			s.bond(name, upper+"_end1")
			s.bond(name, upper+"_end2")
			span := math.Min(half-10, L.size(along)/2-travel-30)
			guides = append(guides,
				fmt.Sprintf("{stiffness: {press: 80 N/um, pitch: 1 kN m/rad, yaw: 1 kN m/rad}, on: %s, part: %s, carriages: "+
					"[%.9g, %.9g]}", name, upper, mid[along]-span, mid[along]+span))
		}
	}
	var drives []string
	for n := range 1 + s.pick("second drive", 2) {
		c := mid[across] + float64(n)*25 - 10
		on, part, face := lower, upper, level
		if s.coin("drive moves") {
			on, part, face = upper, lower, a
		}
		ends := s.boxes[on]
		from, to := point(ends.lo[along]+2, c, face), point(ends.hi[along]-2, c, face)
		nut := mid[along]
		fits := ends.size(along)/2-2 > travel+3
		way := s.one("drive", "stiffness", "rack", "belt", "open belt", "screw", "held screw")
		if !fits && way != "rack" {
			way = "stiffness"
		}
		switch way {
		case "stiffness":
			drives = append(drives, fmt.Sprintf("{stiffness: %.4g N/um, part: %s, on: %s, at: %s}", s.between("stiffness", 5,
				60), part, on, v3(point(nut+7, c, face))))
		case "rack":
			drives = append(drives, fmt.Sprintf("{rack: {radius: 12, width: 15}, part: %s, on: %s, at: %s, motor: frame-23}",
				part, on, v3(point(nut+7, c, face))))
		case "belt", "open belt":
			path := map[string]string{"belt": "closed", "open belt": "open"}[way]
			drives = append(drives,
				fmt.Sprintf("{belt: {pitch: 3, width: 15}, path: %s, teeth: 20, from: %s, to: %s, clamp: {part: %s, at: %.9g}, "+
					"pulley: {part: %s}, idler: {part: %s}, motor: frame-23}", path, v3(from), v3(to), part, nut, on, on))
		case "screw":
			drives = append(drives,
				fmt.Sprintf("{screw: 1605, from: %s, to: %s, nut: {part: %s, at: %.9g}, bearing: {part: %s}, motor: frame-23}",
					v3(from), v3(to), part, nut, on))
		default:
			drives = append(drives,
				fmt.Sprintf("{screw: 1204, ends: fixed-fixed, from: %s, to: %s, nut: {part: %s, at: %.9g}, bearing: {part: %s}, "+
					"far: {part: %s}}", v3(from), v3(to), part, nut, on, on))
		}
	}
	at := s.between("drawn at", -travel/2, travel/2)
	s.axes = append(s.axes,
		fmt.Sprintf("%s:\n    along: %s\n    carries: [%s]\n    travel: [%.9g, %.9g]\n    at: %.9g\n    guides:\n      - "+
			"%s\n    drive: [%s]", axis, along, upper, at-travel, at+travel, at, strings.Join(guides, "\n      - "),
			strings.Join(drives, ", ")))
	s.axisNames = append(s.axisNames, axis)
}

func newSketch(t *rapid.T) string {
	s := &sketch{t: t, boxes: map[string]box{}}
	tall := []float64{20, 30, 70}[s.pick("base", 3)]
	base := box{[3]float64{-260, -320, 0}, [3]float64{260, 300, tall}}
	s.plate("base", base)
	switch s.pick("ground", 5) {
	case 0:
		s.grounds = append(s.grounds, "{part: base, name: floor, face: bottom, fixed: true}")
	case 1:
		s.grounds = append(s.grounds, "{part: base, name: floor, face: bottom, feet: [[-200, -280], [200, -280], [-200, "+
			"260], [200, 260]], stiffness: 40 N/um}")
	case 2:
		s.grounds = append(s.grounds, "{part: base, name: floor, strip: {from: [-260, -320, 0], to: [260, -200, 0]}}")
	case 3:
		s.grounds = append(s.grounds, "{part: base, name: floor, hold: [x, y, z, rx, ry, rz], at: [20, -30, 0]}")
	case 4:
		s.grounds = append(s.grounds, "{part: base, face: bottom, bed: 0.05 N/mm3}",
			"{part: base, name: floor, spring: {x: 20 N/um, y: 20 N/um, rz: 10 kN m/rad}, at: [20, -30, 0]}")
	}
	s.groundNames = []string{"floor"}
	// A bed for the tables, so that they stand in front.
	bed := box{[3]float64{-200, -300, tall}, [3]float64{200, 120, tall + 20}}
	s.plate("bed", bed)
	// Bonded all over it would make nine tenths of the work; smaller faces are bonded elsewhere.
	s.joints = append(s.joints, "{between: [base, bed], screws: {size: M5, grid: [3, 2]}}")
	tables := s.pick("tables", 4)
	top := "bed"
	along := machine.X
	if s.coin("y first") {
		along = machine.Y
	}
	halves := []float64{130, 100, 75}
	for i := range tables {
		name := fmt.Sprintf("table%d", i+1)
		s.stage(fmt.Sprintf("t%d", i+1), top, name, along, machine.Z, 1, halves[i], s.between("thick", 12, 30),
			s.between("travel", 10, 40))
		top = name
		if s.pick("turn", 4) > 0 {
			along = 1 - along
		}
	}
	T := s.boxes[top]
	work := top
	// The column.
	foot := "base"
	level := tall
	if s.coin("column runs") {
		F := box{[3]float64{-150, 150, tall + 28}, [3]float64{150, 290, tall + 48}}
		s.plate("foot", F)
		at := s.between("drawn at", -20, 20)
		s.axes = append(s.axes,
			fmt.Sprintf("c:\n    along: x\n    carries: [foot]\n    travel: [%.9g, %.9g]\n    at: %.9g\n    guides:\n      - "+
				"{rail: profile-15, on: base, part: foot, from: [-250, 170, %.9g], to: [250, 170, %.9g], carriages: [-110, "+
				"110]}\n      - {rail: profile-15, on: base, part: foot, from: [-250, 270, %.9g], to: [250, 270, %.9g], "+
				"carriages: [-110, 110]}\n    drive: {stiffness: 30 N/um, part: foot, on: base, at: [0, 220, %.9g]}",
				at-45, at+45, at, tall, tall, tall, tall, tall))
		s.axisNames = append(s.axisNames, "c")
		foot, level = "foot", tall+48
	}
	post := box{[3]float64{-60, 170, level}, [3]float64{60, 250, level + 480}}
	if foot == "base" && s.coin("post by itself") {
		post = box{[3]float64{-60, 310, 0}, [3]float64{60, 380, 520}}
		s.plate("post", post)
		s.grounds = append(s.grounds, "{part: post, name: pit, face: bottom, fixed: true}")
		s.groundNames = append(s.groundNames, "pit")
	} else {
		s.plate("post", post)
		s.join(foot, "post")
	}
	front := "post"
	if s.pick("quill", 3) > 0 {
		s.stage("z", "post", "quill", machine.Z, machine.Y, -1, s.between("half", 75, 110), s.between("thick", 12, 25),
			s.between("travel", 10, 50))
		front = "quill"
		if s.coin("head") {
			s.stage("h", "quill", "head", machine.X, machine.Y, -1, 70, 20, 8)
			front = "head"
		}
	}
	Q := s.boxes[front]
	z := math.Min(Q.hi[machine.Z]-40, math.Max(Q.middle(machine.Z), T.hi[machine.Z]+160))
	reach := Q.lo[machine.Y] - (T.middle(machine.Y) + s.between("reach", -30, 30))
	arm := box{[3]float64{Q.middle(machine.X) - 20, Q.lo[machine.Y] - reach, z}, [3]float64{Q.middle(machine.X) + 20,
		Q.lo[machine.Y], z + 30}}
	s.plate("arm", arm)
	s.join(front, "arm")
	tip := [3]float64{arm.middle(machine.X), arm.lo[machine.Y] + 15, z}
	var tool string
	switch s.pick("tool", 3) {
	case 0:
		tool = fmt.Sprintf("{part: arm, at: %s}", v3(tip))
	case 1:
		low := tip
		low[2] -= 30
		tool = fmt.Sprintf("{part: arm, at: %s, stickout: 30 mm, diameter: 6 mm, material: carbide}", v3(low))
	case 2:
		down := tip
		down[2] = T.hi[machine.Z] + 70
		s.bar("spindle", [3]float64{tip[0], tip[1], z + 30}, down, "{round: 40}")
		s.bond("arm", "spindle")
		down[2] -= 25
		tool = fmt.Sprintf("{part: spindle, at: %s, stickout: 25 mm, diameter: 8 mm, material: carbide}", v3(down))
	}
	workText := fmt.Sprintf("{part: %s}", work)
	if s.pick("work spot", 4) == 0 {
		at := [3]float64{T.middle(machine.X) + 5, T.middle(machine.Y) - 11, T.hi[machine.Z]}
		workText = fmt.Sprintf("{part: %s, at: %s}", work, v3(at))
	}
	// A bar to load.
	corner := [3]float64{T.lo[machine.X] + 12, T.lo[machine.Y] + 12, T.hi[machine.Z]}
	up := corner
	up[2] += 50
	s.bar("pin", corner, up, "{round: 12}")
	s.bond("pin", work)
	// Points.
	for i, name := range []string{work, front, "base", "arm"} {
		B := s.boxes[name]
		patch := ""
		if s.coin("patch") {
			patch = ", patch: [12, 10]"
		}
		s.points = append(s.points, fmt.Sprintf("p%d: {part: %s, at: %s%s}", i, name,
			v3([3]float64{B.middle(machine.X) + 7, B.middle(machine.Y), B.hi[machine.Z]}), patch))
	}
	for i := range 2 + s.pick("loads", 4) {
		var parts []string
		for range 1 + s.pick("actions", 2) {
			part := s.partNames[s.pick("part", len(s.partNames))]
			parts = append(parts, s.one("load", fmt.Sprintf("{tip: [%.3g, %.3g, %.3g]}", s.between("f", -50, 50),
				s.between("f", -50, 50), s.between("f", 10, 90)),
				"{tip: [5, 6, 7], tip_moment: [300, -200, 1000]}", "{tip_moment: [0, 0, 900]}", "{gravity: true}",
				"{gravity: [2 m/s2, 0, -9 m/s2]}",
				fmt.Sprintf("{at: p%d, force: [10, -20, 30], moment: [0, 500, 900]}", s.pick("point", 4)),
				"{along: pin, from: 5, to: 40, load: [1, 2, 0.3], load_end: [0, 1, 0]}",
				"{temperature: 7}", fmt.Sprintf("{temperature: {part: %s, rise: 4}}", part),
				fmt.Sprintf("{temperature: {part: %s, across: [0, 0, 3]}}", part),
				"{temperature: {part: pin, rise: 4}}", "{temperature: {part: base, across: [2, 1, 3], rise: -2}}",
				fmt.Sprintf("{settle: {%s: [0.01, 0, 0.03]}}", s.one("ground", s.groundNames...)),
				fmt.Sprintf("{accelerate: {%s: 2 m/s2}}", s.one("axis", append([]string{"none"}, s.axisNames...)...))))
		}
		text := "[" + strings.Join(parts, ", ") + "]"
		text = strings.ReplaceAll(text, "{accelerate: {none: 2 m/s2}}", "{tip: [9, 9, 9]}")
		s.loads = append(s.loads, fmt.Sprintf("l%d: %s", i, text))
	}
	list := func(items []string) string { return "  - " + strings.Join(items, "\n  - ") + "\n" }
	named := func(items []string) string { return "  " + strings.Join(items, "\n  ") + "\n" }
	text := "machine: random\nparts:\n" + named(s.parts) + "joints:\n" + list(s.joints) + "grounds:\n" + list(s.grounds)
	if s.axes != nil {
		text += "axes:\n" + named(s.axes)
	}
	return text + "tool: " + tool + "\nwork: " + workText + "\npoints:\n" + named(s.points) + "loads:\n" + named(s.loads)
}

// randomMachines is how many are tried, and how many when all are.
const randomMachines, allRandomMachines = 8, 30

// Random machines, cut at one axis or two and with the others anywhere, are the machines moved, built and solved whole,
// under loads of every kind. Faces that slide on strips are left out: see TestWideSlideIsTheMachineMoved.
func TestRandomMachineIsTheMachineMoved(t *testing.T) {
	t.Parallel()
	worst, done := 0.0, 0
	sketches := rapid.Custom(newSketch)
	tried := randomMachines
	if thorough() {
		tried = allRandomMachines
	}
	for seed := range tried {
		c := rand.New(rand.NewPCG(uint64(seed), 1))
		doc, err := modelfile.Parse("m.yaml", []byte(sketches.Example(seed)))
		require.NoError(t, err)
		m, err := doc.Machine("")
		if err != nil {
			continue
		}
		somewhere := func(a machine.FeedAxis) float64 {
			return a.Travel[0] + (a.Travel[1]-a.Travel[0])*c.Float64()
		}
		at := map[string]float64{}
		for _, a := range m.Axes {
			at[a.Name] = somewhere(a)
		}
		m, err = m.At(at)
		require.NoError(t, err)
		if _, err := buildBeams(m); err != nil || len(m.Axes) == 0 {
			continue // does not hold together
		}
		first := c.IntN(len(m.Axes))
		axes := []*runningAxis{{axis: &m.Axes[first], at: []float64{somewhere(m.Axes[first])}}}
		if second := c.IntN(len(m.Axes)); second != first {
			axes = append(axes, &runningAxis{axis: &m.Axes[second], at: m.Axes[second].Travel[:]})
		}
		r, err := beams().run(context.Background(), m, axes)
		require.NoError(t, err)
		var loads []*machine.Load
		for i := range m.Loads {
			loads = append(loads, &m.Loads[i])
		}
		chart, err := r.chart(loads)
		if err != nil {
			continue // nowhere over the work
		}
		chart.read(func(positions []int, s *tipState) {
			at := map[string]float64{}
			for i, a := range axes {
				at[a.axis.Name] = a.at[positions[i]]
			}
			moved, err := m.At(at)
			require.NoError(t, err)
			model, err := buildBeams(moved)
			require.Equal(t, err != nil, s == nil, "%v", err)
			if err != nil {
				return
			}
			tip, err := model.tipStiffness()
			require.NoError(t, err)
			worst = math.Max(worst, math.Abs(s.softest()/tip.StiffnessNPerUm.Softest-1))
			for n := range moved.Loads {
				whole, err := model.solve(&moved.Loads[n], model.tool.gauge)
				require.NoError(t, err)
				mm := model.tipAgainst(&moved.Loads[n], whole, model.tool.gauge)
				for k := range mm {
					worst = math.Max(worst, math.Abs(s.moved[n][k]-mm[k])/math.Max(norm(mm), 1e-4))
				}
			}
			done++
			if !(worst <= 1e-6) {
				t.Fatalf("machine %d at %v: off by %g", seed, at, worst)
			}
		})
	}
	t.Logf("worst %.1e of %d positions", worst, done)
	require.Greater(t, done, tried/2)
}
