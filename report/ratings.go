package report

import (
	"math"
	"slices"

	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/report/number"
)

// longLife is the life, km or hours, from which a number says no more than that something else will end it.
const longLife = 1e5

// ratingsMean says what the table of ratings is worth.
const ratingsMean = "Load: of a carriage, as if all of it pressed onto its rail; of a screw, along it. Static safety " +
	"C0/P0 (ISO 14728-2, of screws ISO 3408-5): makers ask for 3 and more with shocks. Life: the travel that nine of " +
	"ten outlast if this load acts all the time, beside the preload: (C/P)³·50 km (ISO 14728-1), (Ca/F)³·10⁶ turns " +
	"(ISO 3408-5); in hours, at the axis's rapid move without a stop; none above C/2, where the law ends. An " +
	"indication, not a promise: ratings are typical of a size and differ by a factor of two between makers, lives by " +
	"eight, and the law knows nothing of lubrication, dirt, shocks, short strokes, or rails and screws mounted askew."

// ratings holds the worst load of each guide and of each drive against what its size bears; those without ratings are
// left out.
func (p *page) ratings(r answer.Result) {
	var rows [][]string
	add := func(name, load string, force float64, dynamic, static, safety, km, h *float64) {
		rows = append(rows, []string{name, load, number.Significant(force),
			number.Significant(*dynamic / constant.NewtonPerKN), number.Significant(*static / constant.NewtonPerKN),
			perhapsSignificant(safety), life(km), life(h)})
	}
	for _, c := range worstCarriages(r.Carriages) {
		if c.EquivalentN != nil && c.DynamicN != nil && c.StaticN != nil {
			add("guide "+c.Axis+": "+c.Guide, c.Load, *c.EquivalentN, c.DynamicN, c.StaticN, c.StaticSafety, c.LifeKm,
				c.LifeH)
		}
	}
	for _, d := range worstDrives(r.Drives) {
		if d.StaticSafety != nil && d.DynamicN != nil && d.StaticN != nil {
			add(d.Drive, d.Load, math.Abs(d.ForceN), d.DynamicN, d.StaticN, d.StaticSafety, d.LifeKm, d.LifeH)
		}
	}
	if len(rows) == 0 {
		return
	}
	p.Heading("Ratings: the worst load of each guide and drive, against what its size bears")
	p.Table([]column{named("what"), named("worst under"), measured("load, N"), measured("dynamic, kN"),
		measured("static, kN"), measured("static safety"), measured("life, km"), measured("life, h")}, rows)
	p.Say(ratingsMean)
}

// life writes a life, km or hours.
func life(v *float64) string {
	if v != nil && *v > longLife {
		return "over " + number.Length(longLife)
	}
	return perhapsSignificant(v)
}

// perhapsSignificant writes a number, and a dash where there is none.
func perhapsSignificant(v *float64) string {
	if v == nil {
		return absent
	}
	return number.Significant(*v)
}

// ratingHeads are the CSV columns of what carries a rating in any of the options.
func ratingHeads(options []answer.Result) (guides, drives []string) {
	for _, r := range options {
		for _, c := range r.Carriages {
			if name := c.Axis + ": " + c.Guide; !slices.Contains(guides, name) {
				guides = append(guides, name)
			}
		}
		for _, d := range r.Drives {
			if !slices.Contains(drives, d.Drive) {
				drives = append(drives, d.Drive)
			}
		}
	}
	return guides, drives
}

// ratingHead names the columns of guides and drives.
func ratingHead(guides, drives []string) (head []string) {
	for _, g := range guides {
		head = append(head, "guide "+g+" equivalent_n", "guide "+g+" static_safety_ratio", "guide "+g+" life_km")
	}
	for _, d := range drives {
		head = append(head, d+" force_n", d+" static_safety_ratio", d+" life_km")
	}
	return head
}

// ratingCells are those of a load: of each guide the worst loaded carriage, of each drive its force; blank what it has
// not.
func ratingCells(r answer.Result, load string, guides, drives []string) (cells []string) {
	var carriages []answer.CarriageLoad
	for _, c := range r.Carriages {
		if c.Load == load {
			carriages = append(carriages, c)
		}
	}
	carriages = worstCarriages(carriages)
	for _, g := range guides {
		i := slices.IndexFunc(carriages, func(c answer.CarriageLoad) bool { return c.Axis+": "+c.Guide == g })
		if i < 0 {
			cells = append(cells, blanks(3)...)
			continue
		}
		c := carriages[i]
		cells = append(cells, perhaps(c.EquivalentN), perhaps(c.StaticSafety), perhaps(c.LifeKm))
	}
	for _, name := range drives {
		i := slices.IndexFunc(r.Drives, func(d answer.DriveLoad) bool { return d.Load == load && d.Drive == name })
		if i < 0 {
			cells = append(cells, blanks(3)...)
			continue
		}
		d := r.Drives[i]
		cells = append(cells, one(d.ForceN), perhaps(d.StaticSafety), perhaps(d.LifeKm))
	}
	return cells
}
