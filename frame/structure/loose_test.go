package structure

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
)

// Parts that touch without a joint are told, by every answer, once each; those joined are not.
func TestTouchingWithoutJoint(t *testing.T) {
	const text = `machine: m
parts:
  base: {plate: {from: [0, 0, 0], to: [200, 200, 20]}, material: steel}
  left: {plate: {from: [0, 0, 20], to: [20, 200, 120]}, material: steel}
  back: {plate: {from: [20, 0, 20], to: [200, 20, 120]}, material: steel}
joints:
  - {between: [base, left], bonded: true}
  - {between: [base, back], bonded: true}
  %s
grounds: [{part: base, face: bottom, fixed: true}]
loads: {push: {at: [100, 10, 120], part: back, force: [0, 10, 0]}}
`
	const note = "left and back touch over 20 x 100 mm at [20, 10, 70] and nothing joins them: they are taken to slide and " +
		"part there. Join them under joints:, or leave a gap."
	apart, joined := fmt.Sprintf(text, ""), fmt.Sprintf(text, "- {between: [left, back], bonded: true}")
	require.Equal(t, []string{note}, buildText(t, apart).unjoined())
	require.Contains(t, solveText(t, apart).Notes, note)
	require.Contains(t, buildText(t, apart).Inventory().Notes, note)
	require.Empty(t, buildText(t, joined).unjoined())
}

// A movement of millimetres is no answer of sums for small ones.
func TestLargeMovementIsNoted(t *testing.T) {
	push := func(force string) *answer.Result {
		return solveText(t, `machine: m
parts:
  arm: {bar: {from: [0, 0, 0], to: [0, 0, 300]}, section: {round: 10}, material: steel}
  bed: {plate: {from: [50, 0, 0], to: [90, 40, 10]}, material: steel}
grounds: [{part: arm, at: [0, 0, 0], hold: [x, y, z, rx, ry, rz]}, {part: bed, face: bottom, fixed: true}]
tool: {part: arm, at: [0, 0, 300]}
work: {part: bed, at: [70, 20, 10]}
loads: {push: {tip: [`+force+`, 0, 0]}}
`)
	}
	require.Contains(t, strings.Join(push("100 N").Notes, " "), "load push: the tip moves 8.9")
	require.NotContains(t, strings.Join(push("1 N").Notes, " "), "the tip moves")
}
