package structure

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
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
		if len(j.screws) > 0 {
			countHoles(&inv.Holes, len(j.screws), j.joint.Screws.Size.ThroughHole(j.drilled.fills.size(j.touch.normal)))
		}
	}
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
	inv.Notes = m.keepInMind()
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
		MassKg: tonne * constant.KgPerTonne}
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

// countHoles adds the holes of some screws: each a through hole in one part and a tapped hole in the other.
func countHoles(h *answer.Holes, screws int, kind joint.HoleKind) {
	through, throughTime := joint.HoleWork(kind)
	tapped, tappedTime := joint.HoleWork(joint.Tapped)
	h.Through += screws
	h.Tapped += screws
	h.Operations += screws * (through + tapped)
	h.Minutes += float64(screws) * (throughTime.Typical + tappedTime.Typical)
}

func (j *madeJoint) line() answer.JointLine {
	line := answer.JointLine{Name: j.name, Kind: "bonded", FromMM: j.touch.lo, ToMM: j.touch.hi, PlacesMM: [][3]float64{}}
	switch {
	case j.joint.Sprung != nil:
		line.Kind = "sprung"
	case j.joint.Screws != nil:
		line.Kind, line.Screw, line.Surface = "screwed", j.joint.Screws.Size.Size, j.joint.Surface.Name
		line.ThroughIn, line.TappedIn = j.drilled.part.Name, j.tapped.part.Name
		if s := j.joint.Shim; s != nil {
			line.Shim = fmt.Sprintf("%.4g mm %s", s.Thickness, s.Key)
		}
	}
	for i, s := range j.screws {
		line.PlacesMM = append(line.PlacesMM, array(s.at))
		k := s.pinch
		if i == 0 || k.ZoneArea < line.ZoneMM2 {
			line.PreloadN, line.ZoneMM2, line.PressMPa = k.Preload, k.ZoneArea, k.Pressure
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
	notes := []string{}
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
	return notes
}
