package answer

import "math"

// CutResult is what one cut costs. Forces are those of the work on the tool in the world's directions, movements those
// of the tip against the work.
type CutResult struct {
	Name          string     `json:"name"`
	Load          string     `json:"load"`     // name of its load case: the moment at which the typical force is greatest
	Material      string     `json:"material"` // of the work
	Mode          string     `json:"mode"`
	FeedDirection [3]float64 `json:"feed_direction"` // the way the tool goes through the work
	DiameterMM    float64    `json:"diameter_mm"`
	RadialMM      *float64   `json:"radial_mm"` // width of the strip; nil for a hole
	AxialMM       *float64   `json:"axial_mm"`  // nil for a hole
	FeedMMMin     float64    `json:"feed_mm_min"`
	PerToothMM    float64    `json:"feed_per_tooth_mm"`
	SpeedRPM      float64    `json:"speed_rpm"`
	SpeedMMin     float64    `json:"cutting_speed_m_min"`
	MostChipMM    float64    `json:"thickest_chip_mm"`
	MeanChipMM    float64    `json:"mean_chip_mm"` // over the arc of engagement
	TeethInCut    float64    `json:"teeth_in_cut"` // mean, at one height
	RemovalMM3Min float64    `json:"removal_mm3_min"`
	ToleranceUm   float64    `json:"tolerance_um"` // 0: none given
	Typical       CutLevel   `json:"typical"`
	Low           CutLevel   `json:"low"`  // with the work material's numbers at the low end of their scatter
	High          CutLevel   `json:"high"` // and at the high end
}

// CutLevel is a cut with its material's numbers at one place of their scatter.
type CutLevel struct {
	PeakN         [3]float64     `json:"peak_n"` // when the force is greatest
	PeakSizeN     float64        `json:"peak_size_n"`
	MeanN         [3]float64     `json:"mean_n"`
	TorqueNmm     float64        `json:"torque_n_mm"` // mean over a revolution
	PeakTorqueNmm float64        `json:"peak_torque_n_mm"`
	PowerW        float64        `json:"power_w"`       // mean, at the cutter
	MotorPowerW   float64        `json:"motor_power_w"` // over the spindle's efficiency
	MovementUm    float64        `json:"movement_um"`   // largest over a revolution
	TipUm         [3]float64     `json:"tip_um"`        // at that moment
	MeanUm        [3]float64     `json:"mean_um"`       // under the mean load
	FeedUm        [2]float64     `json:"feed_um"`       // least and most along the way the tool goes
	Surfaces      []SurfaceError `json:"surfaces"`
	NormalUm      float64        `json:"normal_um"` // the largest of the surfaces' errors, with its sign
	// axial depth up to which the tolerance is kept and the spindle suffices; nil: no tolerance given, or a hole
	DeepestMM *float64 `json:"deepest_mm"`
	// what ends it: "tolerance", "power", "torque", "flute length", "diameter" (a slot goes no deeper), "swing" (the tip
	// moves by more than a tenth of the cutter's diameter)
	DeepestBy string `json:"deepest_by"`
}

// What ends a depth, in CutLevel.DeepestBy.
const (
	ByTolerance = "tolerance"
	ByPower     = "power"
	ByTorque    = "torque"
	ByFlutes    = "flute length"
	ByDiameter  = "diameter" // common practice, no source: a slot is cut no deeper than it is wide
	BySwing     = "swing"
)

// SurfaceError is how far a surface comes to lie from where it should: above zero the tool is held off and leaves metal
// standing, below zero it is drawn in. Only the moments count in which a tooth makes the surface.
type SurfaceError struct {
	Surface string `json:"surface"` // "left wall", "right wall", "floor", "hole's place"
	// out of the remaining work; zero for a hole's place, which may be off any way across
	Normal [3]float64 `json:"normal"`
	// LeastUm and MostUm: machine and cutter follow the force of every tooth at once.
	LeastUm float64 `json:"least_um"`
	MostUm  float64 `json:"most_um"`
	// MeanUm: they stand as the mean force of a revolution pushes them, for a frame of some kilograms cannot follow
	// teeth that come several hundred times a second.
	MeanUm float64 `json:"mean_um"`
}

// Worst is the error that is largest in size, whichever way the machine follows.
func (s SurfaceError) Worst() float64 {
	worst := s.MostUm
	for _, v := range []float64{s.LeastUm, s.MeanUm} {
		if math.Abs(v) > math.Abs(worst) {
			worst = v
		}
	}
	return worst
}
