package drive

import (
	"errors"
	"fmt"
	"math"

	"tiploop/frame/constant"
)

// sharedLifeExponent is that of the lives of balls that fail independently of one another: the Weibull slope 10/9 of
// ball bearings (ISO 281, ISO 3408-5; from memory).
const sharedLifeExponent = 10. / 9

// PreloadedNut returns the loads, N, of the two sides of a nut, pressed against each other by a preload, when a force
// acts on it. As long as the relieved side still touches, which is up to 2√2 preloads, the loaded side has
//
//	preload·(1 + force/(2√2·preload))^(3/2)
//
// and the other the force less (Hertz; ISO 3408-5; from memory). Without preload the loaded side has it all.
func PreloadedNut(force, preload float64) (loaded, relieved float64) {
	constant.MustNotBeNegative("drive: force", force)
	constant.MustNotBeNegative("drive: preload", preload)
	parts := 2 * math.Sqrt2 * preload
	if force >= parts {
		return force, 0
	}
	loaded = preload * math.Pow(1+force/parts, 1.5)
	return loaded, math.Max(0, loaded-force)
}

// PreloadedLife returns the turns that nine of ten screws survive under a constant force along them, N, beside the
// nut's preload: both sides wear, L = (L1^(−10/9) + L2^(−10/9))^(−9/10) (ISO 3408-5; from memory). dynamic is C_a, N.
// One of force and preload must be above zero.
func PreloadedLife(dynamic, force, preload float64) (float64, error) {
	if err := errors.Join(constant.NotNegative("force", force), constant.NotNegative("preload", preload)); err != nil {
		return 0, err
	}
	sum := 0.0
	loaded, relieved := PreloadedNut(force, preload)
	life, err := LifeRevolutions(dynamic, loaded)
	if err != nil {
		return 0, fmt.Errorf("life of the loaded side: %w", err)
	}
	if ratio := relieved / loaded; ratio > 0 {
		sum = math.Pow(ratio*ratio*ratio, sharedLifeExponent) // (L1/L2)^(10/9)
	}
	return constant.Number("life", life*math.Pow(1+sum, -1/sharedLifeExponent))
}
