package guide_test

import (
	"math"
	"testing"

	"tiploop/frame/guide"
)

// An endless beam on an elastic bed under a point load and under a point moment, and the strain energy of beam and bed
// beside a carriage of some length, summed over the deflection curve w = e^-λx (A cos λx + B sin λx).
func TestRailBed(t *testing.T) {
	const hetenyi = "Hetényi, Beams on Elastic Foundation, 1946, the infinite beam (from memory)"
	bed := guide.RailBed{Normal: 5000, Along: 2000, Tilt: 3e5, EIz: 7e8, EIy: 9e8, GJ: 5e8}
	vertical, side, roll, pitch, yaw := bed.Under(1e-9)
	l := math.Pow(bed.Normal/(4*bed.EIz), 0.25)
	m := math.Pow(bed.Along/(4*bed.EIy), 0.25)
	const length = 40.0
	longVertical, _, longRoll, longPitch, _ := bed.Under(length)
	beside := func(w, slope float64) (energy float64) {
		const dx = 0.01
		a := w
		b := a + slope/l
		for x := dx / 2; x < 40/l; x += dx {
			fade, c, s := math.Exp(-l*x), math.Cos(l*x), math.Sin(l*x)
			at, bent := fade*(a*c+b*s), 2*l*l*fade*(a*s-b*c)
			energy += (bed.Normal*at*at + bed.EIz*bent*bent) / 2 * dx
		}
		return energy
	}
	checkRows(t, []sourcedRow{
		{"point load", hetenyi + ": P λ/2k", vertical, 2 * bed.Normal / l, 1e-9},
		{"side load", hetenyi + ": P λ/2k", side, 2 * bed.Along / m, 1e-9},
		{"point moment", hetenyi + ": M λ³/k", pitch, bed.Normal / (l * l * l), 1e-6},
		{"point moment sideways", hetenyi + ": M λ³/k", yaw, bed.Along / (m * m * m), 1e-6},
		{"torque", "endless bar on an elastic bed against turning: 2 √(t GJ)", roll, 2 * math.Sqrt(bed.Tilt*bed.GJ),
			1e-9},
		{"long carriage turning", "the bed under it, and endless bars at both ends", longRoll,
			bed.Tilt*length + 2*math.Sqrt(bed.Tilt*bed.GJ), roundOff},
		{"long carriage", "energy summed over the curve", longVertical, bed.Normal*length + 4*beside(1, 0), 1e-5},
		{"long carriage tilting", "energy summed over the curve", longPitch,
			bed.Normal*length*length*length/12 + 4*beside(length/2, 1), 1e-5},
	})
}
