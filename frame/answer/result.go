package answer

// Answer is what a command found, as plain numbers: it prints and plots without the machine being solved again.
// Its JSON keys are a contract: keys are added, never renamed.
type Answer struct {
	Tiploop int      `json:"tiploop"` // version of this form
	Machine string   `json:"machine"`
	Detail  string   `json:"detail"` // "section", "solid", or "both": solid bodies, with the beam model's answer beside
	Options []Result `json:"options"`
	Duels   []Duel   `json:"duels,omitempty"`   // each option against each before it, in every quantity
	Verdict *Verdict `json:"verdict,omitempty"` // nil: fewer than two options
	Asks    Asks     `json:"-"`
}

// The names of the details in an answer.
const (
	SectionDetail = "section" // plates and gussets as beams, strips and triangles
	SolidDetail   = "solid"   // as meshed bodies
)

// Result is the answer for one option.
type Result struct {
	Name      string             `json:"name"`
	Detail    string             `json:"detail"` // of this answer: "section" or "solid"
	MassKg    float64            `json:"mass_kg"`
	Holes     Holes              `json:"holes"`
	Tip       *Tip               `json:"tip"` // nil in a model without a tool
	Loads     []LoadResult       `json:"loads"`
	Against   map[string]string  `json:"points_against,omitempty"` // by point: what it is read against, but for the ground
	Shares    []Share            `json:"shares"`
	Cuts      []CutResult        `json:"cuts"`
	Travel    []Travel           `json:"travel"`                 // nil in a model without a tool
	Straight  []Straightness     `json:"straightness,omitempty"` // of each axis that travel runs along
	Maps      []Map              `json:"maps,omitempty"`         // over each plane of travel
	Screws    []ScrewLoad        `json:"screws"`
	Grounds   []Reaction         `json:"grounds"`
	Hand      []Hand             `json:"hand"`
	Check     []Check            `json:"check,omitempty"` // pushes to hold the machine against this answer
	Stress    []Stress           `json:"stress"`
	Solid     []SolidSize        `json:"solid"`           // the meshed bodies; empty at detail "section"
	AtMM      map[string]float64 `json:"at_mm,omitempty"` // where the axes stand; not there without axes
	Carriages []CarriageLoad     `json:"carriages,omitempty"`
	Drives    []DriveLoad        `json:"drives,omitempty"`
	Play      []PlayLine         `json:"play,omitempty"`    // gaps in guides and drives
	Misfits   *Misfits           `json:"misfits,omitempty"` // of a model that names what does not line up
	Align     *Alignment         `json:"align,omitempty"`   // what must be aligned; only align asks for it
	Notes     []string           `json:"notes"`             // what to keep in mind about the numbers
	// what to stiffen next, by the beam model; only tip asks for it
	Next *Next `json:"next,omitempty"`
	// how far the beam model differs, at detail "solid" and "both"
	Beam    *BeamModel `json:"beam_model,omitempty"`
	Section *Result    `json:"section,omitempty"` // at detail "both": what detail "section" answers
	Sure    *Sure      `json:"sure,omitempty"`    // nil: nothing was drawn
}

// Holes counts the drilling of a machine: of its joints, and of rails, carriages, nuts, bearings and motors of known size.
type Holes struct {
	Through    int     `json:"through"`
	Tapped     int     `json:"tapped"`
	Bored      int     `json:"bored"` // for nuts, bearings and motors
	Operations int     `json:"operations"`
	Minutes    float64 `json:"minutes"` // typical time at a drill press
}

// Tip is how stiff the machine is between the tool's tip and the work.
type Tip struct {
	ComplianceUmPerN [3][3]float64 `json:"compliance_um_per_n"`
	StiffnessNPerUm  Stiffness     `json:"stiffness_n_per_um"`
	LostMotionUm     *LostMotion   `json:"lost_motion_um,omitempty"` // nil: nothing has play
}

// Stiffness is force per movement in the same direction, and in the direction in which there is least of it.
type Stiffness struct {
	X                float64    `json:"x"`
	Y                float64    `json:"y"`
	Z                float64    `json:"z"`
	Softest          float64    `json:"softest"`
	SoftestDirection [3]float64 `json:"softest_direction"`
}

// LoadResult is what one load case does.
type LoadResult struct {
	Name      string      `json:"name"`
	OnTip     bool        `json:"on_tip"` // the load pushes the tool against the work
	TipUm     *[3]float64 `json:"tip_um"` // the tool against the work; nil without a tool
	TipSizeUm *float64    `json:"tip_size_um"`
	// what the tip loses to play beside TipUm, which is elastic: nil when nothing has play or nothing pushes the tip
	LostMotionUm       *[3]float64 `json:"lost_motion_um,omitempty"`
	LostMotionSizeUm   *float64    `json:"lost_motion_size_um,omitempty"`
	LostMotionSizeUm90 *[2]float64 `json:"lost_motion_size_um_90,omitempty"` // low, high

	Alike     *Alike                `json:"alike,omitempty"` // TipUm is a small difference of them
	PointsUm  map[string][3]float64 `json:"points_um"`
	PointsRad map[string][3]float64 `json:"points_rad"`
	ReactionN [3]float64            `json:"reaction_n"` // sum of what the grounds do on the machine
	Residual  float64               `json:"residual"`
	// by how much the meshes of the parts may hold back the work of the load, by the jumps of stress between their
	// elements; nil at detail "section", and for loads of temperature or settlement, which do no such work
	MeshErrorPercent *float64    `json:"mesh_error_percent,omitempty"`
	Bars             []BarForces `json:"bars"`
}

