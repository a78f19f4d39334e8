package structure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame/machine"
	"tiploop/frame/solid"
)

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
	if strip := newStrip(b); strip != nil {
		return strip, nil
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
