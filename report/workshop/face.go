package workshop

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
)

// face is a face of a part as it is seen from outside. Its own coordinates x and y are those of its holes: along the
// machine's axes from the datum corner, mm.
type face struct {
	name     string         // "top"; "side" of a bar without holes
	size     [2]float64     // along x and y, mm
	triangle bool           // only the half of it at the datum corner
	sawn     [][][2]float64 // what there is of it, of a plate sawn to an outline: loops, windows among them; nil: all
	isEdge   bool           // its loops are edges beside one another
	flip     [2]bool        // x runs to the left on the sheet, y down
	edges    edges          // what the sides are called
	corner   string         // the datum: "left front corner"
	axes     [2]string      // the machine's axes along x and y
	marks    []mark
}

// edges are the names of a face's sides as it lies on the sheet; "" for none.
type edges struct{ left, right, bottom, top, slope string }

// mark is a hole on a face.
type mark struct {
	answer.HoleLine
	sunkHere bool // its counterbore is on this face
}

// facesOf are the faces of a part that something is drilled from, the largest first; among them one of its two largest,
// or of a gusset's triangles, for the saw.
func facesOf(p *machine.Part, line answer.PartLine, holes []answer.HoleLine) ([]face, error) {
	if p.Bar != nil && len(holes) == 0 {
		f, err := barSide(p)
		return []face{f}, err
	}
	var all, drilled []face
	for k := machine.Left; k <= machine.Top; k++ {
		f := faceOf(p, line, k)
		from := false
		for _, h := range holes {
			sunk := h.SinkMM > 0 && h.OutOn == f.name
			if h.Face == f.name || h.OutOn == f.name {
				f.marks = append(f.marks, mark{h, sunk})
			}
			from = from || h.Face == f.name || sunk
		}
		all = append(all, f)
		if from {
			drilled = append(drilled, f)
		}
	}
	if p.Gusset != nil {
		all = slices.DeleteFunc(all, func(f face) bool { return !f.triangle })
	}
	bySize := func(a, b face) int {
		switch d := b.size[0]*b.size[1] - a.size[0]*a.size[1]; {
		case d > machine.Touching:
			return 1
		case d < -machine.Touching:
			return -1
		}
		return 0
	}
	slices.SortStableFunc(drilled, bySize)
	slices.SortStableFunc(all, bySize)
	if p.Bar == nil && !slices.ContainsFunc(drilled, func(f face) bool { return f.name == all[0].name || f.name == all[1].name }) {
		drilled = append([]face{all[1]}, drilled...) // the one towards the larger coordinate
	}
	return drilled, nil
}

// faceOf is a face of the box round a part, without holes.
func faceOf(p *machine.Part, line answer.PartLine, k machine.Face) face {
	n := k.Normal()
	a, b := n.Others()
	f := face{name: k.String(), size: [2]float64{line.SizeMM[a], line.SizeMM[b]}, axes: [2]string{a.String(), b.String()}}
	// Seen from outside, a runs to the right on the top, the front and the right face, and to the left on those opposite;
	// b always runs up.
	right := k.Far() != (n == machine.Y)
	high := p.DatumHigh()
	f.flip = [2]bool{right == high[a], high[b]}
	f.edges = edges{left: side(a, false), right: side(a, true), bottom: side(b, false), top: side(b, true)}
	if !right {
		f.edges.left, f.edges.right = f.edges.right, f.edges.left
	}
	f.corner = side(a, high[a]) + " " + side(b, high[b]) + " corner"
	if p.Gusset != nil {
		f.ofGusset(p.Gusset, n, a, b)
	}
	if p.Plate != nil && p.Plate.Outline != nil {
		f.ofSawn(p.Plate, k)
	}
	return f
}

