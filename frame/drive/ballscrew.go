package drive

import (
	"errors"
	"fmt"
	"math"

	"tiploop/frame/constant"
)

// BallScrew is one generic size of rolled ball screw, named as the trade does by diameter and lead.
type BallScrew struct {
	Key            string  // "1605": diameter 16, lead 5
	Diameter, Lead float64 // mm

	Root       constant.Band // core diameter, mm
	RootSource string

	CatalogueNut float64 // the catalogue's K of a single nut at 0.3 C_a, N/mm
	NutSource    string

	Dynamic, Static constant.Band // basic ratings C_a, for a million turns, and C_0a, N
	RatingSource    string
}

// BallScrews returns the known sizes, small to large.
func BallScrews() []BallScrew { return append([]BallScrew(nil), ballScrews...) }

// LookupBallScrew returns the size of that key, such as "1605".
func LookupBallScrew(key string) (BallScrew, bool) {
	return constant.Find(ballScrews, key, func(s BallScrew) string { return s.Key })
}

// NutFit is how a ball nut sits on its screw.
type NutFit int

const (
	PlayNut    NutFit = iota // a single nut with play
	SnugNut                  // a single nut with balls picked to take the play out
	DoubleNut                // two nuts, or one with an offset lead, pressed against each other
	HardPreset               // the same with the preload of machine tools
)

type nutFit struct {
	key, name string
	share     constant.Band // preload over C_a
	play      constant.Band // mm
	source    string
}

var nutFits = [...]nutFit{
	PlayNut: {"play", "single nut with play", constant.Exactly(0), constant.Between(0.005, 0.02, 0.05),
		sourcePractice},
	SnugNut: {"snug", "single nut, balls picked", constant.Between(0.01, 0.02, 0.04), constant.Exactly(0),
		sourceCatalogue},
	DoubleNut: {"double", "double nut, light preload", constant.Between(0.04, 0.05, 0.06), constant.Exactly(0),
		sourceCatalogue},
	HardPreset: {"double-hard", "double nut, preload of machine tools", constant.Between(0.07, 0.08, 0.10),
		constant.Exactly(0), sourceCatalogue},
}

// NutFits returns the fits from loose to tight.
func NutFits() []NutFit { return []NutFit{PlayNut, SnugNut, DoubleNut, HardPreset} }

// String returns the fit's key, such as "double".
func (f NutFit) String() string { return f.numbers().key }

// LookupNutFit returns the fit of that key.
func LookupNutFit(key string) (NutFit, bool) { return constant.Find(NutFits(), key, NutFit.String) }

func (f NutFit) numbers() nutFit {
	if f < 0 || int(f) >= len(nutFits) {
		panic(fmt.Sprintf("drive: unknown nut fit %d", int(f)))
	}
	return nutFits[f]
}

// Play returns how far the nut moves along the screw before its balls carry, mm.
func (f NutFit) Play() constant.Band { return f.numbers().play }

// PreloadShare returns the preload over C_a.
func (f NutFit) PreloadShare() constant.Band { return f.numbers().share }

// NutAt returns the stiffness of the nut along the screw, N/mm, at a preload over C_a: the
// catalogue's K times nut_in_service, which holds at nut_reference_preload, times
// (preload/reference)^(1/3) (Hertz, as the makers scale it). The preload must be above 0 and at most 0.3.
func (s BallScrew) NutAt(preload float64) constant.Band {
	if !(preload > 0 && preload <= catalogueLoad) {
		panic(fmt.Sprintf("drive: preload of %g C_a, must be above 0 and at most %g", preload, catalogueLoad))
	}
	f := math.Cbrt(preload / nutReferencePreload.Band.Typical)
	return nutInService.Band.Scaled(s.CatalogueNut * f)
}

// catalogueLoad is the load over C_a at which catalogues state K.
const catalogueLoad = 0.3

