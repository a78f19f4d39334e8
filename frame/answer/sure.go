package answer

// Range is a number in the draws of what is not known: nine in ten lie between Low and High.
type Range struct {
	Low    float64 `json:"low"`    // 5 % point
	Median float64 `json:"median"` // as many above as below; the typical answer itself stands elsewhere
	High   float64 `json:"high"`   // 95 % point
}

// Sure is how sure the numbers of an option are.
type Sure struct {
	Draws          int     `json:"draws"`
	Seed           uint64  `json:"seed"`
	SettledPercent float64 `json:"settled_percent"` // what more draws might still move the ends of a range by
	Settled        bool    `json:"settled"`         // SettledPercent is small enough for the ranges to be believed
	// bound of the error of one draw against its full solution, where it was largest: of the tip's stiffness and movement;
	// a point's movement and what a dial reads err by up to about three times that share of the tip's
	ErrorPercent float64          `json:"error_percent"`
	Stiffness    *StiffnessRanges `json:"stiffness_n_per_um"`
	Movements    []MovementRange  `json:"movements"`
	Stretches    []StretchRange   `json:"stretches"`
	Along        []AlongRange     `json:"along,omitempty"` // by path and load, where the movement of the tip was drawn
	Over         []OverRange      `json:"over,omitempty"`  // by plane and load, and with no load of its stiffness
	Depths       []DepthRange     `json:"depths"`
	Checks       []Range          `json:"checks"`     // of each Result.Check: what the dial reads, µm
	MisfitsUm    *Range           `json:"misfits_um"` // how far all misfits put the tip out of place; nil: there are none
	Culprits     []UnknownShare   `json:"culprits"`   // of each quantity, the largest first
	Risks        []Risk           `json:"risks"`      // above 0 of 100, the largest first
	Columns      []Column         `json:"-"`          // what was drawn, quantity by quantity, the same draws in all options
	Unknowns     []DrawnUnknown   `json:"-"`          // of what
}

// DrawnUnknown is a number that is not known in every draw.
type DrawnUnknown struct {
	Key          string // the same in all options in which it is the same number
	What, Settle string
	Logs         []float64 // of the number over its typical value
}

// Column is a quantity in every draw.
type Column struct {
	Quantity     string
	MoreIsBetter bool
	Values       []float64
}

// StiffnessRanges are those of the stiffness at the tip, N/µm.
type StiffnessRanges struct {
	X       Range `json:"x"`
	Y       Range `json:"y"`
	Z       Range `json:"z"`
	Softest Range `json:"softest"`
}

// MovementRange is that of how far the tip moves against the work, or a point, under one load.
type MovementRange struct {
	Load   string `json:"load"`
	Point  string `json:"point"` // "" for the tip against the work
	SizeUm Range  `json:"size_um"`
}

// StretchRange is that of the longest stretch within its tolerance along one path of travel under one load.
type StretchRange struct {
	Path      string `json:"path"` // name of the part the path runs over, or of the axis
	Load      string `json:"load"`
	StretchMM Range  `json:"stretch_mm"`
}

// AlongRange is that of how far the tip moves at each place of a path or axis under one load: nine draws in ten lie
// between the two, which are as long as Travel.AtMM.
type AlongRange struct {
	Path   string    `json:"path"`
	Load   string    `json:"load"`
	LowUm  []float64 `json:"low_um"`
	HighUm []float64 `json:"high_um"`
}

// OverRange is that of what the tip does over a plane under one load, or with "" of its stiffness in the softest direction.
// It is drawn where the axes stand: a draw that moves the tip there by some times as far as typical is taken to do so
// everywhere on the plane.
type OverRange struct {
	Map     string     `json:"map"`
	Load    string     `json:"load"`
	Times90 [2]float64 `json:"times_90"` // nine draws in ten lie between these times the typical number, at each position
	Worst90 [2]float64 `json:"worst_90"` // of MapLoad.Worst, µm, or of Map.Softest, N/µm
	// of MapLoad.WithinPercent, the least first; nil: no tolerance given
	WithinPercent90 *[2]float64 `json:"within_percent_90"`
}

