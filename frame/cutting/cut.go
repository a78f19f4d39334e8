package cutting

import "math"

// Load is what the work does to the tool, in machine axes.
type Load struct {
	X, Y, Z float64 // N
	Torque  float64 // about the tool, N·mm; the spindle must supply it
}

// Across returns the size of the force across the tool, N.
func (l Load) Across() float64 { return math.Hypot(l.X, l.Y) }

// Size returns the size of the force, N.
func (l Load) Size() float64 { return math.Sqrt(l.X*l.X + l.Y*l.Y + l.Z*l.Z) }

// Cut is a milling cut under a force law, made ready. It is not safe for use by several goroutines.
type Cut struct {
	milling     Milling
	law         Law
	power       *chipPower
	slices      []slice
	entry, exit float64 // tooth angles, radian
	pitch       float64 // angle between teeth, radian
	period      float64 // the force repeats after that rotation, radian
	straight    bool    // no helix: an edge is in the cut all at once

	radialChip, liftChip float64 // towards the axis and up the tool, per chip^(1−m)
	radialEdge, liftEdge float64 // the same per mm of edge
	feedSin, feedCos     float64
}

// slice is a part of the axial depth over which a tooth's radius is taken as constant.
type slice struct {
	low, high float64 // lag of its ends behind the tip, radian
	height    float64 // mm
	teeth     [][]arc // by tooth; one entry stands for all if they are alike
}

const (
	// straightLag is the lag of a whole edge, radian, below which it counts as straight: integrals divided by so short
	// a range would lose more than ten digits, and the edge enters within a hundred-thousandth of a degree.
	straightLag = 1e-6
	// sliceLag is the most by which an offset may turn within one slice. An offset of a few hundredths of the feed is
	// then off by less than a hundredth of itself, and nobody knows it as well as that.
	sliceLag = 2 * degree
	// mostSlices bounds the work for edges that wind round the tool for more than a turn; their slices are wider.
	mostSlices = 180
)

// NewCut prepares a cut.
func NewCut(m Milling, law Law) (*Cut, error) {
	if err := m.Check(); err != nil {
		return nil, err
	}
	if err := law.Check(); err != nil {
		return nil, err
	}
	c := &Cut{milling: m, law: law, power: newChipPower(law.M)}
	c.entry, c.exit = m.engagement()
	c.pitch = 2 * math.Pi / float64(m.Mill.Flutes)
	c.period = c.pitch
	sin, cos := math.Sincos(m.Mill.entering())
	c.radialChip, c.liftChip = law.Kr*sin+law.Ka*cos, law.Kr*cos-law.Ka*sin
	c.radialEdge, c.liftEdge = law.Kre*sin+law.Kae*cos, law.Kre*cos-law.Kae*sin
	if m.Mill.EnteringDeg == 0 || m.Mill.EnteringDeg == 90 { // cos(π/2) is not quite 0
		c.radialChip, c.liftChip, c.radialEdge, c.liftEdge = law.Kr, -law.Ka, law.Kre, -law.Kae
	}
	c.feedSin, c.feedCos = math.Sincos(m.FeedDeg * degree)

	lag := m.Mill.twist() * m.AxialDepthMM
	c.straight = lag < straightLag
	chip := m.FeedPerToothMM * sin
	if m.Mill.OffsetMM == 0 || m.Mill.Flutes == 1 {
		// A lone tooth follows only itself, at whatever radius.
		c.slices = []slice{{0, lag, m.AxialDepthMM, [][]arc{{{c.entry, c.exit, 0, chip}}}}}
		return c, nil
	}
	c.period = 2 * math.Pi
	n := 1
	if !c.straight {
		n = min(int(math.Ceil(lag/sliceLag)), mostSlices)
	}
	for i := range n {
		s := slice{low: lag * float64(i) / float64(n), high: lag * float64(i+1) / float64(n),
			height: m.AxialDepthMM / float64(n)}
		for j := range m.Mill.Flutes {
			s.teeth = append(s.teeth, chipArcs(c.entry, c.exit, chip, c.radii(j, (s.low+s.high)/2, sin)))
		}
		c.slices = append(c.slices, s)
	}
	return c, nil
}

