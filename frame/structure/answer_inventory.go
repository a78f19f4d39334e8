package structure

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
	"tiploop/frame/shopwork"
)

// Inventory lists what is in the machine.
func (m *Model) Inventory() answer.Inventory {
	inv := answer.Inventory{Tiploop: 1, Machine: m.machine.Name, About: m.machine.About, Option: m.machine.Option,
		Parts: []answer.PartLine{}, Joints: []answer.JointLine{}, Grounds: []answer.GroundLine{}, Notes: []string{},
		Asks: m.builder.Asks}
	if inv.Option == "" {
		inv.Option = AsDrawn
	}
	extent := m.bodies[0].fills
	var lever r3.Vec
	for _, b := range m.bodies {
		tonne, centre := b.mass()
		inv.MassKg += tonne * constant.KgPerTonne
		lever = r3.Add(lever, r3.Scale(tonne*constant.KgPerTonne, centre))
		extent.take(b.fills.lo, b.fills.hi)
		inv.Parts = append(inv.Parts, b.line())
	}
	for _, h := range m.hung {
		kg := h.tonne * constant.KgPerTonne
		inv.HungKg += kg
		lever = r3.Add(lever, r3.Scale(kg, h.centre))
		inv.Hung = append(inv.Hung, answer.HungLine{Name: h.name, Part: h.body.part.Name, MassKg: kg,
			AtMM: array(h.centre), From: h.from})
	}
	inv.MassKg += inv.HungKg
	if m.tool != nil {
		tip := array(m.tool.tool.At)
		extent.take(tip, tip)
	}
	weighed := inv.MassKg
	for _, b := range m.fittings {
		tonne, centre := b.mass()
		weighed += tonne * constant.KgPerTonne
		lever = r3.Add(lever, r3.Scale(tonne*constant.KgPerTonne, centre))
	}
	if weighed > 0 {
		inv.CentreMM = array(r3.Scale(1/weighed, lever))
	}
	for _, j := range m.joints {
		inv.Joints = append(inv.Joints, j.line())
	}
	holes, open := m.holes()
	inv.Holes, inv.HoleList, inv.HolesOpen = shopwork.Count(holes), shopwork.Lines(holes), append([]answer.OpenHoles{}, open...)
	inv.CutList = shopwork.CutList(m.pieces())
	inv.BarStock = shopwork.BarStock(inv.CutList)
	for _, g := range m.grounds {
		inv.Grounds = append(inv.Grounds, g.line())
	}
	inv.Axes = m.axisLines()
	inv.AxesKg = axesKg(inv.Axes)
	for _, a := range inv.Axes {
		for _, b := range blocksOf(a) {
			extent.take(b.FromMM, b.ToMM)
		}
	}
	inv.ExtentFromMM, inv.ExtentToMM = extent.lo, extent.hi
	inv.Notes = slices.Concat(m.keepInMind(), shopwork.Notes(holes), shopwork.HeadsUnder(holes, inv.Axes))
	return inv
}

// take widens a box so that it holds another.
func (b *box) take(lo, hi [3]float64) {
	for k := range b.lo {
		b.lo[k], b.hi[k] = math.Min(b.lo[k], lo[k]), math.Max(b.hi[k], hi[k])
	}
}

func (b *body) line() answer.PartLine {
	tonne, _ := b.mass()
	line := answer.PartLine{Name: b.part.Name, Kind: b.part.Kind().KindName(), Material: b.part.Material.Key,
		MassKg: tonne * constant.KgPerTonne, DatumMM: b.datum()}
	for k := machine.X; k <= machine.Z; k++ {
		line.SizeMM[k] = b.fills.size(k)
	}
	if b.slender() {
		line.Section = b.section.Name
	}
	return line
}

func (g *madeGround) line() answer.GroundLine {
	line := answer.GroundLine{Name: g.name, Kind: g.kind, Part: g.body.part.Name, FromMM: g.zone.lo, ToMM: g.zone.hi,
		PlacesMM: [][3]float64{}}
	for _, p := range g.places {
		line.PlacesMM = append(line.PlacesMM, array(p))
	}
	return line
}

