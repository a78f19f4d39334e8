package answer

import "cmp"

// Asks are the words by which whoever reads an answer asks for more of it: those of the program that shows it, such
// as the flags of a command line. Those left empty are told in plain words.
type Asks struct {
	Detail string // before the name of a detail: "--detail"
	Mesh   string // before the factor on the size of a mesh: "--mesh"
	At     string // for single positions of axes: "--at"
	JSON   string // for the JSON, which leaves nothing out: "--json"
	All    string // for everything there is to print: "--all"
}

// ForEverything asks for all there is to print.
func (a Asks) ForEverything() string { return cmp.Or(a.All, "the full report") }

// ForDetail asks for a detail: "--detail solid", "detail solid".
func (a Asks) ForDetail(name string) string { return cmp.Or(a.Detail, "detail") + " " + name }

// ForFinerMesh asks for a finer mesh, whatever its size: "a finer --mesh", "a finer mesh".
func (a Asks) ForFinerMesh() string { return "a finer " + cmp.Or(a.Mesh, "mesh") }

// ForCoarserMesh asks for a coarser mesh: "a coarser --mesh", "a coarser mesh".
func (a Asks) ForCoarserMesh() string { return "a coarser " + cmp.Or(a.Mesh, "mesh") }

// ForPositions asks for single positions of axes: "single positions with --at", "single positions".
func (a Asks) ForPositions() string {
	if a.At == "" {
		return "single positions"
	}
	return "single positions with " + a.At
}

// ForAll says where nothing is left out: "--json", "the JSON".
func (a Asks) ForAll() string { return cmp.Or(a.JSON, "the JSON") }