// DepthRange is that of the depth of a cut that keeps the tolerance.
type DepthRange struct {
	Cut     string `json:"cut"`
	DepthMM Range  `json:"depth_mm"`
}

// StiffnessRange is that of the stiffness at the tip in a direction, "x", "y", "z" or "softest", N/µm; nil where nothing
// was drawn.
func (r *Result) StiffnessRange(direction string) *Range {
	if r.Sure == nil || r.Sure.Stiffness == nil {
		return nil
	}
	of := *r.Sure.Stiffness
	switch direction {
	case "x":
		return &of.X
	case "y":
		return &of.Y
	case "z":
		return &of.Z
	case "softest":
		return &of.Softest
	}
	return nil
}

// MovementRange is that of how far a load moves a point, or with "" the tip, µm; nil where none was drawn.
func (r *Result) MovementRange(load, point string) *Range {
	if r.Sure == nil {
		return nil
	}
	for i := range r.Sure.Movements {
		if m := &r.Sure.Movements[i]; m.Load == load && m.Point == point {
			return &m.SizeUm
		}
	}
	return nil
}

// StretchRange is that of the stretch of a path, or an axis, within its tolerance under a load, mm; nil where none was
// drawn.
func (r *Result) StretchRange(path, load string) *Range {
	if r.Sure == nil {
		return nil
	}
	for i := range r.Sure.Stretches {
		if s := &r.Sure.Stretches[i]; s.Path == path && s.Load == load {
			return &s.StretchMM
		}
	}
	return nil
}

// OverRange is that of a plane under a load, or with "" of its stiffness; nil where none was drawn.
func (r *Result) OverRange(plane, load string) *OverRange {
	if r.Sure == nil {
		return nil
	}
	for i := range r.Sure.Over {
		if o := &r.Sure.Over[i]; o.Map == plane && o.Load == load {
			return o
		}
	}
	return nil
}

// DepthRange is that of the depth of a cut that keeps the tolerance, mm; nil where none was drawn.
func (r *Result) DepthRange(cut string) *Range {
	if r.Sure == nil {
		return nil
	}
	for i := range r.Sure.Depths {
		if d := &r.Sure.Depths[i]; d.Cut == cut {
			return &d.DepthMM
		}
	}
	return nil
}

// UnknownShare is how much of the variance of a quantity comes from one number that is not known.
type UnknownShare struct {
	Quantity string  `json:"quantity"` // "stiffness x", …, "movement <load>": see Sure.Columns
	What     string  `json:"what"`     // "faces of column/arm"
	Percent  float64 `json:"percent"`  // what of its variance would go if that number alone were known
	Settle   string  `json:"settle"`   // what would settle it: "push the joint and read it", "tighten with a torque key"
}

// How a joint does not hold.
const (
	Slips = "slips"
	Opens = "opens"
)

// Risk is in how many of 100 draws something fails under a load.
type Risk struct {
	Load    string  `json:"load"`
	What    string  `json:"what"` // "joint column/arm"
	How     string  `json:"how"`  // Slips or Opens
	Percent float64 `json:"percent"`
}

// Duel is how two options compare in one quantity, draw by draw.
type Duel struct {
	Quantity      string  `json:"quantity"` // as in UnknownShare
	Option        string  `json:"option"`
	Against       string  `json:"against"`
	BetterPercent float64 `json:"better_percent"` // of the draws in which Option is the better one; ties count half
	WinsPercent   float64 `json:"wins_percent"`   // of the draws in which it is truly the better one,
	LossesPercent float64 `json:"losses_percent"` // the worse one,
	TiesPercent   float64 `json:"ties_percent"`   // and the same: together 100
	Ratio         *Range  `json:"ratio"`          // of Option's number over Against's; nil where either is nothing in some draw
	// by wins: "better" from 95 of 100 on, "probably better" from 80; by losses "worse" and "probably worse" likewise; else
	// "no real difference", and "the same" where no draw tells them apart
	Verdict string `json:"verdict"`
}
