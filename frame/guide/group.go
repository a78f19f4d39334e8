package guide

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
