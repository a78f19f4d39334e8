package structure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/guide"
	"tiploop/frame/machine"
)

// axisLines lists the axes.
func (m *Model) axisLines() (list []answer.AxisLine) {
	for _, a := range m.axes {
		line := answer.AxisLine{Name: a.axis.Name, Along: a.axis.Along.String(), TravelMM: a.axis.Travel, AtMM: a.axis.At,
			Guides: []answer.GuideLine{}, Drives: []answer.DriveLine{}}
		for _, p := range a.axis.Moves {
			line.Moves = append(line.Moves, m.bodies[p].part.Name)
		}
		for _, g := range a.guides {
			line.Guides = append(line.Guides, m.guideLine(a.axis, g))
		}
		for _, d := range a.drives {
			line.Drives = append(line.Drives, d.line(m, a.axis))
		}
		list = append(list, line)
	}
	return list
}

func (m *Model) guideLine(a *machine.FeedAxis, g *madeGuide) answer.GuideLine {
	w := g.guide
	line := answer.GuideLine{Name: w.Name, Kind: "slide", On: g.on.part.Name, Part: g.part.part.Name,
		PlacesMM: [][3]float64{}, Blocks: []answer.Block{}}
	if w.Slide != nil {
		line.Face = &answer.Block{FromMM: g.slide.lo, ToMM: g.slide.hi}
		return line
	}
	line.Kind = "own numbers"
	press := [3]float64{}
	if w.Own != nil {
		press = [3]float64{w.Own.Press, w.Own.Press, w.Own.Press}
	} else if r, err := w.Rail.Stiffness(w.Preload); err == nil {
		line.Kind = w.Rail.Key + ", " + w.Preload.String()
		press = [3]float64{r.Low.Press, r.Typical.Press, r.High.Press}
	}
	for k := range press {
		press[k] /= constant.UmPerMM
	}
	line.PressNPerUm = &press
	for _, c := range g.carriages {
		line.PlacesMM = append(line.PlacesMM, array(c.at))
		b := g.block(a, c)
		line.Blocks = append(line.Blocks, answer.Block{FromMM: b.lo, ToMM: b.hi})
		if k := c.press / constant.UmPerMM; line.MountedNPerUm == nil || k < *line.MountedNPerUm {
			line.MountedNPerUm = &k
		}
	}
	if !w.RailIsBar {
		b := g.railBox()
		line.Rail = &answer.Block{FromMM: b.lo, ToMM: b.hi}
	}
	if c := w.Rail; c != nil {
		line.CarriageKg = &c.MassKg
		if !w.RailIsBar {
			kg := c.Rail.KgPerM * r3.Norm(r3.Sub(w.To, w.From)) / constant.MMPerM
			line.RailKg = &kg
		}
	}
	return line
}

// railBox is the box of a rail on its seat; without a size it is a line.
func (g *madeGuide) railBox() box {
	b := around(g.guide.From, g.guide.To)
	if c := g.guide.Rail; c != nil {
		k, height := g.seat.across, c.Rail.Height
		if c.Kind == guide.OpenBush {
			height += c.Rail.Width / 2 // a round rail's height is that of its axis
		}
		b.lo[k], b.hi[k] = g.seat.line-c.Rail.Width/2, g.seat.line+c.Rail.Width/2
		top := g.seat.level + g.seat.sign()*height
		b.lo[g.seat.out], b.hi[g.seat.out] = math.Min(g.seat.level, top), math.Max(g.seat.level, top)
	}
	return b
}

// railFoot is how much of a rail's height its carriages leave free under them: the foot of guide's outline.
const railFoot = 0.25

// block is the box of a carriage: to the face that it is screwed to, from over the foot of its rail, or all round a
// bar.
func (g *madeGuide) block(a *machine.FeedAxis, c *madeCarriage) box {
	w, s := g.guide, g.seat
	b := around(c.at)
	b.lo[a.Along], b.hi[a.Along] = c.place-w.Length/2, c.place+w.Length/2
	b.lo[s.across], b.hi[s.across] = s.line-w.Width/2, s.line+w.Width/2
	foot, face := s.level, s.face()
	switch {
	case s.bar && s.gap == 0: // the part is drawn round the bar
		foot, face = s.level-w.Width/2, s.level+w.Width/2
	case s.bar:
		foot = s.level - s.sign()*s.gap
	case w.Rail != nil:
		foot = s.level + s.sign()*railFoot*w.Rail.Rail.Height
	}
	b.lo[s.out], b.hi[s.out] = math.Min(foot, face), math.Max(foot, face)
	return b
}

func (d *madeDrive) line(m *Model, a *machine.FeedAxis) answer.DriveLine {
	v := d.drive
	line := answer.DriveLine{Kind: v.Kind.String(), Part: m.bodies[v.Part].part.Name, On: m.bodies[v.On].part.Name,
		StiffNPerUm: d.stiffness() / constant.UmPerMM,
		FromMM:      array(v.From), ToMM: array(v.To), PushMM: array(v.Push), FarHeld: v.Far != nil}
	for i, end := range a.Travel {
		k := d.stiffness()
		at := nutAt(v) + runs(v, a)*(end-a.At)
		switch v.Kind {
		case machine.ByScrew:
			k, _ = v.Screw.Stiffness(at) // the nut stays on its screw: checkDriveEnds
		case machine.ByBelt:
			if band, err := v.Belt.Stiffness(at); err == nil {
				k = band.Typical
			}
		}
		line.EndsNPerUm[i] = k / constant.UmPerMM
	}
	switch v.Kind {
	case machine.ByBelt:
		line.BeltMM = v.Belt.Belt.Width
	case machine.ByScrew:
		wide := v.Screw.Shaft.Root
		if v.Ball != nil {
			line.Kind += " " + v.Ball.Key
			wide = v.Ball.Diameter
		}
		b := around(v.From, v.To)
		p, q := a.Along.Others()
		for _, k := range []machine.Axis{p, q} {
			b.lo[k], b.hi[k] = b.lo[k]-wide/2, b.hi[k]+wide/2
		}
		line.Shaft = &answer.Block{FromMM: b.lo, ToMM: b.hi}
		kg := v.Screw.Shaft.Mass(machine.ScrewDensity) * constant.KgPerTonne
		line.ScrewKg = &kg
		rpm, _ := whirl(v, a)
		buckling := buckling(v, a)
		line.WhirlRPM, line.BucklingN = &rpm, &buckling
	}
	return line
}

// blocksOf are the boxes of what stands on an axis.
func blocksOf(a answer.AxisLine) (list []answer.Block) {
	for _, g := range a.Guides {
		if g.Rail != nil {
			list = append(list, *g.Rail)
		}
		list = append(list, g.Blocks...)
	}
	for _, d := range a.Drives {
		if d.Shaft != nil {
			list = append(list, *d.Shaft)
		}
	}
	return list
}

// axesKg is the mass of the rails and carriages whose size is known and that are not parts themselves.
func axesKg(axes []answer.AxisLine) (kg float64) {
	for _, a := range axes {
		for _, g := range a.Guides {
			if g.RailKg != nil {
				kg += *g.RailKg
			}
			if g.CarriageKg != nil {
				kg += float64(len(g.Blocks)) * *g.CarriageKg
			}
		}
	}
	return kg
}
