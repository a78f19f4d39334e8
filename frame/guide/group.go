package guide

import "tiploop/frame/constant"

// Placed is a carriage under a rigid body: rail along x, upright along z.
type Placed struct {
	At        [3]float64 // middle of its rows, mm
	Stiffness Stiffness
}

// Group returns the stiffness of carriages that carry one rigid body: forces and moments about the
// given point per movement and rotation of the body there (x, y, z, then about x, y, z); N/mm, N,
// N·mm/rad. Along the rails it is zero. The matrix is symmetric.
func Group(carriages []Placed, about [3]float64) (K [6][6]float64) {
	if len(carriages) == 0 {
		panic("guide: no carriages in the group")
	}
	for _, c := range carriages {
		x, y, z := c.At[0]-about[0], c.At[1]-about[1], c.At[2]-about[2]
		// Each row is the movement of one spring by the body's six movements: u + θ×r.
		forms := [6][6]float64{
			{1, 0, 0, 0, z, -y},
			{0, 1, 0, -z, 0, x},
			{0, 0, 1, y, -x, 0},
			{0, 0, 0, 1, 0, 0},
			{0, 0, 0, 0, 1, 0},
			{0, 0, 0, 0, 0, 1},
		}
		for s, k := range c.Stiffness.Springs() {
			for i := range 6 {
				for j := range 6 {
					K[i][j] += k * (forms[s][i] * forms[s][j]) // brackets: the same digits either way
				}
			}
		}
	}
	return K
}

// TwoCarriages returns the stiffness of two carriages of vertical stiffness k, N/mm, a spacing apart
// on one rail, their own moments left out: vertical 2k, N/mm, and pitch k·d²/2, N·mm/rad.
func TwoCarriages(k, spacing float64) (vertical, pitch float64) {
	constant.MustBePositive("guide: stiffness", k)
	constant.MustBePositive("guide: spacing", spacing)
	return 2 * k, k * spacing * spacing / 2
}

// FourCarriages returns the stiffness of a table on four carriages of vertical stiffness k, N/mm,
// their own moments left out: heave 4k, N/mm; pitch k·along² and roll k·across², N·mm/rad. along is
// the distance of the carriages on a rail, across that of the rails.
func FourCarriages(k, along, across float64) (heave, pitch, roll float64) {
	constant.MustBePositive("guide: stiffness", k)
	constant.MustBePositive("guide: distance along", along)
	constant.MustBePositive("guide: distance across", across)
	return 4 * k, k * along * along, k * across * across
}
