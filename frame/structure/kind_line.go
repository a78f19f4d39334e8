package structure

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame"
	"tiploop/frame/answer"
	"tiploop/frame/machine"
	"tiploop/frame/solid"
)

// memberLine is a line of members along a body's centre line, with a node wherever something touches. Bars and narrow
// plates are such lines.
type memberLine struct {
	baseKind
	wanted   []float64 // distances along the centre line where a node is needed
	stations []float64
	ids      []int // nodes
	members  []int
	share    float64 // of the part's metal that the members have
}

// stationMerge is how near two nodes of a part may come, as a share of its length: nearer ones are one node with a
// short rigid arm, since a sliver of a member would be thousands of times as stiff as its neighbours.
const stationMerge = 2e-4

func (k *memberLine) want(s *spot) {
	for _, w := range s.over {
		k.wanted = append(k.wanted, k.b.along(w.at))
	}
	if s.over == nil {
		k.wanted = append(k.wanted, k.b.along(s.at))
	}
}

// patchSpot: cells as those of a bonded face, so that a pressure on one is felt on the other as it is spread.
func (k *memberLine) patchSpot(at r3.Vec, t touch) *spot {
	step := anyStep
	if k.b.axis != noAxis {
		step[k.b.axis] = k.b.thickness(t.normal) / 2
	}
	return patchSpot(at, t, step)
}

func (k *memberLine) wantAt(places ...float64) { k.wanted = append(k.wanted, places...) }

// stepRounding is what rounding may add to a whole number of steps without making it one more.
const stepRounding = 1e-6

// wantEvery asks for nodes at most a step apart between two places along the centre line.
func (k *memberLine) wantEvery(step, from, to float64) {
	n := int(math.Ceil((to-from)/step - stepRounding))
	for i := 0; i <= n; i++ {
		k.wanted = append(k.wanted, from+(to-from)*float64(i)/float64(max(n, 1)))
	}
}

// cellAlong: cells of half the thinner part's thickness along the line, each with its node; across it one cell.
func (k *memberLine) cellAlong(a machine.Axis, t touch, thin float64) float64 {
	if k.b.axis != a {
		return k.baseKind.cellAlong(a, t, thin)
	}
	from := array(k.b.from)[a]
	k.wantEvery(t.size(a)/float64(cells(t.size(a), thin/2)), t.lo[a]-from, t.hi[a]-from)
	return thin / 2
}

func (k *memberLine) bedCells(a, normal machine.Axis) int {
	if k.b.axis == a {
		return mostCells
	}
	return k.baseKind.bedCells(a, normal)
}

func (k *memberLine) underFaces(slid func() []r3.Vec) (places []float64) {
	for _, at := range slid() {
		places = append(places, k.b.along(at))
	}
	return places
}

// depth is that of the centre line below a face, or for a part that stands on its end what its force takes to spread.
func (k *memberLine) depth(t touch) (mm float64, through bool) {
	b := k.b
	if b.axis == t.normal {
		p, q := t.normal.Others()
		return math.Min(b.length/2, math.Max(b.fills.size(p), b.fills.size(q))), true
	}
	if b.axis == noAxis {
		return 0, false
	}
	return math.Abs(t.lo[t.normal] - array(b.from)[t.normal]), false
}

func (k *memberLine) mass() (tonne float64, centre r3.Vec) {
	b := k.b
	m := beam.Member{Section: b.section, Material: b.part.Material, Length: b.length}
	return m.MassPerLength() * b.length, r3.Scale(0.5, r3.Add(b.from, b.to))
}

// stand decides where the nodes stand, and gives the places for which they were wanted.
func (k *memberLine) stand() (wanted []float64) {
	wanted = append([]float64{0, k.b.length}, k.wanted...)
	sort.Float64s(wanted)
	merge := stationMerge * k.b.length
	for _, s := range wanted {
		if n := len(k.stations); n > 0 && s-k.stations[n-1] <= merge {
			continue
		}
		k.stations = append(k.stations, s)
	}
	k.stations[len(k.stations)-1] = k.b.length // the last stretch may have swallowed the end
	return wanted
}

