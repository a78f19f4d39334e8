package drive

import (
	"errors"
	"fmt"
	"math"

	"tiploop/frame/constant"
)

// Belt is a toothed belt.
type Belt struct {
	Pitch float64 // mm: 2, 3 or 5 are in the table
	Width float64 // mm
	Cord  Cord
}

// Cord is what a belt pulls with.
type Cord int

const (
	GlassCord Cord = iota
	SteelCord
)

// String returns the cord's key.
func (c Cord) String() string {
	switch c {
	case GlassCord:
		return "glass"
	case SteelCord:
		return "steel"
	}
	panic(fmt.Sprintf("drive: unknown cord %d", int(c)))
}

// Pitches returns the pitches the table knows, mm.
func Pitches() []float64 { return []float64{2, 3, 5} }

// Specific returns the stiffness of the belt, N: force per unit strain, so that a span has this over its
// length. It returns an error for a pitch that is not in the table.
func (b Belt) Specific() (constant.Band, error) {
	if err := constant.Positive("width of the belt", b.Width); err != nil {
		return constant.Band{}, err
	}
	var k constant.Band
	switch b.Pitch {
	case 2:
		k = beltCord2.Band
	case 3:
		k = beltCord3.Band
	case 5:
		k = beltCord5.Band
	default:
		return constant.Band{}, fmt.Errorf("no belt of %g mm pitch is known, only %v", b.Pitch, Pitches())
	}
	switch b.Cord {
	case GlassCord:
	case SteelCord:
		k = k.Times(steelCord.Band)
	default:
		panic(fmt.Sprintf("drive: unknown cord %d", int(b.Cord)))
	}
	return k.Scaled(b.Width), nil
}

// Mesh returns the stiffness of the belt's teeth in a pulley along the belt, N/mm, with so many in mesh;
// not more than belt_teeth_carrying count.
func (b Belt) Mesh(teeth float64) constant.Band {
	constant.MustBePositive("drive: teeth in mesh", teeth)
	constant.MustBePositive("drive: width of the belt", b.Width)
	most := beltTeethCarrying.Band
	counted := constant.Between(math.Min(teeth, most.Low), math.Min(teeth, most.Typical), math.Min(teeth, most.High))
	return beltTooth.Band.Times(counted).Scaled(b.Width)
}

// PitchRadius returns the radius at which the belt runs on a pulley of so many teeth, mm: pitch·z/2π.
func (b Belt) PitchRadius(teeth float64) float64 {
	constant.MustBePositive("drive: pitch", b.Pitch)
	constant.MustBePositive("drive: teeth", teeth)
	return b.Pitch * teeth / (2 * math.Pi)
}

// Reduction is a motor pulley, a belt and a larger pulley on the screw (or equal ones).
type Reduction struct {
	Belt           Belt
	Driver, Driven int     // teeth
	Centres        float64 // distance of the pulleys, mm
}

// Check returns an error unless the pulleys have least beside each other.
func (r Reduction) Check() error {
	if _, err := r.Belt.Specific(); err != nil {
		return err
	}
	if r.Driver < 1 || r.Driven < 1 {
		return fmt.Errorf("pulleys of %d and %d teeth", r.Driver, r.Driven)
	}
	if err := constant.Positive("distance of the pulleys", r.Centres); err != nil {
		return err
	}
	if least := r.Belt.PitchRadius(float64(r.Driver + r.Driven)); r.Centres < least {
		return fmt.Errorf("pulleys %g mm apart need %.1f mm", r.Centres, least)
	}
	return nil
}

// Ratio returns turns of the motor per turn of the screw.
func (r Reduction) Ratio() float64 { return float64(r.Driven) / float64(r.Driver) }

// Span returns the length of one of the two equal free spans, √(C² - (R-r)²), mm.
func (r Reduction) Span() float64 {
	d := r.Belt.PitchRadius(float64(r.Driven)) - r.Belt.PitchRadius(float64(r.Driver))
	return math.Sqrt((r.Centres - d) * (r.Centres + d))
}

// InMesh returns the teeth in mesh on the driver and on the driven pulley: z (π ∓ 2β)/2π with
// sin β = (R-r)/C.
func (r Reduction) InMesh() (driver, driven float64) {
	small, large := float64(r.Driver), float64(r.Driven)
	beta := math.Asin((r.Belt.PitchRadius(large) - r.Belt.PitchRadius(small)) / r.Centres)
	return small * (0.5 - beta/math.Pi), large * (0.5 + beta/math.Pi)
}

