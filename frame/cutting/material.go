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

// laws returns the laws a level must be judged by. Tables of specific force come from turning and
// read 1.5 to 2 times too high for the thin chips of small sharp mills, so where coefficients
// from milling are known those give low and typical, and high is the dearer of the two.
func (m Material) laws(level constant.Level, helixDeg float64) []Law {
	if m.Edge == nil {
		return []Law{m.Kienzle.Law(level, helixDeg)}
	}
	laws := []Law{m.Edge.Law(level)}
	if level == constant.High && m.Kienzle.Kc11.High > 0 {
		laws = append(laws, m.Kienzle.Law(level, helixDeg))
	}
	return laws
}

// atChip turns a specific force known at one chip thickness into k_c1.1.
func atChip(kc constant.Band, chipMM, m float64) constant.Band {
	return kc.Scaled(math.Pow(chipMM, m))
}

// scaled returns the band around a typical value whose ends are shares of it.
func scaled(v, low, high float64) constant.Band { return constant.Between(v*low, v, v*high) }
