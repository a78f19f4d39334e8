package answer

// Verdict is which option to build, for each purpose. Quantities are named as in [Duel].
//
// A quantity in which one option is the better one in 80 of 100 draws or more counts for it; one that nine draws in ten
// find alike within 1 % counts as the same, and so does a movement of less than a hundredth of the load's largest; any
// other counts as open. What was not drawn goes by typical numbers.
type Verdict struct {
	Counted   []string   `json:"counted"`      // what was compared: the quantities that are not the same for all options
	Same      []string   `json:"same_for_all"` // and those that are, which decide nothing
	Pairs     []Pair     `json:"pairs"`        // every option against each before it
	Steadiest Steadiest  `json:"steadiest"`
	Kilogram  Purchase   `json:"most_for_a_kilogram"`
	Hour      Purchase   `json:"most_for_an_hour"` // at the drill press
	Beaten    []Beaten   `json:"beaten"`
	Settle    []Settling `json:"settle"`
}

// Pair is an option against another in what was counted.
type Pair struct {
	Option    string   `json:"option"`
	Against   string   `json:"against"`
	Better    []Claim  `json:"better"`
	Worse     []Claim  `json:"worse"`
	Open      []Claim  `json:"open"` // no real difference, as far as anyone can tell
	Same      []string `json:"same"`
	MoreKg    float64  `json:"more_kg"`
	MoreHours float64  `json:"more_hours"`
}

// Claim is how an option compares in one quantity.
type Claim struct {
	Quantity      string   `json:"quantity"`
	BetterPercent *float64 `json:"better_percent"` // as in Duel; nil: it was not drawn
	Ratio         *float64 `json:"ratio"`          // of the two typical numbers; nil: the other's is nothing
}

// Steadiest are the options that beat the others most often and are beaten least, by the difference of the two counts
// over all pairs and quantities; of equals those that the worst load on the tip moves least. More than one: nothing
// tells them apart. None: no two options differ.
type Steadiest struct {
	Options []string `json:"options"`
	Beats   int      `json:"beats"`
	Beaten  int      `json:"beaten"`
	WorstUm *float64 `json:"worst_um"` // under the load on the tip that moves it farthest; nil: none is on a tip
}

// Purchase is the option that gives most for what it costs beyond the cheapest one.
type Purchase struct {
	Cheapest    string  `json:"cheapest"`
	Option      string  `json:"option"` // Cheapest itself: nothing dearer gains; "": all cost the same
	GainPercent float64 `json:"gain_percent"`
	Cost        float64 `json:"cost"` // beyond that of the cheapest, kg or hours
}

// Beaten is an option than which another is better in everything in which they differ.
type Beaten struct {
	Option       string   `json:"option"`
	By           string   `json:"by"`
	LeastPercent *float64 `json:"least_percent"` // of the draws in that quantity in which it is least sure; nil: not drawn
	MoreKg       float64  `json:"more_kg"`       // what the better one costs beyond it
	MoreHours    float64  `json:"more_hours"`
}

// Settling is a measurement that would tell which of two options is the better one.
type Settling struct {
	Option       string  `json:"option"`
	Against      string  `json:"against"`
	Claim        Claim   `json:"claim"`
	What         string  `json:"what"` // the unknown that most of what the two differ by comes from, draw by draw
	SharePercent float64 `json:"share_percent"`
	Settle       string  `json:"settle"`
}
