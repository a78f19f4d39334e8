package structure

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// placed is a plate as thick as low or as a square post, held on an edge and read on others, with its axes in another
// order and with other signs.
func placed(size [3]float64, order [3]int, sign [3]float64) string {
	to := func(v [3]float64) (w [3]float64) {
		for k := range v {
			w[order[k]] = sign[k] * v[k]
		}
		return w
	}
	text := func(v [3]float64) string { return fmt.Sprintf("[%g, %g, %g]", v[0], v[1], v[2]) }
	a, b := to([3]float64{}), to(size)
	lo, hi := a, b
	for k := range a {
		lo[k], hi[k] = min(a[k], b[k]), max(a[k], b[k])
	}
	x, y, z := size[0], size[1], size[2]
	return fmt.Sprintf(`machine: turned
parts: {p: {plate: {from: %s, to: %s}, material: aluminium-5083}}
grounds:
  - {part: p, hold: [x, y, z, rx, ry, rz], at: %s}
points:
  edge: {part: p, at: %s}
  corner: {part: p, at: %s}
  upright: {part: p, at: %s}
loads: {push: {at: edge, force: %s}, tilt: {at: upright, moment: %s}}
`, text(lo), text(hi), text(to([3]float64{0, y / 2, z})), text(to([3]float64{x, y / 2, z})),
		text(to([3]float64{x, y, z})), text(to([3]float64{x, y, z / 2})), text(to([3]float64{100, 50, -30})),
		text(to([3]float64{0, 1000, 0})))
}

// A machine that is turned by right angles or mirrored moves alike, with holds and points on edges and corners. Before,
// a spot on an edge lay on the face that came first, and answers differed by up to 54 %.
func TestTurnedMachineMovesAlike(t *testing.T) {
	for _, size := range [][3]float64{{200, 150, 20}, {200, 40, 40}} {
		var first [][3]float64
		for i, order := range [][3]int{{0, 1, 2}, {1, 2, 0}, {2, 0, 1}, {1, 0, 2}, {0, 2, 1}, {2, 1, 0}} {
			sign := [][3]float64{{1, 1, 1}, {-1, 1, 1}, {1, -1, -1}}[i%3]
			model, err := (&Builder{Detail: Solid}).Build(t.Context(), readMachine(t, placed(size, order, sign)))
			require.NoError(t, err)
			n := 0
			for l := range model.machine.Loads[:1] {
				s, err := model.solve(&model.machine.Loads[l], nil)
				require.NoError(t, err)
				for _, p := range model.points {
					var u [3]float64
					for k, v := range s.of(p.gauge) {
						if k < 3 {
							for own := range order {
								if order[own] == k {
									u[own] = sign[own] * v
								}
							}
						}
					}
					if i == 0 {
						first = append(first, u)
						continue
					}
					most := r3.Norm(vector(first[n]))
					require.LessOrEqual(t, r3.Norm(r3.Sub(vector(u), vector(first[n]))), 1e-6*most,
						"%v, axes %v, point %s", size, order, p.point.Name)
					n++
				}
			}
		}
	}
}
