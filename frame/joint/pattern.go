package joint

import (
	"errors"
	"math"
)

// Pattern is a group of screws, all alike, that hold a rigid plate in the x-y plane.
type Pattern struct {
	Places     [][2]float64 // mm
	Tangential float64      // of each screw, N/mm
	Normal     float64      // of each screw, N/mm
}

// lineTolerance is how far off a straight line a pattern must lie, as a share of its own spread
// (squared, as the sums are), before it counts as able to resist tilting about that line.
// Rounding of given places leaves about 1e-16.
const lineTolerance = 1e-12

// Centroid returns the middle of the places, mm.
func (p Pattern) Centroid() [2]float64 {
	if len(p.Places) == 0 {
		panic("joint: pattern without places")
	}
	var c [2]float64
	for _, q := range p.Places {
		c[0] += q[0]
		c[1] += q[1]
	}
	n := float64(len(p.Places))
	return [2]float64{c[0] / n, c[1] / n}
}

// sums returns Σ x², Σ y² and Σ x y about the centroid, mm².
func (p Pattern) sums() (xx, yy, xy float64) {
	c := p.Centroid()
	for _, q := range p.Places {
		x, y := q[0]-c[0], q[1]-c[1]
		xx += x * x
		yy += y * y
		xy += x * y
	}
	return xx, yy, xy
}

// PolarSum returns Σ r² about the centroid, mm².
func (p Pattern) PolarSum() float64 {
	xx, yy, _ := p.sums()
	return xx + yy
}

// RotationalStiffness returns the stiffness against turning in the plane, N·mm per radian.
func (p Pattern) RotationalStiffness() float64 { return p.Tangential * p.PolarSum() }

// Shear returns the in-plane force on the plate that each screw resists, N, under a force in N and a
// moment in N·mm, anticlockwise positive, both at the centroid (Shigley's Mechanical Engineering
// Design, bolted joints loaded in shear). A moment on screws that share one place is an error.
func (p Pattern) Shear(fx, fy, moment float64) ([][2]float64, error) {
	c, polar, n := p.Centroid(), p.PolarSum(), float64(len(p.Places))
	turn := 0.0
	if moment != 0 {
		if polar == 0 {
			return nil, errors.New("screws in one place resist no moment")
		}
		turn = moment / polar
	}
	each := make([][2]float64, len(p.Places))
	for i, q := range p.Places {
		each[i] = [2]float64{fx/n - turn*(q[1]-c[1]), fy/n + turn*(q[0]-c[0])}
	}
	return each, nil
}

// TiltStiffness is the stiffness of a pattern against tilting, N·mm per radian: the moments are
// Mx = XX rx + XY ry and My = XY rx + YY ry, right-handed about the axes through the centroid.
type TiltStiffness struct {
	XX, YY, XY float64
}

// Tilt returns the stiffness against tilting about the centroid. A tilt rx, ry moves the plate by
// rx y - ry x at each screw.
func (p Pattern) Tilt() TiltStiffness {
	xx, yy, xy := p.sums()
	// Adding zero turns the −0 of a symmetric pattern into 0.
	return TiltStiffness{XX: p.Normal * yy, YY: p.Normal * xx, XY: -p.Normal*xy + 0}
}

// Rotation returns the tilt, radian, under moments in N·mm. A pattern on one line is an error: it
// does not resist tilting about that line.
func (k TiltStiffness) Rotation(mx, my float64) (rx, ry float64, err error) {
	det := k.XX*k.YY - k.XY*k.XY
	scale := math.Max(k.XX, k.YY)
	if !(det > lineTolerance*scale*scale) {
		return 0, 0, errors.New("screws on one line resist no tilt about it")
	}
	return (k.YY*mx - k.XY*my) / det, (k.XX*my - k.XY*mx) / det, nil
}
