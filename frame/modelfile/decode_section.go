package modelfile

import (
	"fmt"
	"strings"

	"tiploop/beam"
	"tiploop/frame/modelfile/source"
)

// sectionKeys are the keys of a section.
var sectionKeys = Mapping{
	Name:  "section",
	About: "The section of a bar: its height points up, its width square to that. One shape, or plain numbers.",
	Keys: []Key{
		{Name: "rect", Takes: rowOf(sized(aLength), "width", "height"), About: "a solid rectangle"},
		{Name: "round", Takes: sized(aLength), About: "a round bar, by its diameter"},
		{Name: "pipe", Takes: rowOf(sized(aLength), "outer", "wall"), About: "a round tube"},
		{Name: "tube", Takes: rowOf(sized(aLength), "width", "height", "wall"), About: "a rectangular tube"},
		{Name: "i", Takes: keysOf(&iBeamKeys), About: "two flanges and a web"},
		{Name: "channel", Takes: keysOf(&channelKeys), About: "a U lying on its side"},
		{Name: "angle", Takes: keysOf(&angleKeys), About: "an L"},
		{Name: "tee", Takes: keysOf(&teeKeys), About: "a T"},
		{Name: "polygon", Takes: keysOf(&polygonKeys), About: "any outline, with holes"},
		{Name: "outline", Takes: anyText,
			About: "any outline as the path of an SVG drawing in mm, its y down: \"M 0 0 H 40 V 20 H 0 Z\"; subpaths within " +
				"are holes, curves become chords within a ten-thousandth of its size"},
		{Name: "built_up", Takes: keysOf(&builtUpKeys), About: "rectangles of several materials"},
		{Name: "A", Takes: sized(anArea), About: "area, of a section by plain numbers"},
		{Name: "Iy", Takes: sized(aSecondMoment), With: []string{"A"},
			About: "second moment about the axis along the width"},
		{Name: "Iz", Takes: sized(aSecondMoment), With: []string{"A"},
			About: "second moment about the axis along the height"},
		{Name: "J", Takes: sized(aSecondMoment), With: []string{"A"}, About: "torsion constant"},
		{Name: "Ay", Takes: sized(anArea), Default: "it does not shear", With: []string{"A"},
			About: "shear area along the width"},
		{Name: "Az", Takes: sized(anArea), Default: "it does not shear", With: []string{"A"},
			About: "shear area along the height"},
	},
	Choices: [][]string{append(shapes[:len(shapes):len(shapes)], "A")},
}

var iBeamKeys = Mapping{
	Name: "i", About: "Two flanges and a web.",
	Keys: []Key{
		{Name: "depth", Takes: sized(aLength), About: "all of its height"},
		{Name: "width", Takes: sized(aLength), About: "of the flanges"},
		{Name: "flange", Takes: sized(aLength), About: "thickness of a flange"},
		{Name: "web", Takes: sized(aLength), About: "thickness of the web"},
	},
}

var channelKeys = Mapping{Name: "channel", About: "A U.", Keys: iBeamKeys.Keys}

var angleKeys = Mapping{
	Name: "angle", About: "An L.",
	Keys: []Key{
		{Name: "leg_y", Takes: sized(aLength), About: "the leg along the width"},
		{Name: "leg_z", Takes: sized(aLength), About: "the leg along the height"},
		{Name: "thickness", Takes: sized(aLength), About: "of both"},
	},
}

var teeKeys = Mapping{
	Name: "tee", About: "A T.",
	Keys: []Key{
		{Name: "width", Takes: sized(aLength), About: "of the flange"},
		{Name: "depth", Takes: sized(aLength), About: "all of its height"},
		{Name: "flange", Takes: sized(aLength), About: "thickness of the flange"},
		{Name: "web", Takes: sized(aLength), About: "thickness of the web"},
	},
}

// corners is the type of corners in a row.
var corners = listOf(rowOf(sized(aLength), "y", "z"))

var polygonKeys = Mapping{
	Name: "polygon", About: "Any outline, y along the width and z along the height.",
	Keys: []Key{
		{Name: "outer", Takes: corners, About: "its corners in order, three or more"},
		{Name: "holes", Takes: listOf(corners), Default: "none", About: "outlines within"},
	},
}

var builtUpKeys = Mapping{
	Name: "built_up", About: "Rectangles that are one section.",
	Keys: []Key{{Name: "pieces", Takes: listOf(keysOf(&pieceKeys)), About: "the rectangles"}},
}

var pieceKeys = Mapping{
	Name: "piece", About: "One rectangle.",
	Keys: []Key{
		{Name: "rect", Takes: rowOf(sized(aLength), "width", "height"), About: "its sides"},
		{Name: "at", Takes: rowOf(sized(aLength), "y", "z"), About: "its middle"},
		{Name: "material", Takes: nameOf("material"), Default: "that of the bar", About: "what it is of"},
	},
}

// shapes are the keys of a section, beside those of plain numbers.
var shapes = []string{"rect", "round", "pipe", "tube", "i", "channel", "angle", "tee", "polygon", "outline", "built_up"}

// Bounds on a drawn section, whose properties take a numerical solution.
const (
	mostCorners = 200
	mostHoles   = 20
	mostPieces  = 50
)

