package structure

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/machine"
)

// shapeOf builds a machine and returns its shape with its answer.
func shapeOf(t *testing.T, b *Builder, m *machine.Machine) (*answer.Shape, *answer.Result) {
	t.Helper()
	model, err := b.Build(context.Background(), m)
	require.NoError(t, err)
	result, err := model.Solve(TipOnly)
	require.NoError(t, err)
	shape, err := model.Shape(context.Background())
	require.NoError(t, err)
	return shape, result
}

func bodyNamed(t *testing.T, s *answer.Shape, name string) answer.ShapeBody {
	t.Helper()
	i := slices.IndexFunc(s.Bodies, func(b answer.ShapeBody) bool { return b.Name == name })
	require.GreaterOrEqual(t, i, 0, name)
	return s.Bodies[i]
}

func exampleText(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("../..", name))
	require.NoError(t, err)
	return string(text)
}

// A cantilever's curve between its two nodes, with a force at its end, a load along it and a warm upper side. Closed
// forms: W. Young, R. Budynas, Roark's Formulas for Stress and Strain, 7th ed., table 8.1, cases 1a, 2a and 6a, with the
// shear added as table 8 says, from memory.
func TestCurveOfACantilever(t *testing.T) {
	const (
		length, force, q = 400.0, 50.0, 0.2
		e, nu            = 200e3, 0.3
		width, height    = 10.0, 16.0
		rise, expansion  = 8.0, 12e-6
	)
	shape, _ := shapeOf(t, beams(), readMachine(t, `
machine: cantilever
materials: {plain: {E: 200 GPa, nu: 0.3, density: 7850 kg/m3, expansion: 12 um/m/K}}
parts: {arm: {bar: {from: [0, 0, 0], to: [400, 0, 0]}, section: {rect: [10, 16]}, material: plain}}
grounds: [{part: arm, at: [0, 0, 0], hold: [x, y, z, rx, ry, rz]}]
loads:
  end:  {part: arm, at: [400, 0, 0], force: [0, 0, -50]}
  line: {along: arm, load: [0, 0, -0.2 N/mm]}
  warm: {temperature: {part: arm, across: [0, 0, 8]}}
`))
	inertia := width * height * height * height / 12
	shear := e / (2 * (1 + nu)) * width * height * 10 * (1 + nu) / (12 + 11*nu) // Cowper, 1966
	arm := bodyNamed(t, shape, "arm")
	for i, at := range arm.AtMM {
		x, over := at[0], at[2]
		want := []float64{
			-force*x*x*(3*length-x)/(6*e*inertia) - force*x/shear,
			-q*x*x*(6*length*length-4*length*x+x*x)/(24*e*inertia) - q*(length*x-x*x/2)/shear,
			-expansion * rise / height * x * x / 2,
		}
		slope := []float64{
			-force * x * (2*length - x) / (2 * e * inertia), // of the section, not of the axis
			-q * x * (3*length*length - 3*length*x + x*x) / (6 * e * inertia),
			-expansion * rise / height * x,
		}
		for n := range want {
			require.InDelta(t, want[n], arm.MovedMM[n][i][2], 1e-6*math.Abs(want[0])+1e-6, "%s at %v", shape.Loads[n], at)
			require.InDelta(t, -slope[n]*over, arm.MovedMM[n][i][0], 1e-6+1e-6*math.Abs(slope[n]*over), "%s at %v",
				shape.Loads[n], at)
		}
	}
	require.InDelta(t, width/2, arm.AtMM[0][1]*sign(arm.AtMM[0][1]), 1e-12)
}

func sign(x float64) float64 { return math.Copysign(1, x) }

// The tip of the shape moves against its work as the answer says; the corners round it, too, as a rigid disc does.
func TestShapeHasTheAnswersTip(t *testing.T) {
	for _, file := range []string{"testdata/models/clock-plate-mill.yaml", "examples/fixed-gantry-mill.yaml",
		"examples/supports-out-of-line.yaml"} {
		for _, b := range []*Builder{beams(), {Mesh: CoarsestMesh}} {
			m, err := machineOf(exampleText(t, file), "")
			require.NoError(t, err, file)
			shape, result := shapeOf(t, b, m)
			require.Equal(t, len(result.Loads), len(shape.Loads))
			tool, work := bodyNamed(t, shape, "tool"), bodyNamed(t, shape, "work")
			for n, l := range result.Loads {
				tip := shape.Tip
				for k := range 3 {
					um := (tip.ToolMM[n][k] - tip.WorkMM[n][k]) * constant.UmPerMM
					require.InDelta(t, l.TipUm[k], um, 1e-6+1e-6**l.TipSizeUm, "%s, %s", file, l.Name)
				}
				size := 1e-6 * (1 + norm(tip.ToolMM[n]) + norm(tip.WorkMM[n]))
				last := len(tool.AtMM) - roundCorners // the ring round the tip
				mean, at := meanOf(tool.MovedMM[n][last:]), meanOf(tool.AtMM[last:])
				for k := range 3 {
					require.InDelta(t, tip.AtMM[k], at[k], 1e-9)
					require.InDelta(t, tip.ToolMM[n][k], mean[k], size, "%s, %s: the tool", file, l.Name)
				}
				if l.Name != "warm day" && work.AtMM != nil {
					// the block is rigid: fitted to its corners, its movement at the tip is the work's
					got := rigidAt(work.AtMM, work.MovedMM[n], tip.AtMM)
					for k := range 3 {
						require.InDelta(t, tip.WorkMM[n][k], got[k], size, "%s, %s: the work", file, l.Name)
					}
				}
			}
		}
	}
}

