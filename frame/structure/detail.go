package structure

import (
	"fmt"
)

// Detail is how plates and gussets are modelled inside; bars are members at either.
type Detail int

// The details.
const (
	Section Detail = iota // a member along the longest side, a strip or a triangle
	Solid                 // hexahedra and wedges, reduced to what the neighbours feel
)

var detailNames = [...]string{"section", "solid"}

// String gives the detail the name the command line uses.
func (d Detail) String() string {
	if d < 0 || int(d) >= len(detailNames) {
		return fmt.Sprintf("Detail(%d)", int(d))
	}
	return detailNames[d]
}
