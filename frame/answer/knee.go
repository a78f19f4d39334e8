package answer

import (
	"math"
	"slices"

	"tiploop/frame/chance"
)

// Knee says where more of a value stops paying, or why there is no such place.
//
// It is the first place, from the worse end of the range on, that keeps nine tenths of the gain from one end to the
// other; on a curve that levels off, how much farther the range reaches hardly moves it. It counts only where the curve
// bends that way and every step beyond it gains on average at most half of what it gained before: otherwise more goes on
// paying. The place is one of those worked out, none between them. Both bounds are common practice, no source.
//
// A curve that differs by less than 3 % from its worst to its best place has no knee, however it bends: ranges are known to
// 3 %, meshes to about as much, and which place keeps nine tenths of next to nothing is up to the draws.
type Knee struct {
	Of      string   `json:"of"`       // what levels off, in a word: "stiffness", or the name of the load; see Load
	Load    *string  `json:"load"`     // the load whose movement levels off; nil: it is the stiffness
	Along   string   `json:"along"`    // the value that runs
	AtOther *float64 `json:"at_other"` // where the other of two values stands; nil of one
	Kind    KneeKind `json:"kind"`
	At      *float64 `json:"at"`          // where more stops paying, or is best inside the range; nil: nowhere
	Toward  string   `json:"toward"`      // "more" or "less" of the value makes it better; "" when neither does all along
	Before  float64  `json:"gain_before"` // mean gain per unit of the value, from the worse end to the place, N/µm or µm
	Beyond  float64  `json:"gain_beyond"` // and from there to the better end

	// in the draws that find a curve of the same kind: nine in ten of them find its place from the first to the second,
	// which are places worked out; nil where nothing was drawn, where the kind has no place and where no draw finds it
	At90 *[2]float64 `json:"at_90,omitempty"`
	// of the draws: those that find the same kind, with its place, where it has one, at most one step off; nil where
	// nothing was drawn
	SamePercent *float64 `json:"same_percent,omitempty"`
}

// KneeKind is how a curve goes.
type KneeKind string

// The kinds of curve.
const (
	LevelsOff   KneeKind = "levels off"
	BestInside  KneeKind = "best inside"
	WorstInside KneeKind = "worst inside"
	Steady      KneeKind = "steady"         // gains about as much at the end as at the beginning
	Rising      KneeKind = "still rising"   // gains the more the farther it goes
	Unmoved     KneeKind = "unmoved"        // the value makes next to no difference: less than 3 % from worst to best
	TooFew      KneeKind = "too few places" // to see a bend
)

// The bounds that tell curves apart. They are shares, and coarse: a builder sees no knee in less.
const (
	leastPlaces = 4
	unmoved     = 0.03 // of the curve's size: less difference than this over the whole range is none
	humped      = 0.02 // of the curve's spread: the best place inside is better than both ends by more than this
	bent        = 0.1  // of the chord's length 1: less distance from it is straight
	kept        = 0.9  // of the gain over the whole range
	levelled    = 0.5  // of the gain per step before the knee: what is left of it beyond
)

// The ways of going along a value on which a curve gets better.
const (
	upwards   = "more"
	downwards = "less"
)

// judge holds a knee against those of the same curve in every draw. Curves are drawn place by place, over the same
// ascending places and all of one length.
func (k *Knee) judge(x []float64, drawn [][]float64) {
	if len(drawn) == 0 || len(drawn[0]) == 0 {
		return
	}
	draws := len(drawn[0])
	better := make([]float64, len(drawn))
	var places []float64
	same := 0
	for d := range draws {
		for i := range drawn {
			better[i] = drawn[i][d]
		}
		found := findKnee(x, better)
		if found.Kind != k.Kind || found.Toward != k.Toward {
			continue
		}
		if k.At == nil {
			same++
			continue
		}
		places = append(places, *found.At)
		if off := slices.Index(x, *found.At) - slices.Index(x, *k.At); off >= -1 && off <= 1 {
			same++
		}
	}
	k.SamePercent = new(100 * float64(same) / float64(draws))
	if len(places) > 0 {
		low, high := chance.EndsOf(places)
		k.At90 = &[2]float64{low, high}
	}
}

// findKnee looks at a curve of something that is the better the larger it is, over ascending places.
func findKnee(x, better []float64) Knee {
	n := len(x)
	if n < leastPlaces {
		return Knee{Kind: TooFew}
	}
	best, worst, size := 0, 0, 0.0
	for i, v := range better {
		if v > better[best] {
			best = i
		}
		if v < better[worst] {
			worst = i
		}
		size = math.Max(size, math.Abs(v))
	}
	spread := better[best] - better[worst]
	first, last := better[0], better[n-1]
	switch {
	case spread <= unmoved*size:
		return Knee{Kind: Unmoved}
	case better[best]-math.Max(first, last) > humped*spread:
		at := x[best]
		return Knee{Kind: BestInside, At: &at}
	case math.Min(first, last)-better[worst] > humped*spread:
		at := x[worst]
		return Knee{Kind: WorstInside, At: &at}
	}
	k := Knee{Kind: Steady, Toward: upwards}
	low, start, end := first, x[0], x[n-1]
	if last < first {
		low, start, end, k.Toward = last, end, start, downwards
	}
	share := func(i int) (along, up float64) {
		return (x[i] - start) / (end - start), (better[i] - low) / math.Abs(last-first)
	}
	far, above, below := -1, 0.0, 0.0
	for step := range x {
		i := step // from the worse end on
		if k.Toward == downwards {
			i = n - 1 - step
		}
		along, up := share(i)
		if far < 0 && up >= kept-1e-9 {
			far = i
		}
		above, below = math.Max(above, up-along), math.Min(below, up-along)
	}
	if above < bent {
		if below < -bent {
			k.Kind = Rising
		}
		return k
	}
	along, up := share(far)
	if along == 1 || (1-up)/(1-along) > levelled*up/along {
		return k
	}
	at, high := x[far], math.Max(first, last)
	k.Kind, k.At = LevelsOff, &at
	k.Before, k.Beyond = (better[far]-low)/math.Abs(at-start), (high-better[far])/math.Abs(end-at)
	return k
}
