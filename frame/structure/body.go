package structure

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame"
	"tiploop/frame/machine"
)

// body is a part on its way into the frame. A plate and a bar become a line of members along their centre line, with a
// node wherever something touches; a gusset becomes a triangle. At detail "solid" plates and gussets are meshed instead.
type body struct {
	part    *machine.Part
	from    r3.Vec // centre line of a plate or bar
	to      r3.Vec
	length  float64
	up      r3.Vec
	section beam.Section
	axis    machine.Axis // the axis the centre line runs along; -1 for a skew bar or a gusset
	fills   box          // the space it takes; for a skew or plain bar the box round its centre line
	hasBox  bool         // fills is the metal itself (or, for a gusset, holds its triangle)

	meshed   bool          // part of a solid body
	spots    []*spot       // of a meshed part: where others feel it
	spotNode map[*spot]int // of a meshed part: the frame's node of each
	layer    bool          // held to the ground all over one face
	thicker  float64       // by how much the metal is thicker than its faces are apart, mm: what that would gain
	sections []float64     // of a strip: distances along the centre line of what needs a node of its own, such as a carriage
	wanted   []float64     // distances along the centre line where a node is needed
	stations []float64
	shared   float64 // of a member: by how much in all places stand beside the node that they share with others, mm
	nodes    []int
	members  []int
	strip    *frame.Strip
	triangle *frame.Triangle
}

// wide is the width over thickness from which a plate is a strip, whose sections may bend, and not a member, whose
// sections stay flat.
const wide = 5

// stripStep is how far apart the nodes of a strip may be, as a share of its width: the shapes across fade along the
// strip over about a quarter of the width.
const stripStep = 1. / 8

// keptOff is how near to a section that is asked for a strip's other nodes stand at least, as a share of their step: with less
// between them, what moves the section would move no more than the sliver between the two.
const keptOff = 0.37

// noAxis marks a body whose centre line runs along no axis.
const noAxis machine.Axis = -1

// stationMerge is how near two nodes of a part may come, as a share of its length: nearer ones are one node with a
// short rigid arm, since a sliver of a member would be thousands of times as stiff as its neighbours.
const stationMerge = 2e-4

func newBody(p *machine.Part) (*body, error) {
	b := &body{part: p, axis: noAxis}
	switch {
	case p.Plate != nil:
		b.fills, b.hasBox = box{array(p.Plate.From), array(p.Plate.To)}, true
		b.axis = b.fills.longest()
		from, to := p.Plate.From, p.Plate.To
		mid := r3.Scale(0.5, r3.Add(from, to))
		half := r3.Scale(b.fills.size(b.axis)/2, b.axis.Direction())
		b.from, b.to, b.length = r3.Sub(mid, half), r3.Add(mid, half), b.fills.size(b.axis)
		b.up = machine.Z.Direction()
		if b.axis == machine.Z {
			b.up = machine.Y.Direction()
		}
		height := b.upAxis()
		width := 3 - b.axis - height
		if b.fills.size(width) < b.fills.size(height) { // the height is the thickness
			width, height = height, width
			b.up = height.Direction()
		}
		section, err := beam.Rect{Width: b.fills.size(width), Height: b.fills.size(height)}.Section(p.Material.Nu)
		if err != nil {
			return nil, err
		}
		b.section = section
	case p.Gusset != nil:
		g := p.Gusset
		b.hasBox = true
		b.fills = around(g.Corner, r3.Add(g.Corner, g.Legs[0]), r3.Add(g.Corner, g.Legs[1]), r3.Add(g.Corner, g.Thickness))
	case p.Bar != nil:
		b.from, b.to, b.up = p.Bar.From, p.Bar.To, p.Bar.Up
		b.length = r3.Norm(r3.Sub(b.to, b.from))
		b.section = p.Bar.Section
		b.fills = around(b.from, b.to)
		for k := machine.X; k <= machine.Z; k++ {
			p, q := k.Others()
			if along := array(r3.Sub(b.to, b.from)); math.Hypot(along[p], along[q]) <= machine.Parallel*b.length {
				b.axis = k
			}
		}
		if b.axis != noAxis && b.halfWidth() > 0 && b.upAxis() != noAxis {
			b.growBySection()
		}
	default:
		panic("structure: part of no kind")
	}
	return b, nil
}

// around is the box round some points.
func around(points ...r3.Vec) box {
	b := box{array(points[0]), array(points[0])}
	for _, p := range points[1:] {
		for k, v := range array(p) {
			b.lo[k], b.hi[k] = math.Min(b.lo[k], v), math.Max(b.hi[k], v)
		}
	}
	return b
}

// longest side; the first of equals.
func (b box) longest() machine.Axis {
	best := machine.X
	for k := machine.Y; k <= machine.Z; k++ {
		if b.size(k) > b.size(best) {
			best = k
		}
	}
	return best
}

