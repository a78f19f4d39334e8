package answer

// Check is a push by which a builder holds the machine against its answer: a known force at a place within reach, and
// what a dial indicator beside it should read.
type Check struct {
	Part      string     `json:"part"`  // that is pushed
	Place     string     `json:"place"` // in words: "where the tool leaves it"
	AtMM      [3]float64 `json:"at_mm"`
	Direction [3]float64 `json:"direction"` // of the push, and of the dial
	Against   string     `json:"against"`   // what the dial stands on
	ForceN    float64    `json:"force_n"`   // no more than SafeN, and than is read on a luggage scale with ease
	ReadingUm float64    `json:"reading_um"`
	SafeN     *float64   `json:"safe_n"` // half of what slips, opens or yields first; nil: nothing does
	LimitedBy string     `json:"limited_by"`
}

// CheckRange is the range of what the dial reads in one of the checks, µm; nil where nothing was drawn.
func (r *Result) CheckRange(check int) *Range {
	if r.Sure == nil || check >= len(r.Sure.Checks) {
		return nil
	}
	return &r.Sure.Checks[check]
}
