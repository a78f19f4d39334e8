package modelfile

import (
	"fmt"
	"slices"

	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// shimmedKeys are the keys of a stack of shims.
var shimmedKeys = Mapping{
	Name: "shim",
	About: "A stack under what is screwed down: it lifts by its thickness, and gives way in a row with what it lies " +
		"under. A shim of a joint adds a face, as paper does not; elsewhere it gives as its metal does, pressed all " +
		"over. It goes with what it lies under.",
	Keys: slices.Concat(mountingKeys, []Key{
		{Name: "if", Takes: truth, Default: "true", About: "false leaves the shims out"},
		{Name: "material", Takes: nameOf("material"), Default: "see stack", About: "of one sheet"},
		{Name: "thickness", Takes: sized(aLength), Default: "see stack", About: "of one sheet; 0 is none"},
		{Name: "stack", Takes: listOf(keysOf(&shimKeys)), Default: "one sheet, of material and thickness",
			About: "several sheets"},
		{Name: "area", Takes: sized(anArea), Default: "all of it; under a foot that of a usual one",
			About: "what presses on the shim; under a nut or a bearing it must be given"},
		{Name: "lifts", Takes: vectorOf(aNumber), With: []string{"nut", "bearing"},
			About: "the way in which it moves a nut or a bearing"},
	}),
	Choices: mountingChoices,
}

// decodeShims reads stacks of shims under what is screwed down.
func (d *decoder) decodeShims(n *source.Node) {
	d.named(n, "shims", func(name string, at machine.FilePos, body *source.Node) {
		f, ok := d.fields(body, &shimmedKeys, name)
		if !ok {
			return
		}
		s := machine.Shimmed{Name: name, Pos: at}
		place, included := d.mounting(f)
		s.At = place
		included = presenceIf(d.included(f.get("if")) && included == present)
		said := len(d.faults)
		d.inside(included, func() { d.stack(&s, f) })
		if included == present {
			if len(d.faults) == said {
				d.shimSeat(&s, f)
			}
			if s.Stack == nil {
				return // zero thick: none
			}
			d.m.Shims = append(d.m.Shims, s)
		}
	})
}

// stack reads the sheets: one, or a list.
func (d *decoder) stack(s *machine.Shimmed, f fields) {
	if sheets := f.get("stack"); sheets != nil {
		f.without("stack", "material", "thickness")
		if sheets.Kind == source.Nothing || sheets.Kind == source.List && len(sheets.Items) == 0 {
			d.fault(sheets.Pos, "the stack is empty", "write [{material: shim-brass, thickness: 0.1 mm}, …]")
		}
		d.listed(sheets, "stack", func(n *source.Node) {
			if sheet := d.shim(n); sheet != nil {
				s.Stack = append(s.Stack, *sheet)
			}
		})
	} else if sheet, ok := d.sheet(f); ok && sheet.Thickness > 0 {
		s.Stack = []machine.Shim{sheet}
	}
	if n := f.get("area"); n != nil {
		if area, ok := d.positive(n, anArea, "area"); ok && area < machine.LeastPressed {
			d.misfit(n.Pos, fmt.Sprintf("area is too small: %s, at least %s", anArea.show(area),
				anArea.show(machine.LeastPressed)), "look for a wrong unit")
		} else {
			s.Area = area
		}
	}
	if n := f.get("lifts"); n != nil {
		s.Lifts, _ = d.direction(n, "lifts")
	}
}

// shimSeat reports what a shim at its mounting lacks, or has too much of.
func (d *decoder) shimSeat(s *machine.Shimmed, f fields) {
	screw := s.At.Kind >= machine.AtNut
	lifts, area := f.get("lifts"), f.get("area")
	switch {
	case screw && (lifts == nil || area == nil):
		d.fault(f.node.Pos, f.what+" needs area and lifts: nothing else says how wide it is and which way it moves the "+
			s.At.Kind.String(), "write area: 600 mm2, lifts: [0, 0, 1]")
	case screw && machine.Component(s.Lifts, d.m.Axes[s.At.Axis].Along) != 0:
		d.fault(lifts.Pos, "lifts is not across the screw", "")
	case !screw && lifts != nil:
		d.fault(lifts.Pos, "lifts is for a nut or a bearing", "elsewhere a shim lifts square to its seat")
	case s.At.Kind != machine.AtGround && !screw && area != nil:
		d.fault(area.Pos, "area has no place here: screws, carriages and rails say what they press", "")
	case s.At.Kind == machine.AtGround && len(d.m.Grounds[s.At.Ground].Feet) == 0:
		d.fault(f.node.Pos, f.what+" lies under a ground without feet", "shims lie under feet; name one with foot: …")
	case s.At.Kind == machine.AtJoint && d.m.Joints[s.At.Joint].Screws == nil:
		d.fault(f.node.Pos, f.what+" lies in a joint that is not screwed", "shims lie between screwed faces")
	case s.At.Kind == machine.AtJoint && d.m.Joints[s.At.Joint].Shim != nil:
		d.fault(f.node.Pos, f.what+" lies in a joint that has a shim already", "keep one of them")
	}
}
