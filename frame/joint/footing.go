package joint

import (
	"errors"

	"tiploop/frame/constant"
)

// Footing is a rectangular face that a row of screws in the middle of its width presses on an even elastic layer, and
// that cannot pull: a base plate that a moment tips over its edge.
type Footing struct {
	Width, Length float64 // across the row and along it, mm
	Preload       float64 // of the whole row, N
	PerMM3        float64 // stiffness of the faces per area, N/mm³
	Screws        float64 // axial stiffness of the whole row, N/mm; 0: its force stays as it is
}

// Tipped is the state of a footing.
type Tipped struct {
	Moment     float64 // N·mm
	Compressed float64 // width that still touches, mm
	ScrewForce float64 // of the whole row, N
	Peak       float64 // pressure at the pressed edge, MPa
	Rotation   float64 // rad
}

func (f Footing) check() {
	constant.MustBePositive("joint: width of the footing", f.Width)
	constant.MustBePositive("joint: length of the footing", f.Length)
	constant.MustBePositive("joint: preload of the footing", f.Preload)
	constant.MustBePositive("joint: stiffness of the faces", f.PerMM3)
	mustNotBeNegative("stiffness of the screws", f.Screws)
}

// OpensAt returns the moment at which the far edge opens, N·mm: N b/6.
func (f Footing) OpensAt() float64 {
	f.check()
	return f.Preload * f.Width / 6
}

// TurnsOverAt returns the moment that a clamp force which does not grow cannot hold, N·mm: N b/2.
func (f Footing) TurnsOverAt() float64 { return 3 * f.OpensAt() }

// Pressing returns the state in which a given part of the width still touches, mm: pressure grows as a triangle over
// it, and the screws lengthen as the middle of the width lifts.
func (f Footing) Pressing(compressed float64) Tipped {
	f.check()
	constant.MustBePositive("joint: compressed width", compressed)
	a, b := compressed, f.Width
	atRest := f.Preload / (f.PerMM3 * b * f.Length)
	bearing := f.PerMM3 * a * a * f.Length / 2
	turned := (f.Preload + f.Screws*atRest) / (bearing + f.Screws*(a-b/2))
	force := bearing * turned
	return Tipped{Moment: force * (b/2 - a/3), Compressed: a, ScrewForce: force, Peak: f.PerMM3 * turned * a,
		Rotation: turned}
}

// Under returns the state under a moment, N·mm. One that turns the footing over is an error.
func (f Footing) Under(moment float64) (Tipped, error) {
	mustNotBeNegative("moment on the footing", moment)
	if moment <= f.OpensAt() {
		area, turned := f.Width*f.Length, moment/(f.PerMM3*f.Length*f.Width*f.Width*f.Width/12)
		return Tipped{Moment: moment, Compressed: f.Width, ScrewForce: f.Preload,
			Peak: f.Preload/area + f.PerMM3*turned*f.Width/2, Rotation: turned}, nil
	}
	narrow, wide := 0.0, f.Width
	for range tippingSteps {
		if a := (narrow + wide) / 2; f.tipsLess(a, moment) {
			wide = a
		} else {
			narrow = a
		}
	}
	if narrow == 0 {
		return Tipped{}, errors.New("the moment turns the footing over")
	}
	return f.Pressing(wide), nil
}

// tippingSteps halve the compressed width down to rounding.
const tippingSteps = 52

// tipsLess says that a footing with that compressed width holds less than the moment. Below some width lengthening
// screws would hold any.
func (f Footing) tipsLess(a, moment float64) bool {
	if f.PerMM3*a*a*f.Length/2+f.Screws*(a-f.Width/2) <= 0 {
		return false
	}
	return f.Pressing(a).Moment < moment
}
