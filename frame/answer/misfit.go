package answer

// Misfits is what parts that do not line up do once they are screwed down.
type Misfits struct {
	Each     []Misfit     `json:"each"`     // in the order of the file; shims that correct none behind them
	Together *Misfit      `json:"together"` // all of them at once
	Lives    []MisfitLife `json:"lives"`    // of the worst carriage of each guide under each load
	Shims    []ShimEffect `json:"shims"`
}

// Misfit is what one of them locks in, where the axes stand.
type Misfit struct {
	Name    string      `json:"name"`
	At      string      `json:"at"`           // which mounting
	TurnRad *[3]float64 `json:"tip_turn_rad"` // of the tool against the work; nil without a tool
	// how far tip and points are put out of place
	Moved     LoadResult     `json:"moved"`
	Carriages []CarriageLoad `json:"carriages"`
	Nuts      []SideLoad     `json:"nuts"` // nuts and bearings of screws, across the screw
	Drives    []DriveLoad    `json:"drives"`
	Feet      []FootLoad     `json:"feet"`
	Grounds   []Reaction     `json:"grounds"`
	Screws    []ScrewLoad    `json:"screws"`
	Drag      []Drag         `json:"drag"`
}

// SideLoad is what a nut or a bearing of a screw takes across the screw.
type SideLoad struct {
	What   string     `json:"what"`
	AtMM   [3]float64 `json:"at_mm"`
	ForceN [3]float64 `json:"force_n"` // of the shaft on the part that holds it
	// of the shaft in the nut, across the screw per length along it, by being bent aside; zero of a bearing
	Slope    [3]float64 `json:"shaft_slope_rad"`
	DynamicN *float64   `json:"dynamic_rating_n"` // of a ball nut, which is one along the screw; nil: not known
	PreloadN *float64   `json:"preload_n"`
}

// FootLoad is what one foot does on the machine.
type FootLoad struct {
	Ground string     `json:"ground"`
	Foot   int        `json:"foot"` // from 1
	AtMM   [3]float64 `json:"at_mm"`
	ForceN [3]float64 `json:"force_n"`
}

// Drag is by how much harder an axis runs, by the friction of what is locked into its guides.
type Drag struct {
	Axis     string    `json:"axis"`
	AtMM     []float64 `json:"at_mm"`
	DragN    []float64 `json:"drag_n"`
	WorstMM  float64   `json:"worst_at_mm"` // where it binds most
	WorstN   float64   `json:"worst_n"`
	PushN    *float64  `json:"push_n"` // what the motor at rest holds along the travel; nil: not known
	Friction float64   `json:"friction"`
}

// MisfitLife is the life of the worst carriage of a guide under a load, without the misfits and with all of them.
type MisfitLife struct {
	Load   string     `json:"load"`
	Axis   string     `json:"axis"`
	Guide  string     `json:"guide"`
	AtMM   [3]float64 `json:"at_mm"`
	LifeKm *float64   `json:"life_km"` // nil: beyond the law
	WithKm *float64   `json:"life_with_misfits_km"`
}

// ShimEffect is what a stack of shims changes: how much the misfit where it lies locks in at most, into any one
// carriage, nut, bearing, foot or screw, and how stiff the tip is in its softest direction.
type ShimEffect struct {
	Name          string   `json:"name"`
	At            string   `json:"at"`
	Layers        string   `json:"layers"`
	WithoutN      float64  `json:"without_n"`
	WithN         float64  `json:"with_n"`
	SofterPercent *float64 `json:"softer_percent"` // nil without a tool
}

// Alignment says what must be aligned, and how.
type Alignment struct {
	Lines []AlignLine `json:"lines"` // the most sensitive first
	Order []AlignStep `json:"order"`
}

// AlignLine is how far one thing may be out of place before something reaches a limit.
type AlignLine struct {
	What      string  `json:"what"`
	How       string  `json:"how"` // "high", "out of parallel sideways"
	AllowedUm float64 `json:"allowed_um"`
	Limit     string  `json:"limit"` // what comes first
	Of        string  `json:"of"`    // whose limit that is
	// share of its misfit by which the part on it moves when it is screwed down, or the screw beside a nut or a bearing:
	// what an indicator there shows
	IndicatorShare float64 `json:"indicator_share"`
}

// AlignStep is one step of tightening.
type AlignStep struct {
	What string `json:"what"`
	How  string `json:"how"`
	// what an indicator on the part it holds may show while it is tightened; nil: it is what others are aligned to
	ReadingUm *float64 `json:"reading_um"`
}