// upAxis is the axis that the section's height runs along, noAxis when it runs along none.
func (b *body) upAxis() machine.Axis {
	for k := machine.X; k <= machine.Z; k++ {
		if math.Abs(r3.Dot(b.up, k.Direction())) > 1-machine.Parallel {
			return k
		}
	}
	return noAxis
}

// growBySection widens the box round a bar along an axis by its section.
func (b *body) growBySection() {
	b.hasBox = true
	y, z := b.side(), b.up
	for _, corner := range [][2]float64{{b.section.YMin, b.section.ZMin}, {b.section.YMax, b.section.ZMax}} {
		offset := array(r3.Add(r3.Scale(corner[0], y), r3.Scale(corner[1], z)))
		at := array(b.from)
		for k := machine.X; k <= machine.Z; k++ {
			if k != b.axis {
				b.fills.lo[k] = math.Min(b.fills.lo[k], at[k]+offset[k])
				b.fills.hi[k] = math.Max(b.fills.hi[k], at[k]+offset[k])
			}
		}
	}
}

// along is the distance along the centre line of the place nearest to a spot.
func (b *body) along(at r3.Vec) float64 {
	s := r3.Dot(r3.Sub(at, b.from), b.direction())
	return math.Max(0, math.Min(b.length, s))
}

// want asks for a node of a spot, or level with it. A strip needs none: its fields are known between its nodes too.
func (b *body) want(s *spot) {
	switch {
	case b.meshed:
		if !slices.ContainsFunc(b.spots, s.like) {
			b.spots = append(b.spots, s)
		}
	case b.part.Gusset == nil && !b.isStrip():
		b.wanted = append(b.wanted, b.along(s.at))
	}
}

// wantSection asks a strip, too, for a node level with a place, for a model that slopes are taken of. Between two nodes a
// section turns in a straight line: that is near enough for what the tip moves, but what moving a carriage does would come out
// by a quarter too little before it passes a node and by a quarter too much behind. Other models go without, so that a machine keeps
// its nodes when an axis runs.
func (b *body) wantSection(at r3.Vec) {
	if b.isStrip() {
		b.sections = append(b.sections, b.along(at))
	}
}

// wantSteps asks for the nodes that a strip has all along, but for those that would stand close to one of the sections.
func (b *body) wantSteps() {
	step, others := stripStep*b.width(), b.wanted
	b.wanted = nil
	b.wantEvery(step, 0, b.length)
	b.wanted = slices.DeleteFunc(b.wanted, func(at float64) bool {
		return slices.ContainsFunc(b.sections, func(s float64) bool { return math.Abs(at-s) < keptOff*step })
	})
	b.wanted = append(append(b.wanted, b.sections...), others...)
}

// stepRounding is what rounding may add to a whole number of steps without making it one more.
const stepRounding = 1e-9

// wantEvery asks for nodes at most a step apart between two places along the centre line.
func (b *body) wantEvery(step, from, to float64) {
	n := int(math.Ceil((to-from)/step - stepRounding))
	for i := 0; i <= n; i++ {
		b.wanted = append(b.wanted, from+(to-from)*float64(i)/float64(max(n, 1)))
	}
}

// isStrip tells whether the part is wide enough for its sections to bend, and free to: a plate that is held to the
// ground all over one face is a layer that the seats describe.
func (b *body) isStrip() bool {
	if b.part.Plate == nil || b.layer || b.meshed {
		return false
	}
	return b.width() >= wide*b.fills.size(b.upAxis())
}

// width of a plate, across its centre line and its thickness.
func (b *body) width() float64 { return b.fills.size(3 - b.axis - b.upAxis()) }

// direction is that of the centre line; side, up and it are the section's y, z and x axes.
func (b *body) direction() r3.Vec { return r3.Unit(r3.Sub(b.to, b.from)) }

// side is the section's width direction.
func (b *body) side() r3.Vec { return r3.Cross(b.up, b.direction()) }

// addTo puts a body that is not meshed into the frame. bed is the stiffness of an elastic bed under it along the world's axes, N/mm².
func (b *body) addTo(f *frame.Frame, bed [3]float64) {
	source := b.source()
	if g := b.part.Gusset; g != nil {
		grown := r3.Scale(b.thicker, r3.Unit(g.Thickness))
		b.triangle = f.AddTriangle(r3.Sub(g.Corner, r3.Scale(0.5, grown)), g.Legs, r3.Add(g.Thickness, grown), b.part.Material, source)
		return
	}
	if b.isStrip() {
		b.wantSteps()
	}
	wanted := append([]float64{0, b.length}, b.wanted...)
	sort.Float64s(wanted)
	merge := stationMerge * b.length
	for _, s := range wanted {
		if n := len(b.stations); n > 0 && s-b.stations[n-1] <= merge {
			continue
		}
		b.stations = append(b.stations, s)
	}
	b.stations[len(b.stations)-1] = b.length // the last stretch may have swallowed the end
	direction := b.direction()
	section := b.section
	if b.thicker != 0 {
		section = b.thickened()
	}
	if b.isStrip() {
		b.strip = f.AddStrip(b.from, direction, b.side(), b.stations, b.width(), b.fills.size(b.upAxis())+b.thicker, b.part.Material, source)
		b.nodes = b.strip.Nodes()
		return
	}
	for _, s := range wanted {
		b.shared += math.Abs(b.stations[b.nearestStation(s)] - s)
	}
	for _, s := range b.stations {
		b.nodes = append(b.nodes, f.AddNode(r3.Add(b.from, r3.Scale(s, direction))))
	}
	for i := range b.nodes[1:] {
		b.members = append(b.members, f.AddMember(frame.Member{
			Ends: [2]int{b.nodes[i], b.nodes[i+1]}, Up: b.up, Section: section, Made: b.part.Material,
			Bed: b.localBed(bed), Source: source,
		}))
	}
}

