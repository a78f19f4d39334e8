package structure

import (
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/machine"
)

// slidesOff makes sure that the faces of a slide still meet at the ends of the axes that move them on one another, and in
// the corners: what two faces share is least there.
func (m *Model) slidesOff(a *machine.FeedAxis, g *machine.Guide, c crossing) *machine.Fault {
	for together := 1; together <= min(len(c.axes), mostTogether); together++ {
		for _, at := range c.corners(together) {
			if _, err := findTouch(c.a, c.b.shifted(c.ways(at).lo)); err != nil {
				where, _ := c.standing(at)
				f := m.fault(g.Place, "shorten the travel, or lengthen one of them", "axis %s, %s: %s: %v", a.Name, g.Name, where, err)
				return &f
			}
		}
	}
	return nil
}

// shifted is the body elsewhere, for its faces: it has no part in the frame.
func (b *body) shifted(by [3]float64) *body {
	moved, part := *b, *b.part
	part.Shift(vector(by))
	moved.part = &part
	moved.from, moved.to = r3.Add(b.from, vector(by)), r3.Add(b.to, vector(by))
	moved.fills = b.fills.swept(by, by)
	return &moved
}

// axisSources are the guides and drives that can give way, in the order of the file.
func (m *Model) axisSources() (list []string) {
	for _, a := range m.axes {
		for _, g := range a.guides {
			list = append(list, guideSource(a.axis, g.guide))
		}
		for _, d := range a.drives {
			list = append(list, driveSource(a.axis, d.drive))
		}
	}
	return list
}
