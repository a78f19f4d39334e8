package machine

import "fmt"

// decodeTool reads the tool; the parts must have been read.
func (d *decoder) decodeTool(n *node) {
	if n == nil {
		return
	}
	t := Tool{Place: n.place}
	d.m.Tool = &t
	f, ok := d.fields(n, "tool", "part", "at", "stickout", "diameter", "material")
	if !ok {
		return
	}
	if n := f.need("part"); n != nil {
		t.Part = d.needed(n, "tool")
	}
	if n := f.need("at"); n != nil {
		t.At, _ = d.vector(n, aLength, "at")
	}
	stickout, diameter, material := f.get("stickout"), f.get("diameter"), f.get("material")
	if stickout == nil && diameter == nil && material == nil {
		return
	}
	if stickout == nil || diameter == nil || material == nil {
		d.fault(n.place, "tool needs stickout, diameter and material together", "or none of them: then its tip moves with the part")
		return
	}
	t.Stickout, _ = d.positive(stickout, aLength, "stickout")
	t.Diameter, _ = d.positive(diameter, aLength, "diameter")
	t.Material, _ = d.material(material)
}

// decodeWork reads what the work is clamped to; the tool must have been read.
func (d *decoder) decodeWork(n *node) {
	if n == nil {
		if d.m.Tool != nil {
			d.fault(d.m.Tool.Place, "there is a tool, but no work", "say which part the work is clamped to, work: {part: …}")
		}
		return
	}
	w := Work{Place: n.place}
	d.m.Work = &w
	if d.m.Tool == nil {
		d.fault(n.place, "there is work, but no tool", "")
	}
	f, ok := d.fields(n, "work", "part", "at")
	if !ok {
		return
	}
	if n := f.need("part"); n != nil {
		w.Part = d.needed(n, "work")
	}
	if n := f.get("at"); n != nil {
		if at, ok := d.vector(n, aLength, "at"); ok {
			w.At = &at
		}
	}
}

// needed gives the index of a part that must not be left out.
func (d *decoder) needed(n *node, what string) int {
	part, ok := d.part(n)
	if ok && part == leftOut {
		d.fault(n.place, fmt.Sprintf("%s is on part %s, which is left out", what, quote(n.text)), "see its if")
	}
	return part
}