func (j *madeJoint) line() answer.JointLine {
	line := answer.JointLine{Name: j.name, Kind: "bonded", FromMM: j.touch.lo, ToMM: j.touch.hi, PlacesMM: [][3]float64{}}
	switch {
	case j.joint.Sprung != nil:
		line.Kind = "sprung"
	case j.joint.Screws != nil:
		line.Kind, line.Screw, line.Surface = "screwed", j.joint.Screws.Size.Size, j.joint.Surface.Name
		line.ThroughIn, line.TappedIn = j.drilled.part.Name, j.tapped.part.Name
		line.Class, line.Head, line.HoleMM = j.joint.Screws.Size.Class, j.head.String(), j.joint.Screws.Size.Clearance
		play := j.play()
		line.ShiftMM, line.TurnRad, line.EngagedMM = play.Shift, play.Turn, j.engaged()
		if s := j.joint.Shim; s != nil {
			line.Shim = fmt.Sprintf("%.4g mm %s", s.Thickness, s.Key)
		}
	}
	for i, s := range j.screws {
		line.PlacesMM = append(line.PlacesMM, array(s.at))
		k := s.pinch
		if i == 0 || k.ZoneArea < line.ZoneMM2 {
			line.PreloadN, line.ZoneMM2, line.PressMPa = k.Preload, k.ZoneArea, k.Pressure
			line.LeastPreloadN = k.LeastPreload
			line.NormalNPerUm, line.TangentNPerUm = k.Normal/constant.UmPerMM, k.Tangential/constant.UmPerMM
		}
	}
	return line
}

// How far this detail has been from solid bodies of the shapes in testdata/solid-reference.yaml and solid-heldout.yaml,
// over all patches and directions, in percent of the movement: the README has the tables.
const (
	solidLeast  = -17 // too stiff
	solidMost   = 22  // too soft
	solidMostly = 15  // three in four are nearer than this
)

// keepInMind are the notes that belong to this model's numbers.
func (m *Model) keepInMind() []string {
	notes := slices.Concat([]string{}, m.unjoined(), m.lineNotes(), m.insideNotes(), m.workNotes(), m.edgeNotes(),
		m.metalNotes(), m.sawnNotes())
	var names []string
	for _, b := range m.bodies {
		if b.stubby() {
			names = append(names, fmt.Sprintf("%s (%s mm)", b.part.Name, b.sizeText()))
		}
	}
	if names != nil {
		notes = append(notes,
			fmt.Sprintf("less than %g times as long as wide, more plate than beam: %s. Against solid bodies of such shapes "+
				"this model moved between %d %% too little and %d %% too far, mostly within %d %% (README). %s measures it on "+
				"this machine.",
				stubby, strings.Join(names, ", "), -solidLeast, solidMost, solidMostly, m.builder.Asks.ForDetail("both")))
	}
	piles, layers := m.stacks()
	return append(notes, slices.Concat(m.farNotes(), m.screwNotes(),
		weakSpot("parts bonded in a pile", piles, pileLeast, pileMost),
		weakSpot("layers bonded on one another, twisted", layers, layerLeast, layerMost),
		weakSpot("plates bent beside a part bonded on them", m.feet(), footLeast, footMost))...)
}

// How far this detail has been from meshes in three kinds of places where it is off by more than elsewhere, in percent
// of the movement, where it bore the load: TestWeakSpots holds cases at both ends of these.
const (
	pileLeast, pileMost   = -41, 75
	layerLeast, layerMost = -4, 37
	footLeast, footMost   = -72, 18
)

// weakSpot is the note on some of these places; none when there is no such place.
func weakSpot(what string, names []string, least, most int) []string {
	if names == nil {
		return nil
	}
	return []string{fmt.Sprintf("%s: %s. Of such this model was between %d %% too stiff and %d %% too soft.", what,
		strings.Join(names, ", "), -least, most)}
}

