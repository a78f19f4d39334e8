package modelfile

import (
	"fmt"

	"tiploop/frame/constant"
	"tiploop/frame/drive"
	"tiploop/frame/machine"
)

// driveWays are the keys of which a drive has one, each with the keys that go with it.
var driveWays = []string{"screw", "belt", "rack", "stiffness"}

var driveKeys = map[string][]string{
	"screw": {"from", "to", "ends", "nut", "bearing", "far", "motor", "reduction"},
	"belt":  {"from", "to", "path", "teeth", "clamp", "pulley", "idler", "motor"},
	"rack":  {"part", "on", "at", "motor", "play"}, "stiffness": {"part", "on", "at", "play"},
}

// playLoad is the working load, N, for which the stiffness of a nut with play is taken: about what a light cut takes.
const playLoad = 100

// drives reads one drive, or a list of them.
func (d *decoder) drives(a *machine.FeedAxis, n *node) {
	if n.kind != list {
		d.drive(a, n, "")
		return
	}
	if len(n.items) == 0 {
		d.fault(n.pos, fmt.Sprintf("axis %s has no drive: it is loose along %s", machine.Quote(a.Name), a.Along), "")
	}
	for i, item := range n.items {
		name := ""
		if len(n.items) > 1 {
			name = fmt.Sprint(i + 1)
		}
		d.drive(a, item, name)
	}
}

func (d *decoder) drive(a *machine.FeedAxis, n *node, name string) {
	keys := append([]string{"if"}, driveWays...)
	for _, way := range driveWays {
		keys = append(keys, driveKeys[way]...)
	}
	f, ok := d.fields(n, "drive", keys...)
	if !ok {
		return
	}
	way, body := f.oneOf(driveWays...)
	if body == nil {
		return
	}
	f.only(way, append([]string{"if", way}, driveKeys[way]...)...)
	kept := presenceIf(d.included(f.get("if")))
	v := machine.Drive{Name: name, Pos: n.pos}
	var included presence
	d.inside(kept, func() {
		switch way {
		case "screw":
			v.Kind = machine.ByScrew
			included = d.screwDrive(&v, a, f, body)
		case "belt":
			v.Kind = machine.ByBelt
			included = d.beltDrive(&v, a, f, body)
		case "rack":
			v.Kind = machine.ByRack
			included = d.rackDrive(&v, f, body)
		case "stiffness":
			v.Kind = machine.BySpring
			v.Force, _ = d.positive(body, aStiffness, "stiffness")
			included = d.driveSides(&v, f)
			d.play(&v, f, "drive", constant.Band{})
		}
	})
	if included == present && kept == present {
		a.Drives = append(a.Drives, v)
	}
}

// driveSides reads the two parts and the place of a rack or a plain stiffness.
func (d *decoder) driveSides(v *machine.Drive, f fields) presence {
	part, on, at := f.need("part"), f.need("on"), f.need("at")
	if part == nil || on == nil || at == nil {
		return absent
	}
	parts, included := d.two(part, on)
	v.Part, v.On = parts[0], parts[1]
	v.Push, _ = d.vector(at, aLength, "at")
	return included
}

func (d *decoder) rackDrive(v *machine.Drive, f fields, n *node) presence {
	included := d.driveSides(v, f)
	s, ok := d.fields(n, "rack", "radius", "width")
	if !ok {
		return absent
	}
	d.play(v, f, "rack", drive.RackPlay())
	rack := drive.Rack{Turning: d.motor(v, f)}
	for _, size := range []struct {
		key string
		to  *float64
	}{{"radius", &rack.PitchRadius}, {"width", &rack.FaceWidth}} {
		if n := s.need(size.key); n != nil {
			*size.to, _ = d.positive(n, aLength, size.key)
		}
	}
	if k, err := rack.Stiffness(); err == nil {
		v.Force, v.Pinion = k.Typical, rack.PitchRadius
	} else {
		included = absent // its sizes have been reported
	}
	return included
}

