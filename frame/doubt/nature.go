package doubt

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tiploop/frame"
	"tiploop/frame/constant"
	"tiploop/frame/cutting"
	"tiploop/frame/guide"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
	"tiploop/frame/spindle"
)

// What stands here is one for the whole machine and all its options.

// finishPressure is the pressure at which the band of a finish is taken, MPa: about that under the screws of a small
// machine, which is from 5 to 30. The two laws between which the band reaches part as the pressure grows, as its
// fourth root; one band for all screws leaves that out.
const finishPressure = 15

// Which of two laws of contact is true is one question for all machined faces, and most of their band: roughness within
// one finish leaves roughOfFinish of it, house value, half of what a factor of two in roughness makes of the log mean of a
// law that goes with it and one that goes by measured constants.
const roughOfFinish = 0.17 // in the logarithm

// Finish is the constant of the contact law of a finish; of machined faces what [Faces] adds to [ContactLaw].
func Finish(s joint.Surface) Unknown {
	band := s.ContactStiffness(finishPressure)
	if !s.Wavy {
		band = constant.Between(math.Exp(-roughOfFinish), 1, math.Exp(roughOfFinish))
	}
	return made(ofLaw, "finish "+s.Key, band, s.Key+" faces", "push a joint of such faces and read it with a dial")
}

// ContactLaw is how stiff machined faces are over what is taken for typical, as those do that are called milled.
func ContactLaw() Unknown {
	milled, _ := joint.LookupSurface("milled")
	soft, stiff := lawShares(milled)
	return made(ofLaw, "contact law", constant.Between(math.Exp(-soft), 1, math.Exp(stiff)), "contact law of machined faces",
		"push a joint of such faces and read it with a dial")
}

// lawShares are the half-widths, in the logarithm, that the law of contact has of the band of machined faces.
func lawShares(s joint.Surface) (soft, stiff float64) {
	band := over(s.ContactStiffness(finishPressure))
	left := func(all float64) float64 {
		return math.Sqrt(math.Max(0, math.Log(all)*math.Log(all)-roughOfFinish*roughOfFinish))
	}
	return left(band.Low), left(band.High)
}

// Faces are what the contact stiffness of a finish goes with. The law's exponent is that of the soft half of the band,
// which is the wide one; the stiff ends then lie within an eighth of those of the tables. What a finish has of its own cannot
// make up for that: of fine milled faces the law alone reaches 8 % beyond the table's stiff end.
func (l *List) Faces(s joint.Surface) []frame.Power {
	own := l.With(Finish(s), 1)
	if s.Wavy {
		return own
	}
	milled, _ := joint.LookupSurface("milled")
	of, _ := lawShares(s)
	to, _ := lawShares(milled)
	return slices.Concat(l.With(ContactLaw(), of/to), own)
}

// Ratio is the tangential over the normal stiffness of contacts.
func Ratio() Unknown {
	return made(ofLaw, "tangential ratio", joint.TangentialRatio(), "sideways give of faces",
		"push a joint along its faces and read it with a dial")
}

// spread is how far the give of the metal under a zone may be off at detail "section", house value: nine in ten of the
// bodies joined on small squares are within 11 % of three-dimensional elasticity (testdata/accuracy.md, solid-spots,
// beams).
const spread = 0.11

// Spreading is the stiffness of the metal under a pressed zone, where no mesh holds it.
func Spreading() Unknown {
	return made(ofLaw, "spreading", within(spread), "metal under screws and faces", "take the detail solid")
}

// within is the band of a factor that is off by a share either way.
func within(share float64) constant.Band { return constant.Between(1/(1+share), 1, 1+share) }

// Cone is the half angle of the pressure cone under screw heads: how wide a ring they press. It is in the contact of faces
// and shims, in the arms at which they act against turning, and in the metal under the ring. A mesh keeps its zones of
// typical width; what a wider ring would change of the metal under it, as of a half-space, goes with the faces. Springs
// stay where they stand. Whole machines with the cone at its ends move by 0.8 % more or less at most than the laws say
// (TestConeAgainstWholeSolutions in frame/structure).
func Cone() Unknown {
	return made(ofLaw, "pressure cone", joint.ConeHalfAngle(), "width of the rings under screws",
		"push a joint and read it with a dial")
}

// settledOfBand is the share of its preload that the low end of Settling is told by; each screw keeps its own share then.
const settledOfBand = 0.9

// Settling is what screws keep of their preload when joints have settled. Typically they are tightened again after a day,
// as the cautions ask, and keep it all; at the low end none is, and each keeps what VDI 2230's table of settling leaves it.
// There is nothing above: half of all draws lose nothing. House value, for want of any number of those who do.
func Settling() Unknown {
	return made(ofLaw, "settling", constant.Between(settledOfBand, 1, 1), "settling of joints",
		"tighten the screws again after a day")
}

