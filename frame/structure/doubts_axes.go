package structure

import (
	"slices"

	"tiploop/frame"
	"tiploop/frame/doubt"
	"tiploop/frame/drive"
	"tiploop/frame/guide"
	"tiploop/frame/machine"
)

// feedAxes gives the springs of guides and drives their laws.
func (d *doubter) feedAxes() {
	for _, a := range d.axes {
		for _, g := range a.guides {
			if g.guide.Slide != nil {
				d.slide(a.axis, g)
			}
			for _, c := range g.carriages {
				d.rows(a.axis, g, c)
			}
		}
		for _, v := range a.drives {
			d.drive(a.axis, v)
		}
	}
}

// slide: in a row with the faces is the metal behind them.
func (d *doubter) slide(a *machine.FeedAxis, g *madeGuide) {
	per, err := g.sliding.PerArea()
	if err != nil {
		return // it was built with that number
	}
	faces := slices.Concat(d.list.With(doubt.Slides(*g.sliding), 1),
		d.list.With(doubt.Slide(a.Name+": "+g.guide.Name, guide.SlideScatter()), 1))
	thin, metal := thinner(g.on, g.part, g.slide.normal), 0.0
	for _, b := range []*body{g.on, g.part} {
		metal += b.seat(g.slide, thin).normal
	}
	share := 1 / (1 + metal*per.Typical) // of the give
	for i := g.links[0]; i < g.links[1]; i++ {
		k := d.links[i].stiffness
		if k == 0 {
			continue // along the travel nothing holds
		}
		row := []frame.Give{{Typical: share / k, Of: faces}}
		if metal > 0 {
			row = append(row, frame.Give{Typical: (1 - share) / k, Of: d.list.With(doubt.Spreading(), 1)})
		}
		d.law(i, frame.Law{Row: row})
	}
}

// rows are those of a carriage: of a size all its stiffnesses go together; the builder's own numbers are each by
// itself, in a row with the metal they stand on and with shims.
func (d *doubter) rows(a *machine.FeedAxis, g *madeGuide, c *madeCarriage) {
	name := d.machine.MountingName(c.mounted.at)
	if g.guide.Own == nil {
		size := slices.Concat(d.list.With(doubt.Carriages(*g.guide.Rail), 1), d.list.With(doubt.Piece(name), 1))
		for _, i := range c.rows {
			d.law(i, doubt.Whole(d.links[i].stiffness, size))
		}
		return
	}
	k, of := *g.guide.Own, guideSource(a, g.guide)
	number := func(what string, value float64) []frame.Power {
		if own := d.stated(g.guide.Unsure, of, what); own != nil || value != k.Press {
			return own
		}
		return d.stated(g.guide.Unsure, of, "press") // as press, unless the file says
	}
	for _, i := range c.rows {
		l := &d.links[i]
		var gives []frame.Give
		switch f := slices.Index(l.row.bears[:], 1); f {
		case 1:
			gives = []frame.Give{{Typical: 1 / k.Side, Of: number("side", k.Side)}}
		case 2: // see guide.Stiffness.Vertical
			gives = []frame.Give{{Typical: 0.5 / k.Press, Of: number("press", k.Press)},
				{Typical: 0.5 / k.Pull, Of: number("pull", k.Pull)}}
		default:
			what := []string{"roll", "pitch", "yaw"}[f-3]
			gives = []frame.Give{{Typical: 1 / k.Springs()[f], Of: d.stated(g.guide.Unsure, of, what)}}
		}
		d.law(i, inRowWith(l.stiffness, gives...))
	}
}

// carriageScrews are the springs that hold carriages of a size to their part, wherever the axis runs. The four screws
// of one are alike and act as one whose preload is their mean; what shims under them give goes with the rest.
func (d *doubter) carriageScrews(g *madeGuide) {
	for _, c := range g.carriages {
		if c.block == nil || g.guide.Own != nil {
			continue
		}
		pinch, k, zone, err := carriageScrew(g.guide, g.part, c.over)
		if err != nil {
			continue // it was built with these numbers
		}
		name := d.machine.MountingName(c.mounted.at)
		laws := d.list.Clamping(doubt.Clamped{Clamping: pinch, K: k, Zone: zone,
			Drilled: g.part.part.Material, Tapped: c.block.part.Material, Faces: name, Place: name, Screw: "screws of " + name, Together: 4})
		for f := range 6 {
			law := laws.Tangential
			if f >= 2 && f <= 4 {
				law = laws.Normal
			}
			d.law(c.screws+f, doubt.Scaled(law, d.links[c.screws+f].stiffness))
		}
	}
}

// way is what of a drive lies in a row.
type way []frame.Give

func (w way) stiffness() float64 { return doubt.Typical(frame.Law{Row: w}) }

// unsure is a stiffness of a drive by what makes it unsure; piece, with a name, is one that is bought.
func (d *doubter) unsure(v *machine.Drive, what string, stiffness float64, of, piece string) (list way) {
	known := 1.0
	for _, u := range v.Unsure {
		if u.What != what {
			continue
		}
		share := u.Share
		if share == 0 {
			share = 1
		}
		known -= share
		var powers []frame.Power
		switch {
		case u.Of == "":
			powers = d.list.With(doubt.Stated(of, u), 1)
		case piece == "":
			powers = d.list.With(doubt.Size(u), 1)
		default:
			powers = slices.Concat(d.list.With(doubt.Size(u), 1), d.list.With(doubt.Piece(piece), 1))
		}
		list = append(list, frame.Give{Typical: share / stiffness, Of: powers})
	}
	if known > rowRounding {
		list = append(list, frame.Give{Typical: known / stiffness})
	}
	return list
}

