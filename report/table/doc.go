// Package table sets text on a page of so many letters: running text, items and tables, none of their lines longer than
// the page is wide.
//
//	p := table.New(w)
//	p.Heading("Joints")
//	p.Table([]table.Column{table.Named("joint"), table.Measured("mass, kg")}, rows)
//	return p.Close()
//
// A Medium says how wide it is and whether it shows colours; elsewhere lines have 100 letters at most and no colours. A
// table that is too wide first gets its heads wrapped, then its words, and is at last cut into several below each other
// that all begin with its first column.
package table
