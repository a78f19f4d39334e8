package structure

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/joint"
	"tiploop/frame/machine"
)

// coned is a machine whose screws press rings of another cone, worked out anew: the zones, where they are cut, the six
// springs of each screw and where these stand, and with the meshes those of the parts.
func coned(t *testing.T, detail Detail, m *machine.Machine, angle float64) *Model {
	t.Helper()
	b := &Builder{Detail: detail}
	model, err := b.draw(m)
	require.NoError(t, err)
	screwed := model.joints
	for _, r := range model.rails {
		screwed = append(screwed, &r.screws)
	}
	for _, j := range screwed {
		if len(j.screws) == 0 {
			continue
		}
		pinch := j.clamping
		pinch.HalfAngle = angle
		inner, outer := pinch.Ring()
		for i, s := range j.screws {
			pressed := s.zone
			pressed.Moments, pressed.Outer = s.zone.Widened(inner, outer), outer
			pinch.ZoneArea = pressed.Moments.Area
			k, err := pinch.Stiffness()
			require.NoError(t, err)
			// The springs of a scratch model, whose bodies nobody asks again.
			scratch := &Model{}
			hole := &spot{at: s.at}
			scratch.addScrew(&madeJoint{a: &body{kind: noKind{}}, b: &body{kind: noKind{}}, touch: j.touch}, hole, k, pressed, "")
			for n, l := range scratch.links {
				to := &model.links[s.normal+n]
				to.stiffness, to.direction = l.stiffness, l.direction
			}
			to := model.links[s.normal].spot
			to.at = scratch.links[0].spot.at
			to.zone.Outer = outer
			j.screws[i].pinch, j.screws[i].zone = k, pressed
		}
	}
	for _, guides := range model.guides {
		for _, g := range guides {
			for _, c := range g.carriages {
				if c.block == nil || g.guide.Own != nil {
					continue
				}
				pinch, was, zone, err := carriageScrew(g.guide, g.part, c.over)
				require.NoError(t, err)
				pinch.HalfAngle = angle
				pinch.ZoneArea = zone.Widened(pinch.Ring()).Area
				k, err := pinch.Stiffness()
				require.NoError(t, err)
				for f := range 6 {
					by := k.Tangential / was.Tangential
					if f >= 2 && f <= 4 {
						by = k.Normal / was.Normal
					}
					model.links[c.screws+f].stiffness *= by
				}
			}
		}
	}
	model.solids = nil
	model.makeSolids()
	require.NoError(t, model.reduceSolids(context.Background(), b))
	require.NoError(t, model.fillFrame())
	model.system, err = model.frame.Factor()
	require.NoError(t, err)
	return model
}

// noKind is of a body that is asked for nothing but where springs stand.
type noKind struct{ kind }

func (noKind) want(*spot) {}

// The cone's angle at both ends of its band: what the springs' laws say of the tip against whole machines worked out anew,
// with the meshes and the places of springs that the draws keep: the tip moves within a hundredth of what is drawn. Unless
// tests are thorough, one of them with meshes, too.
func TestConeAgainstWholeSolutions(t *testing.T) {
	t.Parallel()
	cone, worst := joint.ConeHalfAngle(), 0.0
	for _, name := range []string{"bed-layouts", "gussets", "fixed-gantry-mill", "clock-plate mill", "moving-gantry-router"} {
		for _, detail := range []Detail{Section, Solid} {
			if detail == Solid && name != "gussets" && !thorough() {
				continue
			}
			m := complete(t, written(t)[name])
			typical := coned(t, detail, m, cone.Typical)
			d, was := typical.doubts(), typical.compliance(typical.tool.gauge)
			for _, angle := range []float64{cone.Low, cone.High} {
				logs := make([]float64, len(d.unknowns))
				for i, u := range d.unknowns {
					logs[i] = moved(angle/cone.Typical, "pressure cone")(u)
				}
				drawn := *typical
				drawn.frame = typical.frame.With(d.frame, logs)
				var err error
				drawn.system, err = drawn.frame.Factor()
				require.NoError(t, err)
				whole := coned(t, detail, m, angle)
				says, is := drawn.compliance(drawn.tool.gauge), whole.compliance(whole.tool.gauge)
				for k := range 3 {
					off := math.Abs(says[k][k]/is[k][k] - 1)
					worst = math.Max(worst, off)
					require.LessOrEqual(t, off, 0.01, "%s, %v, %g°, %d: from %g to %g, drawn %g", name, detail, angle, k,
						was[k][k], is[k][k], says[k][k])
					require.Equal(t, angle < cone.Typical, says[k][k] > was[k][k], "a narrow ring is soft")
				}
			}
		}
	}
	t.Logf("worst %.2g %%", 100*worst)
}
