package cutting

import (
	"fmt"
	"math"

	"tiploop/frame/constant"
)

// Kienzle is a work material's row in tables of specific cutting force, k_c = k_c1.1 h^−m with h in mm. For h below 1
// mm, where all small machines work, force is low where both numbers are low.
type Kienzle struct {
	Kc11   constant.Band // of a chip 1 mm wide and 1 mm thick, MPa
	M      constant.Band // exponent
	ChipMM Span          // chip thicknesses it holds for
	Source string
}

// Law returns the law for an edge with that helix, degrees: the radial force is a share of the
// tangential one, the axial a share of what the helix would make of it without friction.
// Only milling cutters have a helix; for other edges give 0.
func (k Kienzle) Law(level constant.Level, helixDeg float64) Law {
	kt := k.Kc11.At(level)
	return Law{
		Kt: kt, Kr: kt * radialRatio.Band.At(level),
		Ka: kt * axialRatio.Band.At(level) * math.Tan(helixDeg*degree),
		M:  k.M.At(level), ChipMM: k.ChipMM,
	}
}

// WithRake returns the row for a tool whose rake is known. The tables hold for turning inserts with
// a rake of 0 to 6 degrees; force falls by 1 to 1.5 % a degree beyond that. Rakes outside ±30° are an error. The band
// grows by the scatter of both numbers.
func (k Kienzle) WithRake(deg float64) (Kienzle, error) {
	if !(math.Abs(deg) <= mostRakeDeg) {
		return Kienzle{}, fmt.Errorf("rake of %g degrees is outside ±%g", deg, mostRakeDeg)
	}
	factor := func(slope, reference float64) float64 { return 1 - slope*(deg-reference) }
	s, r := rakeSlope.Band, rakeReference.Band
	f := constant.Between(math.Inf(1), factor(s.Typical, r.Typical), math.Inf(-1))
	for _, v := range []float64{factor(s.Low, r.Low), factor(s.Low, r.High), factor(s.High, r.Low),
		factor(s.High, r.High)} {
		f.Low, f.High = min(f.Low, v), max(f.High, v)
	}
	k.Kc11 = k.Kc11.Times(f)
	return k, nil
}

// mostRakeDeg bounds the linear correction: beyond it nothing was measured.
const mostRakeDeg = 30.0

// degree in radians.
const degree = math.Pi / 180
