package cutting

import (
	"math"
	"strconv"

	"tiploop/frame/constant"
)

// Sources of the rows. "Group table" was read: a toolmaker's table of material groups after VDI 3323
// and ISO 513, turning with inserts. "König" stands for the second set of numbers, Kienzle and König as German
// machining handbooks print them, from memory. A band runs from 15 % below the lower of both to 15 %
// above the higher one, the scatter usual between tables; typical is the group table's value.
const (
	sourceGroups  = "group table after VDI 3323 and ISO 513 (read); Kienzle, König (from memory); scatter of 15 %"
	sourceRows    = "Chinese J. Mech. Eng. 2021, doi 10.1186/s10033-021-00536-9, table 5 (read)"
	sourceUnknown = "0.6, 1, 1.6 times the row of 6082-T6 in " + sourceRows +
		", house band for aluminium that has no row"
	sourceBrass    = "scaled from k_c1.1, " + sourcePractice
	sourceSteel    = sourceAltintas + ", order of magnitude"
	sourceWood     = sourcePractice + "; order of magnitude (from memory), taken at a chip of 0.1 mm"
	sourceParticle = "Pałubicki, Materials 14 (2021) 2208 (read): average 32.0 and 37.6 MPa at 40 and 60 m/s, " +
		"scatter of 15 %; no exponent published: that of fibreboard at a chip of 0.1 mm, house value"
)

// Chip thicknesses. Tables were measured in turning; coefficients in milling with feeds of about 0.02 to 0.2 mm.
var (
	turningChips = Span{0.05, 1}
	millingChips = Span{0.01, 0.2}
	woodChips    = Span{0.05, 0.5}
)

// Chips at which a curve of specific force is replaced by its tangent: thin ones of small mills in metal, and those
// that bare specific forces of wood and plastics are taken at, the middle of router work.
const (
	metalTangentMM      = 0.05
	woodReferenceChipMM = 0.1
)

// tangent is the row of a material that nobody has milled with small tools: the tangent to Kienzle's curve at a thin
// chip. What it leaves at no chip at all is the force of the edge: 0.017 mm of chip for C45, where the row measured by
// milling says 0.016, and 0.013 to 0.036 those of aluminium and brass. The axial numbers are those of a helix of 30
// degrees, as in measured rows.
func tangent(k Kienzle, chipMM float64) *EdgeForce {
	at := func(of func(level constant.Level) float64) constant.Band {
		return constant.Between(of(constant.Low), of(constant.Typical), of(constant.High))
	}
	chip := at(func(l constant.Level) float64 {
		m := k.M.At(l)
		return (1 - m) * k.Kc11.At(l) * math.Pow(chipMM, -m)
	})
	edge := at(func(l constant.Level) float64 {
		m := k.M.At(l)
		return m * k.Kc11.At(l) * math.Pow(chipMM, 1-m)
	})
	const tan30 = 0.5773502691896258
	return &EdgeForce{
		Ktc: chip, Krc: chip.Times(radialRatio.Band), Kac: chip.Times(axialRatio.Band).Scaled(tan30),
		Kte: edge, Kre: edge.Times(edgeRadialRatio.Band), Kae: edge.Scaled(edgeAxialShare.Band.Typical),
		ChipMM: k.ChipMM,
		Source: "tangent at a chip of " + strconv.FormatFloat(chipMM, 'g', -1, 64) + " mm to the curve of: " + k.Source,
	}
}

// turnedOnly is a metal without a row measured in milling.
func turnedOnly(key, name string, k Kienzle, speed Span) Material {
	return Material{key, name, k, tangent(k, metalTangentMM), speed, usualFeed, sourceUsual}
}

// routed is a wood or a plastic.
func routed(key, name string, k Kienzle, speed Span) Material {
	return Material{key, name, k, tangent(k, woodReferenceChipMM), speed, softFeed, sourceUsual}
}

// Coefficients of aluminium that has no row of its own.
func aluminiumEdge() *EdgeForce {
	return &EdgeForce{
		Ktc: scaled(631, 0.6, 1.6), Krc: scaled(99, 0.6, 1.6), Kac: scaled(273, 0.6, 1.6),
		Kte: scaled(13, 0.6, 1.6), Kre: scaled(10, 0.6, 1.6), Kae: scaled(2.8, 0.6, 1.6),
		ChipMM: millingChips, Source: sourceUnknown,
	}
}

// Coefficients of brass.
func brassEdge() *EdgeForce {
	return &EdgeForce{
		Ktc: constant.Between(500, 750, 1000), Krc: constant.Between(100, 225, 400),
		Kac: constant.Between(100, 150, 200),
		Kte: constant.Between(5, 10, 15), Kre: constant.Between(5, 10, 15), Kae: constant.Exactly(1),
		ChipMM: millingChips, Source: sourceBrass,
	}
}

// turned is a row of the group table: typical values, and those of the other table.
func turned(kc11, m, otherKc11, otherM float64) Kienzle {
	const scatter = 0.15
	return Kienzle{
		Kc11:   constant.Between(min(kc11, otherKc11)*(1-scatter), kc11, max(kc11, otherKc11)*(1+scatter)),
		M:      constant.Between(min(m, otherM), m, max(m, otherM)),
		ChipMM: turningChips, Source: sourceGroups,
	}
}

// woody is a row known only as a specific force at some chip; its exponent is held so that k_c1.1 carries the scatter.
func woody(kc constant.Band, m float64, source string) Kienzle {
	return Kienzle{Kc11: atChip(kc, woodReferenceChipMM, m), M: constant.Exactly(m), ChipMM: woodChips, Source: source}
}