// Tightness is the share of the proof load that screws are tightened to where the file gives no torque: one hand, one
// habit.
func Tightness() Unknown {
	return made(ofFriction, "tightness", joint.ProofShare(), "tightness of screws without a torque",
		"give the torque, and use a torque key")
}

// Paper is the modulus of paper under pressure.
func Paper() Unknown {
	return made(ofLaw, "paper", joint.PaperModulus(), "paper between faces", "take it out, or lay metal there")
}

// Carriages is the stiffness of a size of carriage: that of its table. What its sideways, pulling and moment stiffness
// are over that has ranges, too, which are small beside it and left out.
func Carriages(c guide.Carriage) Unknown {
	return made(ofSize, "carriages "+c.Key, c.Press, "carriages "+c.Key,
		"ask its maker for the stiffness, or push one and read it with a dial")
}

// Slides is the stiffness of slides of a class, without what parts those of one batch.
func Slides(s guide.Slide) Unknown {
	per, err := s.PerArea()
	if err != nil {
		panic("doubt: " + err.Error())
	}
	batch := guide.SlideScatter()
	band := constant.Between(per.Low/batch.Low, per.Typical/batch.Typical, per.High/batch.High)
	return made(ofSize, "slides "+s.Class(), band, "slides "+s.Class(), "push a slide and read it with a dial")
}

// Size is the stiffness of a size of the trade, as the machine says it.
func Size(u machine.Unsure) Unknown {
	settle := "ask its maker for the stiffness"
	switch {
	case strings.HasPrefix(u.Of, "nuts "):
		settle = "ask its maker for the stiffness, or lock the screw and push its nut"
	case strings.HasPrefix(u.Of, "motors "):
		settle = "read its holding torque off its plate"
	case u.Of == "belt teeth" || u.Of == "rack teeth":
		settle = "lock the motor, push the axis and read it with a dial"
	}
	return made(ofSize, u.Of, u.Band, u.Of, settle)
}

// Spindles is the stiffness of spindles of a class.
func Spindles(c spindle.Class) Unknown {
	return made(ofSize, "spindle "+c.Key, c.Radial, "spindle "+c.Key, "push its nose and read it with a dial")
}

// Collets is how stiff a collet is against the tool's tilting.
func Collets() Unknown {
	turn := spindle.ColletTurn()
	return made(ofSize, "collet", constant.Between(1/turn.High, 1/turn.Typical, 1/turn.Low), "collet",
		"push a stout bar in it and read it with a dial")
}

// Tapers is how stiff a seat is against the holder's tilting.
func Tapers(t spindle.Taper) Unknown {
	return made(ofSize, "taper "+t.Key, t.Tilt, "taper "+t.Key, "push a holder in it and read it with a dial")
}

// Flutes is the diameter of the round bar that a cutter of so many flutes bends like.
func Flutes(n int) Unknown {
	return made(ofSize, fmt.Sprintf("flutes %d", n), spindle.EffectiveShare(n), fmt.Sprintf("cutters of %d flutes", n),
		"push the tool's tip and read it with a dial")
}

// Work is the force of cutting a material.
func Work(m cutting.Material) Unknown {
	return made(ofWork, "work "+m.Key, m.Hardness(), "cutting force in "+m.Key,
		"make a trial cut and read the spindle's power")
}

// ScrewFriction is the friction of screws in a material.
func ScrewFriction(tapped string) Unknown {
	return made(ofFriction, "friction of screws in "+tapped, joint.ScrewFriction(), "friction of screws in "+tapped,
		"oil the screws, or tighten by angle")
}

// FaceFriction is the friction between faces of two materials.
func FaceFriction(a, b string, band constant.Band) Unknown {
	if a > b {
		a, b = b, a
	}
	return made(ofFriction, fmt.Sprintf("friction of %s on %s", a, b), band, fmt.Sprintf("friction of %s on %s", a, b),
		"clean the faces, or pin them")
}

// handShare is the power of the friction that the preload of a screw goes with in what follows: -0.84 to -0.85 for M3
// to M12 (joint.Clamping.FrictionExponent).
const handShare = -0.84

// hand is what one screw's preload is over the one meant when the friction is known: preload_scatter without what it
// has of friction, in the logarithm.
func hand() constant.Band {
	all, friction := over(joint.PreloadScatter()), over(joint.ScrewFriction())
	left := func(all, friction float64) float64 {
		return math.Sqrt(math.Log(all)*math.Log(all) - math.Pow(handShare*math.Log(friction), 2))
	}
	return constant.Between(math.Exp(-left(all.Low, friction.High)), 1, math.Exp(left(all.High, friction.Low)))
}