// A stack of plates bonded face on face is a pile when its height is pileHeight of its length or more, as a column cut
// across is: its plates are taken as members that lie across it, with seats that let forces in on a spot only. Lower
// ones are layers, which bend as other plates do; those up to times as wide as high is twisted too far, since layers
// turn each about its own line.
const (
	pileHeight = 0.25
	layerWidth = 3
	mostNamed  = 4 // plates of a stack; of more only the ends are
)

// stacks are the piles and the layers among the plates that are not meshed, each by the names of its parts.
func (m *Model) stacks() (piles, layers []string) {
	for k := machine.X; k <= machine.Z; k++ {
		for _, stack := range m.bondedAlong(k) {
			var names []string
			height, lying := 0., 0.
			for _, b := range stack {
				names = append(names, b.part.Name)
				height += b.fills.size(k)
				if b.axis != k {
					lying += b.fills.size(k)
				}
			}
			p, q := k.Others()
			long, wide := stack[0].fills.size(p), stack[0].fills.size(q)
			if long < wide {
				long, wide = wide, long
			}
			name := strings.Join(names, " + ")
			if n := len(names); n > mostNamed {
				name = fmt.Sprintf("%s to %s (%d plates)", names[0], names[n-1], n)
			}
			switch {
			case lying < height/2: // a spacer between columns is little of them
			case height >= pileHeight*long:
				piles = append(piles, name)
			case wide <= layerWidth*height:
				layers = append(layers, name)
			}
		}
	}
	return piles, layers
}

// bondedAlong are the stacks of plates along an axis that are bonded with the whole of their faces.
func (m *Model) bondedAlong(k machine.Axis) (stacks [][]*body) {
	for _, j := range m.joints {
		if !j.joint.Bonded || j.touch.kind != onFace || j.touch.normal != k || !j.a.beamPlate() || !j.b.beamPlate() ||
			!j.touch.covers(j.a) || !j.touch.covers(j.b) {
			continue
		}
		joined := []*body{j.a, j.b}
		stacks = slices.DeleteFunc(stacks, func(s []*body) bool {
			if !slices.Contains(s, j.a) && !slices.Contains(s, j.b) {
				return false
			}
			joined = append(joined, s...)
			return true
		})
		slices.SortFunc(joined, func(a, b *body) int { return cmp.Compare(a.fills.lo[k], b.fills.lo[k]) })
		stacks = append(stacks, slices.Compact(joined))
	}
	return stacks
}

// beamPlate tells whether a part is a plate that this model takes for members or strips.
func (b *body) beamPlate() bool { return b.part.Plate != nil && b.mesh() == nil }

// The shapes across a strip are polynomials: they cannot be straight under a foot and bend beside it. That is felt
// where the foot, along the width of the strip, is at least footOver times as wide as the strip is thick, and leaves
// more than footFree of the width beside it.
const (
	footOver = 3
	footFree = 0.1
)

// feet are parts that stand bonded on a strip, too stiff to bend as it does, each with the strip's name.
func (m *Model) feet() (names []string) {
	for _, j := range m.joints {
		for _, pair := range [][2]*body{{j.a, j.b}, {j.b, j.a}} {
			plate, foot := pair[0], pair[1]
			strip, ok := plate.kind.(*stripKind)
			if !ok || !j.joint.Bonded || j.touch.kind != onFace || j.touch.normal != plate.upAxis() {
				continue
			}
			thick, across := plate.fills.size(j.touch.normal), 3-plate.axis-j.touch.normal
			under := j.touch.size(across)
			if under >= footOver*thick && under < (1-footFree)*strip.b.width() &&
				foot.fills.size(j.touch.normal) > thick {
				names = append(names, plate.part.Name+" under "+foot.part.Name)
			}
		}
	}
	return names
}

// farOff is how far from its part a mass may be before that is asked about, as a share of the part's longest side.
const farOff = 1.0

// heavy is how many times all parts together a mass may weigh before that is asked about. House value.
const heavy = 10

