package answer

// HoleLine is one hole of a part. Its place is measured on the face that it opens on, from the part's datum corner: that
// with the least coordinates, on a gusset the right-angled one. Both are the same for the two ends of a hole that goes
// through.
type HoleLine struct {
	Part   string     `json:"part"`
	Number int        `json:"number"`       // in its part, from 1: along the rows of one face, then of the next
	Face   string     `json:"face"`         // that it opens on, as the part stands in the machine: "top". It touches there
	OutOn  string     `json:"comes_out_on"` // face where it comes out: "bottom", "slope"; "" of a blind one
	XMM    float64    `json:"x_mm"`         // from the datum corner along the first of the machine's axes in the face
	YMM    float64    `json:"y_mm"`         // and along the second
	EdgeMM float64    `json:"edge_mm"`      // from its middle to the nearest edge of the face
	AtMM   [3]float64 `json:"at_mm"`        // its middle on the face, in the machine
	Kind   string     `json:"kind"`         // "through", "counterbored through", "tapped", "bored"
	Screw  string     `json:"screw"`        // "M6"; "" of a bored one

	DrillMM  float64 `json:"drill_mm"`  // diameter, of the bore where there is one
	DepthMM  float64 `json:"depth_mm"`  // at full diameter; of a hole through, the metal's; 0: not known, of a hollow bar
	ThreadMM float64 `json:"thread_mm"` // length of full thread; 0: none, or not known

	// Of a counterbored hole its counterbore, on the face where it comes out; 0: none.
	SinkMM      float64 `json:"counterbore_mm"`
	SinkDepthMM float64 `json:"counterbore_depth_mm"`

	Meets   []int  `json:"meets"`         // numbers of holes in its part that it runs into
	NotYet  string `json:"not_yet"`       // why not to drill it as the model stands; "" when nothing is known against it
	For     string `json:"for"`           // "joint base/column", "rail 1 of axis x"
	Typical bool   `json:"typical_place"` // a place as usual for a size, to be taken from the thing itself
	Source  string `json:"source"`        // of diameter and depth
}

// The Kind of a hole with a thread, and of one for a nut, a bearing or a motor's pilot, which has no screw.
const (
	TappedHole = "tapped"
	BoredHole  = "bored"
)

// OpenHoles is something that is screwed to a part by holes of which too little is known to drill them.
type OpenHoles struct {
	What     string       `json:"what"` // what sort of thing: "feet", "nut", "motor", "mass"
	For      string       `json:"for"`  // "motor of x"
	Part     string       `json:"part"`
	PlacesMM [][3]float64 `json:"places_mm"` // where it stands, one or more
	Why      string       `json:"why"`
}

// CutLine is pieces of one stock and size.
type CutLine struct {
	Kind     string     `json:"kind"`    // "plate", "gusset", "bar"
	Section  string     `json:"section"` // of a bar; "" otherwise
	Material string     `json:"material"`
	SizeMM   [3]float64 `json:"size_mm"` // length, width, thickness; of a bar its length along itself, then 0
	Parts    []string   `json:"parts"`
	MassKg   float64    `json:"mass_kg"` // of one

	// Outline is what a plate is sawn to, as the path of an SVG drawing in mm as a model file has it; "": all of it.
	Outline string `json:"outline,omitempty"`
}

// BarStock is the bars of one section and material together.
type BarStock struct {
	Section  string  `json:"section"`
	Material string  `json:"material"`
	Pieces   int     `json:"pieces"`
	LengthMM float64 `json:"length_mm"` // of all pieces along themselves, without what the saw takes
	MassKg   float64 `json:"mass_kg"`
}
