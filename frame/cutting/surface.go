package cutting

import "math"

// Side names a surface a cut leaves.
type Side int

const (
	LeftWall  Side = iota // left of the way the tool goes, swept by teeth that pass φ = 0; up milling finishes it
	RightWall             // right of it, swept by teeth that pass φ = 180°; down milling finishes it
	Floor                 // under the end of the tool
)

// String returns the surface's name.
func (s Side) String() string {
	switch s {
	case LeftWall:
		return "left wall"
	case RightWall:
		return "right wall"
	case Floor:
		return "floor"
	}
	panic("cutting: unknown side")
}

// Surface is a finished surface, and the force that decides where it comes to lie.
//
// A wall is made, at each height, in the moment in which a tooth at that height stands on it
// (φ = 0 or 180°); with a helix that moment runs up the wall, so the push varies from the floor of
// the wall to its top, and what a tool deflects then is copied into the wall. Forces at other moments
// do not show. A floor is made all the way round by the tips of the teeth. Push is the force on the tool
// along Normal: above zero the tool is held off and leaves the work too thick there, below zero it
// is drawn in and takes too much. Multiply it by the machine's compliance in that direction.
type Surface struct {
	Side      Side
	Normal    [3]float64 // unit vector out of the remaining work, machine axes
	Cutting   [3]float64 // unit vector the tool goes along the surface, machine axes; errors along it do not show
	LeastPush float64    // N, of those moments
	MostPush  float64    // N
	MeanPush  float64    // N, over the whole revolution, the steady deflection
}

// surfaces returns what the cut leaves, walls first, given the samples of a period.
func (c *Cut) surfaces(period [][]sample) []Surface {
	feed := [3]float64{c.feedCos, c.feedSin, 0}
	left := [3]float64{c.feedSin + 0, -c.feedCos + 0, 0} // out of the work on the left: to the right
	right := [3]float64{-c.feedSin + 0, c.feedCos + 0, 0}
	mean := c.Mean()
	surface := func(side Side, normal [3]float64, stretches [][]sample) Surface {
		push := func(l Load) float64 { return l.X*normal[0] + l.Y*normal[1] + l.Z*normal[2] }
		off := func(l Load) float64 { return -push(l) }
		return Surface{
			Side: side, Normal: normal, Cutting: feed, MeanPush: push(mean) + 0,
			LeastPush: push(c.most(stretches, off).load) + 0, MostPush: push(c.most(stretches, push).load) + 0,
		}
	}
	normals := map[Side][3]float64{LeftWall: left, RightWall: right, Floor: {0, 0, 1}}
	var list []Surface
	for _, side := range c.sides() {
		list = append(list, surface(side, normals[side], c.making(side, period)))
	}
	return list
}

// sides returns the surfaces that the cut leaves, walls first.
func (c *Cut) sides() (list []Side) {
	mode, half := c.milling.Mode, c.exit-c.entry == math.Pi
	if mode == Slot || mode == Up || mode == Down && half {
		list = append(list, LeftWall)
	}
	if mode == Slot || mode == Down || mode == Up && half {
		list = append(list, RightWall)
	}
	return append(list, Floor)
}

// making samples the moments in which a surface is made, given the samples of a period.
func (c *Cut) making(side Side, period [][]sample) [][]sample {
	switch side {
	case LeftWall:
		return c.sweep(0, period)
	case RightWall:
		return c.sweep(math.Pi, period)
	}
	return period
}

// sweep samples the rotations at which a tooth stands on the wall at φ, for every tooth that can
// differ. An edge without helix stands there in one moment, just inside the work; edges that overlap
// are there at every moment of the period, whose samples then serve.
func (c *Cut) sweep(phi float64, period [][]sample) [][]sample {
	if c.slices[len(c.slices)-1].high >= c.pitch {
		return period
	}
	var list [][]sample
	teeth := int(math.Round(c.period / c.pitch))
	for j := range teeth {
		low := phi - float64(j)*c.pitch
		high := low + c.slices[len(c.slices)-1].high
		if c.straight {
			inside := low + math.Copysign(inset, math.Pi/2-phi)
			one := sample{inside, c.at(inside)}
			list = append(list, []sample{one, one, one})
			continue
		}
		list = append(list, c.stretches(low, high)...)
	}
	return list
}