// section reads the section of a bar of material base; nil when it cannot be used.
func (d *decoder) section(n *source.Node, base beam.Material) beam.Shape {
	if n.Kind == source.Mapping && (n.Find("A") != nil || n.Find("Iy") != nil || n.Find("Iz") != nil || n.Find("J") != nil) {
		return d.plainSection(n)
	}
	f, ok := d.fields(n, &sectionKeys)
	if !ok {
		return nil
	}
	key, body := f.oneOf(shapes...)
	if body == nil {
		return nil
	}
	f.only(key)
	switch key {
	case "polygon":
		return d.polygon(body)
	case "outline":
		return d.outline(body)
	case "built_up":
		return d.builtUp(body, base)
	}
	return d.standard(key, body)
}

// sizes reads named sizes, each above zero.
func (d *decoder) sizes(n *source.Node, of *Mapping) ([]float64, bool) {
	f, ok := d.fields(n, of)
	if !ok {
		return nil, false
	}
	names := of.names()
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
func (d *decoder) row(n *source.Node, what string, names ...string) ([]float64, bool) {
	if n.Kind != source.List || len(n.Items) != len(names) {
		d.fault(n.Pos, fmt.Sprintf("%s must be a list [%s]", what, strings.Join(names, ", ")), "")
		return nil, false
	}
	xs, all := make([]float64, len(names)), true
	for i, item := range n.Items {
		x, ok := d.positive(item, aLength, names[i])
		xs[i], all = x, all && ok
	}
	return xs, all
}

// standard reads a section that a few sizes describe; nil when it cannot be used.
func (d *decoder) standard(key string, n *source.Node) beam.Shape {
	switch key {
	case "rect":
		if x, ok := d.row(n, key, sectionKeys.key(key).Takes.Labels...); ok {
			return beam.Rect{Width: x[0], Height: x[1]}
		}
	case "round":
		if x, ok := d.positive(n, aLength, "diameter"); ok {
			return beam.Round{Diameter: x}
		}
	case "pipe":
		if x, ok := d.row(n, key, sectionKeys.key(key).Takes.Labels...); ok {
			return beam.Pipe{Outer: x[0], Wall: x[1]}
		}
	case "tube":
		if x, ok := d.row(n, key, sectionKeys.key(key).Takes.Labels...); ok {
			return beam.Tube{Width: x[0], Height: x[1], Wall: x[2]}
		}
	case "i":
		if x, ok := d.sizes(n, &iBeamKeys); ok {
			return beam.I{Depth: x[0], Width: x[1], Flange: x[2], Web: x[3]}
		}
	case "channel":
		if x, ok := d.sizes(n, &channelKeys); ok {
			return beam.Channel{Depth: x[0], Width: x[1], Flange: x[2], Web: x[3]}
		}
	case "angle":
		if x, ok := d.sizes(n, &angleKeys); ok {
			return beam.Angle{LegY: x[0], LegZ: x[1], Thickness: x[2]}
		}
	case "tee":
		if x, ok := d.sizes(n, &teeKeys); ok {
			return beam.Tee{Width: x[0], Depth: x[1], Flange: x[2], Web: x[3]}
		}
	}
	return nil
}

func (d *decoder) plainSection(n *source.Node) beam.Shape {
	f, ok := d.fields(n, &sectionKeys)
	if !ok {
		return nil
	}
	f.oneOf(append(shapes[:len(shapes):len(shapes)], "A")...)
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

func (d *decoder) polygon(n *source.Node) beam.Shape {
	f, ok := d.fields(n, &polygonKeys)
	if !ok {
		return nil
	}
	outer := f.need("outer")
	if outer == nil {
		return nil
	}
	var p beam.Polygon
	p.Outer, ok = d.loop(outer, "outer")
	d.listed(f.get("holes"), "holes", func(n *source.Node) {
		hole, fits := d.loop(n, "a hole")
		p.Holes = append(p.Holes, hole)
		ok = ok && fits
	})
	if len(p.Holes) > mostHoles {
		d.fault(f.get("holes").Pos, fmt.Sprintf("too many holes: %d, at most %d", len(p.Holes), mostHoles), "")
		return nil
	}
	if !ok {
		return nil
	}
	return p
}

// loop reads the corners of an outline.
func (d *decoder) loop(n *source.Node, what string) ([][2]float64, bool) {
	if !d.isKind(n, source.List, what) {
		return nil, false
	}
	if len(n.Items) < 3 || len(n.Items) > mostCorners {
		d.fault(n.Pos, fmt.Sprintf("%s must have from 3 to %d corners, not %d", what, mostCorners, len(n.Items)), "")
		return nil, false
	}
	all := true
	var loop [][2]float64
	for _, item := range n.Items {
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
func (d *decoder) builtUp(n *source.Node, base beam.Material) beam.Shape {
	f, ok := d.fields(n, &builtUpKeys)
	if !ok {
		return nil
	}
	pieces := f.need("pieces")
	if pieces == nil {
		return nil
	}
	b := beam.BuiltUp{Base: base}
	d.listed(pieces, "pieces", func(n *source.Node) {
		p, fits := d.piece(n, base)
		b.Pieces = append(b.Pieces, p)
		ok = ok && fits
	})
	if len(b.Pieces) > mostPieces {
		d.fault(pieces.Pos, fmt.Sprintf("too many pieces: %d, at most %d", len(b.Pieces), mostPieces), "")
		return nil
	}
	if !ok {
		return nil
	}
	return b
}

func (d *decoder) piece(n *source.Node, base beam.Material) (p beam.Piece, ok bool) {
	f, ok := d.fields(n, &pieceKeys)
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
