package report

// shortCaution stands at the foot of every text report that gives movements.
const shortCaution = "An estimate from a simple linear model with uncertain joints, not a certified calculation: " +
	"a bolted joint's stiffness is rarely known within a factor of two. " +
	"Where people can be hurt, local codes and licensed practice come first. " +
	"Test pushes with the spindle off and unplugged; stay below the slip and opening limits."

// cautions are those usual in the trade, most general first. They stand where a builder reads what there is to buy,
// drill and lift.
func cautions() []string {
	return []string{
		"An estimate from a simple linear model with uncertain joints; not a certified calculation. Where " +
			"people can be hurt (lifting, guarding, electrical, floors), local codes and licensed practice come first.",
		"Heavy plates and frames: lift them mechanically, keep hands out from under a load, chock before " +
			"unbolting. A 500 × 500 × 40 mm plate is 27 kg in aluminium and 79 kg in steel.",
		"Disconnect the power before touching spindle or screws. Moving axes pinch; a vertical axis falls " +
			"when its motor has no power, so give it a brake or a counterweight.",
		"Spindle: eye protection, no gloves, a guard, the tool's rated speed; chips and broken cutters " +
			"fly. Make test pushes with the spindle off and unplugged.",
		"Screws: replace stretched or stripped ones; use the right strength class and enough engaged " +
			"thread; check the torque again after a day and after a crash; never work beyond the slip or opening " +
			"limit reported.",
		"Drill press: clamp the work; brass and acrylic grab. Epoxy, MDF dust, cutting fluids: ventilation and a mask.",
	}
}

// caution ends a report.
func (p *page) caution() {
	p.Line("")
	p.Say(shortCaution)
}

// cautions lists those usual in the trade, behind one of this machine's own where there is one.
func (p *page) cautions(own string) {
	p.Heading("Cautions")
	if own != "" {
		p.Item("  - ", own)
	}
	for _, c := range cautions() {
		p.Item("  - ", c)
	}
}