// AtDriven returns the rotary stiffness at the driven shaft with the motor's shaft held, N·mm/rad:
// R² k, where k along the belt is that of both spans side by side (the belt is tight enough that
// neither goes slack) in a row with the teeth on both pulleys.
func (r Reduction) AtDriven() (constant.Band, error) {
	if err := r.Check(); err != nil {
		return constant.Band{}, err
	}
	specific, err := r.Belt.Specific()
	if err != nil {
		return constant.Band{}, err
	}
	spans := specific.Scaled(2 / r.Span())
	first, second := r.InMesh()
	near, far := r.Belt.Mesh(first), r.Belt.Mesh(second)
	radius := r.Belt.PitchRadius(float64(r.Driven))
	return constant.Between(
		Series(spans.Low, near.Low, far.Low),
		Series(spans.Typical, near.Typical, far.Typical),
		Series(spans.High, near.High, far.High),
	).Scaled(radius * radius), nil
}

// SpanShare returns the share of the give of [Reduction.AtDriven], at typical numbers, that is in the belt's spans; the
// rest is in its teeth.
func (r Reduction) SpanShare() (float64, error) {
	k, err := r.AtDriven()
	if err != nil {
		return 0, err
	}
	specific, err := r.Belt.Specific()
	radius := r.Belt.PitchRadius(float64(r.Driven))
	return k.Typical / (radius * radius) / (specific.Typical * 2 / r.Span()), err
}

// AtDrivenOfMotor returns what a rotary stiffness of the motor, N·mm/rad, is at the driven shaft: K i².
func (r Reduction) AtDrivenOfMotor(motor float64) float64 {
	constant.MustBePositive("drive: rotary stiffness of the motor", motor)
	if err := r.Check(); err != nil {
		panic("drive: " + err.Error())
	}
	return motor * r.Ratio() * r.Ratio()
}

// BeltPath is how a belt that moves an axis itself is laid.
type BeltPath int

const (
	// ClosedPath: the motor stands at one end of the travel and an idler at the other; both ends of
	// the belt are clamped to the carriage.
	ClosedPath BeltPath = iota
	// OpenPath: the ends of the belt are clamped at both ends of the travel, and the carriage with the
	// motor climbs along it.
	OpenPath
)

// BeltAxis is a belt that moves an axis itself.
type BeltAxis struct {
	Belt   Belt
	Path   BeltPath
	Length float64 // between the axes of motor and idler pulley, or between the belt's clamps, mm
	Teeth  int     // of the motor's pulley
	Motor  float64 // rotary stiffness of the motor at the pulley, N·mm/rad; 0: held
}

// Check returns an error unless the axis has a belt and a pulley.
func (a BeltAxis) Check() error {
	_, err := a.Belt.Specific()
	if a.Path != ClosedPath && a.Path != OpenPath {
		panic(fmt.Sprintf("drive: unknown belt path %d", int(a.Path)))
	}
	if a.Teeth < 1 {
		err = errors.Join(err, fmt.Errorf("a pulley of %d teeth", a.Teeth))
	}
	return errors.Join(err, constant.Positive("length of the belt's travel", a.Length),
		constant.NotNegative("rotary stiffness of the motor", a.Motor))
}

// Spans returns the two lengths of belt between the motor's pulley and the carriage, mm, with the carriage
// that far from the pulley (or from the first clamp): the short way, and on a closed path the way
// round the idler, on an open one the rest.
func (a BeltAxis) Spans(at float64) (first, second float64, err error) {
	if err := a.Check(); err != nil {
		return 0, 0, err
	}
	if !(at > 0 && at < a.Length) {
		return 0, 0, fmt.Errorf("the carriage at %g mm is not on a belt %g mm long", at, a.Length)
	}
	if a.Path == OpenPath {
		return at, a.Length - at, nil
	}
	return at, 2*a.Length - at, nil
}

// Stiffness returns the stiffness of the axis along its travel, N/mm: both spans side by side (the belt
// is tight), in a row with half a turn of teeth on the motor's pulley and the motor, K/r².
func (a BeltAxis) Stiffness(at float64) (constant.Band, error) {
	first, second, err := a.Spans(at)
	if err != nil {
		return constant.Band{}, err
	}
	specific, err := a.Belt.Specific()
	if err != nil {
		return constant.Band{}, err
	}
	spans := specific.Scaled(1/first + 1/second)
	mesh := a.Belt.Mesh(float64(a.Teeth) / 2)
	rows := [3][]float64{{spans.Low, mesh.Low}, {spans.Typical, mesh.Typical}, {spans.High, mesh.High}}
	if a.Motor > 0 {
		r := a.Belt.PitchRadius(float64(a.Teeth))
		for i := range rows {
			rows[i] = append(rows[i], a.Motor/(r*r))
		}
	}
	return constant.Between(Series(rows[0]...), Series(rows[1]...), Series(rows[2]...)), nil
}
