package live

// State is what the page shows beside the report: what differs from the file, what that does, and what is wrong.
type State struct {
	Page    int      `json:"page"`            // number of the newest page; the server sets it
	Move    int      `json:"move"`            // of the last [Moved] that is in it
	File    string   `json:"file"`            // its name, without folders
	Fault   *Fault   `json:"fault,omitempty"` // of the file; the machine shown is then the last good one
	Option  string   `json:"option"`          // whose values these are
	Options []string `json:"options"`         // all there are, in the order of the file; none but Option in a file without
	Values  []Value  `json:"values"`
	Readout Readout  `json:"readout"`
}

// Fault is what is wrong with the file, or with the numbers that were put in place of its own.
type Fault struct {
	Title  string  `json:"title"`
	Places []Place `json:"places"`
}

// Place is one thing that is wrong.
type Place struct {
	At   string `json:"at,omitempty"` // "mill.yaml:12:5"; "": nowhere in particular
	What string `json:"what"`
	Hint string `json:"hint,omitempty"` // what to do
	Line string `json:"line,omitempty"` // the line of the file
}

// Value is one of the file's numbers, which can be moved.
type Value struct {
	Name     string  `json:"name"`
	Unit     string  `json:"unit"` // of all that follows, as in the file; "" for a plain number
	File     float64 `json:"file"` // what stands in the file
	At       float64 `json:"at"`   // where it is now
	From     float64 `json:"from"` // the ends of its slider
	To       float64 `json:"to"`
	Step     float64 `json:"step"`
	Whole    bool    `json:"whole"`          // it counts something
	ByOption bool    `json:"by_option"`      // the option sets it: writing changes the option
	Fixed    string  `json:"fixed"`          // why it is shown and cannot be moved; "": it can be
	Does     string  `json:"does,omitempty"` // what a step does
}

// Readout is what the numbers do, against those of the file.
type Readout struct {
	By      string `json:"by"`              // ByBeams or ByMeshes; "": nothing has been worked out yet
	Moved   bool   `json:"moved"`           // the numbers are not those of the file
	Pending string `json:"pending"`         // what is still being worked out: MeshesFollow and so on; "": nothing
	Rows    []Row  `json:"rows"`            // what is worth telling
	Trouble *Fault `json:"fault,omitempty"` // why the numbers make no machine; the rows are then older
}

// Row is one quantity.
type Row struct {
	What   string `json:"what"`             // "tip under “drilling”"
	File   string `json:"file,omitempty"`   // "26 µm (24 to 38)"; "" when nothing was moved
	Now    string `json:"now"`              // the same of the present numbers
	Change string `json:"change,omitempty"` // "12 % less"
	Sure   string `json:"sure,omitempty"`   // "better in 97 of 100"
	Good   int    `json:"good"`             // 1: the change is for the better, −1: for the worse, 0: none to speak of
}

// Moved is what a page asks for: an option, and all numbers that are not those of the file.
type Moved struct {
	Option string             `json:"option"`
	Values map[string]float64 `json:"values"` // by name, each in its [Value]'s unit
}

// Written names the value whose number is to go into the file.
type Written struct {
	Name string `json:"name"`
}