func meanOf(list [][3]float64) (mean [3]float64) {
	for _, v := range list {
		for k := range mean {
			mean[k] += v[k] / float64(len(list))
		}
	}
	return mean
}

// rigidAt is the movement of a place that goes with a box whose first and last corners are opposite: along each axis
// the movement is linear, so that it is that of the middle and what the three sides from it add.
func rigidAt(corners, moved [][3]float64, at [3]float64) (v [3]float64) {
	middle, mean := meanOf(corners), meanOf(moved)
	v = mean
	for axis := range 3 {
		lo, hi := [3]float64{}, [3]float64{}
		span, n := 0.0, 0.0
		for i, c := range corners {
			side := &lo
			if c[axis] > middle[axis] {
				side, span, n = &hi, span+c[axis]-middle[axis], n+1
			}
			for k := range 3 {
				side[k] += moved[i][k]
			}
		}
		for k := range 3 {
			v[k] += (at[axis] - middle[axis]) * (hi[k] - lo[k]) / (2 * span)
		}
	}
	return v
}

// A machine on springs that nothing bends, pushed and turned by its ground, moves as one rigid piece: every corner of
// the shape by d + θ×r, plates, strips, gussets, bars, tool and feet's upper ends alike.
func TestShapeOfARigidMotion(t *testing.T) {
	text := `
machine: carried along
parts:
  base:  {plate: {from: [0, 0, 0], to: [200, 160, 20]}, material: steel}
  rib:   {plate: {from: [0, 70, 20], to: [200, 90, 60]}, material: steel}
  brace: {gusset: {corner: [100, 60, 20], legs: [[60, 0, 0], [0, 0, 40]], thickness: [0, 10, 0]}, material: steel}
  post:  {bar: {from: [20, 20, 20], to: [20, 20, 220]}, section: {tube: [30, 30, 3]}, material: steel}
joints:
  - {between: [base, rib], bonded: true}
  - {between: [base, brace], bonded: true}
  - {between: [base, post], bonded: true}
grounds: [{name: floor, part: base, at: [100, 80, 0], hold: [x, y, z, rx, ry, rz]}]
tool: {part: post, at: [20, 20, 190], stickout: 30 mm, diameter: 6 mm, material: carbide}
work: {part: base, at: [120, 30, 20]}
loads:
  shoved: {settle: {floor: {x: 0.03, y: -0.02, z: 0.05, rx: 1e-4 rad, ry: -2e-4 rad, rz: 3e-4 rad}}}
`
	d, turn := r3.Vec{X: 0.03, Y: -0.02, Z: 0.05}, r3.Vec{X: 1e-4, Y: -2e-4, Z: 3e-4}
	for _, b := range []*Builder{beams(), {Mesh: CoarsestMesh}} {
		m, err := machineOf(text, "")
		require.NoError(t, err)
		shape, _ := shapeOf(t, b, m)
		middle := r3.Vec{X: 100, Y: 80, Z: 0} // of the face that turns
		for _, body := range shape.Bodies {
			if body.Kind == answer.ShapeFoot { // its lower end is the floor, which stays where it was
				continue
			}
			for i, at := range body.AtMM {
				want := array(r3.Add(d, r3.Cross(turn, r3.Sub(vector(at), middle))))
				for k := range 3 {
					require.InDelta(t, want[k], body.MovedMM[0][i][k], 1e-7, "%s at %v", body.Name, at)
				}
			}
		}
	}
}