// motor gives the rotary stiffness of what holds the drive's shaft, N·mm/rad; 0: held. What it can do goes into the
// drive.
func (d *decoder) motor(v *machine.Drive, f fields) float64 {
	n := f.get("motor")
	if n == nil {
		return 0
	}
	if n.kind == mapping {
		s, ok := d.fields(n, "motor", "holding", "stiffness")
		if !ok {
			return 0
		}
		switch way, n := s.oneOf("holding", "stiffness"); way {
		case "holding":
			if hold, ok := d.positive(n, aMoment, "holding"); ok {
				v.Motor.Hold = hold
				return drive.HoldingStiffness(hold)
			}
		case "stiffness":
			k, _ := d.positive(n, aTurning, "stiffness")
			return k
		}
		return 0
	}
	known := []string{"held"}
	for _, s := range drive.Steppers() {
		known = append(known, s.Key)
	}
	key, ok := d.word(n, "motor", known)
	if s, found := drive.LookupStepper(key); ok && found {
		v.Motor.Hold, v.Motor.Rotor = s.Hold.Typical, s.Rotor.Typical
		v.Motor.Tonne = s.Mass.Typical
		return drive.HoldingStiffness(s.Hold.Typical)
	}
	return 0
}

// end reads a part that holds one end of a drive, and what else is said there.
func (d *decoder) end(f fields, key string, keys ...string) (part int, more fields, included presence) {
	n := f.need(key)
	if n == nil {
		return leftOut, more, absent
	}
	more, ok := d.fields(n, key, append([]string{"part"}, keys...)...)
	if !ok {
		return leftOut, more, absent
	}
	on := more.need("part")
	if on == nil {
		return leftOut, more, absent
	}
	part, known := d.part(on)
	return part, more, presenceIf(known && part != leftOut)
}

// onLine reads the place of a nut or clamp along a line.
func (d *decoder) onLine(v *machine.Drive, a *machine.FeedAxis, more fields) {
	if n := more.need("at"); n != nil {
		at, _ := d.number(n, aLength)
		v.Push = v.From
		*[...]*float64{&v.Push.X, &v.Push.Y, &v.Push.Z}[a.Along] = at
	}
}

func (d *decoder) screwDrive(v *machine.Drive, a *machine.FeedAxis, f fields, size *node) presence {
	var lead *drive.LeadScrew
	sized := d.screwSize(v, size, &lead)
	s := &v.Screw
	s.Shaft.Ends = drive.FixedSupported
	if n := f.get("ends"); n != nil {
		var known []string
		for _, e := range drive.AllEnds() {
			known = append(known, e.String())
		}
		if key, ok := d.word(n, "ends", known); ok {
			s.Shaft.Ends, _ = drive.LookupEnds(key)
		}
	}
	var straight bool
	v.From, v.To, straight = d.line(f, a, "screw")
	var nut fields
	var nutKnown bool
	var included [3]presence
	v.Part, nut, included[0] = d.end(f, "nut", "at", "fit", "kind", "stiffness", "side", "play")
	if included[0] == present {
		d.onLine(v, a, nut)
		if n := nut.get("side"); n != nil {
			v.NutSide, _ = d.positive(n, aStiffness, "side")
		}
		s.Nut, nutKnown = d.nut(v, nut, lead)
	}
	var near, far fields
	v.On, near, included[1] = d.end(f, "bearing", "unit", "stiffness", "play")
	if included[1] == present {
		var play constant.Band
		s.NearBearing, play = d.bearing(near, lead)
		d.play(v, near, drive.BearingPlay, play)
	}
	included[2] = present
	if s.Shaft.Ends == drive.FixedFixed {
		var part int
		if part, far, included[2] = d.end(f, "far", "unit", "stiffness", "play"); included[2] == present {
			v.Far = &part
			var play constant.Band
			s.FarBearing, play = d.bearing(far, lead)
			d.play(v, far, drive.FarBearingPlay, play)
		}
	} else if n := f.get("far"); n != nil {
		d.fault(n.pos, fmt.Sprintf("far has no place beside ends: %s, which hold nothing along the screw at the far end",
			s.Shaft.Ends), "write ends: fixed-fixed, or leave far out")
	}
	s.Turning = d.turning(v, f)
	for _, is := range included {
		if is == absent {
			return absent
		}
	}
	return presenceIf(straight && sized && nutKnown)
}

