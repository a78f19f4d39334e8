package answer

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"tiploop/frame/constant"
)

// largeMovement is a movement of the tip or of a point, mm, beyond which a machine tool is none: sums that hold for
// small movements are then about something else, mostly a unit that was left out. House value.
const largeMovement = 1

// LargeNotes name the loads under which the tip or a point moves farther than sums of small movements reach.
func LargeNotes(loads []LoadResult) (notes []string) {
	for _, l := range loads {
		what, far := "the tip", 0.0
		if l.TipSizeUm != nil {
			far = *l.TipSizeUm
		}
		for _, name := range slices.Sorted(maps.Keys(l.PointsUm)) {
			p := l.PointsUm[name]
			if size := math.Sqrt(p[0]*p[0] + p[1]*p[1] + p[2]*p[2]); size > far {
				what, far = "point "+name, size
			}
		}
		if far > largeMovement*constant.UmPerMM {
			notes = append(notes, fmt.Sprintf("load %s: %s moves %.3g mm; all sums are for small movements. Look for a "+
				"stiffness, a thickness or a load without its unit, or with the wrong one.", l.Name, what, far/constant.UmPerMM))
		}
	}
	return notes
}
