package machine

// Inventory is what is in a machine, as plain numbers: what there is to buy, saw, drill and lift.
type Inventory struct {
	Tiploop      int          `json:"tiploop"`
	Machine      string       `json:"machine"`
	About        string       `json:"about"`
	Option       string       `json:"option"`
	MassKg       float64      `json:"mass_kg"`           // of the parts
	AxesKg       float64      `json:"axes_kg,omitempty"` // of rails, carriages and screws of known size; not in mass_kg
	CentreMM     [3]float64   `json:"centre_of_mass_mm"`
	Parts        []PartLine   `json:"parts"`
	Joints       []JointLine  `json:"joints"`
	Grounds      []GroundLine `json:"grounds"`
	Axes         []AxisLine   `json:"axes,omitempty"`
	Holes        Holes        `json:"holes"`
	Stress       []Stress     `json:"stress"` // the worst of each part over all load cases
	Notes        []string     `json:"notes"`
	ExtentFromMM [3]float64   `json:"extent_from_mm"` // corners of the box round the machine
	ExtentToMM   [3]float64   `json:"extent_to_mm"`
}

// PartLine is one part.
type PartLine struct {
	Name     string     `json:"name"`
	Kind     string     `json:"kind"`    // "plate", "gusset", "bar"
	SizeMM   [3]float64 `json:"size_mm"` // along x, y, z
	Section  string     `json:"section"` // of a bar; "" otherwise
	Material string     `json:"material"`
	MassKg   float64    `json:"mass_kg"`
}

// JointLine is one joint, with the face it was found to touch on.
type JointLine struct {
	Name          string       `json:"name"` // "upright/head"
	Kind          string       `json:"kind"` // "bonded", "screwed", "sprung"
	FromMM        [3]float64   `json:"from_mm"`
	ToMM          [3]float64   `json:"to_mm"` // opposite corners of the contact; equal for a point
	Screw         string       `json:"screw"` // "M6"; "" when there are none
	ThroughIn     string       `json:"through_in"`
	TappedIn      string       `json:"tapped_in"`
	Surface       string       `json:"surface"`
	Shim          string       `json:"shim"` // "0.1 mm paper"; "" when there is none
	PlacesMM      [][3]float64 `json:"places_mm"`
	PreloadN      float64      `json:"preload_n"`        // of each screw
	ZoneMM2       float64      `json:"zone_mm2"`         // pressed area round a screw, the least of them
	PressMPa      float64      `json:"press_mpa"`        // pressure there
	NormalNPerUm  float64      `json:"normal_n_per_um"`  // stiffness of one spot square to the face, the least of them
	TangentNPerUm float64      `json:"tangent_n_per_um"` // and along it
}

// GroundLine is one ground.
type GroundLine struct {
	Name     string       `json:"name"`
	Kind     string       `json:"kind"` // "fixed face", "fixed strip", "feet", "hold", "spring", "bed"
	Part     string       `json:"part"`
	FromMM   [3]float64   `json:"from_mm"`
	ToMM     [3]float64   `json:"to_mm"`
	PlacesMM [][3]float64 `json:"places_mm"`
}