// radii returns how far the offset moves tooth j, and those ahead of it in the order in which they
// cut before it, out from the spindle's axis, at a lag, seen across the edge.
func (c *Cut) radii(j int, lag, across float64) []float64 {
	mill := c.milling.Mill
	r := make([]float64, mill.Flutes)
	for k := range r {
		angle := float64(j+k)*c.pitch - lag + mill.OffsetDeg*degree
		r[k] = mill.OffsetMM * math.Cos(angle) * across
	}
	return r
}

// At returns the load when the tip of tooth 0 stands at that angle, degrees clockwise from the normal direction. At the
// very angle of a jump it is the value of either side.
func (c *Cut) At(rotationDeg float64) Load {
	return c.at(math.Mod(rotationDeg, 360) * degree)
}

// Mean returns the mean load of a revolution, from the integral over the arc of engagement.
func (c *Cut) Mean() Load {
	var sum moments
	for _, s := range c.slices {
		alike := float64(c.milling.Mill.Flutes) / float64(len(s.teeth))
		for _, arcs := range s.teeth {
			for _, a := range arcs {
				sum.add(c.power.between(a, a.from, a.to), alike*s.height/(2*math.Pi))
			}
		}
	}
	return c.load(sum)
}

// at is At in radian.
func (c *Cut) at(rotation float64) Load {
	var sum moments
	for i := range c.slices {
		s := &c.slices[i]
		for j := range c.milling.Mill.Flutes {
			tip := rotation + float64(j)*c.pitch
			arcs := s.teeth[j%len(s.teeth)]
			if c.straight {
				phi := oneTurn(tip - (s.low+s.high)/2)
				for _, a := range arcs {
					if a.from <= phi && phi <= a.to {
						sum.add(c.power.at(a, phi), s.height)
						break
					}
				}
				continue
			}
			top := oneTurn(tip - s.low)
			bottom := top - (s.high - s.low)
			perRadian := s.height / (s.high - s.low)
			for turn := 0.0; bottom <= math.Pi+turn; turn -= 2 * math.Pi {
				for _, a := range arcs {
					from, to := math.Max(a.from, bottom-turn), math.Min(a.to, top-turn)
					if from < to {
						sum.add(c.power.between(a, from, to), perRadian)
					}
				}
			}
		}
	}
	return c.load(sum)
}

// oneTurn brings an angle into 0…2π.
func oneTurn(a float64) float64 {
	a = math.Mod(a, 2*math.Pi)
	if a < 0 {
		a += 2 * math.Pi
	}
	return a
}

// load turns moments over height and angle into the load in machine axes.
func (c *Cut) load(m moments) Load {
	l := c.law
	longer := 1 / math.Sin(c.milling.Mill.entering())
	f := -l.Kt*m.chipCos - c.radialChip*m.chipSin - l.Kte*m.edgeCos - c.radialEdge*m.edgeSin
	n := l.Kt*m.chipSin - c.radialChip*m.chipCos + l.Kte*m.edgeSin - c.radialEdge*m.edgeCos
	z := c.liftChip*m.chip + c.liftEdge*m.edge
	torque := (l.Kt*m.chip + l.Kte*m.edge) * c.milling.Mill.DiameterMM / 2
	// Differences of integrals may leave a torque of −1e-16; adding zero turns −0 into 0.
	torque = math.Max(torque, 0)
	return Load{
		X: (f*c.feedCos-n*c.feedSin)*longer + 0, Y: (f*c.feedSin+n*c.feedCos)*longer + 0,
		Z: z*longer + 0, Torque: torque*longer + 0,
	}
}
