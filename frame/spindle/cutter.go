package spindle

import (
	"errors"
	"fmt"
	"math"

	"tiploop/beam"
	"tiploop/frame/constant"
)

// Cutter is a fluted cutter as it sticks out of its grip: flutes at the tip, shank behind them.
type Cutter struct {
	Diameter    float64 // over the flutes, mm
	Flutes      int
	Stickout    float64 // from the grip to the tip, mm
	FluteLength float64 // mm; longer than the stickout means that the grip holds the flutes
	Shank       float64 // diameter of the shank, mm; 0: that of the flutes
	E           float64 // modulus of its material, MPa
}

// fluted is the share for one number of flutes.
type fluted struct {
	flutes int
	share  constant.Band
	source string
}

const sourceFlutes = sourceKopsVo + "; spread over the number of flutes a house value"

var flutes = []fluted{
	{1, constant.Between(0.68, 0.75, 0.82), sourceFlutes},
	{2, constant.Between(0.72, 0.78, 0.84), sourceFlutes},
	{3, constant.Between(0.75, 0.80, 0.85), sourceFlutes},
	{4, constant.Between(0.75, 0.80, 0.85), sourceKopsVo},
	{6, constant.Between(0.78, 0.83, 0.88), sourceFlutes},
}

// EffectiveShare returns the diameter of the round bar that bends like a cutter of so many flutes over
// the cutter's diameter. Between the table's numbers the next lower one counts.
func EffectiveShare(number int) constant.Band {
	if number < 1 {
		panic(fmt.Sprintf("spindle: a cutter of %d flutes", number))
	}
	share := flutes[0].share
	for _, f := range flutes {
		if f.flutes <= number {
			share = f.share
		}
	}
	return share
}

// Check returns an error unless the cutter can be made.
func (c Cutter) Check() error {
	err := errors.Join(constant.Positive("diameter of the cutter", c.Diameter),
		constant.Positive("stickout", c.Stickout), constant.Positive("modulus of the cutter", c.E),
		constant.NotNegative("length of the flutes", c.FluteLength), constant.NotNegative("diameter of the shank",
			c.Shank))
	if c.Flutes < 1 {
		err = errors.Join(err, fmt.Errorf("a cutter of %d flutes", c.Flutes))
	}
	return err
}

// shank is the shank's diameter.
func (c Cutter) shank() float64 {
	if c.Shank == 0 {
		return c.Diameter
	}
	return c.Shank
}

// Slices returns the cutter from its tip to its grip as round bars, with the effective diameter that the
// share gives its flutes. Shear is left out, as in the trade's formula; at three diameters it
// would add 4 %.
func (c Cutter) Slices(share float64) ([]beam.Slice, error) {
	if err := errors.Join(c.Check(), constant.Positive("effective share", share)); err != nil {
		return nil, err
	}
	ei := func(diameter float64) float64 { return c.E * math.Pi * diameter * diameter * diameter * diameter / 64 }
	cut := math.Min(c.FluteLength, c.Stickout)
	var list []beam.Slice
	if cut > 0 {
		list = append(list, beam.Slice{Length: cut, EI: ei(share * c.Diameter)})
	}
	if cut < c.Stickout {
		list = append(list, beam.Slice{Length: c.Stickout - cut, EI: ei(c.shank())})
	}
	return list, nil
}

// TipStiffness returns the stiffness of the cutter alone, held rigidly at its grip, against a force
// across its tip, N/mm.
func (c Cutter) TipStiffness() (constant.Band, error) {
	if err := c.Check(); err != nil {
		return constant.Band{}, err
	}
	share := EffectiveShare(c.Flutes)
	at := func(share float64) (float64, error) {
		list, err := c.Slices(share)
		if err != nil {
			return 0, err
		}
		return constant.Number("stiffness of the cutter", 1/beam.SteppedCantilever(1, list))
	}
	low, err := at(share.Low)
	typical, err2 := at(share.Typical)
	high, err3 := at(share.High)
	return constant.Between(low, typical, high), errors.Join(err, err2, err3)
}

// ColletTilt returns how a collet resists the turning of the cutter in it, N·mm/rad. The trade states
// it by what it adds at the tip: a share c of the bending L³/3EI of the fluted cutter at L = 3 D, so
//
//	L²/K = c L³/(3 E I),  K = E I/(c D)
//
// with I of the effective diameter. low is soft.
func (c Cutter) ColletTilt() (constant.Band, error) {
	if err := c.Check(); err != nil {
		return constant.Band{}, err
	}
	core := EffectiveShare(c.Flutes).Typical * c.Diameter
	k := 3 * c.E * math.Pi * core * core * core * core / 64 / (colletReach * c.Diameter)
	turn := colletTurn.Band
	return constant.Between(k/turn.High, k/turn.Typical, k/turn.Low), nil
}

// Share is what one link adds to the movement of a tip.
type Share struct {
	Name       string
	Compliance float64 // mm/N across the spindle's axis
}

// Tip returns what spindle, grip and cutter add to the sideways movement of the cutter's tip per force
// there, with typical numbers for grip and cutter; the compliances add up. nose holds at the nose, where
// the cutter sticks out; that a push at the nose also turns the shaft a little is left out.
func Tip(nose Springs, c Cutter) ([]Share, error) {
	if err := nose.Check(); err != nil {
		return nil, err
	}
	k, err := c.TipStiffness()
	if err != nil {
		return nil, err
	}
	collet, err := c.ColletTilt()
	if err != nil {
		return nil, err
	}
	arm := c.Stickout * c.Stickout
	return []Share{
		{"spindle, sideways", 1 / nose.Radial},
		{"spindle, tilting", arm / nose.Tilt},
		{"collet, turning", arm / collet.Typical},
		{"cutter", 1 / k.Typical},
	}, nil
}
