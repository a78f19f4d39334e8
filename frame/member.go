package frame

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
)

// placed is a member with its geometry worked out: local axes as rows of R, freedoms, and the matrix T that takes the
// twelve freedoms of its nodes to those of its own ends in local axes.
//
//	u_end = R·(u_node + θ_node × arm),  θ_end = R·θ_node
type placed struct {
	own      beam.Member
	axes     [3]r3.Vec
	freedoms [12]int
	t        [12][12]float64
}

// squareness below which Up is taken to be parallel to the member: its square part would be rounding noise.
const squareness = 1e-9

// localAxes are x along the member, z as near to up as can be square to x, y completing a right-handed set. An up
// along the member falls back to y, then to x.
func localAxes(along, up r3.Vec) [3]r3.Vec {
	x := r3.Unit(along)
	for _, try := range []r3.Vec{up, {Z: 1}, {Y: 1}, {X: 1}} {
		square := r3.Sub(try, r3.Scale(r3.Dot(try, x), x))
		if n := r3.Norm(square); n > squareness*math.Max(r3.Norm(try), 1) {
			z := r3.Scale(1/n, square)
			return [3]r3.Vec{x, r3.Cross(z, x), z}
		}
	}
	panic("frame: no direction is square to the member")
}

func (f *Frame) place(m Member) placed {
	along := r3.Sub(f.end(m, 1), f.end(m, 0))
	p := placed{
		own:  beam.Member{Section: m.Section, Material: m.Made, Length: r3.Norm(along), BedY: m.Bed[0], BedZ: m.Bed[1]},
		axes: localAxes(along, m.Up),
	}
	for e := range 2 {
		for k, axis := range p.axes {
			turn := r3.Cross(m.Arms[e], axis)
			row := &p.t[6*e+k]
			row[6*e], row[6*e+1], row[6*e+2] = axis.X, axis.Y, axis.Z
			row[6*e+3], row[6*e+4], row[6*e+5] = turn.X, turn.Y, turn.Z
			row = &p.t[6*e+3+k]
			row[6*e+3], row[6*e+4], row[6*e+5] = axis.X, axis.Y, axis.Z
		}
		for k := range 6 {
			p.freedoms[6*e+k] = NodeFreedoms*m.Ends[e] + k
		}
	}
	return p
}

// stiffness is Tᵀ·K·T: the member between the freedoms of its nodes. T is block diagonal by ends.
func (p *placed) stiffness() (k [12][12]float64) {
	local := p.own.Stiffness()
	var kt [12][12]float64
	for i := range 12 {
		for j := range 12 {
			b, sum := 6*(j/6), 0.0
			for l := b; l < b+6; l++ {
				sum += local[i][l] * p.t[l][j]
			}
			kt[i][j] = sum
		}
	}
	for i := range 12 {
		b := 6 * (i / 6)
		for j := i; j < 12; j++ {
			sum := 0.0
			for l := b; l < b+6; l++ {
				sum += p.t[l][i] * kt[l][j]
			}
			k[i][j], k[j][i] = sum, sum
		}
	}
	return k
}

// toNodes is Tᵀ·F: forces on the member's own ends, carried to its nodes.
func (p *placed) toNodes(local [12]float64) (g [12]float64) {
	for i := range 12 {
		b := 6 * (i / 6)
		for l := b; l < b+6; l++ {
			g[i] += p.t[l][i] * local[l]
		}
	}
	return g
}

// toEnds is T·u: movements of the member's own ends in local axes.
func (p *placed) toEnds(u []float64) (local [12]float64) {
	for i := range 12 {
		b := 6 * (i / 6)
		for l := b; l < b+6; l++ {
			local[i] += p.t[i][l] * u[p.freedoms[l]]
		}
	}
	return local
}

// toLocal turns a vector of the world's into the member's axes.
func (p *placed) toLocal(v r3.Vec) [3]float64 {
	return [3]float64{r3.Dot(p.axes[0], v), r3.Dot(p.axes[1], v), r3.Dot(p.axes[2], v)}
}
