package modelfile

import (
	"fmt"
	"slices"
	"strings"

	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// over is along which axes, and over which planes of two, the machines of a document are followed beside the paths of
// the file.
type over struct {
	axes      [][]string
	each      bool    // every axis, in a file that has no paths
	tolerance float64 // mm; 0: none given
}

// Over gives the same document with its machines followed along axes (one name) and over planes (two names) as well,
// with a tolerance in mm (0: none), under all loads. What the file follows in this way already, and with this tolerance
// where one is given, is not added. Axes that an option leaves out leave their paths out; whether there are such axes
// at all, and one or two in each list, is for [Document.Machine] to say.
func (d *Document) Over(tolerance float64, axes ...[]string) *Document {
	followed := *d
	followed.over = over{axes: axes, tolerance: tolerance}
	return &followed
}

// OverEachAxis gives the same document with its machines followed along every axis by itself, with a tolerance in mm
// (0: none), if the file has no paths of its own.
func (d *Document) OverEachAxis(tolerance float64) *Document {
	followed := *d
	followed.over = over{each: !d.HasTravel(), tolerance: tolerance}
	return &followed
}

// HasTravel tells whether the file has paths of its own.
func (d *Document) HasTravel() bool {
	p := d.root.Find("travel")
	return p != nil && len(p.Value.Pairs) > 0
}

// addTo adds the paths to a machine that has just been read.
func (o over) addTo(c *decoder) (faults machine.Faults) {
	fault := func(hint, format string, args ...any) {
		faults = append(faults, machine.Fault{File: c.file, What: fmt.Sprintf(format, args...), Hint: hint})
	}
	axes := o.axes
	if o.each && c.m.Tool != nil && len(c.m.Loads) > 0 {
		for _, a := range c.m.Axes {
			axes = append(axes, []string{a.Name})
		}
	}
	if len(axes) == 0 {
		return nil
	}
	for _, names := range axes {
		switch {
		case len(names) < 1 || len(names) > 2:
			fault("name one axis, or two that span a plane", "%d axes are named to follow the tool over", len(names))
		case len(names) == 2 && names[0] == names[1]:
			fault("two different axes span a plane", "axis %s is named twice to follow the tool over", machine.Quote(names[0]))
		}
	}
	for _, name := range slices.Concat(axes...) {
		if _, known := c.axes[name]; !known {
			hint := machine.Suggest(name, c.axisKeys)
			if len(c.axisKeys) == 0 {
				hint = "the model has no axes"
			}
			fault(hint, "axis %s is not known", machine.Quote(name))
		}
	}
	if c.m.Work == nil {
		fault("say where the tool and the work are: tool: …, work: …", "the model has no tool to follow along %s",
			strings.Join(axes[0], ", "))
	} else if len(c.m.Loads) == 0 {
		fault(noLoad, "the model has no load under which to follow %s", strings.Join(axes[0], ", "))
	}
	if faults != nil {
		return faults.Distinct()
	}
	for _, names := range axes {
		c.follow(names, o.tolerance)
	}
	return nil
}

// follow adds a path along one axis or over a plane of two, unless an axis is left out or the machine has that path
// already.
func (d *decoder) follow(names []string, tolerance float64) {
	p := machine.Path{Name: strings.Join(names, ", "), Tolerance: tolerance}
	for _, name := range names {
		i := d.axes[name]
		if i == leftOut {
			return
		}
		p.Axes = append(p.Axes, i)
	}
	first := d.m.Axes[p.Axes[0]]
	p.Pos = first.Pos
	if len(p.Axes) == 1 {
		p.From, p.To = first.Travel[0], first.Travel[1]
	}
	for i := range d.m.Loads {
		p.Loads = append(p.Loads, i)
	}
	if slices.ContainsFunc(d.m.Travel, func(q machine.Path) bool { return samePath(&p, q) }) {
		return
	}
	for slices.ContainsFunc(d.m.Travel, func(q machine.Path) bool { return q.Name == p.Name }) {
		p.Name += " again"
	}
	d.m.Travel = append(d.m.Travel, p)
}

// samePath tells whether another path of axes answers what this one asks.
func samePath(p *machine.Path, q machine.Path) bool {
	return slices.Equal(p.Axes, q.Axes) && p.From == q.From && p.To == q.To && slices.Equal(p.Loads, q.Loads) &&
		(p.Tolerance == 0 || p.Tolerance == q.Tolerance)
}

// ParseOver reads the axes that something is followed over: "x" for one, "x,y" for the plane of two.
func ParseOver(text string) ([]string, error) {
	var axes []string
	for name := range strings.SplitSeq(text, ",") {
		name = strings.TrimSpace(name)
		switch {
		case name == "":
			return nil, fmt.Errorf("%s names no axis", machine.Quote(text))
		case slices.Contains(axes, name):
			return nil, fmt.Errorf("axis %s is given twice; two different axes span a plane", machine.Quote(name))
		}
		axes = append(axes, name)
	}
	if len(axes) > 2 {
		return nil, fmt.Errorf("%d axes are given, and two span a plane", len(axes))
	}
	return axes, nil
}

// ParseTolerance reads a tolerance, mm, as the model file writes it, without values: "20 um".
func ParseTolerance(text string) (mm float64, err error) {
	d := newDecoder("", nil)
	mm, ok := d.positive(&source.Node{Kind: source.Scalar, Text: strings.TrimSpace(text)}, aTolerance, "it")
	if !ok {
		f := d.faults[0]
		return 0, fmt.Errorf("%s", strings.TrimSuffix(strings.Join([]string{f.What, f.Hint}, "; "), "; "))
	}
	return mm, nil
}