func (d *doubter) drive(a *machine.FeedAxis, v *madeDrive) {
	switch v.drive.Kind {
	case machine.ByScrew:
		d.screwDrive(a, v)
	case machine.ByBelt:
		d.beltDrive(a, v)
	default:
		row := d.unsure(v.drive, machine.UnsureForce, v.drive.Force, driveSource(a, v.drive), "")
		d.law(v.pulls[0], frame.Law{Row: row})
	}
}

// screwDrive: see screwWays for what lies in which way.
func (d *doubter) screwDrive(a *machine.FeedAxis, made *madeDrive) {
	v, name := made.drive, driveSource(a, made.drive)
	axis := slices.IndexFunc(d.machine.Axes, func(o machine.FeedAxis) bool { return o.Name == a.Name })
	at := machine.Mounting{Axis: axis, Drive: slices.IndexFunc(a.Drives, func(o machine.Drive) bool {
		return o.Name == v.Name
	})}
	s := d.shimmedScrew(axis, at.Drive, v)
	piece := func(kind machine.MountingKind) string {
		at.Kind = kind
		return d.machine.MountingName(at)
	}
	steel := d.list.With(doubt.Material(railMaterial()), 1)
	shaft := s.Shaft
	shaft.Ends = drive.FixedFree
	known := func(w way, stiffness float64) way {
		if stiffness > 0 {
			w = append(w, frame.Give{Typical: 1 / stiffness})
		}
		return w
	}
	near := known(d.unsure(v, machine.UnsureNear, s.NearBearing, name, piece(machine.AtBearing)), s.NearBracket)
	near = append(near, frame.Give{Typical: 1 / shaft.Axial(nutAt(v)), Of: steel})
	var far way
	if s.Shaft.Ends == drive.FixedFixed {
		far = known(d.unsure(v, machine.UnsureFar, s.FarBearing, name, piece(machine.AtFarBearing)), s.FarBracket)
		far = append(far, frame.Give{Typical: 1 / shaft.Axial(shaft.Length-nutAt(v)), Of: steel})
	}
	common := known(d.unsure(v, machine.UnsureNut, s.Nut, name, piece(machine.AtNut)), s.NutBracket)
	if s.Twisting == drive.TwistCounts {
		common = append(common, frame.Give{Typical: 1 / drive.AxialOfRotary(shaft.Twist(nutAt(v)), s.Lead), Of: steel})
	}
	if s.Turning > 0 {
		common = append(common, d.unsure(v, machine.UnsureTurning, drive.AxialOfRotary(s.Turning, s.Lead), name, "")...)
	}
	for _, i := range made.sides {
		d.law(i, inRowWith(d.links[i].stiffness, frame.Give{Typical: 1 / made.hold.Stiffness, Of: steel}))
	}
	if far == nil {
		d.law(made.pulls[0], frame.Law{Row: slices.Concat(near, common)})
		return
	}
	d.star(made, near, far, common)
}

func (d *doubter) beltDrive(a *machine.FeedAxis, made *madeDrive) {
	v := made.drive
	b := v.Belt.Belt
	first, second, err := v.Belt.Spans(nutAt(v))
	specific, err2 := b.Specific()
	if err != nil || err2 != nil {
		return // it was built with these numbers
	}
	belt := d.list.With(doubt.Size(machine.UnsureBelt("", b, 0)), 1)
	teeth := d.list.With(doubt.Size(machine.UnsureTeeth("", b, 0)), 1)
	common := way{{Typical: 1 / b.Mesh(float64(v.Belt.Teeth)/2).Typical, Of: teeth}}
	if v.Belt.Motor > 0 {
		r := b.PitchRadius(float64(v.Belt.Teeth))
		common = append(common, d.unsure(v, machine.UnsureTurning, v.Belt.Motor/(r*r), driveSource(a, v), "")...)
	}
	d.star(made, way{{Typical: first / specific.Typical, Of: belt}}, way{{Typical: second / specific.Typical, Of: belt}},
		common)
}

// star gives the three springs that act as a star of three ways does, k_a·k_b/(k_a + k_b + k_c), their laws. These are
// no gives in a row; what they go with is told to the first order, at typical numbers: by the share of each way.
func (d *doubter) star(made *madeDrive, near, far, common way) {
	k1, k2, k3 := near.stiffness(), far.stiffness(), common.stiffness()
	sum := k1 + k2 + k3
	goes := func(a, b, c float64) []frame.Power {
		return slices.Concat(doubt.Times(doubt.FirstOrder(near), a-k1/sum), doubt.Times(doubt.FirstOrder(far), b-k2/sum),
			doubt.Times(doubt.FirstOrder(common), c-k3/sum))
	}
	link := func(i int, of []frame.Power) { d.law(i, doubt.Whole(d.links[i].stiffness, of)) }
	link(made.pulls[0], goes(1, 0, 1))
	link(made.pulls[1], goes(0, 1, 1))
	link(made.pulls[1]+1, goes(1, 1, 0)) // see makeDrive, makeBelt: the last to be made
}
