package machine

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestPointFaults(t *testing.T) {
	testFaults(t, []faultCase{
		{"unknown part", two + "points:\n  top: {part: pos, at: [0, 0, 90]}\n", ""},
		{"unknown key of a point", two + "points:\n  top: {part: post, at: [0, 0, 90], path: [1, 1]}\n", ""},
		{"no place", two + "points:\n  top: {part: post, patch: [0, 3 N]}\n", ""},
		{"a list of points", two + "points: [{part: post, at: [0, 0, 90]}]\n", ""},
	})
}

func TestPoints(t *testing.T) {
	m := readMachine(t, two+"points:\n  top: {part: post, at: [5, 5, 90], patch: [4, 2 cm]}\n")
	require.Equal(t, []Point{{Name: "top", Place: Place{7, 3}, Part: 1, At: r3.Vec{X: 5, Y: 5, Z: 90}, Patch: [2]float64{4, 20}}}, m.Points)
}
