package answer

// CarriageLoad is what one carriage carries under one load, in its own axes: pull takes it off its rail, side pushes it
// across, moments are about the rail, about the axis across it and about the upright. Ratings are typical ones of the
// size and indicate; nil where the builder gave numbers of his own, or nothing loads the carriage.
type CarriageLoad struct {
	Load         string     `json:"load"`
	Axis         string     `json:"axis"`
	Guide        string     `json:"guide"`
	AtMM         [3]float64 `json:"at_mm"` // middle of its rows
	PullN        float64    `json:"pull_n"`
	SideN        float64    `json:"side_n"`
	RollNmm      float64    `json:"roll_n_mm"`
	PitchNmm     float64    `json:"pitch_n_mm"`
	YawNmm       float64    `json:"yaw_n_mm"`
	EquivalentN  *float64   `json:"equivalent_n"`
	DynamicN     *float64   `json:"dynamic_rating_n"`
	StaticN      *float64   `json:"static_rating_n"`
	StaticSafety *float64   `json:"static_safety"`
	PreloadN     *float64   `json:"preload_n"`
	// travel that nine of ten survive if this load acted all the time beside the preload; nil beyond the law
	LifeKm *float64 `json:"life_km"`
	LifeH  *float64 `json:"life_h"` // the same at the rapid move of the axis; nil without one
}

// DriveLoad is what one drive holds under one load. Buckling and whirling are of a screw; nil for others.
type DriveLoad struct {
	Load         string       `json:"load"`
	Axis         string       `json:"axis"`
	Drive        string       `json:"drive"`              // as in the shares
	ForceN       float64      `json:"force_n"`            // on what the axis carries, along it
	StiffNPerUm  float64      `json:"stiffness_n_per_um"` // between rigid parts, where the axis stands
	Chain        []DriveShare `json:"chain"`
	DynamicN     *float64     `json:"dynamic_rating_n"`
	StaticN      *float64     `json:"static_rating_n"`
	StaticSafety *float64     `json:"static_safety"`
	PreloadN     *float64     `json:"preload_n"`
	LifeKm       *float64     `json:"life_km"` // as that of a carriage
	LifeH        *float64     `json:"life_h"`
	// that moves the axis against the force and gains it speed, at the motor; nil when the drive's losses are not known
	TorqueNmm  *float64 `json:"torque_n_mm"`
	HoldingNmm *float64 `json:"holding_n_mm"` // what the motor holds at rest; nil when not known
	BucklingN  *float64 `json:"buckling_n"`
	WhirlRPM   *float64 `json:"whirl_rpm"`
}

// PlayLine is a gap in a guide or a drive: what the tip loses of a movement to it when a push turns round, before
// anything pushes back.
type PlayLine struct {
	Source   string     `json:"source"` // "drive x, nut"
	PlayUm   float64    `json:"play_um"`
	PlayUm90 [2]float64 `json:"play_um_90"` // low, high
	RestingN float64    `json:"resting_n"`  // with which the machine's own weight holds it to one side
	// of the tip against the work for pushes along x, y and z that go through it
	TipUm [3]float64 `json:"tip_um"`
}

// LostMotion is what the tip loses to play, along x, y and z, where no weight holds the gaps closed.
type LostMotion struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
	Z float64 `json:"z"`
}

// DriveShare is one link of a drive's chain and its share of the drive's give.
type DriveShare struct {
	Name    string  `json:"name"`
	Percent float64 `json:"percent"`
}
