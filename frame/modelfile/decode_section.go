package modelfile

import (
	"fmt"
	"strings"

	"tiploop/beam"
)

// shapes are the keys of a section, beside those of plain numbers.
var shapes = []string{"rect", "round", "pipe", "tube", "i", "channel", "angle", "tee", "polygon", "built_up"}

// plainKeys are the keys of a section given by its numbers.
var plainKeys = []string{"A", "Iy", "Iz", "J", "Ay", "Az"}

// Bounds on a drawn section, whose properties take a numerical solution.
const (
	mostCorners = 200
	mostHoles   = 20
	mostPieces  = 50
)

// section reads the section of a bar of material base; nil when it cannot be used.
func (d *decoder) section(n *node, base beam.Material) beam.Shape {
	if n.kind == mapping && (n.find("A") != nil || n.find("Iy") != nil || n.find("Iz") != nil || n.find("J") != nil) {
		return d.plainSection(n)
	}
	f, ok := d.fields(n, "section", append(shapes[:len(shapes):len(shapes)], plainKeys...)...)
	if !ok {
		return nil
	}
	key, body := f.oneOf(shapes...)
	if body == nil {
		return nil
	}
	f.only(key, shapes...)
	switch key {
	case "polygon":
		return d.polygon(body)
	case "built_up":
		return d.builtUp(body, base)
	}
	return d.standard(key, body)
}

// sizes reads named sizes, each above zero.
func (d *decoder) sizes(n *node, what string, names ...string) ([]float64, bool) {
	f, ok := d.fields(n, what, names...)
	if !ok {
		return nil, false
	}
	xs, all := make([]float64, len(names)), true
	for i, name := range names {
		value := f.need(name)
		if value == nil {
			all = false
			continue
		}
		x, ok := d.positive(value, aLength, name)
		xs[i], all = x, all && ok
	}
	return xs, all
}

// row reads sizes in a list, each above zero.
func (d *decoder) row(n *node, what string, names ...string) ([]float64, bool) {
	if n.kind != list || len(n.items) != len(names) {
		d.fault(n.pos, fmt.Sprintf("%s must be a list [%s]", what, strings.Join(names, ", ")), "")
		return nil, false
	}
	xs, all := make([]float64, len(names)), true
	for i, item := range n.items {
		x, ok := d.positive(item, aLength, names[i])
		xs[i], all = x, all && ok
	}
	return xs, all
}

// standard reads a section that a few sizes describe; nil when it cannot be used.
func (d *decoder) standard(key string, n *node) beam.Shape {
	switch key {
	case "rect":
		if x, ok := d.row(n, key, "width", "height"); ok {
			return beam.Rect{Width: x[0], Height: x[1]}
		}
	case "round":
		if x, ok := d.positive(n, aLength, "diameter"); ok {
			return beam.Round{Diameter: x}
		}
	case "pipe":
		if x, ok := d.row(n, key, "outer", "wall"); ok {
			return beam.Pipe{Outer: x[0], Wall: x[1]}
		}
	case "tube":
		if x, ok := d.row(n, key, "width", "height", "wall"); ok {
			return beam.Tube{Width: x[0], Height: x[1], Wall: x[2]}
		}
	case "i":
		if x, ok := d.sizes(n, key, "depth", "width", "flange", "web"); ok {
			return beam.I{Depth: x[0], Width: x[1], Flange: x[2], Web: x[3]}
		}
	case "channel":
		if x, ok := d.sizes(n, key, "depth", "width", "flange", "web"); ok {
			return beam.Channel{Depth: x[0], Width: x[1], Flange: x[2], Web: x[3]}
		}
	case "angle":
		if x, ok := d.sizes(n, key, "leg_y", "leg_z", "thickness"); ok {
			return beam.Angle{LegY: x[0], LegZ: x[1], Thickness: x[2]}
		}
	case "tee":
		if x, ok := d.sizes(n, key, "width", "depth", "flange", "web"); ok {
			return beam.Tee{Width: x[0], Depth: x[1], Flange: x[2], Web: x[3]}
		}
	}
	return nil
}

