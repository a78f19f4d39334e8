package yielding

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/cutting"
	"tiploop/frame/machine"
)

// response is how the tip moves against the work under a cut's load: [along feed, normal, axis][X, Y, Z, Torque], mm/N
// and 1/N.
type response [3][4]float64

// responseTo takes the machine's compliance into a cut's directions.
func responseTo(c *machine.Cut, compliance [][]float64) (r response) {
	directions := [3]r3.Vec{c.Feed, c.Normal, c.Axis}
	pushed := func(row int, v r3.Vec, from int) float64 {
		return compliance[row][from]*v.X + compliance[row][from+1]*v.Y + compliance[row][from+2]*v.Z
	}
	for i, d := range directions {
		for k, share := range [3]float64{d.X, d.Y, d.Z} {
			for j, e := range directions {
				r[i][j] += share * pushed(k, e, 0)
			}
			r[i][3] += share * pushed(k, c.Axis, 3)
		}
	}
	return r
}

// move is the tip's movement under a load, along feed, normal and axis, mm.
func (r response) move(l cutting.Load) (mm [3]float64) {
	for i := range mm {
		mm[i] = r.along(i, l)
	}
	return mm
}

func (r response) along(i int, l cutting.Load) float64 {
	return r[i][0]*l.X + r[i][1]*l.Y + r[i][2]*l.Z + r[i][3]*l.Torque
}

// farthest is the movement that is largest over a revolution, mm along feed, normal and axis.
func (r response) farthest(turn *cutting.Revolution) [3]float64 {
	return r.move(turn.Most(func(l cutting.Load) float64 {
		u := r.move(l)
		return u[0]*u[0] + u[1]*u[1] + u[2]*u[2]
	}).Load)
}

// times is the response of a machine so much softer.
func (r response) times(factor float64) response {
	for i := range r {
		for k := range r[i] {
			r[i][k] *= factor
		}
	}
	return r
}

func norm(v [3]float64) float64 { return math.Sqrt(v[0]*v[0] + v[1]*v[1] + v[2]*v[2]) }

// normals are, for each surface, the direction of the response it lies square to, and the sign of its outward normal.
var normals = map[cutting.Side]struct {
	direction int
	sign      float64
}{cutting.LeftWall: {1, -1}, cutting.RightWall: {1, 1}, cutting.Floor: {2, 1}}
