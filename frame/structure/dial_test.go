package structure

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
	"tiploop/testdata/checks"
)

// A push on the end of a cantilever: the dial reads F·L³/(3·E·I) + F·L/(G·A_s), and half of the force that makes its root
// yield, Y·b·h²/(6·L), is safe (Gere & Timoshenko, Mechanics of Materials, table of cantilevers, flexure formula). The
// same push as a load of the model moves the point as far.
func TestCheckOfACantilever(t *testing.T) {
	r := solveText(t, `
machine: cantilever
materials: {soft: {E: 70 GPa, nu: 0.3, density: 2.7 g/cm3, yield: 60 MPa}}
parts: {arm: {bar: {from: [0, 0, 0], to: [0, 400, 0]}, section: {rect: [20, 20]}, material: soft}}
grounds: [{part: arm, at: [0, 0, 0], hold: [x, y, z, rx, ry, rz]}]
points: {end: {part: arm, at: [0, 400, 0]}}
loads: {push: {at: end, force: [-20, 0, 0]}}
`)
	const long, second, bends = 400., 20. * 20 * 20 * 20 / 12, 20. * 20 * 20 / 6
	require.Len(t, r.Check, 2)
	for _, c := range r.Check {
		require.Equal(t, "part arm yields", c.LimitedBy)
		checks.CloseTo(t, "safe", *c.SafeN, 0.5*60*bends/long, 0.01)
		require.InDelta(t, 50, c.ForceN, 0, "the largest even force that is safe")
		checks.CloseTo(t, "reading", c.ReadingUm, 1e3*50*long*long*long/(3*70e3*second), 0.01)
	}
	checks.CloseTo(t, "as a load", r.Check[0].ReadingUm/50, -r.Loads[0].PointsUm["end"][0]/20, 1e-9)
}

// Against the inner half of a cantilever its end moves as a cantilever of half the length does: the dial's arm goes with
// the slope there, F·a³/(3·E·I) + F·a/(G·A_s) (Gere & Timoshenko, Mechanics of Materials, table of cantilevers).
// Against another point it moves by the difference of the two; against the work as the tip does.
func TestPointsAgainst(t *testing.T) {
	for _, detail := range []Detail{Section, Solid} {
		r := solveMachine(t, Builder{Detail: detail, Mesh: 1}, readMachine(t, `
machine: cantilever of two
materials: {straight: {E: 70 GPa, nu: 0, density: 2.7 g/cm3}}
parts:
  inner: {plate: {from: [0, -10, 0], to: [200, 10, 20]}, material: straight}
  outer: {plate: {from: [200, -10, 0], to: [400, 10, 20]}, material: straight}
  block: {plate: {from: [390, -10, -60], to: [410, 10, -40]}, material: straight}
joints: [{between: [inner, outer], bonded: true}]
grounds:
  - {part: inner, face: left, fixed: true}
  - {part: block, face: bottom, feet: [[391, -9], [409, -9], [391, 9], [409, 9]], stiffness: 1 N/um}
tool: {part: outer, at: [400, 0, -30], stickout: 30, diameter: 6 mm, material: carbide}
work: {part: block, at: [400, 0, -40]}
points:
  end: {part: outer, at: [400, 0, 10]}
  middle: {part: inner, at: [200, 0, 10]}
  on inner: {part: outer, at: [400, 0, 10], against: inner}
  on middle: {part: outer, at: [400, 0, 10], against: middle}
  on work: {part: outer, at: [400, 0, 10], against: work}
  block: {part: block, at: [400, 0, -40]}
loads: {down: {at: end, force: [0, 0, -100]}, apart: {tip: [0, 0, -100]}}
`))
		l := r.Loads[0]
		const force, a, e, second, shear = 100., 200., 70e3, 20. * 20 * 20 * 20 / 12, 5. / 6 * 35e3 * 400
		checks.CloseTo(t, "against the inner half", l.PointsUm["on inner"][2],
			-1e3*(force*a*a*a/(3*e*second)+force*a/shear), 0.02)
		for k := range 3 {
			require.InDelta(t, l.PointsUm["end"][k]-l.PointsUm["middle"][k], l.PointsUm["on middle"][k], 1e-9)
		}
		apart := r.Loads[1].PointsUm
		require.Greater(t, apart["block"][2], 20.) // opposite to the tip, 100 N on four feet of 1 N/µm
		checks.CloseTo(t, "against the work", apart["on work"][2], apart["end"][2]-apart["block"][2], 1e-3)
		require.Equal(t, map[string]string{"on inner": "inner", "on middle": "middle", "on work": "work"}, r.Against)
	}
}

// The nose of a spindle is pushed behind its bearings: the dial reads F/k more than on the same machine without them
// (springs in a row).
func TestCheckFeelsTheBearings(t *testing.T) {
	with := func(s *machine.Spindle) *answer.Result {
		m := readMachine(t, smallMill(70e3))
		m.Spindle = s
		return solveMachine(t, *beams(), m)
	}
	stiff := with(nil)
	soft := with(&machine.Spindle{Stiffness: machine.Stiffness{Radial: 8e3, Axial: 5e3, Tilt: 1e9}})
	require.Len(t, stiff.Check, 2)
	for _, c := range stiff.Check {
		k := slices.IndexFunc(soft.Check, func(o answer.Check) bool { return o.Direction == c.Direction })
		if k < 0 {
			continue // another push of the two
		}
		per := 8.0
		if c.Direction[2] != 0 {
			per = 5
		}
		o := soft.Check[k]
		require.InDelta(t, c.ReadingUm/c.ForceN+1/per, o.ReadingUm/o.ForceN, 1e-6)
	}
	require.Equal(t, "where the tool leaves it", soft.Check[0].Place)
}
