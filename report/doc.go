// Package report turns the plain numbers of an answer into text, tables and charts. It solves nothing.
//
// The Write functions take what a command found (answer.Answer, answer.Inventory) and an io.Writer: text for a
// person, JSON for a program, CSV for a spreadsheet. The picture functions return a paper.Picture, which Save writes as
// SVG, PNG or PDF by the name's extension. The machine itself is drawn by package drawing.
//
// Which option to build is the business of package verdict, numbers and sentences; what fits on one screen is that of
// package screen.
//
// Below it are the packages that it shares with drawings: number (how numbers are written), wrap (how text is broken
// into lines) and paper (what pictures are drawn on and with).
//
// Conventions: x is right, y away from the builder, z up. Movements are in µm, lengths in mm, forces in N, masses in
// kg, stiffnesses in N/µm. Text shows three significant digits, CSV six, both with 0 for what rounding left over;
// JSON shows all digits as they are. A movement is that of the tool against the work, or of a point against the
// ground or what the model reads it against. Options, loads and sources keep the order they came in; points, which come
// as a map, are sorted by name. The same answer gives the same bytes on every run.
//
// An answer of detail "both" is reported as the answer of its solid bodies, with the beam model's beside it: how far
// the beam model is off, in percent of the solid bodies' value, and whether the two rank the options alike. A CSV then
// has the beam model's rows behind each option's own; its last column names the detail. Stresses are in MPa; the margin
// to yield is by how many times one load, by itself, may grow before a part yields.
//
// No NaN or infinity is written: every function returns an error that names the value instead. A picture of which the
// answer has nothing is a paper.NothingToDraw.
//
//	picture, err := report.TravelPicture(answer)
//	if err != nil {
//		return err
//	}
//	return picture.Save("bed.svg")
package report
