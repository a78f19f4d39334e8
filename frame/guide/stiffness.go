package guide

import (
	"fmt"

	"tiploop/frame/constant"
)

// Stiffness is what one carriage resists with, at the middle of its rows, in its own axes.
type Stiffness struct {
	Press, Pull, Side float64 // onto the rail, off it, across it; N/mm
	Roll, Pitch, Yaw  float64 // about the rail, about the axis across, about the upright; N·mm/rad
}

// Range is a stiffness with its scatter. The ends take every factor at its own end, so the true
// value lies well inside more often than not.
type Range struct {
	Low, Typical, High Stiffness
}

// Check returns an error unless the three forces meet resistance and no moment stiffness is
// negative. A moment stiffness of 0 is possible: one open bush turns freely about its rail.
func (k Stiffness) Check() error {
	for _, q := range []struct {
		what string
		v    float64
	}{{"press stiffness", k.Press}, {"pull stiffness", k.Pull}, {"side stiffness", k.Side}} {
		if err := constant.Positive(q.what, q.v); err != nil {
			return err
		}
	}
	for _, q := range []struct {
		what string
		v    float64
	}{{"roll stiffness", k.Roll}, {"pitch stiffness", k.Pitch}, {"yaw stiffness", k.Yaw}} {
		if err := constant.NotNegative(q.what, q.v); err != nil {
			return err
		}
	}
	return nil
}

// Vertical returns one stiffness for press and pull, N/mm: 2/(1/press + 1/pull), with which the
// deflection is that of both directions averaged. A linear model has no more.
func (k Stiffness) Vertical() float64 {
	k.mustCheck()
	return 2 / (1/k.Press + 1/k.Pull)
}

// Scaled returns the stiffness times a share.
func (k Stiffness) Scaled(share float64) Stiffness {
	k.mustCheck()
	constant.MustBePositive("guide: share", share)
	return Stiffness{
		Press: share * k.Press, Pull: share * k.Pull, Side: share * k.Side,
		Roll: share * k.Roll, Pitch: share * k.Pitch, Yaw: share * k.Yaw,
	}
}

func (k Stiffness) mustCheck() {
	if err := k.Check(); err != nil {
		panic(fmt.Sprintf("guide: %v", err))
	}
}

// OnThinSeat returns what is left of carriages that sit on a thin plate or on half of their screws.
func (r Range) OnThinSeat() Range {
	b := thinSeat.Band
	return Range{r.Low.Scaled(b.Low), r.Typical.Scaled(b.Typical), r.High.Scaled(b.High)}
}

// Springs returns the stiffness as seen along and about the carriage's axes, x y z then the three
// rotations: nothing along the rail, [Stiffness.Vertical] along z.
func (k Stiffness) Springs() [6]float64 {
	return [6]float64{0, k.Side, k.Vertical(), k.Roll, k.Pitch, k.Yaw}
}

// Rows is the loaded zone of a carriage: rows of balls along the rail, half of them at each side.
type Rows struct {
	Length float64 // of the loaded rows along the rail, mm
	Lever  float64 // of a row about the rail's middle line, mm
}

// Moments returns the moment stiffnesses, N·mm/rad, of rows that give evenly along their length,
// for carriages whose catalogue gives forces alone. With the vertical stiffness kz and the sideways
// stiffness ky, N/mm, spread evenly over the length L and at the lever e of either side:
//
//	pitch = kz/L · ∫x²dx = kz L²/12,  yaw = ky L²/12,  roll = kz e²
//
// It is elementary statics of springs in a row. The carriage's body is taken as rigid, which makes
// the numbers a little high, and sideways load shares in rolling are left out.
func (r Rows) Moments(kz, ky float64) (roll, pitch, yaw float64) {
	r.mustCheck()
	constant.MustBePositive("guide: vertical stiffness", kz)
	constant.MustBePositive("guide: side stiffness", ky)
	l2 := r.Length * r.Length
	return kz * r.Lever * r.Lever, kz * l2 / 12, ky * l2 / 12
}

// StaticMoments returns the moments, N·mm, at which the most loaded ball of the rows carries what it
// does under the static rating, N: C0·L/6 for pitch and yaw (the load falls evenly from the end of
// the row to its middle), C0·e for roll.
func (r Rows) StaticMoments(static float64) (roll, pitch, yaw float64) {
	r.mustCheck()
	constant.MustBePositive("guide: static rating", static)
	return static * r.Lever, static * r.Length / 6, static * r.Length / 6
}

func (r Rows) mustCheck() {
	constant.MustBePositive("guide: length of the rows", r.Length)
	constant.MustBePositive("guide: lever of the rows", r.Lever)
}