// Nut returns the stiffness of a nut of that fit along the screw, N/mm. A nut with play carries on
// one side alone, so once the play is taken up it has half of what a preload as large as the working
// load would give; that load is in N and only used there.
func (s BallScrew) Nut(f NutFit, load float64) (constant.Band, error) {
	if share := f.numbers().share; share.High > 0 {
		return constant.Between(s.NutAt(share.Low).Low, s.NutAt(share.Typical).Typical, s.NutAt(share.High).High), nil
	}
	if err := constant.Positive("working load of a nut with play", load); err != nil {
		return constant.Band{}, err
	}
	share := constant.Between(load/s.Dynamic.High, load/s.Dynamic.Typical, load/s.Dynamic.Low)
	if share.High > catalogueLoad {
		return constant.Band{}, fmt.Errorf("a load of %g N is above %g of the screw's rating", load, catalogueLoad)
	}
	return constant.Between(s.NutAt(share.Low).Low, s.NutAt(share.Typical).Typical,
		s.NutAt(share.High).High).Scaled(oneSideCarries), nil
}

// oneSideCarries is the stiffness of one row of balls over that of two pressed against each other, at
// the same force in a ball.
const oneSideCarries = 0.5

// SpeedLimitRPM returns the speed the balls bear, revolutions per minute: the limit of diameter times
// speed over the diameter. The shaft may whirl sooner ([Shaft.CriticalRPM]).
func (s BallScrew) SpeedLimitRPM() constant.Band {
	constant.MustBePositive("drive: diameter", s.Diameter)
	return diameterSpeed.Band.Scaled(1 / s.Diameter)
}

// LifeRevolutions returns the turns that nine of ten screws survive under a constant equivalent load
// along them, N, preload included: L10 = (C_a/F_m)³ · 10⁶ (ISO 3408-5; from memory). dynamic is
// C_a, N.
func LifeRevolutions(dynamic, load float64) (float64, error) {
	if err := errors.Join(constant.Positive("dynamic rating", dynamic),
		constant.Positive("mean load", load)); err != nil {
		return 0, err
	}
	ratio := dynamic / load
	return constant.Number("life", ratio*ratio*ratio*1e6)
}

// TravelKm returns the travel of so many turns, km.
func TravelKm(revolutions, lead float64) float64 {
	constant.MustBePositive("drive: revolutions", revolutions)
	constant.MustBePositive("drive: lead", lead)
	return revolutions * lead / constant.MMPerKm
}

// Duty is a force along the screw that lasts for a share of all turns.
type Duty struct {
	Force float64 // N, either sign
	Turns float64 // any unit, the same for all
}

// MeanLoad returns the constant load that wears as much as several in turn, N: the cube root of the
// mean cube over the turns (ISO 3408-5; from memory).
func MeanLoad(duties ...Duty) (float64, error) {
	largest, turns := 0.0, 0.0
	for _, d := range duties {
		if err := errors.Join(constant.Finite("force", d.Force), constant.NotNegative("turns", d.Turns)); err != nil {
			return 0, err
		}
		largest = math.Max(largest, math.Abs(d.Force))
		turns += d.Turns
	}
	if err := constant.Positive("turns of all duties", turns); err != nil {
		return 0, err
	}
	if largest == 0 {
		return 0, nil
	}
	cubes := 0.0
	for _, d := range duties {
		f := math.Abs(d.Force) / largest
		cubes += f * f * f * (d.Turns / turns)
	}
	return largest * math.Cbrt(cubes), nil
}

// StaticSafety returns C_0a over the largest force, N (ISO 3408-5; from memory). Makers ask for 1.5 to
// 2, with shocks 3.
func StaticSafety(static, largest float64) (float64, error) {
	if err := errors.Join(constant.Positive("static rating", static),
		constant.Positive("largest force", largest)); err != nil {
		return 0, err
	}
	return constant.Number("static safety", static/largest)
}

// BallEfficiency returns how much of a ball screw's turning work becomes travel. It is so high that the
// screw runs back under a load by itself.
func BallEfficiency() constant.Band { return ballEfficiency.Band }