func (d *decoder) plainSection(n *node) beam.Shape {
	f, ok := d.fields(n, "section", plainKeys...)
	if !ok {
		return nil
	}
	var p beam.Plain
	for _, q := range []struct {
		key string
		m   measure
		to  *float64
	}{
		{"A", anArea, &p.A}, {"Iy", aSecondMoment, &p.Iy}, {"Iz", aSecondMoment, &p.Iz}, {"J", aSecondMoment, &p.J},
	} {
		value := f.need(q.key)
		if value == nil {
			ok = false
			continue
		}
		x, fits := d.positive(value, q.m, q.key)
		*q.to, ok = x, ok && fits
	}
	for key, to := range map[string]*float64{"Ay": &p.Ay, "Az": &p.Az} {
		if value := f.get(key); value != nil {
			x, fits := d.positive(value, anArea, key)
			*to, ok = x, ok && fits
		}
	}
	if !ok {
		return nil
	}
	return p
}

func (d *decoder) polygon(n *node) beam.Shape {
	f, ok := d.fields(n, "polygon", "outer", "holes")
	if !ok {
		return nil
	}
	outer := f.need("outer")
	if outer == nil {
		return nil
	}
	var p beam.Polygon
	p.Outer, ok = d.loop(outer, "outer")
	d.listed(f.get("holes"), "holes", func(n *node) {
		hole, fits := d.loop(n, "a hole")
		p.Holes = append(p.Holes, hole)
		ok = ok && fits
	})
	if len(p.Holes) > mostHoles {
		d.fault(f.get("holes").pos, fmt.Sprintf("too many holes: %d, at most %d", len(p.Holes), mostHoles), "")
		return nil
	}
	if !ok {
		return nil
	}
	return p
}

// loop reads the corners of an outline.
func (d *decoder) loop(n *node, what string) ([][2]float64, bool) {
	if !d.isKind(n, list, what) {
		return nil, false
	}
	if len(n.items) < 3 || len(n.items) > mostCorners {
		d.fault(n.pos, fmt.Sprintf("%s must have from 3 to %d corners, not %d", what, mostCorners, len(n.items)), "")
		return nil, false
	}
	all := true
	var loop [][2]float64
	for _, item := range n.items {
		x, ok := d.numbers(item, aLength, "a corner", "y", "z")
		if !ok {
			all = false
			continue
		}
		loop = append(loop, [2]float64{x[0], x[1]})
	}
	return loop, all
}

// builtUp reads a section of rectangles; their places are those of their middles.
func (d *decoder) builtUp(n *node, base beam.Material) beam.Shape {
	f, ok := d.fields(n, "built_up", "pieces")
	if !ok {
		return nil
	}
	pieces := f.need("pieces")
	if pieces == nil {
		return nil
	}
	b := beam.BuiltUp{Base: base}
	d.listed(pieces, "pieces", func(n *node) {
		p, fits := d.piece(n, base)
		b.Pieces = append(b.Pieces, p)
		ok = ok && fits
	})
	if len(b.Pieces) > mostPieces {
		d.fault(pieces.pos, fmt.Sprintf("too many pieces: %d, at most %d", len(b.Pieces), mostPieces), "")
		return nil
	}
	if !ok {
		return nil
	}
	return b
}

func (d *decoder) piece(n *node, base beam.Material) (p beam.Piece, ok bool) {
	f, ok := d.fields(n, "piece", "rect", "at", "material")
	if !ok {
		return p, false
	}
	rect, at := f.need("rect"), f.need("at")
	if rect == nil || at == nil {
		return p, false
	}
	size, sizeOK := d.row(rect, "rect", "width", "height")
	middle, middleOK := d.numbers(at, aLength, "at", "y", "z")
	p.Material = base
	materialOK := true
	if n := f.get("material"); n != nil {
		p.Material, materialOK = d.material(n)
	}
	if !sizeOK || !middleOK || !materialOK {
		return p, false
	}
	p.Width, p.Height, p.Y, p.Z = size[0], size[1], middle[0], middle[1]
	return p, true
}
