// Package number writes numbers as a person or a program reads them, and tells a number from what rounding left over.
//
// Significant, Components, Length, Sizes, Along and Percent are for a person: they show no more digits than the number
// deserves. Given shows what the builder wrote himself; Full is for a program, such as a spreadsheet that reads a CSV.
// None of them writes "-0". Exceeds, RoundedPercent, BesideNoise and WithoutRounding compare and clean numbers before
// they are written, so that equals stay equal on every processor.
//
// Conventions: movements are in µm, lengths in mm, rotations in rad, masses in kg; Noise and NoiseInTurn are in these
// units. Vectors are in the order x, y, z.
//
// A report first calls CheckFinite on all it is to show, once. The functions that write do not look again: a NaN is
// written as "NaN".
//
//	if err := number.CheckFinite(answer); err != nil {
//		return err
//	}
//	text := number.Significant(stiffness) + " N/µm"
//
// It knows no units but those of its conventions, reads no numbers and breaks no lines.
package number
