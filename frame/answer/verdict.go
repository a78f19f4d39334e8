package answer

// Verdict is which option to build, for each purpose. Quantities are named as in [Duel].
//
// Two options are the same in a quantity where both numbers are nothing (below 1e-6), and where typical numbers and nine
// draws in ten differ by less than a bound: 1 % of the larger one, of a movement under a load, if that is more, a hundredth
// of how far the load moves anything in either. By how much the draws differ is what both ends of [Duel].Ratio, each less 1,
// make of Against's typical number; where there is no ratio nine draws in ten have to be ties.
//
// Of the rest one is better or worse where its typical number differs by the bound or more and it wins, or loses, 80 of 100
// draws; ties are nobody's. Any other is open. What was not drawn goes by typical numbers alone.
//
// What one number says twice counts once: see [Repeat].
type Verdict struct {
	Counted   []string   `json:"counted"`      // what was compared: the quantities that are not the same for all options
	Weights   []float64  `json:"weights"`      // of each of those, 0 to 1, on average: see Overall
	Same      []string   `json:"same_for_all"` // and those that are, which decide nothing
	Repeats   []Repeat   `json:"repeats"`      // and those that say again what one that is counted says
	Trifles   []string   `json:"trifles"`      // of those counted: what does not weigh, being too small
	Pairs     []Pair     `json:"pairs"`        // every option against each before it
	Steadiest Steadiest  `json:"steadiest"`
	Kilogram  Purchase   `json:"most_for_a_kilogram"`
	Hour      Purchase   `json:"most_for_an_hour"` // at the drill press
	Beaten    []Beaten   `json:"beaten"`
	Settle    []Settling `json:"settle"`
}

// Repeat is a quantity that would differ between options, but by the very number that another does. Along each axis three
// things may be one number: the stiffness in it; the softest direction, where that is as stiff within 1 % in every option;
// and the tip's movement under a load that acts along it alone, with the same force in every option, and moves the tip by
// that force over the stiffness, times one number within 1 %. Of these the load that moves the tip farthest is counted, and
// where there is none the stiffness along the axis.
type Repeat struct {
	Quantity string `json:"quantity"`
	Of       string `json:"of"` // the one that is counted
}

// Pair is an option against another in what was counted.
type Pair struct {
	Option    string   `json:"option"`
	Against   string   `json:"against"`
	Overall   Overall  `json:"overall"`
	Better    []Claim  `json:"better"`
	Worse     []Claim  `json:"worse"`
	Open      []Claim  `json:"open"` // no real difference, as far as anyone can tell
	Same      []string `json:"same"`
	MoreKg    float64  `json:"more_kg"`
	MoreHours float64  `json:"more_hours"`
}

// Overall is how an option compares with another on average over all that was counted for both: the weighted geometric mean
// of how many times as good it is in each, typically and in every draw. A movement half as large is twice as good. What is the
// same counts as 1. A movement weighs by the largest that any option has of it, over the farthest that is counted: nothing
// below a twentieth, in full from a fifth on, and between the two by the square of how far it has come. All else weighs in
// full. More than 4 times as good counts as 4, and so does something that is good against nothing; what was not drawn is
// typical in every draw.
//
// On average two are the same where they differ by less than 1 %, typically and in nine draws in ten; one is better or worse
// where it is so typically by 1 % or more and in 80 of 100 draws; else there is no real difference.
type Overall struct {
	Times         float64  `json:"times_as_good"`
	Range         *Range   `json:"range"` // of Times, in the draws; nil: nothing was drawn, and so the next two
	WinsPercent   *float64 `json:"wins_percent"`
	LossesPercent *float64 `json:"losses_percent"`
	Verdict       string   `json:"verdict"` // "better", "worse", "no real difference", "the same"
}

// Claim is how an option compares in one quantity.
type Claim struct {
	Quantity      string   `json:"quantity"`
	BetterPercent *float64 `json:"better_percent"` // as in Duel, and so are wins and losses; nil: it was not drawn
	WinsPercent   *float64 `json:"wins_percent"`
	LossesPercent *float64 `json:"losses_percent"`
	Ratio         *float64 `json:"ratio"` // of the two typical numbers, 0 where Option's is nothing; nil: Against's is
}

// Steadiest are the options that are best on average, by the mean of the logarithms of [Overall].Times over their pairs: the
// first, and those than which it is not better. Of these, which are equals, those go that another of them beats, in everything
// in which they differ or under the load on the tip that moves either farthest. More than one: on average nothing tells them
// apart. None: no two options differ.
type Steadiest struct {
	Options []string `json:"options"`
	Beats   int      `json:"beats"`    // in how many quantities over all pairs
	Beaten  int      `json:"beaten"`   // and by how many
	WorstUm *float64 `json:"worst_um"` // under the load on the tip that moves it farthest; nil: none is on a tip
}

// Purchase is the option that gives most for what it costs beyond the cheapest one, of those that are better than it on
// average. The gain is [Overall].Times, less 1.
type Purchase struct {
	Cheapest    string  `json:"cheapest"` // "": nothing was compared
	Option      string  `json:"option"`   // Cheapest itself: nothing dearer gains; "": all cost the same
	GainPercent float64 `json:"gain_percent"`
	Cost        float64 `json:"cost"` // beyond that of the cheapest, kg or hours
}

// Beaten is an option than which another is better in everything in which they differ, and worse in no draw of what is
// open.
type Beaten struct {
	Option       string   `json:"option"`
	By           string   `json:"by"`
	LeastPercent *float64 `json:"least_percent"` // of the draws By wins where it is least sure; nil: not drawn
	MoreKg       float64  `json:"more_kg"`       // what the better one costs beyond it
	MoreHours    float64  `json:"more_hours"`
}

// Settling is a measurement that would tell which of two options is the better one: there are draws that either wins.
type Settling struct {
	Option       string  `json:"option"`
	Against      string  `json:"against"`
	Claim        Claim   `json:"claim"`
	What         string  `json:"what"` // the unknown that most of what the two differ by comes from, draw by draw
	SharePercent float64 `json:"share_percent"`
	Settle       string  `json:"settle"`
}