// screwSize reads a size of the trade or own numbers, and tells whether it could.
func (d *decoder) screwSize(v *machine.Drive, n *node, lead **drive.LeadScrew) bool {
	if n.kind == mapping {
		s, ok := d.fields(n, "screw", "root", "lead")
		if !ok {
			return false
		}
		for _, size := range []struct {
			key string
			to  *float64
		}{{"root", &v.Screw.Shaft.Root}, {"lead", &v.Screw.Lead}} {
			if n := s.need(size.key); n != nil {
				*size.to, _ = d.positive(n, aLength, size.key)
			}
		}
		return v.Screw.Shaft.Root > 0 && v.Screw.Lead > 0
	}
	var known []string
	for _, s := range drive.BallScrews() {
		known = append(known, s.Key)
	}
	for _, s := range drive.LeadScrews() {
		known = append(known, s.Key)
	}
	key, ok := d.word(n, "screw", known)
	if !ok {
		return false
	}
	if s, found := drive.LookupBallScrew(key); found {
		v.Ball = &s
		return true
	}
	s, _ := drive.LookupLeadScrew(key)
	*lead, v.Screw.Shaft.Root, v.Screw.Lead = &s, s.Root.Typical, s.Lead
	return true
}

// nut gives the stiffness of a nut, N/mm, and whether it is known; 0: the one that a ball screw has when nothing is
// said.
func (d *decoder) nut(v *machine.Drive, f fields, lead *drive.LeadScrew) (stiffness float64, known bool) {
	fit, kind := f.get("fit"), f.get("kind")
	usual := constant.Band{}
	defer func() { d.play(v, f, "nut", usual) }()
	if n := f.get("stiffness"); n != nil {
		return d.positive(n, aStiffness, "stiffness")
	}
	switch {
	case v.Ball != nil:
		if kind != nil {
			d.fault(kind.pos, "kind is for the nut of a lead screw", "a ball nut has a fit: play, snug, double, double-hard")
		}
		if fit == nil {
			return 0, true
		}
		var fits []string
		for _, k := range drive.NutFits() {
			fits = append(fits, k.String())
		}
		key, ok := d.word(fit, "fit", fits)
		if !ok {
			return 0, false
		}
		is, _ := drive.LookupNutFit(key)
		usual = is.Play()
		k, err := v.Ball.Nut(is, playLoad)
		if err != nil {
			d.misfit(f.node.pos, err.Error(), "")
			return 0, false
		}
		v.Preload = is.PreloadShare().Typical * v.Ball.Dynamic.Typical
		return k.Typical, true
	case lead != nil:
		if fit != nil {
			d.fault(fit.pos, "fit is for a ball nut", "the nut of a lead screw has a kind: bronze, plastic")
		}
		is := drive.BronzeNut
		if kind != nil {
			if key, ok := d.word(kind, "kind", []string{drive.BronzeNut.String(), drive.PlasticNut.String()}); ok &&
				key == drive.PlasticNut.String() {
				is = drive.PlasticNut
			}
		}
		usual = drive.LeadNutPlay()
		v.Efficiency = lead.Efficiency(is.Friction().Typical)
		return lead.Nut(is).Typical, true
	}
	f.need("stiffness") // own numbers of the screw ask for those of the nut
	return 0, false
}

// bearing gives the stiffness of a bearing along the screw, N/mm: own number, a unit, or 0 for the one usual for the
// screw. Of a lead screw the machine keeps no diameter, so the usual one is looked up here. Play is what such a unit
// has.
func (d *decoder) bearing(f fields, lead *drive.LeadScrew) (stiffness float64, play constant.Band) {
	if n := f.get("stiffness"); n != nil {
		k, _ := d.positive(n, aStiffness, "stiffness")
		return k, play
	}
	if n := f.get("unit"); n != nil {
		var known []string
		for _, u := range drive.SupportUnits() {
			known = append(known, u.Key)
		}
		if key, ok := d.word(n, "unit", known); ok {
			u, _ := drive.LookupSupportUnit(key)
			return u.Axial.Typical, u.Play
		}
		return 0, play
	}
	if lead == nil {
		return 0, play
	}
	return drive.FixedUnitFor(lead.Diameter).Axial.Typical, play
}

// play reads how far something moves along the travel before it pushes: as said, 0 for none, or what is usual.
func (d *decoder) play(v *machine.Drive, f fields, name string, usual constant.Band) {
	if n := f.get("play"); n != nil {
		gap, ok := d.number(n, aLength)
		if ok && gap < 0 {
			d.misfit(n.pos, fmt.Sprintf("play must not be negative: %s", aLength.show(gap)),
				"it is how far the "+name+" moves between push and pull; 0 for none")
		}
		usual = constant.Exactly(max(0, gap))
	}
	if usual.High > 0 {
		v.Play = append(v.Play, drive.Play{Name: name, Gap: usual})
	}
}
