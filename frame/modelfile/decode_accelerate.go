package modelfile

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// leastAcceleration is below what any axis is speeded up with, mm/s²: less is meant in m/s².
const leastAcceleration = 20.0

// accelerating reads by how much axes gain speed.
func (d *decoder) accelerating(f fields) (actions []machine.Action) {
	n := f.get("accelerate")
	if n == nil {
		return nil
	}
	if n.Kind == source.Mapping && len(n.Pairs) == 0 || n.Kind == source.Nothing {
		d.fault(n.Pos, "accelerate names no axis", "write accelerate: {x: 2 m/s2}")
		return nil
	}
	d.named(n, "accelerate", func(name string, at machine.FilePos, body *source.Node) {
		i, ok := d.reference(&source.Node{Pos: at, Kind: source.Scalar, Text: name}, "axis", d.axes, d.axisKeys)
		included := presenceIf(!ok || i != leftOut)
		d.inside(included, func() {
			by, right := d.acceleration(body)
			if ok && right && i != leftOut {
				actions = append(actions, machine.Action{Kind: machine.Accelerating, Axis: i,
					Force: r3.Scale(by, d.m.Axes[i].Along.Direction())})
			}
		})
	})
	return actions
}

// acceleration gives the acceleration at n, mm/s². A number with a g behind it is one in free falls; in a longer
// expression g is the gram.
func (d *decoder) acceleration(n *source.Node) (float64, bool) {
	if n.Kind == source.Scalar {
		if text, falls := strings.CutSuffix(strings.TrimSpace(n.Text), "g"); falls {
			if x, err := strconv.ParseFloat(strings.TrimSpace(text), 64); err == nil {
				scaled := *n
				scaled.Text = strconv.FormatFloat(x*machine.StandardGravity, 'g', -1, 64)
				n = &scaled
			}
		}
	}
	a, ok := d.numberNot(n, anAccel, map[dimension]string{
		massDim: "g means free fall behind a single number, 0.2 g, and else the gram: write 2 m/s2",
	})
	if ok && math.Abs(a) < leastAcceleration {
		what, hint := fmt.Sprintf("an acceleration of %s is next to none", anAccel.show(a)),
			"a plain number is in mm/s2; write 2 m/s2"
		if a == 0 {
			what, hint = "an acceleration of zero moves nothing", "write how fast the axis gains speed, 2 m/s2, or leave it out"
		}
		d.misfit(n.Pos, what, hint)
		return 0, false
	}
	return a, ok
}
