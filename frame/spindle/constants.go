package spindle

import (
	"fmt"

	"tiploop/frame/constant"
)

// The sources that several constants share.
const (
	sourcePractice = "common practice, no publication, low confidence"
	sourceKopsVo   = "Kops & Vo, CIRP Annals 39, 1990 (from memory): 0.8 of the diameter, 0.75 to 0.85"
)

var (
	rearShare = constant.Entry{
		Key: "rear_bearing", Meaning: "stiffness of the rear bearings over the radial stiffness at the nose; sets " +
			"the tilt", Unit: "-",
		Band:   constant.Between(0.3, 0.5, 0.8),
		Source: sourcePractice,
	}
	colletTurn = constant.Entry{
		Key: "collet_turn", Meaning: "give of a collet's rotation at the tip, over the bending of a fluted cutter " +
			"that sticks out three diameters", Unit: "-",
		Band:   constant.Between(0.3, 0.6, 1.0),
		Source: sourcePractice + "; low is stiff",
	}
)

// colletReach is the stickout in diameters at which collet_turn is stated.
const colletReach = 3

// Constants returns every constant of the package in the order of tables, those of each kind of spindle and seat
// included.
func Constants() []constant.Entry {
	list := CommonConstants()
	for _, c := range classes {
		list = append(list,
			constant.Entry{Key: "radial_" + c.Key, Meaning: "radial stiffness at the nose, " + c.Name, Unit: "N/mm",
				Band: c.Radial, Source: c.Source},
			constant.Entry{Key: "axial_" + c.Key, Meaning: "axial stiffness, " + c.Name, Unit: "N/mm", Band: c.Axial,
				Source: c.Source},
			constant.Entry{Key: "span_" + c.Key, Meaning: "distance of front and rear bearings, " + c.Name, Unit: "mm",
				Band: c.Span, Source: c.Source},
		)
	}
	for _, p := range tapers {
		list = append(list, constant.Entry{Key: "taper_" + p.Key, Meaning: "tilt stiffness of the " + p.Name,
			Unit: "N·mm/rad", Band: p.Tilt, Source: p.Source})
	}
	return list
}

// CommonConstants returns the constants that belong to no kind of spindle and no seat: those of bearings, collets and
// cutters.
func CommonConstants() []constant.Entry {
	list := []constant.Entry{rearShare, colletTurn}
	for _, f := range flutes {
		list = append(list, constant.Entry{
			Key: fmt.Sprintf("core_%d_flutes", f.flutes),
			Meaning: fmt.Sprintf("diameter of the round bar that bends like a cutter of %d flutes, over its diameter",
				f.flutes), Unit: "-",
			Band: f.share, Source: f.source,
		})
	}
	return list
}

// ColletTurn returns the give of a collet's rotation at the tip over the bending of a fluted cutter that sticks out
// three diameters; low is stiff.
func ColletTurn() constant.Band { return colletTurn.Band }
