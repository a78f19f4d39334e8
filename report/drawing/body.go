package drawing

import (
	"fmt"
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
)

// partKind is what a part is made as, or what a body that is no part is: how it is drawn.
type partKind struct {
	name string      // in the key and in lists; of a part that of machine.Kind
	fill color.NRGBA // pale, and one darker than the other so that grey print tells them apart
	hull func(b *body, p machine.Part) error
}

var (
	plateKind = &partKind{"plate", color.NRGBA{0xE6, 0xF1, 0xF8, 0xFF}, func(b *body, p machine.Part) error {
		if p.Plate.Outline != nil {
			b.saw(p.Plate)
			return nil
		}
		b.corners = boxCorners(p.Plate.From, p.Plate.To)
		return nil
	}}
	gussetKind = &partKind{"gusset", color.NRGBA{0xF5, 0xCB, 0x78, 0xFF}, func(b *body, p machine.Part) error {
		g := p.Gusset
		for _, shift := range []r3.Vec{{}, g.Thickness} {
			at := r3.Add(g.Corner, shift)
			b.corners = append(b.corners, at, r3.Add(at, g.Legs[0]), r3.Add(at, g.Legs[1]))
		}
		return nil
	}}
	barKind = &partKind{"bar", color.NRGBA{0x84, 0xC6, 0xB0, 0xFF}, (*body).extrude}

	// Of axes.
	railKind     = &partKind{name: "rail", fill: color.NRGBA{0xB4, 0xB4, 0xB4, 0xFF}}
	carriageKind = &partKind{name: "carriage", fill: color.NRGBA{0x64, 0x70, 0x80, 0xFF}}
	shaftKind    = &partKind{name: "screw of a drive", fill: color.NRGBA{0xFF, 0xFF, 0xFF, 0xFF}}
)

// partKinds are all of them, in the order of the key: a new kind of part is one line here.
var partKinds = []*partKind{plateKind, gussetKind, barKind, railKind, carriageKind, shaftKind}

// Fill is the ink that a body of a shape is filled with.
func Fill(kind answer.ShapeKind) color.NRGBA {
	for _, k := range partKinds {
		if k.name == string(kind) {
			return k.fill
		}
	}
	switch kind {
	case answer.ShapeScrew, answer.ShapeBelt, answer.ShapeTool:
		return shaftKind.fill
	case answer.ShapeWork:
		return workFill
	}
	return fittingFill
}

// What no drawing of three views shows as a body.
var (
	workFill    = color.NRGBA{0xE8, 0xD8, 0xB8, 0xFF}
	fittingFill = color.NRGBA{0x9A, 0xA3, 0xAD, 0xFF}
)

// body is a part, or a rail, carriage or screw of an axis, as a drawing needs it: the corners of its hull, in the
// world's axes, mm.
type body struct {
	name    string
	kind    *partKind
	corners []r3.Vec
	along   r3.Vec     // of a bar: unit length along it; of a plate sawn to an outline through its thickness
	loops   [][]r3.Vec // of both: the outline of the section, then its holes, at the From end

	sawn *machine.Plate // of a plate sawn to an outline
}

// bodies gives the parts of a machine, in its order.
func bodies(m *machine.Machine) ([]body, error) {
	all := make([]body, len(m.Parts))
	for i, p := range m.Parts {
		k := p.Kind()
		of := -1
		if k != nil {
			of = slices.IndexFunc(partKinds, func(d *partKind) bool { return d.hull != nil && d.name == k.KindName() })
		}
		if of < 0 {
			panic(fmt.Sprintf("drawing: part %q is of no kind that is drawn", p.Name))
		}
		all[i] = body{name: p.Name, kind: partKinds[of]}
		if err := all[i].kind.hull(&all[i], p); err != nil {
			return nil, err
		}
	}
	return all, nil
}

// saw draws a plate's outline out through its thickness.
func (b *body) saw(p *machine.Plate) {
	n := p.Across()
	u, v := n.Others()
	b.sawn, b.along = p, n.Direction()
	for i, loop := range p.Outline {
		var corners []r3.Vec
		for _, c := range loop {
			at := r3.Scale(machine.Component(p.From, n), n.Direction())
			corners = append(corners, r3.Add(at, r3.Add(r3.Scale(c[0], u.Direction()), r3.Scale(c[1], v.Direction()))))
		}
		b.loops = append(b.loops, corners)
		if i == 0 {
			thick := r3.Scale(machine.Component(p.To, n)-machine.Component(p.From, n), n.Direction())
			b.corners = slices.Clone(corners)
			for _, c := range corners {
				b.corners = append(b.corners, r3.Add(c, thick))
			}
		}
	}
}

// boxCorners gives the eight corners of a box.
func boxCorners(from, to r3.Vec) []r3.Vec {
	var corners []r3.Vec
	for _, x := range []float64{from.X, to.X} {
		for _, y := range []float64{from.Y, to.Y} {
			for _, z := range []float64{from.Z, to.Z} {
				corners = append(corners, r3.Vec{X: x, Y: y, Z: z})
			}
		}
	}
	return corners
}

// extrude draws a bar's section out along it. A section given as plain numbers has no outline; a square of the same
// area stands for it.
func (b *body) extrude(p machine.Part) error {
	s, err := p.Bar.Shape.Section(p.Material.Nu)
	if err != nil {
		return fmt.Errorf("drawing part %q: %w", p.Name, err)
	}
	outline := s.Outline
	if len(outline) == 0 {
		h := math.Sqrt(s.A) / 2
		outline = [][][2]float64{{{-h, -h}, {h, -h}, {h, h}, {-h, h}}}
	}
	b.along = r3.Unit(r3.Sub(p.Bar.To, p.Bar.From))
	side := r3.Cross(p.Bar.Up, b.along)
	for _, loop := range outline {
		var corners []r3.Vec
		for _, yz := range loop {
			corners = append(corners, r3.Add(p.Bar.From, r3.Add(r3.Scale(yz[0], side), r3.Scale(yz[1], p.Bar.Up))))
		}
		b.loops = append(b.loops, corners)
	}
	b.corners = slices.Clone(b.loops[0])
	for _, c := range b.loops[0] {
		b.corners = append(b.corners, r3.Add(c, r3.Sub(p.Bar.To, p.Bar.From)))
	}
	return nil
}

// middle is the mean of a body's corners.
func (b body) middle() [3]float64 {
	var sum r3.Vec
	for _, c := range b.corners {
		sum = r3.Add(sum, c)
	}
	return array(r3.Scale(1/float64(len(b.corners)), sum))
}

// array gives a vector's components by axis.
func array(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }
