package report

import (
	"fmt"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
)

// axisMass is what some equal pieces of an axis weigh.
type axisMass struct {
	sort                       string // "rail", "carriages", "shaft"
	axis, what, kind, on, from string
	sizeMM                     [3]float64 // of each
	pieces                     int
	eachKg                     float64
}

// Where a mass comes from.
const (
	ofCatalogues = "typical of the size"
	ofTheRoot    = "estimate: steel as thick as its root"
)

// axisMasses lists the rails, carriages and screws whose mass is known, and names the guides and drives that have none.
func axisMasses(axes []answer.AxisLine) (list []axisMass, unknown []string) {
	for _, a := range axes {
		for _, g := range a.Guides {
			if g.RailKg != nil {
				list = append(list, axisMass{"rail", a.Name, g.Name, g.Kind, g.On, ofCatalogues,
					extentOf(g.Rail.FromMM, g.Rail.ToMM), 1, *g.RailKg})
			}
			if g.CarriageKg != nil && len(g.Blocks) > 0 {
				list = append(list, axisMass{"carriages", a.Name, "carriages of " + g.Name, g.Kind, g.Part,
					ofCatalogues, extentOf(g.Blocks[0].FromMM, g.Blocks[0].ToMM), len(g.Blocks), *g.CarriageKg})
			}
			if g.CarriageKg == nil && g.Face == nil {
				unknown = append(unknown, a.Name+", "+g.Name)
			}
		}
		for _, d := range a.Drives {
			if d.ScrewKg != nil {
				list = append(list, axisMass{"shaft", a.Name, "shaft", d.Kind, d.On, ofTheRoot,
					extentOf(d.Shaft.FromMM, d.Shaft.ToMM), 1, *d.ScrewKg})
			} else {
				unknown = append(unknown, a.Name+", "+d.Kind)
			}
		}
	}
	return list, unknown
}

// axesWeigh says what rails, carriages and screws weigh, and where they count.
func (p *page) axesWeigh(inv answer.Inventory) {
	if inv.AxesKg > 0 {
		p.say(fmt.Sprintf("Rails, carriages and screws of the axes weigh %s kg more, %s kg in all. Rails and carriages "+
			"count in the centre of mass and in loads by gravity and acceleration, screws do not. Options are compared by "+
			"the mass of their parts alone.",
			number.Significant(inv.AxesKg), number.Significant(inv.MassKg+inv.AxesKg)))
	}
}

// axisMasses lists what rails, carriages and screws weigh.
func (p *page) axisMasses(inv answer.Inventory) {
	list, unknown := axisMasses(inv.Axes)
	if len(list) == 0 {
		return
	}
	var rows [][]string
	for _, l := range list {
		rows = append(rows, []string{l.axis, l.what, l.kind, fmt.Sprint(l.pieces), number.Significant(l.eachKg),
			number.Significant(float64(l.pieces) * l.eachKg), l.from})
	}
	rows = append(rows, []string{"all", "", "", "", "", number.Significant(inv.AxesKg), ""})
	p.heading("Mass of rails, carriages and screws")
	p.table([]column{named("axis"), named("what"), named("kind"), measured("pieces"), measured("each, kg"),
		measured("together, kg"), named("mass from")}, rows)
	words := "Not counted: nuts, bearings, motors and couplings"
	if len(unknown) > 0 {
		words += "; of unknown size: " + strings.Join(unknown, "; ")
	}
	p.say(words + ".")
}
