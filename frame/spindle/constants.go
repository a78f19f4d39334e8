package spindle

import "fmt"

// Constant is one number of the spindle model.
type Constant struct {
	Key     string // name in tables
	Meaning string // what it is
	Unit    string // "-" for a ratio
	Band    Band   // its scatter
	Source  string // where it comes from, and whether the source was read
}

// The sources that several constants share.
const (
	sourcePractice = "common practice, no publication, low confidence"
	sourceKopsVo   = "Kops & Vo, CIRP Annals 39, 1990 (from memory): 0.8 of the diameter, 0.75 to 0.85"
)

var (
	rearShare = Constant{
		"rear_bearing", "stiffness of the rear bearings over the radial stiffness at the nose; sets the tilt", "-",
		Band{0.3, 0.5, 0.8}, sourcePractice,
	}
	colletTurn = Constant{
		"collet_turn", "give of a collet's rotation at the tip, over the bending of a fluted cutter that sticks out three diameters", "-",
		Band{0.3, 0.6, 1.0}, sourcePractice + "; low is stiff",
	}
)

// colletReach is the stickout in diameters at which collet_turn is stated.
const colletReach = 3

// Constants returns every constant of the package in the order of tables.
func Constants() []Constant {
	list := []Constant{rearShare, colletTurn}
	for _, f := range flutes {
		list = append(list, Constant{fmt.Sprintf("core_%d_flutes", f.flutes), fmt.Sprintf("diameter of the round bar that bends like a cutter of %d flutes, over its diameter", f.flutes), "-", f.share, f.source})
	}
	for _, c := range classes {
		list = append(list,
			Constant{"radial_" + c.Key, "radial stiffness at the nose, " + c.Name, "N/mm", c.Radial, c.Source},
			Constant{"axial_" + c.Key, "axial stiffness, " + c.Name, "N/mm", c.Axial, c.Source},
			Constant{"span_" + c.Key, "distance of front and rear bearings, " + c.Name, "mm", c.Span, c.Source},
		)
	}
	for _, p := range tapers {
		list = append(list, Constant{"taper_" + p.Key, "tilt stiffness of the " + p.Name, "N·mm/rad", p.Tilt, p.Source})
	}
	return list
}

// LookupConstant returns the constant of that key.
func LookupConstant(key string) (Constant, bool) {
	for _, c := range Constants() {
		if c.Key == key {
			return c, true
		}
	}
	return Constant{}, false
}
