package frame_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame"
)

// check is one case of the project's table of published values.
type check struct {
	ID        string         `yaml:"id"`
	Kind      string         `yaml:"kind"`
	Inputs    map[string]any `yaml:"inputs"`
	Expected  map[string]any `yaml:"expected"`
	Tolerance float64        `yaml:"tolerance_rel"`
	Source    string         `yaml:"source"`
}

// printed is the rounding of check values printed with nine digits.
const printed = 1e-8

// axiallyRigid is an area, mm², that stands for the infinite one of formulas without axial deformation. In portals and
// rings of this size it leaves a part in 1e8; a larger one would cost digits of the bending.
const axiallyRigid = 1e8

// axialRest is what axiallyRigid leaves, with the digits it costs.
const axialRest = 1e-7

func loadChecks(t *testing.T) []check {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "testdata", "checks.yaml"))
	require.NoError(t, err)
	var file struct {
		Cases []check `yaml:"cases"`
	}
	require.NoError(t, yaml.Unmarshal(text, &file))
	require.NotEmpty(t, file.Cases)
	return file.Cases
}

// runChecks runs tests by the id of their case; a test without a case and a case without a source fail.
func runChecks(t *testing.T, tests map[string]func(t *testing.T, c check)) {
	t.Helper()
	known := map[string]bool{}
	for _, c := range loadChecks(t) {
		run, ok := tests[c.ID]
		if !ok {
			continue
		}
		known[c.ID] = true
		t.Run(c.ID, func(t *testing.T) {
			require.NotEmpty(t, c.Source, "check without a source")
			t.Log("source:", c.Source)
			run(t, c)
		})
	}
	for id := range tests {
		require.True(t, known[id], "check %s is missing from the table", id)
	}
}

func number(t *testing.T, v any) float64 {
	t.Helper()
	f, err := strconv.ParseFloat(fmt.Sprint(v), 64)
	require.NoError(t, err)
	return f
}

func (c check) in(t *testing.T, key string) float64 {
	t.Helper()
	require.Contains(t, c.Inputs, key)
	return number(t, c.Inputs[key])
}

func (c check) want(t *testing.T, key string) float64 {
	t.Helper()
	require.Contains(t, c.Expected, key)
	return number(t, c.Expected[key])
}

func (c check) wantList(t *testing.T, key string) (list []float64) {
	t.Helper()
	values, ok := c.Expected[key].([]any)
	require.True(t, ok, "%s is no list", key)
	for _, v := range values {
		list = append(list, number(t, v))
	}
	return list
}

// near fails unless got is within rel of the expected value of that key, sign included.
func (c check) near(t *testing.T, key string, got, rel float64) {
	t.Helper()
	closeTo(t, key, got, c.want(t, key), rel)
}

// closeTo fails unless got is within rel of want, relative to want.
func closeTo(t testing.TB, what string, got, want, rel float64) {
	t.Helper()
	e := math.Abs(got-want) / math.Abs(want)
	if !(e <= rel) {
		t.Errorf("%s: got %.10g, want %.10g, off by %.2g", what, got, want, e)
	}
	t.Logf("%s: %.10g, off by %.1e", what, got, e)
}

// The world's axes.
var (
	axisX, axisY, axisZ = r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}
	world               = [3]r3.Vec{axisX, axisY, axisZ}
	still               r3.Vec
)

// material is E and G in a material; Poisson's ratio follows from them.
func material(e, g float64) beam.Material { return beam.Material{E: e, Nu: e/(2*g) - 1} }

// slender are plain numbers that bend the same both ways, without shear deflection.
func slender(area, inertia float64) beam.Section {
	return beam.Section{A: area, Iy: inertia, Iz: inertia, J: inertia}
}

// round is a solid round bar without shear deflection.
func round(diameter float64) beam.Section {
	inertia := math.Pi / 64 * math.Pow(diameter, 4)
	return beam.Section{A: math.Pi / 4 * diameter * diameter, Iy: inertia, Iz: inertia, J: 2 * inertia}
}

// hold holds some freedoms of a node, given as digits 0..5 in one word: "012" holds it against moving but lets it turn.
// The constraints' numbers come back by freedom.
func hold(f *frame.Frame, node int, freedoms string) (constraint [6]int) {
	for _, digit := range strings.Split(freedoms, "") {
		d, err := strconv.Atoi(digit)
		if err != nil {
			panic(err)
		}
		constraint[d] = f.Hold(node, d, fmt.Sprintf("node %d freedom %d", node, d))
	}
	return constraint
}

const clamped = "012345"

// push is a force of a size along a direction on a node.
func push(node int, direction r3.Vec, force float64) frame.Load {
	return frame.Load{Pushes: []frame.Push{{Form: frame.Move(node, still, direction), Force: force}}}
}

// solve factors and solves, and fails on any error.
func solve(t require.TestingT, f *frame.Frame, load frame.Load) *frame.Solution {
	system, err := f.Factor()
	require.NoError(t, err)
	s, err := system.Solve(load)
	require.NoError(t, err)
	return s
}