// source is the name under which the part's energy is counted.
func (b *body) source() string { return "part " + b.part.Name }

// localBed gives the bed along the section's own axes; barBed has made sure that these are world axes.
func (b *body) localBed(bed [3]float64) (local [2]float64) {
	y, z := b.side(), b.up
	for k := machine.X; k <= machine.Z; k++ {
		local[0] += bed[k] * r3.Dot(y, k.Direction()) * r3.Dot(y, k.Direction())
		local[1] += bed[k] * r3.Dot(z, k.Direction()) * r3.Dot(z, k.Direction())
	}
	return local
}

// node is the node that a spot of the body hangs on.
func (b *body) node(spot *spot) int {
	if b.meshed {
		return b.spotNode[b.spots[slices.IndexFunc(b.spots, spot.like)]]
	}
	if b.triangle != nil {
		return b.triangle.Node()
	}
	return b.nodes[b.nearestStation(b.along(spot.at))]
}

func (b *body) nearestStation(s float64) int {
	i := sort.SearchFloat64s(b.stations, s)
	if i == len(b.stations) || i > 0 && s-b.stations[i-1] <= b.stations[i]-s {
		i--
	}
	return i
}

// move is the movement of a spot of the body along a direction.
func (b *body) move(f *frame.Frame, s *spot, direction r3.Vec) frame.Form {
	if b.triangle != nil {
		return b.triangle.Move(s.at, direction)
	}
	if b.strip != nil {
		return b.strip.Move(s.at, direction)
	}
	n := b.node(s)
	return frame.Move(n, r3.Sub(s.at, f.Node(n)), direction)
}

// turn is the rotation of a spot of the body about a direction.
func (b *body) turn(s *spot, direction r3.Vec) frame.Form {
	if b.strip != nil {
		return b.strip.Turn(s.at, direction)
	}
	if b.triangle != nil {
		return b.triangle.Turn(s.at, direction)
	}
	return frame.Turn(b.node(s), direction)
}

// grown is how far a spot moves along a direction, against what the body's freedoms say, when the body is warmed by a
// kelvin: the growth of the metal between a node and the spot that no freedom describes. The length of a strip and the
// plane of a triangle have freedoms of their own.
func (b *body) grown(f *frame.Frame, s *spot, direction r3.Vec) float64 {
	if b.meshed { // the mesh grows by itself; what is between it and the spot is air or a bar
		return b.part.Material.Expansion * r3.Dot(r3.Sub(s.at, s.metal()), direction)
	}
	arm := r3.Sub(s.at, f.Node(b.node(s)))
	if g := b.part.Gusset; g != nil {
		through := r3.Unit(g.Thickness)
		arm = r3.Scale(r3.Dot(arm, through), through)
	}
	if b.strip != nil {
		along := b.direction()
		arm = r3.Sub(arm, r3.Scale(r3.Dot(arm, along), along))
	}
	return b.part.Material.Expansion * r3.Dot(arm, direction)
}

// mass of the part, tonne, and its centre.
func (b *body) mass() (tonne float64, centre r3.Vec) {
	if g := b.part.Gusset; g != nil {
		centre = r3.Add(g.Corner, r3.Scale(1./3, r3.Add(g.Legs[0], g.Legs[1])))
		return b.part.Material.Density * r3.Norm(g.Legs[0]) * r3.Norm(g.Legs[1]) / 2 * r3.Norm(g.Thickness), r3.Add(centre, r3.Scale(0.5, g.Thickness))
	}
	m := beam.Member{Section: b.section, Material: b.part.Material, Length: b.length}
	return m.MassPerLength() * b.length, r3.Scale(0.5, r3.Add(b.from, b.to))
}

// sizeText is the part's outer size along x, y and z, for messages.
func (b *body) sizeText() string {
	return fmt.Sprintf("%.4g x %.4g x %.4g", b.fills.size(machine.X), b.fills.size(machine.Y), b.fills.size(machine.Z))
}
