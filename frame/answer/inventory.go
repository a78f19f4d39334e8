package answer

// Inventory is what is in a machine, as plain numbers: what there is to buy, saw, drill and lift.
type Inventory struct {
	Tiploop int     `json:"tiploop"`
	Machine string  `json:"machine"`
	About   string  `json:"about"`
	Option  string  `json:"option"`
	MassKg  float64 `json:"mass_kg"`           // of the parts and of what hangs on them
	HungKg  float64 `json:"hung_kg,omitempty"` // of what hangs on them
	// of rails and carriages of known size; they weigh in loads and are not in mass_kg
	AxesKg       float64      `json:"axes_kg,omitempty"`
	CentreMM     [3]float64   `json:"centre_of_mass_mm"` // of all that weighs, rails and carriages too
	Parts        []PartLine   `json:"parts"`
	Joints       []JointLine  `json:"joints"`
	Grounds      []GroundLine `json:"grounds"`
	Hung         []HungLine   `json:"hung,omitempty"`
	Axes         []AxisLine   `json:"axes,omitempty"`
	Holes        Holes        `json:"holes"`
	Stress       []Stress     `json:"stress"` // the worst of each part over all load cases
	Notes        []string     `json:"notes"`
	ExtentFromMM [3]float64   `json:"extent_from_mm"` // corners of the box round the machine
	ExtentToMM   [3]float64   `json:"extent_to_mm"`
	HoleList     []HoleLine   `json:"hole_list"`       // of all parts, in the order of Parts and of their numbers
	HolesOpen    []OpenHoles  `json:"holes_not_known"` // what is screwed on by holes that nothing is known of
	CutList      []CutLine    `json:"cut_list"`        // what there is to saw, the heaviest piece first
	BarStock     []BarStock   `json:"bar_stock"`       // lengths of bar by section
	Asks         Asks         `json:"-"`
}

// PartLine is one part.
type PartLine struct {
	Name     string     `json:"name"`
	Kind     string     `json:"kind"`    // "plate", "gusset", "bar"
	SizeMM   [3]float64 `json:"size_mm"` // along x, y, z
	Section  string     `json:"section"` // of a bar; "" otherwise
	Material string     `json:"material"`
	MassKg   float64    `json:"mass_kg"`
	DatumMM  [3]float64 `json:"datum_mm"` // the corner that its holes are measured from
}

// HungLine is something that hangs on a part, weighs and goes along with it: a screw, a nut, a motor, a mass of the
// model.
type HungLine struct {
	Name   string     `json:"name"` // "nut of x", or as the model says
	Part   string     `json:"part"`
	MassKg float64    `json:"mass_kg"`
	AtMM   [3]float64 `json:"at_mm"` // its centre
	From   string     `json:"from"`  // where its mass is from: "the model", "typical of the size"
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
	Class         string       `json:"class"`            // property class of the screws, "8.8"
	Head          string       `json:"head"`             // "proud", "washer", "sunk"
	HoleMM        float64      `json:"hole_mm"`          // diameter of the through holes
	ShiftMM       float64      `json:"shift_mm"`         // how far the holes let the joint shift each way once it slips
	TurnRad       float64      `json:"turn_rad"`         // and turn; 0: one screw, which lets it turn all the way
	EngagedMM     float64      `json:"engaged_mm"`       // most thread that the tapped part has
	PreloadN      float64      `json:"preload_n"`        // of each screw
	LeastPreloadN float64      `json:"least_preload_n"`  // of one that was tightened little and has settled
	ZoneMM2       float64      `json:"zone_mm2"`         // pressed area round a screw, the least of them
	PressMPa      float64      `json:"press_mpa"`        // pressure there
	NormalNPerUm  float64      `json:"normal_n_per_um"`  // stiffness of one clamping square to the face, the least
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

// AxisLine is one axis in the inventory.
type AxisLine struct {
	Name     string      `json:"name"`
	Along    string      `json:"along"`
	TravelMM [2]float64  `json:"travel_mm"`
	AtMM     float64     `json:"at_mm"`
	Moves    []string    `json:"moves"` // parts that go along
	Guides   []GuideLine `json:"guides"`
	Drives   []DriveLine `json:"drives"`
}

// GuideLine is one guide: a rail with its carriages, or a pair of sliding faces. Stiffnesses are of one carriage, as
// its size states them or as the builder gave them.
type GuideLine struct {
	Name        string       `json:"name"`
	Kind        string       `json:"kind"` // "profile-15", "own numbers", "slide"
	On          string       `json:"on"`
	Part        string       `json:"part"`
	PlacesMM    [][3]float64 `json:"places_mm"`
	PressNPerUm *[3]float64  `json:"press_n_per_um"` // low, typical, high
	// up and down, with the screws of rail and carriage or the parts' seats; the least of them
	MountedNPerUm *float64 `json:"mounted_n_per_um"`
	Rail          *Block   `json:"rail"`        // null: a slide, or a rail that is one of the parts
	Blocks        []Block  `json:"blocks"`      // the carriages
	Face          *Block   `json:"face"`        // of a slide: what the two share
	RailKg        *float64 `json:"rail_kg"`     // null: not known, or counted as a part
	CarriageKg    *float64 `json:"carriage_kg"` // of one; null: not known
}

// Block is a box by two opposite corners. Of a guide or drive without a size it is as flat as what is known of it.
type Block struct {
	FromMM [3]float64 `json:"from_mm"`
	ToMM   [3]float64 `json:"to_mm"`
}

// DriveLine is one drive.
type DriveLine struct {
	Kind        string     `json:"kind"` // "screw 1605", "belt", "rack", "stiffness"
	Part        string     `json:"part"`
	On          string     `json:"on"`
	StiffNPerUm float64    `json:"stiffness_n_per_um"` // where the axis stands
	EndsNPerUm  [2]float64 `json:"ends_n_per_um"`      // at the two ends of travel
	WhirlRPM    *float64   `json:"whirl_rpm"`
	BucklingN   *float64   `json:"buckling_n"`
	FromMM      [3]float64 `json:"from_mm"` // driven end of the screw or belt; where a rack or a plain stiffness acts
	ToMM        [3]float64 `json:"to_mm"`   // its far end
	PushMM      [3]float64 `json:"push_mm"` // nut, clamp or pinion
	FarHeld     bool       `json:"far_held"`
	// the screw, as thick as its size (or its root, where no more is known); null: no screw
	Shaft   *Block   `json:"shaft"`
	BeltMM  float64  `json:"belt_mm"`  // width; 0: no belt
	ScrewKg *float64 `json:"screw_kg"` // estimate: steel as thick as the root; null: no screw
}
