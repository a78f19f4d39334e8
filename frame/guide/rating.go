package guide

import (
	"errors"
	"fmt"
	"math"

	"tiploop/frame/constant"
)

// Load is what one carriage carries, at the middle of its rows, in its own axes.
type Load struct {
	Vertical         float64 // N; positive pulls the carriage off its rail
	Side             float64 // N
	Roll, Pitch, Yaw float64 // N·mm
}

// Rating is how much a carriage bears. It is an indication: see the package comment.
type Rating struct {
	Dynamic float64 // basic dynamic load rating C for 50 km of travel, onto the rail, N
	Static  float64 // basic static load rating C0, N: a permanent set of 1e-4 of a ball's diameter

	// Static moments alone, N·mm. A Roll of 0 means that the carriage turns freely about its rail.
	Roll, Pitch, Yaw float64

	// Pull and Side are the ratings against pull and against a sideways load over those against
	// press. Four rows at 45° bear alike every way: 1 and 1.
	Pull, Side float64
}

// RatedTravelKm is the travel for which the table's dynamic ratings stand. Ratings for 100 km, the
// distance of ISO 14728-1, are 2^(1/3) lower for the same carriage.
const RatedTravelKm = 50

// From100Km turns a rating for 100 km into the rating of the same carriage for 50 km: C·2^(1/3).
func From100Km(dynamic float64) float64 {
	constant.MustBePositive("guide: dynamic rating", dynamic)
	return dynamic * math.Cbrt(100/RatedTravelKm)
}

// Ratings returns the low, typical and high rating of the size. Moments come from the rows (see
// [Rows.StaticMoments]), the direction factors of a bush from its constants.
func (c Carriage) Ratings() (low, typical, high Rating) {
	at := func(dynamic, static, pull, side, share, lever float64) Rating {
		r := Rating{Dynamic: dynamic, Static: static, Pull: 1, Side: 1}
		r.Roll, r.Pitch, r.Yaw = rowsOf(c, share, lever).StaticMoments(static)
		if c.Kind == OpenBush {
			r.Roll, r.Pull, r.Side = 0, pull, side
		}
		return r
	}
	p, s, l, e := roundPull.Band, roundSide.Band, loadedShare.Band, rowLever.Band
	return at(c.Dynamic.Low, c.Static.Low, p.Low, s.Low, l.Low, e.Low),
		at(c.Dynamic.Typical, c.Static.Typical, p.Typical, s.Typical, l.Typical, e.Typical),
		at(c.Dynamic.High, c.Static.High, p.High, s.High, l.High, e.High)
}

// Check returns an error unless the ratings are possible.
func (r Rating) Check() error {
	for _, q := range []struct {
		what string
		v    float64
	}{
		{"dynamic rating", r.Dynamic}, {"static rating", r.Static}, {"static pitch moment", r.Pitch},
		{"static yaw moment", r.Yaw},
		{"pull factor", r.Pull}, {"side factor", r.Side},
	} {
		if err := constant.Positive(q.what, q.v); err != nil {
			return err
		}
	}
	return constant.NotNegative("static roll moment", r.Roll)
}

// Equivalent returns the load onto the rail that wears, and dents, a carriage as much as a combined
// one, N. It serves for life and for static safety alike, since the dynamic moments are taken in the
// ratio of the ratings:
//
//	P = |Fz|/fz + |Fy|/fy + C0 (|Mx|/Mx0 + |My|/My0 + |Mz|/Mz0)
//
// with fz = 1 against press, Pull against pull, and fy = Side. The sum is the makers' (ISO 14728-1
// leaves combined loads to them; from memory) and on the safe side. It returns an error for a roll
// moment on what turns freely.
func (r Rating) Equivalent(f Load) (float64, error) {
	if err := r.Check(); err != nil {
		return 0, err
	}
	for _, q := range []struct {
		what string
		v    float64
	}{{"vertical load", f.Vertical}, {"side load", f.Side}, {"roll moment", f.Roll}, {"pitch moment",
		f.Pitch}, {"yaw moment", f.Yaw}} {
		if err := constant.Finite(q.what, q.v); err != nil {
			return 0, err
		}
	}
	vertical := 1.0
	if f.Vertical > 0 {
		vertical = r.Pull
	}
	p := math.Abs(f.Vertical)/vertical + math.Abs(f.Side)/r.Side
	if f.Roll != 0 {
		if r.Roll == 0 {
			return 0, fmt.Errorf("a roll moment of %g N·mm on a carriage that turns freely about its rail", f.Roll)
		}
		p += r.Static * math.Abs(f.Roll) / r.Roll
	}
	return constant.Number("equivalent load", p+r.Static*(math.Abs(f.Pitch)/r.Pitch+math.Abs(f.Yaw)/r.Yaw))
}

// WithPreload returns the load of the most loaded rows, N, when a preload is there as well: as long as
// the rows opposite still touch both act, preload·(1 + load/limit)^(3/2), beyond the limit of 2√2
// preloads the load alone (makers' formula after Hertz, who gives 2√2 for their 2.8; from memory).
func WithPreload(load, preload float64) float64 {
	constant.MustNotBeNegative("guide: load", load)
	constant.MustNotBeNegative("guide: preload", preload)
	limit := 2 * math.Sqrt2 * preload
	if load >= limit {
		return load
	}
	return preload * math.Pow(1+load/limit, 1.5)
}

// LifeKm returns the travel that nine of ten carriages survive under a constant equivalent load in
// N: L10 = (C/P)³ · 50 km (ISO 14728-1 with C for 50 km; from memory). The load must be above zero
// and, for the law to hold, below half of C; an error says which.
func (r Rating) LifeKm(load float64) (float64, error) {
	if err := errors.Join(r.Check(), constant.Positive("equivalent load", load)); err != nil {
		return 0, err
	}
	if load > r.Dynamic*lifeLimit {
		return 0, fmt.Errorf("an equivalent load of %.0f N is above half the dynamic rating of %.0f N: the life law "+
			"does not hold", load, r.Dynamic)
	}
	ratio := r.Dynamic / load
	return constant.Number("life", ratio*ratio*ratio*RatedTravelKm)
}

// lifeLimit is the largest load over C for which ISO 14728-1 gives a life (from memory).
const lifeLimit = 0.5

// StaticSafety returns C0/P0 (ISO 14728-2; from memory). Makers ask for 1.5 at rest and 3 or more
// with shocks. It returns an error for a load that is not positive.
func (r Rating) StaticSafety(load float64) (float64, error) {
	if err := errors.Join(r.Check(), constant.Positive("equivalent load", load)); err != nil {
		return 0, err
	}
	return constant.Number("static safety", r.Static/load)
}
