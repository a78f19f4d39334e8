// Package screen answers on one screen of 40 lines and 80 columns: what the machine does and how sure that is, why, what
// to change next, what is near a limit, and where more is. It solves nothing; numbers come from package answer.
//
//	err := screen.Tip(os.Stdout, found)
//
// Movements are in µm, lengths in mm, forces in N, masses in kg, stiffnesses in N/µm. A number that is known with its range
// is written with two digits and the range of nine in ten behind it, any other with three. What is below a hundredth of the
// movement it is a part of is not told. A machine with more loads, parts or paths than the screen has room for gets fewer
// of each, the largest first; the last lines say where the rest is. Of more options than there is room for those that the
// verdict names have columns.
//
// No NaN or infinity is written: every function returns an error that names the value instead.
package screen
