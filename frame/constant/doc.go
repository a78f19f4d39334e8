// Package constant holds what is known of a number that is not known exactly: its [Band], low, typical and high, and as
// an [Entry] of a table its key, meaning, unit and source.
//
//	nut := constant.Entry{
//		Key: "nut_in_service", Meaning: "stiffness of a ball nut in its seat over the catalogue's", Unit: "-",
//		Band: constant.Between(0.35, 0.6, 0.9), Source: "ball-screw maker's page on rigidity",
//	}
//	k := nut.Band.Scaled(310e3) // N/mm
//
// Low and high are so by value, whatever that means for stiffness. They bound what a builder meets in the trade; they are
// no standard deviations. A band carries no unit of its own: it has that of the entry or field it stands in.
package constant
