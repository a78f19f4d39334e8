package answer

// Straightness is how far the tip leaves a straight line against the work, across an axis, while the axis runs and
// nothing but the machine's own weight acts. The line goes through the two ends of its longest path, as when a
// straightedge is set to read alike at both (ISO 230-1:2012 calls it the end-point reference straight line; the
// standard's name from memory).
type Straightness struct {
	Axis   string    `json:"axis"`
	Across string    `json:"across"` // "x", "y" or "z"
	AtMM   []float64 `json:"at_mm"`
	OffUm  []float64 `json:"off_um"` // of the tip against the work, from the line
	Um     float64   `json:"um"`     // greatest less least
}

// Map is what the tip does over a plane of two axes. Its grids are [position of the first axis][position of the
// second]; null stands where no work is under the tool.
type Map struct {
	Name          string       `json:"map"`
	Axes          [2]string    `json:"axes"`
	AtMM          [2][]float64 `json:"at_mm"`        // positions of the first axis and of the second
	ToleranceUm   float64      `json:"tolerance_um"` // 0: none given
	SoftestNPerUm [][]*float64 `json:"softest_n_per_um"`
	Softest       MapPosition  `json:"softest"` // where the tip is softest
	Loads         []MapLoad    `json:"loads"`
}

// MapLoad is the tip's movement over a plane under one load.
type MapLoad struct {
	Load  string          `json:"load"`
	TipUm [][]*[3]float64 `json:"tip_um"`
	Worst MapPosition     `json:"worst"` // where the tip moves most
	// share of the positions with work under the tool that keep the tolerance; nil: none given
	WithinPercent *float64 `json:"within_percent"`
}

// MapPosition is a position of two axes and what the tip does there.
type MapPosition struct {
	AtMM  [2]float64 `json:"at_mm"`
	Value float64    `json:"value"` // N/µm of stiffness, µm of movement
}
