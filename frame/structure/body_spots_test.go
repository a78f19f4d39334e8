package structure

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
)

// joinedOnSpots builds a case whose parts hold together on squares only: screws with perfectly stiff faces and a thread
// that pulls nothing, so that only the local give of the two parts under a spot is left.
func (c solidCase) joinedOnSpots(t testing.TB, by *Builder) *Model {
	t.Helper()
	m := &Model{machine: c.machine(), builder: by, detail: by.Detail, frame: &frame.Frame{}}
	require.Nil(t, m.makeBodies())
	for i := range m.machine.Joints {
		j := &m.machine.Joints[i]
		made := &madeJoint{joint: j, a: m.bodies[j.Parts[0]], b: m.bodies[j.Parts[1]]}
		made.name = made.a.part.Name + "/" + made.b.part.Name
		var err error
		made.touch, err = findTouch(made.a, made.b)
		require.NoError(t, err)
		for _, s := range c.Spots {
			square := box{s.From, s.To}
			if !insideBox(square, made.touch.box) {
				continue
			}
			p, q := made.touch.normal.Others()
			at := square.lo
			at[p], at[q] = square.middle(p), square.middle(q)
			if by.Detail == Solid {
				patch := made.touch
				patch.lo, patch.hi = square.lo, square.hi
				pad := *made
				pad.touch = patch
				m.bondFaces(&pad, made.source())
				continue
			}
			area := square.size(p) * square.size(q)
			var normal, tangential, tilt, spin float64
			for _, b := range []*body{made.a, made.b} {
				plate := b.plate(made.touch)
				normal += joint.SpreadNormal(area, plate.Depth, plate.E, plate.Nu)
				tangential += joint.SpreadTangential(area, plate.Depth, plate.E, plate.Nu)
				tilt += joint.SpreadTilt(area, plate.Depth, plate.E, plate.Nu)
				spin += joint.SpreadSpin(area, plate.Depth, plate.E, plate.Nu)
			}
			zone := joint.Moments{Area: area, XX: area * square.size(p) * square.size(p) / 12,
				YY: area * square.size(q) * square.size(q) / 12}
			m.addScrew(made, &spot{at: vector(at)}, joint.ClampingStiffness{Normal: 1 / normal, Tangential: 1 / tangential,
				Tilt: 1 / tilt, Spin: 1 / spin}, joint.Pressed{Moments: zone}, made.source())
		}
		require.NotEmpty(t, append(m.links, make([]link, len(m.ties))...), "no spot joins %s", made.name)
		m.joints = append(m.joints, made)
	}
	require.Nil(t, m.makeGrounds())
	require.Nil(t, m.makePoints())
	m.makeSolids()
	require.NoError(t, m.reduceSolids(context.Background(), by))
	require.NoError(t, m.fillFrame())
	system, err := m.frame.Factor()
	require.NoError(t, err)
	m.system = system
	return m
}

func insideBox(b, outer box) bool {
	for k := range b.lo {
		if b.lo[k] < outer.lo[k]-machine.Touching || b.hi[k] > outer.hi[k]+machine.Touching {
			return false
		}
	}
	return true
}
