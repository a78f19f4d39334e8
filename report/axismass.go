package report

import (
	"fmt"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
)

// axisMass is what some equal pieces weigh that are no parts.
type axisMass struct {
	sort                 string // "rail", "carriages", "hung"
	what, kind, on, from string
	sizeMM               [3]float64 // of each; zero: not told
	pieces               int
	eachKg               float64
}

// ofCatalogues is where the mass of a guide comes from.
const ofCatalogues = "typical of the size"

// masses lists what hangs on the parts, and the rails and carriages whose mass is known; it names the guides that have
// none.
func masses(inv answer.Inventory) (list []axisMass, unknown []string) {
	for _, h := range inv.Hung {
		list = append(list, axisMass{"hung", h.Name, "", h.Part, h.From, [3]float64{}, 1, h.MassKg})
	}
	for _, a := range inv.Axes {
		for _, g := range a.Guides {
			if g.RailKg != nil {
				list = append(list, axisMass{"rail", a.Name + ", " + g.Name, g.Kind, g.On, ofCatalogues,
					extentOf(g.Rail.FromMM, g.Rail.ToMM), 1, *g.RailKg})
			}
			if g.CarriageKg != nil && len(g.Blocks) > 0 {
				list = append(list, axisMass{"carriages", a.Name + ", carriages of " + g.Name, g.Kind, g.Part,
					ofCatalogues, extentOf(g.Blocks[0].FromMM, g.Blocks[0].ToMM), len(g.Blocks), *g.CarriageKg})
			}
			if g.CarriageKg == nil && g.Face == nil {
				unknown = append(unknown, a.Name+", "+g.Name)
			}
		}
	}
	return list, unknown
}

// axesWeigh says what of the mass hangs on the parts, and what rails and carriages weigh, and where they count.
func (p *page) axesWeigh(inv answer.Inventory) {
	if inv.HungKg > 0 {
		p.Say(fmt.Sprintf("Of that, %s kg hang on the parts: screws, nuts, motors of known size, masses of the model.",
			number.Significant(inv.HungKg)))
	}
	if inv.AxesKg > 0 {
		p.Say(fmt.Sprintf("Rails and carriages weigh %s kg more, %s kg in all. They count in the centre of mass and in "+
			"loads by gravity and acceleration. Options are compared without them.",
			number.Significant(inv.AxesKg), number.Significant(inv.MassKg+inv.AxesKg)))
	}
}

// masses lists what hangs on the parts and what rails and carriages weigh.
func (p *page) masses(inv answer.Inventory) {
	list, unknown := masses(inv)
	if len(list) == 0 {
		return
	}
	var rows [][]string
	for _, l := range list {
		rows = append(rows, []string{l.what, l.kind, l.on, fmt.Sprint(l.pieces), number.Significant(l.eachKg),
			number.Significant(float64(l.pieces) * l.eachKg), l.from})
	}
	rows = append(rows, []string{"all", "", "", "", "", number.Significant(inv.HungKg + inv.AxesKg), ""})
	p.Heading("Mass of what is no part")
	p.Table([]column{named("what"), named("kind"), named("on"), measured("pieces"), measured("each, kg"),
		measured("together, kg"), named("mass from")}, rows)
	words := "Not counted: bearings, couplings, belts, cables, the cutter"
	if len(unknown) > 0 {
		words += "; of unknown size: " + strings.Join(unknown, "; ")
	}
	p.Say(words + ".")
}