// materialTable is ordered as the trade groups it: aluminium, brass, steel, iron, plastics and wood. Keys are those of
// the same metal as a part's material, where there is one.
var materialTable = []Material{
	{"aluminium-5083", "wrought aluminium, not hardened (5083)", turned(700, 0.25, 780, 0.23), aluminiumEdge(),
		Span{100, 600}, usualFeed, sourceUsual},
	{"aluminium-6061", "aluminium 6061-T6", turned(800, 0.25, 830, 0.23), &EdgeForce{
		Ktc: constant.Between(244, 631, 631*1.6), Krc: constant.Between(99*0.6, 99, 114*1.6),
		Kac: scaled(273, 0.6, 1.6),
		Kte: constant.Between(7.5, 13, 13*1.6), Kre: constant.Between(7.8, 10, 10*1.6), Kae: scaled(2.8, 0.6, 1.6),
		ChipMM: millingChips,
		Source: sourceRows + ": the row of 6061-T6 (244, 7.5, 114, 7.8) lies far below the others and is the low " +
			"end; typical and high are those of 6082-T6",
	}, Span{100, 600}, usualFeed, sourceUsual},
	{"aluminium-6082", "aluminium 6082-T6", turned(800, 0.25, 830, 0.23), aluminiumEdge(), Span{100, 600}, usualFeed,
		sourceUsual},
	{"aluminium-7075", "aluminium 7075-T6", turned(800, 0.25, 830, 0.23), &EdgeForce{
		Ktc: constant.Between(600, 767, 1319), Krc: constant.Between(169, 169, 789),
		Kac: constant.Between(49, 222, 323),
		Kte: constant.Between(11.1, 27.7, 27.7), Kre: constant.Between(11.3, 26.6, 26.8),
		Kae: constant.Between(0.7, 0.7, 2.1), ChipMM: millingChips,
		Source: sourceRows + ": typical is one carbide row, low and high the least and greatest of four",
	}, Span{100, 600}, usualFeed, sourceUsual},
	{"aluminium-tooling-plate", "cast aluminium, up to 12 % silicon", turned(700, 0.25, 830, 0.23), aluminiumEdge(),
		Span{100, 600}, usualFeed, sourceUsual},
	{"brass-cz120", "brass, free-cutting (CZ120, CuZn39Pb2, clock plates)", turned(700, 0.27, 780, 0.18), brassEdge(),
		Span{50, 350}, usualFeed, sourceUsual},
	{"brass", "brass without lead (CuZn37)", Kienzle{
		Kc11: constant.Between(700*0.85, 780, 780*1.15), M: constant.Between(0.18, 0.18, 0.27), ChipMM: turningChips,
		Source: sourceGroups + "; typical is Kienzle's CuZn",
	}, brassEdge(), Span{50, 300}, usualFeed, sourceUsual},
	turnedOnly("steel", "unalloyed steel below 0.25 % carbon (S235), 420 MPa", turned(1350, 0.21, 1780, 0.17),
		Span{20, 200}),
	{"steel-c45", "unalloyed steel from 0.25 % carbon (C45), 650 MPa", turned(1500, 0.22, 2220, 0.14), &EdgeForce{
		Ktc: constant.Between(1500, 1900, 2400), Krc: constant.Between(450, 760, 1200),
		Kac: constant.Between(300, 380, 480),
		Kte: constant.Between(20, 30, 40), Kre: constant.Between(20, 37.5, 60), Kae: constant.Exactly(2),
		ChipMM: millingChips, Source: sourceSteel,
	}, Span{15, 160}, usualFeed, sourceUsual},
	turnedOnly("stainless-1.4301", "austenitic stainless steel", turned(2150, 0.20, 2350, 0.21), Span{10, 120}),
	turnedOnly("cast-iron-gjl-200", "grey cast iron, ferritic", turned(1225, 0.25, 1160, 0.26), Span{20, 150}),
	turnedOnly("cast-iron-gjl-250", "grey cast iron, pearlitic", turned(1350, 0.28, 1160, 0.26), Span{20, 150}),
	routed("acrylic", "acrylic", woody(constant.Between(60, 100, 150), 0.2, sourceWood+"; low confidence"),
		Span{60, 400}),
	routed("mdf", "medium-density fibreboard", woody(constant.Between(15, 30, 60), 0.4,
		sourceWood+"; exponent 0.3 to 0.5; a worn edge takes twice as much"), Span{200, 3000}),
	routed("particleboard", "particleboard", woody(constant.Between(32.0*0.85, (32.0+37.6)/2, 37.6*1.15), 0.4,
		sourceParticle), Span{200, 3600}),
	routed("hardwood", "hardwood, along or across the grain", woody(constant.Between(15, 30, 60), 0.4,
		sourceWood+"; exponent 0.3 to 0.5"), Span{200, 3000}),
	routed("hardwood-end-grain", "hardwood, end grain", woody(constant.Between(15*1.5, 30*1.75, 60*2), 0.4,
		sourceWood+"; 1.5 to 2 times as along the grain"), Span{200, 3000}),
}

// Usual feeds as a share of the cutter's diameter, and where they and the usual speeds come from.
var (
	usualFeed = Span{0.002, 0.02}
	softFeed  = Span{0.005, 0.06}
)

const sourceUsual = "tables of small-cutter makers and shop charts, " + sourcePractice + " (from memory)"