func (k *memberLine) addTo(f *frame.Frame, bed [3]float64) {
	b, wanted := k.b, k.stand()
	direction := b.direction()
	section := b.section
	if b.thicker != 0 {
		section = b.thickened()
	}
	for _, s := range wanted {
		b.shared += math.Abs(k.stations[k.nearestStation(s)] - s)
	}
	for _, s := range k.stations {
		k.ids = append(k.ids, f.AddNode(r3.Add(b.from, r3.Scale(s, direction))))
	}
	for i := range k.ids[1:] {
		k.members = append(k.members, f.AddMember(frame.Member{
			Ends: [2]int{k.ids[i], k.ids[i+1]}, Up: b.up, Section: section, Made: shareOf(b.part.Material, k.share),
			Bed: b.localBed(bed), Source: b.source(),
		}))
	}
}

func (k *memberLine) node(s *spot) int { return k.ids[k.nearestStation(k.b.along(s.at))] }

func (k *memberLine) nodes() []int { return k.ids }

// A line may be a share of a part beside others, so it goes by nodes of its own.

func (k *memberLine) move(f *frame.Frame, s *spot, direction r3.Vec) frame.Form {
	return onArm(f, k.node(s), s, direction)
}

func (k *memberLine) turn(s *spot, direction r3.Vec) frame.Form {
	return frame.Turn(k.node(s), direction)
}

func (k *memberLine) grown(f *frame.Frame, s *spot, direction r3.Vec) float64 {
	return k.b.armGrown(f, k.node(s), s, direction)
}

func (k *memberLine) nearestStation(s float64) int {
	i := sort.SearchFloat64s(k.stations, s)
	if i == len(k.stations) || i > 0 && s-k.stations[i-1] <= k.stations[i]-s {
		i--
	}
	return i
}

func (k *memberLine) warm(out *frame.Load, rise float64, across r3.Vec) {
	gradY, gradZ := k.b.gradient(across)
	for _, member := range k.members {
		out.Warm = append(out.Warm, frame.Warm{Member: member, Mean: rise, GradY: gradY, GradZ: gradZ})
	}
}

func (k *memberLine) inertia(out *frame.Inertia) { out.Members = append(out.Members, k.members...) }

func (k *memberLine) lines(a machine.Action) (list []frame.Line) {
	to := math.Min(a.To, k.b.length)
	at := func(s float64) r3.Vec {
		share := (s - a.From) / (to - a.From)
		return r3.Add(r3.Scale(1-share, a.Force), r3.Scale(share, *a.End))
	}
	for i, member := range k.members {
		lo, hi := math.Max(a.From, k.stations[i]), math.Min(to, k.stations[i+1])
		if hi > lo {
			list = append(list, frame.Line{
				Member: member, From: lo - k.stations[i], To: hi - k.stations[i], AtFrom: at(lo), AtTo: at(hi),
			})
		}
	}
	return list
}

func (k *memberLine) stress(_ *Model, s *state, worst *answer.Stress) (known bool) {
	known = true
	for _, member := range k.members {
		mpa, at, ok := s.MemberStress(member)
		known = known && ok
		if mpa > worst.MPa {
			worst.MPa, worst.AtMM = mpa, array(at)
		}
	}
	return known
}

// barKind is a bar: a line of members of its own section.
type barKind struct{ memberLine }

func newBar(b *body) (kind, error) {
	p := b.part.Bar
	if p == nil {
		return nil, nil
	}
	b.from, b.to, b.up = p.From, p.To, p.Up
	b.length = r3.Norm(r3.Sub(b.to, b.from))
	b.section = p.Section
	b.fills = around(b.from, b.to)
	for k := machine.X; k <= machine.Z; k++ {
		p, q := k.Others()
		if along := array(r3.Sub(b.to, b.from)); math.Hypot(along[p], along[q]) <= machine.Parallel*b.length {
			b.axis = k
		}
	}
	k := &barKind{memberLine{baseKind: baseKind{b}, share: 1}}
	if b.axis != noAxis && b.halfWidth() > 0 && b.upAxis() != noAxis {
		k.growBySection()
	}
	return k, nil
}