// Alike are movements of tool and work, against the ground, that are so much alike that the error of their difference
// is several times theirs: it is less than a fifth of either.
type Alike struct {
	ToolUm [3]float64 `json:"tool_um"`
	WorkUm [3]float64 `json:"work_um"`
}

// BarForces is what a bar carries at its two ends: axial force (tension positive), shear forces and moments in the
// bar's own axes (x along it, z its height), as the material at the far side acts on the cut face at that end.
type BarForces struct {
	Part  string     `json:"part"`
	FromN [3]float64 `json:"from_n"`
	FromM [3]float64 `json:"from_n_mm"`
	ToN   [3]float64 `json:"to_n"`
	ToM   [3]float64 `json:"to_n_mm"`
}

// Reaction is what one ground does on the machine in one load case.
type Reaction struct {
	Load   string     `json:"load"`
	Ground string     `json:"ground"`
	ForceN [3]float64 `json:"force_n"`
	Moment [3]float64 `json:"moment_n_mm"` // about the ground's own place
}

// Share is how much of the work of a load goes into bending one part, joint, ground or the tool.
type Share struct {
	Load    string  `json:"load"`
	Source  string  `json:"source"` // "part upright", "joint upright/head", "ground 1", "tool"
	Percent float64 `json:"percent"`
}

// Stress is the largest equivalent stress (von Mises) of a part under one load. A solid body has no finite stress at
// the edge of a contact, only more of it the finer the mesh: MPa and AtMM are away from such edges, Edge is the largest
// anywhere. Parts whose stress a detail does not tell are left out.
type Stress struct {
	Load     string      `json:"load"`
	Part     string      `json:"part"`
	MPa      float64     `json:"mpa"`
	AtMM     [3]float64  `json:"at_mm"`
	EdgeMPa  *float64    `json:"edge_mpa"` // nil at detail "section"
	EdgeAtMM *[3]float64 `json:"edge_at_mm"`
	YieldMPa *float64    `json:"yield_mpa"` // of the part's material, least of its standard; nil: none stated
	// by what the load may grow before MPa is YieldMPa; nil: no yield stated, or no stress
	TimesYield *float64 `json:"times_yield"`
}

// SolidSize is how finely a solid body was meshed.
type SolidSize struct {
	Parts    []string `json:"parts"`
	Elements int      `json:"elements"`
	Unknowns int      `json:"unknowns"`
	Spots    int      `json:"spots"` // where its neighbours feel it
}

// ScrewLoad is the worst loaded screw of a joint under one load.
type ScrewLoad struct {
	Load        string  `json:"load"`
	Joint       string  `json:"joint"`
	PreloadN    float64 `json:"preload_n"`
	TensionN    float64 `json:"tension_n"`    // largest pull on its clamping, away from the face
	ShearN      float64 `json:"shear_n"`      // and push along the face
	SlipPercent float64 `json:"slip_percent"` // of the load under which that clamping would slip
	OpenPercent float64 `json:"open_percent"` // of the load under which the edge of that clamping would open

	// what is left of a screw that was tightened little and has settled; both percentages count from it
	LeastPreloadN float64 `json:"least_preload_n"`
	TwistNmm      float64 `json:"twist_n_mm"` // moment about the screw that its pressed ring carries
	TiltNmm       float64 `json:"tilt_n_mm"`  // and about axes in the face
	// how far the holes let the joint shift each way, and turn, where it slips; null: it does not slip. A turn of null
	// beside a shift: the joint has one screw, about which it turns all the way.
	ShiftMM *float64 `json:"shift_mm"`
	TurnRad *float64 `json:"turn_rad"`
}

// Travel is the tip's movement with the work spot at each place along a path.
type Travel struct {
	Path        string       `json:"path"`
	Load        string       `json:"load"`
	ToleranceUm float64      `json:"tolerance_um"`
	WithinMM    *[2]float64  `json:"within_mm"` // the stretch round the least movement that keeps the tolerance; nil: none
	AtMM        []float64    `json:"at_mm"`
	TipUm       [][3]float64 `json:"tip_um"`

	Axis          string    `json:"axis,omitempty"`             // the axis that runs; "": only the work spot goes along
	SoftestNPerUm []float64 `json:"softest_n_per_um,omitempty"` // stiffness in the softest direction, of an axis that runs
	LeftOutMM     []float64 `json:"left_out_mm,omitempty"`      // positions of an axis at which no work is under the tool
	// what the load loses to play beside TipUm, with the axes where they stand; nil when nothing has play
	LostMotionUm *[3]float64 `json:"lost_motion_um,omitempty"`
}

// Hand is an estimate by a handbook's closed form, to be held against the solved value.
type Hand struct {
	What     string  `json:"what"`
	Formula  string  `json:"formula"`
	HandUm   float64 `json:"hand_um"`
	SolvedUm float64 `json:"solved_um"`
}
