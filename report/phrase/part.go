package phrase

import (
	"slices"

	"tiploop/frame/answer"
)

// Sawn stands behind what is said of a plate that is not all of its block.
const Sawn = ", sawn to outline"

// Kind says what sort of thing a part of a machine is: "bar", "plate, sawn to outline".
func Kind(inv answer.Inventory, p answer.PartLine) string {
	for _, c := range inv.CutList {
		if c.Outline != "" && slices.Contains(c.Parts, p.Name) {
			return p.Kind + Sawn
		}
	}
	return p.Kind
}
