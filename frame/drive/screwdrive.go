package drive

import (
	"fmt"
	"math"

	"tiploop/frame/constant"
)

// AxialOfRotary returns what a rotary stiffness at a screw, N·mm/rad, is along the travel, N/mm:
// K (2π/lead)².
func AxialOfRotary(rotary, lead float64) float64 {
	constant.MustBePositive("drive: rotary stiffness", rotary)
	constant.MustBePositive("drive: lead", lead)
	turn := 2 * math.Pi / lead
	return rotary * turn * turn
}

// Series returns the stiffness of springs in a row: 1/k = Σ 1/k_i. All must be positive.
func Series(k ...float64) float64 {
	if len(k) == 0 {
		panic("drive: no springs in the row")
	}
	c := 0.0
	for _, v := range k {
		constant.MustBePositive("drive: spring stiffness", v)
		c += 1 / v
	}
	return 1 / c
}

// ScrewDrive is a screw with what holds and turns it.
type ScrewDrive struct {
	Shaft       Shaft
	Lead        float64 // travel per turn, mm
	Nut         float64 // stiffness of the nut along the screw, N/mm
	NearBearing float64 // of the driven end along the screw, N/mm
	FarBearing  float64 // of the far end, N/mm; only with both ends fixed

	// What the machine's model does not hold itself; 0 leaves it out, as rigid.
	NearBracket, FarBracket float64 // seats of the bearings, N/mm
	NutBracket              float64 // N/mm
	Turning                 float64 // rotary stiffness at the screw of motor, coupling and belt, N·mm/rad

	Twisting Twisting // whether the shaft's own twist counts; it does by default
}

// Twisting tells whether the twist of the shaft counts.
type Twisting int

const (
	TwistCounts  Twisting = iota
	TwistLeftOut          // as the trade's chain does
)

// Part is one link of the chain.
type Part struct {
	Name       string
	Compliance float64 // what it adds to the movement of the nut, mm/N
}

// Check returns an error unless every number of the chain is possible.
func (d ScrewDrive) Check() error {
	if err := d.Shaft.Check(); err != nil {
		return err
	}
	for _, q := range []struct {
		what string
		v    float64
	}{{"lead", d.Lead}, {"nut stiffness", d.Nut}, {"stiffness of the driven end's bearing", d.NearBearing}} {
		if err := constant.Positive(q.what, q.v); err != nil {
			return err
		}
	}
	if d.Shaft.Ends == FixedFixed {
		if err := constant.Positive("stiffness of the far end's bearing", d.FarBearing); err != nil {
			return err
		}
	} else if d.FarBearing != 0 || d.FarBracket != 0 {
		return fmt.Errorf("a %s screw has nothing at its far end that holds it along itself", d.Shaft.Ends)
	}
	for _, q := range []struct {
		what string
		v    float64
	}{
		{"stiffness of the driven end's seat", d.NearBracket}, {"stiffness of the far end's seat", d.FarBracket},
		{"stiffness of the nut's bracket", d.NutBracket}, {"rotary stiffness at the screw", d.Turning},
	} {
		if err := constant.NotNegative(q.what, q.v); err != nil {
			return err
		}
	}
	if d.Twisting != TwistCounts && d.Twisting != TwistLeftOut {
		panic(fmt.Sprintf("drive: unknown twisting %d", int(d.Twisting)))
	}
	return nil
}

// Parts returns the links of the chain with the nut that far from the driven end, from the frame to
// the table; their compliances add up to that of the drive. With both ends fixed a force splits by
// the stiffness of the two ways, and each link's entry is the movement it adds: its compliance times
// the square of its way's share of the force, so that the entries still add up.
func (d ScrewDrive) Parts(nutAt float64) ([]Part, error) {
	if err := d.Check(); err != nil {
		return nil, err
	}
	s := d.Shaft
	if err := s.contains(nutAt); err != nil {
		return nil, err
	}
	ea := s.E * s.section().A
	near := []Part{{"driven end's bearing", 1 / d.NearBearing}, {"shaft", nutAt / ea}}
	if d.NearBracket > 0 {
		near = append(near, Part{"driven end's seat", 1 / d.NearBracket})
	}
	parts := near
	if s.Ends == FixedFixed {
		far := []Part{{"far end's bearing", 1 / d.FarBearing}, {"shaft", (s.Length - nutAt) / ea}}
		if d.FarBracket > 0 {
			far = append(far, Part{"far end's seat", 1 / d.FarBracket})
		}
		a, b := total(near), total(far)
		parts = append(scaledBy(near, b/(a+b)), scaledBy(far, a/(a+b))...)
		parts = merged(parts, "shaft")
	}
	parts = append(parts, Part{"nut", 1 / d.Nut})
	if d.NutBracket > 0 {
		parts = append(parts, Part{"nut's bracket", 1 / d.NutBracket})
	}
	if d.Twisting == TwistCounts {
		parts = append(parts, Part{"twist of the shaft", 1 / AxialOfRotary(s.Twist(nutAt), d.Lead)})
	}
	if d.Turning > 0 {
		parts = append(parts, Part{"motor and what turns the screw", 1 / AxialOfRotary(d.Turning, d.Lead)})
	}
	return parts, nil
}

// Stiffness returns the stiffness of the drive along the travel, N/mm, with the nut that far from the
// driven end.
func (d ScrewDrive) Stiffness(nutAt float64) (float64, error) {
	parts, err := d.Parts(nutAt)
	if err != nil {
		return 0, err
	}
	return constant.Number("stiffness of the drive", 1/total(parts))
}

func total(parts []Part) (c float64) {
	for _, p := range parts {
		c += p.Compliance
	}
	return c
}

// scaledBy returns the links of one of two ways that carries that share of the force.
func scaledBy(parts []Part, share float64) []Part {
	list := make([]Part, len(parts))
	for i, p := range parts {
		list[i] = Part{p.Name, p.Compliance * share * share}
	}
	return list
}

// merged adds up the links of one name into the first of them.
func merged(parts []Part, name string) (list []Part) {
	first := -1
	for _, p := range parts {
		if p.Name == name && first >= 0 {
			list[first].Compliance += p.Compliance
			continue
		}
		if p.Name == name {
			first = len(list)
		}
		list = append(list, p)
	}
	return list
}
