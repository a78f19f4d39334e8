package guide

import (
	"fmt"

	"tiploop/frame/constant"
)

// Preload is the class of fit in which a carriage is bought, or a bush adjusted.
type Preload int

const (
	Clearance Preload = iota // runs with play
	VeryLight                // no play, hardly any preload
	Light
	Medium
)

// preloadClass holds the numbers of a class.
type preloadClass struct {
	key, name    string
	share        constant.Band // preload over the dynamic rating
	shareSource  string
	factor       constant.Band // stiffness over that at light preload
	factorSource string
}

const sourcePreload = "guideway maker's table of preload classes"

var preloads = [...]preloadClass{
	Clearance: {
		"clearance", "clearance", constant.Exactly(0), "by definition",
		constant.Between(0.3, 0.45, 0.6), "half of the contacts carry, each softer at small load: k grows as " +
			"F^(1/3); " + sourceHertz + "; after its play is taken up",
	},
	VeryLight: {"very-light", "very light preload", constant.Between(0.002, 0.01, 0.02),
		sourcePreload + ": 0 to 0.02 C", constant.Between(0.6, 0.7, 0.8), sourceCatalogue},
	Light: {"light", "light preload", constant.Between(0.03, 0.04, 0.05), sourcePreload + ": 0.03 to 0.05 C",
		constant.Exactly(1), "the table of sizes is for light preload"},
	Medium: {"medium", "medium preload", constant.Between(0.06, 0.07, 0.08), sourcePreload + ": 0.06 to 0.08 C",
		constant.Between(1.1, 1.18, 1.25), sourceCatalogue},
}

// Preloads returns the classes from loose to tight.
func Preloads() []Preload { return []Preload{Clearance, VeryLight, Light, Medium} }

// String returns the class's key, such as "very-light".
func (p Preload) String() string { return p.class().key }

// LookupPreload returns the class of that key.
func LookupPreload(key string) (Preload, bool) { return constant.Find(Preloads(), key, Preload.String) }

func (p Preload) class() preloadClass {
	if p < 0 || int(p) >= len(preloads) {
		panic(fmt.Sprintf("guide: unknown preload class %d", int(p)))
	}
	return preloads[p]
}

// Share returns the preload over the dynamic rating C.
func (p Preload) Share() constant.Band { return p.class().share }

// Play returns the movement between push and pull before any spring acts, mm; zero with preload.
func (p Preload) Play() constant.Band {
	if p.class().share.High > 0 {
		return constant.Band{}
	}
	return playClearance.Band
}

// LinearLoad returns the load up to which a carriage of the given dynamic rating is nearly a linear
// spring, N; 0 for one that runs with play, which never is.
func (p Preload) LinearLoad(dynamic float64) constant.Band {
	constant.MustBePositive("guide: dynamic rating", dynamic)
	return p.Share().Times(linearLimit.Band).Scaled(dynamic)
}
