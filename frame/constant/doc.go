// Package constant holds what is known of a number that is not known exactly: its [Band], low, typical and high, and
// as an [Entry] of a table its key, meaning, unit and source.
//
//	nut := constant.Entry{
//		Key: "nut_in_service", Meaning: "stiffness of a ball nut in its seat over the catalogue's", Unit: "-",
//		Band: constant.Between(0.35, 0.6, 0.9), Source: "ball-screw maker's page on rigidity",
//	}
//	k := nut.Band.Scaled(310e3) // N/mm
//
// Low and high are so by value, whatever that means for stiffness. They bound what a builder meets in the trade; they
// are no standard deviations. A band carries no unit of its own: it has that of the entry or field it stands in.
//
// The packages of the trade (joint, guide, drive, spindle, cutting) share two more things here: looking a row up in a
// table ([Find], and [Lookup] for entries), and refusing a number that cannot be, as an error that names it
// ([Positive] and its like) or as a panic ([MustBePositive]). [Check] is for the tests of whoever holds a table of
// entries, [Lookup] for whoever wants one of their numbers by its key.
//
// Left out: distributions, correlation between numbers, and bands that reach below zero.
package constant