// The left half of a machine that is its own mirror image, under a load that is, too, moves as the right half does.
func TestShapeOfAMirroredMachine(t *testing.T) {
	for _, b := range []*Builder{beams(), {Mesh: CoarsestMesh}} {
		m, err := machineOf(exampleText(t, "testdata/models/clock-plate-mill.yaml"), "")
		require.NoError(t, err)
		shape, _ := shapeOf(t, b, m)
		n := slices.Index(shape.Loads, "own weight")
		most := 0.0
		for _, name := range []string{"rib", "brace"} {
			left, right := bodyNamed(t, shape, name+"_left"), bodyNamed(t, shape, name+"_right")
			for i, at := range left.AtMM {
				k := slices.IndexFunc(right.AtMM, func(o [3]float64) bool {
					return math.Abs(o[0]+at[0])+math.Abs(o[1]-at[1])+math.Abs(o[2]-at[2]) < 1e-9
				})
				require.GreaterOrEqual(t, k, 0)
				a, b := left.MovedMM[n][i], right.MovedMM[n][k]
				most = max(most, norm(a))
				require.InDelta(t, -a[0], b[0], 1e-8)
				require.InDelta(t, a[1], b[1], 1e-8)
				require.InDelta(t, a[2], b[2], 1e-8)
			}
		}
		require.Greater(t, most, 1e-5)
	}
}

// Every part is in the shape, in order; other positions have the same surfaces, moved along with the axes.
func TestShapesOfAllStations(t *testing.T) {
	m, err := machineOf(exampleText(t, "examples/fixed-gantry-mill.yaml"), "")
	require.NoError(t, err)
	list, err := beams().Shapes(context.Background(), m)
	require.NoError(t, err)
	along := map[string][]float64{}
	for _, s := range list[1:] {
		for _, a := range m.Axes {
			if at := s.AtMM[a.Name]; at != list[0].AtMM[a.Name] {
				along[a.Name] = append(along[a.Name], at)
			}
		}
	}
	require.Equal(t, map[string][]float64{"x": {-60, -30, 30, 60}, "y": {-70, -35, 35, 70}, "z": {-40, -20, 20, 40}}, along)
	for _, s := range list {
		require.Equal(t, len(list[0].Bodies), len(s.Bodies))
		for i, b := range s.Bodies {
			require.Equal(t, list[0].Bodies[i].Name, b.Name)
			require.Equal(t, list[0].Bodies[i].Triangles, b.Triangles)
		}
	}
	for i, p := range m.Parts {
		require.Equal(t, p.Name, list[0].Bodies[i].Name)
	}
	table := slices.IndexFunc(m.Parts, func(p machine.Part) bool { return p.Name == "table" })
	away := slices.IndexFunc(list, func(s *answer.Shape) bool { return s.AtMM["y"] == 70 })
	for i, at := range list[away].Bodies[table].AtMM {
		require.InDelta(t, list[0].Bodies[table].AtMM[i][1]+70, at[1], 1e-9)
	}
}

// How long a shape takes beside the solution it belongs to: told, not asserted.
func BenchmarkShape(b *testing.B) {
	text, err := os.ReadFile("../../examples/fixed-gantry-mill.yaml")
	require.NoError(b, err)
	m, err := machineOf(string(text), "")
	require.NoError(b, err)
	for b.Loop() {
		by, start := &Builder{}, time.Now()
		model, err := by.Build(context.Background(), m)
		require.NoError(b, err)
		_, err = model.Solve(TipOnly)
		require.NoError(b, err)
		solved := time.Since(start)
		start = time.Now()
		_, err = model.Shape(context.Background())
		require.NoError(b, err)
		b.ReportMetric(time.Since(start).Seconds()/solved.Seconds(), "shape/solve")
		start = time.Now()
		_, err = by.Shapes(context.Background(), m)
		require.NoError(b, err)
		b.ReportMetric(time.Since(start).Seconds()/solved.Seconds(), "stations/solve")
	}
}

// A foot under the middle of a bar that lies stands below the bar's underside, not in it: half of 40 mm below its centre
// line. One under the end of a bar that stands begins at that end.
func TestFeetOfBars(t *testing.T) {
	m, err := machineOf(`
machine: a rail and a post
parts:
  lying:    {bar: {from: [0, 0, 20], to: [300, 0, 20]}, section: {tube: [30, 40, 3]}, material: steel}
  standing: {bar: {from: [300, 0, 0], to: [300, 0, 200]}, section: {tube: [30, 30, 3]}, material: steel}
joints: [{between: [lying, standing], bonded: true}]
grounds:
  - {name: floor, part: lying, at: [100, 0, 20], hold: [x, y, z, rx, ry, rz]}
  - {name: end, part: standing, at: [300, 0, 0], hold: [x, y, z]}
loads: {push: {part: standing, at: [300, 0, 200], force: [10 N, 0, 0]}}
`, "")
	require.NoError(t, err)
	shape, _ := shapeOf(t, beams(), m)
	tops := map[string]float64{}
	for _, b := range shape.Bodies {
		if b.Kind == answer.ShapeFoot {
			tops[b.Name] = math.Inf(-1)
			for _, at := range b.AtMM {
				tops[b.Name] = max(tops[b.Name], at[2])
			}
		}
	}
	require.Equal(t, map[string]float64{"ground floor of lying, 1": 0, "ground end of standing, 1": 0}, tops)
}
