package guide

import (
	"math"

	"tiploop/frame/constant"
)

// RailBed is a rail on the screws that hold it: a beam on an elastic bed. What one screw resists with is spread over
// the pitch, which holds as long as the rail bends over no less than about a pitch.
type RailBed struct {
	Normal float64 // stiffness of the screws square to the seat per length, N/mm²
	Along  float64 // along the seat per length, N/mm²
	Tilt   float64 // against tilting about the rail per length, N·mm/(rad·mm)
	EIz    float64 // bending stiffness of the rail out of its seat, N·mm²
	EIy    float64 // along its seat, N·mm²
	GJ     float64 // in torsion, N·mm²
}

// Under returns the stiffness of a long rail, N/mm and N·mm/rad, as a carriage of that length in mm feels it that keeps
// the rail straight under itself. With λ⁴ = k/(4·EI) the rail beside the carriage adds at each end, for a movement w
// and a slope ψ outwards, ½·(4·EI·λ³·w² + 4·EI·λ²·w·ψ + 2·EI·λ·ψ²) of strain energy, so
//
//	force:   k·(L + 2/λ)
//	moment:  k·L³/12 + 2·EI·λ·(λ²·L² + 2·λ·L + 2)
//	torsion: t·L + 2·√(t·GJ)
//
// (Hetényi, Beams on Elastic Foundation, 1946, the semi-infinite beam).
func (b RailBed) Under(length float64) (vertical, side, roll, pitch, yaw float64) {
	for _, q := range []struct {
		what string
		v    float64
	}{{"bed square to the seat", b.Normal}, {"bed along the seat", b.Along}, {"bed against tilting", b.Tilt},
		{"bending stiffness out of the seat", b.EIz}, {"bending stiffness along the seat",
			b.EIy}, {"torsional stiffness", b.GJ}} {
		constant.MustBePositive("guide: "+q.what, q.v)
	}
	constant.MustBePositive("guide: length of the carriage", length)
	vertical, pitch = onBed(b.Normal, b.EIz, length)
	side, yaw = onBed(b.Along, b.EIy, length)
	return vertical, side, b.Tilt*length + 2*math.Sqrt(b.Tilt*b.GJ), pitch, yaw
}

func onBed(k, ei, length float64) (force, moment float64) {
	l := math.Pow(k/(4*ei), 0.25)
	x := l * length
	return k * (length + 2/l), k*length*length*length/12 + 2*ei*l*(x*x+2*x+2)
}
