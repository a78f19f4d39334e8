package cutting

import (
	"math"

	"tiploop/frame/constant"
)

// Material is what is cut.
type Material struct {
	Key         string     // name in a model file, "brass-cz120"
	Name        string     // name in tables
	Kienzle     Kienzle    // tables of specific force; every listed material has one, without it Edge is all there is
	Edge        *EdgeForce // coefficients measured in milling; nil where none are known
	SpeedMMin   Span       // usual cutting speed, m/min, high-speed steel to carbide
	FeedShare   Span       // usual feed per tooth over the cutter's diameter
	UsualSource string     // of the last two
}

// Materials returns the known work materials in the order of tables.
func Materials() []Material {
	list := make([]Material, 0, len(materialTable))
	for _, m := range materialTable {
		list = append(list, m.copied())
	}
	return list
}

// LookupMaterial returns the work material with that key.
func LookupMaterial(key string) (Material, bool) {
	m, ok := constant.Find(materialTable, key, func(m Material) string { return m.Key })
	return m.copied(), ok
}

// copied keeps the table out of a caller's reach.
func (m Material) copied() Material {
	if m.Edge != nil {
		e := *m.Edge
		m.Edge = &e
	}
	return m
}

// MillingLaw returns the law of milling at a level: that of the typical numbers, times how hard the work may cut. All
// of a law's coefficients go up and down together, so that whatever is worked out of it (a wall's error, the depth
// within a tolerance) has its typical value between those of low and high. Were each coefficient to go its own way,
// tangential and radial forces, which oppose each other on a wall, would put hard work at a smaller error than usual
// work.
func (m Material) MillingLaw(level constant.Level, helixDeg float64) Law {
	if m.Edge == nil {
		return m.Kienzle.Law(constant.Typical, helixDeg).times(m.Hardness().At(level))
	}
	return m.Edge.Law(constant.Typical).times(m.Hardness().At(level))
}

// hardnessChipMM is the chip at which low and high numbers are held against typical ones: that of a small mill.
const hardnessChipMM = 0.03

// Hardness returns by what factor the force of milling lies below and above the typical one. Where coefficients of
// milling are known it is the widest that tangential or radial force has on a chip of 0.03 mm; tables of specific
// force come from turning and read 1.5 to 2 times too high for the thin chips of small sharp mills, so they count for
// the high end alone. A law that a user gave as a specific force has the scatter that he gave it.
func (m Material) Hardness() constant.Band {
	specific := func(l constant.Level) float64 {
		t, _, _ := m.Kienzle.Law(l, 0).Orthogonal(hardnessChipMM, 1)
		return t
	}
	if m.Edge == nil {
		typical := specific(constant.Typical)
		return constant.Between(specific(constant.Low)/typical, 1, specific(constant.High)/typical)
	}
	t, r, _ := m.Edge.Law(constant.Typical).Orthogonal(hardnessChipMM, 1)
	lowT, lowR, _ := m.Edge.Law(constant.Low).Orthogonal(hardnessChipMM, 1)
	highT, highR, _ := m.Edge.Law(constant.High).Orthogonal(hardnessChipMM, 1)
	band := constant.Between(lowT/t, 1, max(highT, specific(constant.High))/t)
	if r > 0 {
		band.Low, band.High = min(band.Low, lowR/r), max(band.High, highR/r)
	}
	return band
}

// atChip turns a specific force known at one chip thickness into k_c1.1.
func atChip(kc constant.Band, chipMM, m float64) constant.Band {
	return kc.Scaled(math.Pow(chipMM, m))
}

// scaled returns the band around a typical value whose ends are shares of it.
func scaled(v, low, high float64) constant.Band { return constant.Between(v*low, v, v*high) }