// ofSawn gives a face of a plate that is sawn to an outline what there is of it: the outline itself, or its edges that
// look that way.
func (f *face) ofSawn(p *machine.Plate, k machine.Face) {
	n := k.Normal()
	a, b := n.Others()
	from := [2]float64{machine.Component(p.From, a), machine.Component(p.From, b)}
	if n == p.Across() {
		for _, loop := range p.Outline {
			var corners [][2]float64
			for _, c := range loop {
				corners = append(corners, [2]float64{c[0] - from[0], c[1] - from[1]})
			}
			f.sawn = append(f.sawn, corners)
		}
		return
	}
	f.isEdge = true
	u, _ := p.Across().Others()
	for _, s := range p.Outline.Sides() {
		if s.Far != k.Far() || (s.Normal == 0) != (n == u) {
			continue
		}
		along := 0 // of the face's axes the one that the edge runs along
		if a == p.Across() {
			along = 1
		}
		lo, hi := [2]float64{}, f.size
		lo[along], hi[along] = s.From-from[along], s.To-from[along]
		f.sawn = append(f.sawn, [][2]float64{lo, {hi[0], lo[1]}, hi, {lo[0], hi[1]}})
	}
}

// side is the face that looks along an axis, on its low or high side.
func side(a machine.Axis, high bool) string { return machine.FaceOf(a, high).String() }

// ofGusset makes a flat side of a gusset a triangle, and names the ends of its edges.
func (f *face) ofGusset(g *machine.Gusset, n, a, b machine.Axis) {
	thick := thicknessAxis(g)
	if thick == n {
		f.triangle = true
		f.corner = "right-angled corner"
		if f.flip[0] {
			f.edges.left = ""
		} else {
			f.edges.right = ""
		}
		if f.flip[1] {
			f.edges.bottom = ""
		} else {
			f.edges.top = ""
		}
		f.edges.slope = "slope"
		return
	}
	// On an edge, one side is at the right angle and the one opposite at the tip; words longer than 90° do not fit beside it.
	ends := [2]*string{&f.edges.left, &f.edges.right}
	flipped := f.flip[0]
	if thick == a {
		ends, flipped = [2]*string{&f.edges.bottom, &f.edges.top}, f.flip[1]
	}
	if flipped {
		ends[0], ends[1] = ends[1], ends[0]
	}
	*ends[0], *ends[1] = "90°", "tip"
	f.corner = side(thick, false) + " corner at the right angle"
}

// thicknessAxis is the axis that a gusset is thick along.
func thicknessAxis(g *machine.Gusset) machine.Axis {
	for k := machine.X; k < machine.Z; k++ {
		if machine.Component(g.Thickness, k) != 0 {
			return k
		}
	}
	return machine.Z
}

// barSide is the side of a bar, its length along the sheet.
func barSide(p *machine.Part) (face, error) {
	b := p.Bar
	s, err := b.Shape.Section(p.Material.Nu)
	if err != nil {
		return face{}, err
	}
	high := s.ZMax - s.ZMin
	if high == 0 { // plain numbers: a square of the same area stands for it
		high = math.Sqrt(s.A)
	}
	return face{name: "side", size: [2]float64{r3.Norm(r3.Sub(b.To, b.From)), high}}, nil
}

// at is where a place of the face lies on the sheet, mm from the lower left corner of the box round it.
func (f *face) at(x, y float64) (right, up float64) {
	if f.flip[0] {
		x = f.size[0] - x
	}
	if f.flip[1] {
		y = f.size[1] - y
	}
	return x, y
}

// outlines are the loops of the face on the sheet, mm; of a plain one its corners from the datum corner on.
func (f *face) outlines() (list [][][2]float64) {
	loops := f.sawn
	switch {
	case f.triangle:
		loops = [][][2]float64{{{0, 0}, {f.size[0], 0}, {0, f.size[1]}}}
	case loops == nil:
		loops = [][][2]float64{{{0, 0}, {f.size[0], 0}, f.size, {0, f.size[1]}}}
	}
	for _, loop := range loops {
		var corners [][2]float64
		for _, c := range loop {
			right, up := f.at(c[0], c[1])
			corners = append(corners, [2]float64{right, up})
		}
		list = append(list, corners)
	}
	return list
}

// window tells whether a loop of the face, by its number, is cut out of it: of an outline all but the first.
func (f *face) window(loop int) bool { return loop > 0 && !f.isEdge }
