package guide

import (
	"fmt"

	"tiploop/frame/constant"
)

// Slide is a pair of lubricated sliding faces: a dovetail, a box way, a gib's face. It is contact
// spread over the whole face, and flatness rather than roughness decides: the wider the face, the
// less of it carries.
type Slide struct {
	Width    float64 // of the face across the travel, mm; at most 400
	Length   float64 // of the face along the travel, mm
	Facing   Facing
	Backing  Backing
	Pressure float64 // mean pressure, MPa; 0: that of a snug gib or of a light table, below 0.3 MPa
}

// Facing tells how a sliding face lies.
type Facing int

const (
	LevelFace   Facing = iota // carries weight
	UprightFace               // guides sideways
)

// Backing tells what holds a sliding face.
type Backing int

const (
	Stout   Backing = iota // a part that does not bend there
	Bending                // a part that bends locally, such as an overhanging lip
	Gib                    // a strip held by screws, or a tapered gib
)

// slideFace is one width class of Ito's table.
type slideFace struct {
	key, name string
	upTo      float64       // mm
	c0        constant.Band // approach per pressure, µm·cm²/kgf
}

var slideFaces = []slideFace{
	{"50", "below 50 mm wide", 50, constant.Between(0.5, 0.6, 0.7)},
	{"100", "50 to 100 mm wide", 100, constant.Exactly(1)},
	{"200", "100 to 200 mm wide", 200, constant.Between(2.0, 2.25, 2.5)},
	{"300", "200 to 300 mm wide", 300, constant.Exactly(3.2)},
	{"400", "300 to 400 mm wide", 400, constant.Exactly(4)},
}

const (
	// mpaPerKgfPerCm2 is one kgf/cm² in MPa.
	mpaPerKgfPerCm2 = 0.0980665
	// slideKnee is the pressure above which a slide is stiffer, MPa (Ito, table 6-7: 0.3 to 0.4).
	slideKnee = 0.3
)

// Check returns an error unless the face has a size the table covers and the pressure is possible.
func (s Slide) Check() error {
	for _, q := range []struct {
		what string
		v    float64
	}{{"width of the sliding face", s.Width}, {"length of the sliding face", s.Length}} {
		if err := constant.Positive(q.what, q.v); err != nil {
			return err
		}
	}
	if widest := slideFaces[len(slideFaces)-1].upTo; s.Width > widest {
		return fmt.Errorf("a sliding face %g mm wide is beyond the table's %g mm", s.Width, widest)
	}
	return constant.NotNegative("pressure on the sliding face", s.Pressure)
}

// PerArea returns the normal stiffness per area, MPa/mm: dp/dλ = 1/C0 after Ito, Modular Design for
// Machine Tools, table 6-7, with its factors for load, upright faces and local bending, and house
// values for gibs. Across the travel a slide gives only through its normal faces; along it, not at all.
func (s Slide) PerArea() (constant.Band, error) {
	if err := s.Check(); err != nil {
		return constant.Band{}, err
	}
	c0 := s.face().c0
	k := constant.Between(1/c0.High, 1/c0.Typical,
		1/c0.Low).Scaled(mpaPerKgfPerCm2 * constant.UmPerMM).Times(slideScatter.Band)
	if s.Pressure > slideKnee {
		k = k.Times(slideLoaded.Band)
	}
	switch s.Facing {
	case LevelFace:
	case UprightFace:
		k = k.Times(slideUpright.Band)
	default:
		panic(fmt.Sprintf("guide: unknown facing %d", int(s.Facing)))
	}
	switch s.Backing {
	case Stout:
	case Bending:
		k = k.Times(slideLocalBending.Band)
	case Gib:
		k = k.Times(gibShare.Band)
	default:
		panic(fmt.Sprintf("guide: unknown backing %d", int(s.Backing)))
	}
	return k, nil
}

// face is the width class of the table.
func (s Slide) face() slideFace {
	for _, f := range slideFaces {
		if s.Width <= f.upTo {
			return f
		}
	}
	return slideFaces[len(slideFaces)-1]
}

// Class is what of a slide the table's stiffness depends on, in words: "50 to 100 mm wide, upright, gib". Slides of one
// class differ by [SlideScatter] alone.
func (s Slide) Class() string {
	words := s.face().name
	if s.Facing == UprightFace {
		words += ", upright"
	}
	if s.Pressure > slideKnee {
		words += ", pressed"
	}
	return words + map[Backing]string{Bending: ", bending", Gib: ", gib"}[s.Backing]
}

// SlideScatter returns the stiffness of a slide over that of the table, among slides of one batch.
func SlideScatter() constant.Band { return slideScatter.Band }

// FaceStiffness is a sliding face as springs at its middle.
type FaceStiffness struct {
	Normal float64 // N/mm
	Along  float64 // tilting stiffness along the travel: a moment about the face's width, N·mm/rad
	Across float64 // tilting stiffness across the travel: a moment about the travel, N·mm/rad
}

// Spread returns the springs of a whole face, length along and width across the travel in mm, that
// carries evenly with that stiffness per area, MPa/mm: k·A, k·A·length²/12, k·A·width²/12. It holds
// while the face stays closed all over.
func Spread(perArea, length, width float64) FaceStiffness {
	constant.MustBePositive("guide: stiffness per area", perArea)
	constant.MustBePositive("guide: length", length)
	constant.MustBePositive("guide: width", width)
	k := perArea * length * width
	return FaceStiffness{Normal: k, Along: k * length * length / 12, Across: k * width * width / 12}
}
