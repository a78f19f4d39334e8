package cutting

import (
	"errors"
	"fmt"
	"math"

	"tiploop/frame/constant"
)

// Law is the force of a chip h thick (mm) on an edge b long (mm):
//
//	Ft = (Kt h^(1−M) + Kte) b        tangential, against the movement
//	Fr = (Kr h^(1−M) + Kre) b        normal to edge and movement, into the tool
//	Fa = (Ka h^(1−M) + Kae) b        along the edge
//
// With M = 0 it is the linear edge-force law (dF = (K_c h + K_e) db; Altintas, Manufacturing
// Automation, ch. 2, from memory), with the edge numbers zero Kienzle's (k_c = k_c1.1 h^−m). A law cuts
// nothing, and costs nothing, where h <= 0.
type Law struct {
	Kt, Kr, Ka    float64 // N per mm of edge and mm^(1−M) of chip; MPa if M = 0
	M             float64 // from 0, below 1
	Kte, Kre, Kae float64 // N per mm of edge

	ChipMM Span // chip thicknesses it was measured at; zero if not known
}

// most is the largest coefficient a law may have, far above any material, so that no sum overflows.
const most = 1e9

// Check returns an error unless the law can be used.
func (l Law) Check() error {
	for _, q := range []struct {
		name  string
		value float64
	}{{"Kt", l.Kt}, {"Kr", l.Kr}, {"Ka", l.Ka}, {"Kte", l.Kte}, {"Kre", l.Kre}, {"Kae", l.Kae}} {
		if !(q.value >= 0 && q.value <= most) {
			return fmt.Errorf("force law: %s is %g, must lie between 0 and %g", q.name, q.value, most)
		}
	}
	if !(l.M >= 0 && l.M < 1) {
		return fmt.Errorf("force law: exponent %g must be at least 0 and below 1", l.M)
	}
	if l.Kt == 0 && l.Kte == 0 {
		return errors.New("force law: no tangential force")
	}
	if s := l.ChipMM; s.known() && !(s.Least >= 0 && s.Least <= s.Most) {
		return fmt.Errorf("force law: chips from %g to %g mm are no range", s.Least, s.Most)
	}
	return nil
}

// times is the law with all its coefficients so many times as large.
func (l Law) times(f float64) Law {
	l.Kt, l.Kr, l.Ka, l.Kte, l.Kre, l.Kae = l.Kt*f, l.Kr*f, l.Ka*f, l.Kte*f, l.Kre*f, l.Kae*f
	return l
}

// Orthogonal returns the forces, N, of a straight edge widthMM long on a chip chipMM thick, as in turning with the edge
// square to the feed. Lengths must not be negative.
func (l Law) Orthogonal(chipMM, widthMM float64) (tangential, radial, axial float64) {
	constant.MustNotBeNegative("cutting: chip thickness", chipMM)
	constant.MustNotBeNegative("cutting: chip width", widthMM)
	if chipMM == 0 {
		return 0, 0, 0
	}
	h := math.Pow(chipMM, 1-l.M)
	return (l.Kt*h + l.Kte) * widthMM, (l.Kr*h + l.Kre) * widthMM, (l.Ka*h + l.Kae) * widthMM
}

// SpecificForce returns the tangential force over the chip's section, MPa, of a chip that thick.
func (l Law) SpecificForce(chipMM float64) float64 {
	constant.MustBePositive("cutting: chip thickness", chipMM)
	t, _, _ := l.Orthogonal(chipMM, 1)
	return t / chipMM
}
