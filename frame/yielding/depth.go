package yielding

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/interp"

	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/cutting"
	"tiploop/frame/machine"
)

// Depths are looked for in depthSteps equal steps up to the flutes' length, so that a depth counts only when all
// shallower ones are good too: teeth that take turns on a wall make its error rise and fall with the depth. The place
// between two steps is then halved down to depthResolution of itself, which is finer than anyone sets a depth.
const (
	depthSteps      = 32
	depthResolution = 1e-6
	shallowest      = 1e-3 // mm: less is no depth
	deepestCut      = 10   // in diameters, as far as forces are worked out
	// mostSwing is the largest movement of the tip, in diameters, that a depth may bring about: teeth that swing by a
	// tenth of the cutter bite where no tooth was meant to, and the sums are about another cut. House value.
	mostSwing = 0.1
)

// deepest is the axial depth, everything else kept, up to which the surfaces keep the tolerance whether the machine
// follows every tooth or only their mean, the spindle suffices and the tip does not swing.
func (c *cut) deepest(level constant.Level) (mm float64, by string, err error) {
	most, end := math.Min(c.tool.FluteLength(), deepestCut*c.tool.Diameter), answer.ByFlutes
	if c.Milling.Mode == cutting.Slot && c.tool.Diameter < most {
		most, end = c.tool.Diameter, answer.ByDiameter
	}
	good, bad, by := 0.0, 0.0, ""
	for i := 1; i <= depthSteps && by == ""; i++ {
		bad = most * float64(i) / depthSteps
		if by, err = c.exceeded(level, bad); err != nil {
			return 0, "", err
		}
		if by == "" {
			good = bad
		}
	}
	if by == "" {
		return most, end, nil
	}
	for bad-good > depthResolution*bad && bad > shallowest {
		mid := (good + bad) / 2
		at, err := c.exceeded(level, mid)
		if err != nil {
			return 0, "", err
		}
		if at == "" {
			good = mid
		} else {
			bad, by = mid, at
		}
	}
	return good, by, nil
}

// exceeded says what an axial depth is too much for; "" when it is not.
func (c *cut) exceeded(level constant.Level, depth float64) (string, error) {
	m := *c.Milling
	m.AxialDepthMM = depth
	forces, err := m.Cut(c.Material, level)
	if err != nil {
		return "", err
	}
	torque := forces.Mean().Torque
	if limit := m.Spindle.TorqueNmm; limit > 0 && torque > limit {
		return answer.ByTorque, nil
	}
	if limit := m.Spindle.PowerW; limit > 0 && m.MotorPowerW(torque) > limit {
		return answer.ByPower, nil
	}
	turn, mean := forces.Revolution(), forces.Mean()
	for _, side := range turn.Sides() {
		s, still := c.made(turn, side), math.Abs(c.response.along(normals[side].direction, mean))
		if max(-s.Least, s.Most, still) > c.Tolerance {
			return answer.ByTolerance, nil
		}
	}
	if norm(c.response.farthest(turn)) > mostSwing*m.Mill.DiameterMM {
		return answer.BySwing, nil
	}
	return "", nil
}

// Depths of cut are found for machines softer and stiffer by factors of two and of roots of two, and in between wherever
// neighbours are more than depthStep apart, until these are within closeSofter of one another: the depth jumps where
// another wall or the floor comes to end the cut. From there it is read along straight lines.
const (
	depthDoubles  = 2
	depthsADouble = 2
	depthStep     = 0.1  // in the logarithm
	closeSofter   = 0.01 // in the logarithm
)

// depthCurve is a depth of cut, mm, over the logarithm of how much softer the machine is.
type depthCurve struct{ logs, depths []float64 }

// fill adds what is between two places where the depths there are too far apart.
func (c *depthCurve) fill(from, to float64, first, last float64, depth func(log float64) (float64, error)) error {
	far := first <= 0 || last <= 0 || math.Abs(math.Log(first/last)) > depthStep
	if first == last || !far || to-from <= closeSofter {
		return nil
	}
	middle := (from + to) / 2
	mm, err := depth(middle)
	if err != nil {
		return err
	}
	if err := c.fill(from, middle, first, mm, depth); err != nil {
		return err
	}
	c.logs, c.depths = append(c.logs, middle), append(c.depths, mm)
	return c.fill(middle, to, mm, last, depth)
}

// Depths returns how deep one of a machine's cuts goes within its tolerance, mm, with typical forces and the machine softer
// by some factor.
func Depths(m *machine.Machine, number int, compliance [][]float64) (func(softer float64) float64, error) {
	c := newCut(m, number, compliance)
	line, err := c.depthLine()
	if err != nil {
		return nil, fmt.Errorf("cut %s: %w", c.Name, err)
	}
	return func(softer float64) float64 { return line.Predict(math.Log(softer)) }, nil
}

// depthLine is how deep a cut goes, mm, over the logarithm of how much softer the machine is.
func (c *cut) depthLine() (*interp.PiecewiseLinear, error) {
	depth := func(log float64) (float64, error) {
		mm, _, err := c.softer(math.Exp(log)).deepest(constant.Typical)
		return mm, err
	}
	var curve depthCurve
	for k := -depthDoubles * depthsADouble; k <= depthDoubles*depthsADouble; k++ {
		log := math.Ln2 * float64(k) / depthsADouble
		mm, err := depth(log)
		if err != nil {
			return nil, err
		}
		if n := len(curve.logs); n > 0 {
			if err := curve.fill(curve.logs[n-1], log, curve.depths[n-1], mm, depth); err != nil {
				return nil, err
			}
		}
		curve.logs, curve.depths = append(curve.logs, log), append(curve.depths, mm)
	}
	line := new(interp.PiecewiseLinear)
	return line, line.Fit(curve.logs, curve.depths)
}

// softer is the cut on a machine so much softer.
func (c *cut) softer(factor float64) *cut { return &cut{c.Cut, c.tool, c.response.times(factor)} }