// growBySection widens the box round a bar along an axis by its section.
func (k *barKind) growBySection() {
	b := k.b
	b.hasBox = true
	y, z := b.side(), b.up
	for _, corner := range [][2]float64{{b.section.YMin, b.section.ZMin}, {b.section.YMax, b.section.ZMax}} {
		offset := array(r3.Add(r3.Scale(corner[0], y), r3.Scale(corner[1], z)))
		at := array(b.from)
		for a := machine.X; a <= machine.Z; a++ {
			if a != b.axis {
				b.fills.lo[a] = math.Min(b.fills.lo[a], at[a]+offset[a])
				b.fills.hi[a] = math.Max(b.fills.hi[a], at[a]+offset[a])
			}
		}
	}
}

func (k *barKind) slender() bool { return true }

// off: a bar whose section fills no box along the axes counts as round, as wide as its section is at most.
func (k *barKind) off(at r3.Vec) float64 {
	b := k.b
	if b.hasBox {
		return b.distance(at)
	}
	direction := b.direction()
	s := r3.Dot(r3.Sub(at, b.from), direction)
	beside := r3.Norm(r3.Sub(r3.Sub(at, b.from), r3.Scale(s, direction)))
	return math.Hypot(math.Max(0, beside-b.halfWidth()), math.Max(0, math.Max(-s, s-b.length)))
}

// fill: a tube's walls carry what solid metal would.
func (k *barKind) fill() float64 {
	s := k.b.section
	return s.A / ((s.YMax - s.YMin) * (s.ZMax - s.ZMin))
}

// endForces are the bar's at its two ends, as tension, shear and moments on the cut face that looks along the bar.
func (k *barKind) endForces(s *frame.Solution) answer.BarForces {
	first, last := s.EndForces(k.members[0]), s.EndForces(k.members[len(k.members)-1])
	f := answer.BarForces{Part: k.b.part.Name}
	for i := range 3 {
		f.FromN[i], f.FromM[i] = plain(-first[i]), plain(-first[3+i])
		f.ToN[i], f.ToM[i] = plain(last[6+i]), plain(last[9+i])
	}
	return f
}

// bedForce is what the bed under a line puts on it.
func (k *memberLine) bedForce(s *frame.Solution) r3.Vec {
	var sum r3.Vec
	for _, member := range k.members {
		sum = r3.Add(sum, s.BedForce(member))
	}
	return sum
}

// plateKind is a narrow plate: a line of members, whose sections stay flat, along its longest side.
type plateKind struct{ memberLine }

// newPlate is a plate as a line of members, or as a strip when it is wide.
func newPlate(b *body) (kind, error) {
	p := b.part.Plate
	if p == nil {
		return nil, nil
	}
	b.fills, b.hasBox = box{array(p.From), array(p.To)}, true
	b.axis = b.fills.longest()
	mid := r3.Scale(0.5, r3.Add(p.From, p.To))
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
	section, err := beam.Rect{Width: b.fills.size(width), Height: b.fills.size(height)}.Section(b.part.Material.Nu)
	if err != nil {
		return nil, err
	}
	b.section = section
	if p.Outline != nil {
		return &sawnKind{plateKind{memberLine{baseKind: baseKind{b}, share: 1}}, p}, nil
	}
	if strip, err := newStrip(b); strip != nil || err != nil {
		return strip, err
	}
	return &plateKind{memberLine{baseKind: baseKind{b}, share: 1}}, nil
}

func (k *plateKind) flat() bool { return true }

// metal is the thickness.
func (k *plateKind) metal() (mm float64, ok bool) { return k.b.fills.size(k.b.upAxis()), true }

// A plate shorter than stubby times its width is more a plate than a beam.
const stubby = 3.0

func (k *plateKind) stubby() bool {
	p, q := k.b.axis.Others()
	return k.b.length < stubby*math.Max(k.b.fills.size(p), k.b.fills.size(q))
}

func (k *plateKind) solidPart() (solid.Part, bool) {
	p := k.b.part
	return solid.Part{Name: p.Name, Made: p.Material, Block: &solid.Block{From: p.Plate.From, To: p.Plate.To}}, true
}