// farNotes ask about masses that are far from the part they hang on, or far heavier than the machine: a slip of a digit
// or of a unit is, too.
func (m *Model) farNotes() (notes []string) {
	parts := 0.0
	for _, b := range m.bodies {
		tonne, _ := b.mass()
		parts += tonne
	}
	for _, h := range m.hung {
		if h.tonne > heavy*parts && parts > 0 {
			notes = append(notes, fmt.Sprintf("mass %s weighs %.3g kg, %.2g times all parts together: is its unit right?",
				h.name, h.tonne*constant.KgPerTonne, h.tonne/parts))
		}
		if off := h.body.off(h.at); off > farOff*h.body.fills.size(h.body.fills.longest()) {
			notes = append(notes, fmt.Sprintf("mass %s is %s from the part it hangs on, %s, on a rigid arm: is its place "+
				"right?", h.name, machine.MM(off), h.body.part.Name))
		}
	}
	return notes
}

// screwNotes name screws tightened past their proof stress, and threads too short for what they hold.
func (m *Model) screwNotes() (notes []string) {
	var past, much, thin, soft, inTheWay []string
	for _, j := range m.joints {
		if j.screws == nil {
			continue
		}
		s, made := j.joint.Screws, j.tapped.part.Material
		nm := s.TorqueNmm / constant.NmmPerNm
		if proof, _ := (joint.Clamping{Screw: s.Size}).TorqueLimits(); s.TorqueNmm > proof {
			past = append(past, fmt.Sprintf("%s (%.3g N m, %s %s: %.3g N m)", j.name, nm, s.Size.Size, s.Size.Class,
				proof/constant.NmmPerNm))
		}
		if usual := torqueInto(s.Size.Size, made.E); s.Size.NeedsSoftTorque(j.engaged(), made.E) && s.TorqueNmm > usual &&
			usual > 0 {
			much = append(much, fmt.Sprintf("%s (%.3g N m, usual %.3g N m)", j.name, nm, usual/constant.NmmPerNm))
		}
		if j.inTheWay != "" {
			inTheWay = append(inTheWay, fmt.Sprintf("%s (%s on %s, under %s)", j.name, s.Size.Size, j.drilled.part.Name,
				j.inTheWay))
		}
		thin, soft = shortThread(thin, soft, j.name, s.Size, made.E, j.engaged(), j.screws[0].pinch.Preload)
	}
	for _, a := range m.axes {
		for _, g := range a.guides {
			if w := g.guide; w.Rail != nil && !w.RailIsBar && w.Own == nil {
				size, _ := joint.LookupScrew(w.Rail.Rail.Screw)
				thin, soft = shortThread(thin, soft, "rail of axis "+a.axis.Name+", "+w.Name, size,
					g.on.part.Material.E, g.on.fills.size(g.seat.out), 0)
			}
		}
	}
	for _, n := range []struct {
		what string
		of   []string
	}{
		{"screws tightened past their proof stress, at friction 0.12; once they yield they pull no harder. Tighten them " +
			"less, or take stronger ones (class): ", past},
		{"more torque than is usual into aluminium that holds less than two diameters of thread, by makers' tables for " +
			"rails: ", much},
		{"heads that something stands in the way of, in metal too thin to sink them. Move the screws, or say which part is " +
			"drilled: ", inTheWay},
		{"less thread than one diameter in the tapped part. Take thicker metal, a smaller screw, or a nut behind: ", thin},
		{"so little thread in aluminium that it may strip before a screw of class 8.8 breaks: ", soft},
	} {
		if n.of != nil {
			notes = append(notes, n.what+strings.Join(n.of, "; ")+".")
		}
	}
	return notes
}

// shortThread adds a screw to those with less thread than a diameter, or to those with too little in aluminium.
func shortThread(thin, soft []string, name string, size joint.Screw, e, engaged, preload float64) (_, _ []string) {
	switch needed := size.SoftEngagementNeeded(preload); {
	case engaged < size.D-machine.Touching:
		thin = append(thin, fmt.Sprintf("%s (%s in %s)", name, size.Size, machine.MM(engaged)))
	case joint.IsSoft(e) && engaged < needed:
		soft = append(soft, fmt.Sprintf("%s (%s in %s, needs %s)", name, size.Size, machine.MM(engaged),
			machine.MM(needed)))
	}
	return thin, soft
}
