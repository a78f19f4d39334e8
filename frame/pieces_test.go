package frame_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame"
)

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
