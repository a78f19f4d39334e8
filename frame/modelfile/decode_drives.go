package modelfile

import (
	"fmt"
	"slices"

	"tiploop/frame/constant"
	"tiploop/frame/drive"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// driveKeys are the keys of a drive.
var driveKeys = Mapping{
	Name: "drive", About: "What holds an axis along its travel. It goes with any of its parts.",
	Keys: []Key{
		{Name: "if", Takes: truth, Default: "true", About: "false leaves the drive out"},
		{Name: "screw", Takes: either(oneWord("drive", slices.Concat(
			wordsOf(drive.BallScrews(), func(s drive.BallScrew) string { return s.Key }),
			wordsOf(drive.LeadScrews(), func(s drive.LeadScrew) string { return s.Key }))...), keysOf(&leadKeys)),
			About: "a ball screw or a trapezoidal one, by its size"},
		{Name: "belt", Takes: keysOf(&beltKeys), About: "a toothed belt"},
		{Name: "rack", Takes: keysOf(&rackKeys), About: "a rack and its pinion"},
		{Name: "stiffness", Takes: stiff(aStiffness), About: "a plain spring along the axis, 30 N/um"},
		{Name: "from", Takes: vectorOf(aLength), With: shafts, About: "the driven end of the screw, or the motor's pulley"},
		{Name: "to", Takes: vectorOf(aLength), With: shafts, About: "the other end, along the axis"},
		{Name: "ends", Takes: oneWord("", wordsOf(drive.AllEnds(), drive.Ends.String)...),
			Default: drive.FixedSupported.String(),
			With:    screws, About: "how the screw's ends are held, the driven one first"},
		{Name: "nut", Takes: keysOf(&nutKeys), With: screws, About: "what the screw pushes"},
		{Name: "bearing", Takes: keysOf(&bearingKeys), With: screws, About: "at the driven end"},
		{Name: "far", Takes: keysOf(&farKeys), With: screws,
			About: "at the other end, with ends fixed-fixed only, which need it"},
		{Name: "reduction", Takes: keysOf(&reductionKeys), Default: "the motor turns the screw itself", With: screws,
			About: "a belt between motor and screw"},
		{Name: "path", Takes: oneWord("", "closed", "open"), Default: "closed", With: belts,
			About: "closed: the belt comes back round the idler; open: its ends are clamped"},
		{Name: "teeth", Takes: counted, With: belts, About: "of the motor's pulley"},
		{Name: "clamp", Takes: keysOf(&clampKeys), With: belts, About: "where the belt holds the part"},
		{Name: "pulley", Takes: keysOf(&pulleyKeys), With: belts, About: "at from"},
		{Name: "idler", Takes: keysOf(&idlerKeys), With: belts, About: "at to"},
		{Name: "part", Takes: nameOf("part"), With: sides, About: "the part with the pinion, or one side of the spring"},
		{Name: "on", Takes: nameOf("part"), With: sides, About: "the part with the rack, or the other side"},
		{Name: "at", Takes: vectorOf(aLength), With: sides, About: "where they push on each other"},
		{Name: "play", Takes: sized(aLength), Default: "that of a rack; none of a spring", With: sides,
			About: "between push and pull"},
		{Name: "motor", Takes: either(oneWord("drive", append([]string{"held"}, wordsOf(drive.Steppers(),
			func(s drive.Stepper) string { return s.Key })...)...), keysOf(&motorKeys)), Default: "held",
			With: []string{"screw", "belt", "rack"}, About: "what holds the shaft from turning"},
	},
	Choices: [][]string{{"screw", "belt", "rack", "stiffness"}},
}

// The ways of driving that have a key in common.
var (
	shafts = []string{"screw", "belt"}
	screws = []string{"screw"}
	belts  = []string{"belt"}
	sides  = []string{"rack", "stiffness"}
)

var leadKeys = Mapping{
	Name: "screw", About: "Your own numbers; the nut then needs its stiffness.",
	Keys: []Key{
		{Name: "root", Takes: sized(aLength), About: "diameter at the root of the thread"},
		{Name: "lead", Takes: sized(aLength), About: "how far a turn moves the nut"},
	},
}

var rackKeys = Mapping{
	Name: "rack", About: "The pinion on its rack.",
	Keys: []Key{
		{Name: "radius", Takes: sized(aLength), About: "of the pinion's pitch circle"},
		{Name: "width", Takes: sized(aLength), About: "of the teeth"},
	},
}

var motorKeys = Mapping{
	Name: "motor", About: "A size with more said of it, or your own numbers.",
	Keys: slices.Concat([]Key{
		{Name: "size", Takes: oneWord("drive", wordsOf(drive.Steppers(), func(s drive.Stepper) string { return s.Key })...),
			About: "a stepper motor of the trade"},
		{Name: "holding", Takes: sized(aMoment), About: "holding torque of a stepper"},
		{Name: "stiffness", Takes: stiff(aTurning), About: "of the shaft against turning"},
	}, fasteningKeys),
	Choices: [][]string{{"size", "holding", "stiffness"}},
}

// playLoad is the working load, N, for which the stiffness of a nut with play is taken: about what a light cut takes.
const playLoad = 100

// drives reads one drive, or a list of them. One alone has no number, even where others of the list are left out; of
// several each has its place in the list.
func (d *decoder) drives(a *machine.FeedAxis, n *source.Node) {
	drives := []*source.Node{n}
	if n.Kind == source.List {
		drives = n.Items
	}
	if len(drives) == 0 {
		d.fault(n.Pos, fmt.Sprintf("axis %s has no drive: it is loose along %s", machine.Quote(a.Name), a.Along), "")
	}
	d.driven[a.Name] = nil
	for i, item := range drives {
		place := leftOut
		if v, included := d.drive(a, item); included == present {
			v.Name, place = fmt.Sprint(i+1), len(a.Drives)
			a.Drives = append(a.Drives, v)
		}
		d.driven[a.Name] = append(d.driven[a.Name], place)
	}
	if len(a.Drives) == 1 {
		a.Drives[0].Name = ""
	}
}

func (d *decoder) drive(a *machine.FeedAxis, n *source.Node) (v machine.Drive, included presence) {
	f, ok := d.fields(n, &driveKeys)
	if !ok {
		return v, absent
	}
	way, body := f.choose("screw")
	if body == nil {
		return v, absent
	}
	f.only(way)
	kept := presenceIf(d.included(f.get("if")))
	v.Pos = n.Pos
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
			v.Force, _ = d.unsure(&v.Unsure, body, aStiffness, "stiffness", machine.UnsureForce)
			included = d.driveSides(&v, f)
			d.play(&v, f, "drive", constant.Band{})
		}
	})
	return v, presenceIf(included == present && kept == present)
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

func (d *decoder) rackDrive(v *machine.Drive, f fields, n *source.Node) presence {
	included := d.driveSides(v, f)
	s, ok := d.fields(n, &rackKeys)
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
		mesh := drive.Rack{PitchRadius: rack.PitchRadius, FaceWidth: rack.FaceWidth}
		if teeth, err := mesh.Stiffness(); err == nil {
			inRow(v, machine.UnsureForce, 1-k.Typical/teeth.Typical)
			v.Unsure = append(v.Unsure, machine.Unsure{What: machine.UnsureForce, Of: "rack teeth", Band: teeth,
				Share: k.Typical / teeth.Typical})
		}
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
	if n.Kind == source.Mapping {
		s, ok := d.fields(n, &motorKeys)
		if !ok {
			return 0
		}
		switch way, n := s.choose("holding"); way {
		case "size":
			size, _ := drive.LookupStepper(s.word("size", "motor"))
			v.Motor.Held = d.fastening(s, known(size.Flange()))
			return stepper(v, size)
		case "holding":
			v.Motor.Held = d.fastening(s, nil)
			if hold, ok := d.positive(n, aMoment, "holding"); ok {
				v.Motor.Hold = hold
				return drive.HoldingStiffness(hold)
			}
		case "stiffness":
			v.Motor.Held = d.fastening(s, nil)
			k, _ := d.unsure(&v.Unsure, n, aTurning, "stiffness", machine.UnsureTurning)
			return k
		}
		return 0
	}
	size, _ := drive.LookupStepper(f.word("motor", "motor"))
	v.Motor.Held.Flange = known(size.Flange())
	return stepper(v, size)
}

// stepper is the rotary stiffness of a motor of the trade, N·mm/rad; 0 where it is none. What it can do goes into the
// drive.
func stepper(v *machine.Drive, s drive.Stepper) float64 {
	if s.Key == "" {
		return 0
	}
	v.Motor.Hold, v.Motor.Rotor = s.Hold.Typical, s.Rotor.Typical
	v.Motor.Tonne = s.Mass.Typical
	v.Unsure = append(v.Unsure, machine.Unsure{What: machine.UnsureTurning, Of: "motors " + s.Key, Band: s.Hold})
	return drive.HoldingStiffness(s.Hold.Typical)
}

// inRow says of the motor, of which something may be unsure, that it has a share of the give of more.
func inRow(v *machine.Drive, of string, share float64) {
	for i := range v.Unsure {
		if u := &v.Unsure[i]; u.What == machine.UnsureTurning {
			u.What, u.Share = of, share
		}
	}
}

// end reads a part that holds one end of a drive, and what else is said there.
func (d *decoder) end(f fields, key string) (part int, more fields, included presence) {
	n := f.need(key)
	if n == nil {
		return leftOut, more, absent
	}
	more, ok := d.fields(n, f.of.key(key).Takes.Mapping)
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

func (d *decoder) screwDrive(v *machine.Drive, a *machine.FeedAxis, f fields, size *source.Node) presence {
	var lead *drive.LeadScrew
	sized := d.screwSize(v, f, size, &lead)
	s := &v.Screw
	s.Shaft.Ends = drive.FixedSupported
	if key := f.word("ends", "ends"); key != "" {
		s.Shaft.Ends, _ = drive.LookupEnds(key)
	}
	var straight bool
	v.From, v.To, straight = d.line(f, a, "screw")
	var nut fields
	var nutKnown bool
	var included [3]presence
	v.Part, nut, included[0] = d.end(f, "nut")
	if included[0] == present {
		d.onLine(v, a, nut)
		if n := nut.get("side"); n != nil {
			v.NutSide, _ = d.positive(n, aStiffness, "side")
		}
		s.Nut, nutKnown = d.nut(v, nut, lead)
	}
	var near, far fields
	v.On, near, included[1] = d.end(f, "bearing")
	if included[1] == present {
		var play constant.Band
		s.NearBearing, play = d.bearing(v, machine.UnsureNear, near, lead)
		v.NearHeld = d.fastening(near, unitFlange(v, near, lead))
		d.play(v, near, drive.BearingPlay, play)
	}
	included[2] = present
	if s.Shaft.Ends == drive.FixedFixed {
		var part int
		if part, far, included[2] = d.end(f, "far"); included[2] == present {
			v.Far = &part
			var play constant.Band
			s.FarBearing, play = d.bearing(v, machine.UnsureFar, far, lead)
			v.FarHeld = d.fastening(far, unitFlange(v, far, lead))
			d.play(v, far, drive.FarBearingPlay, play)
		}
	} else if n := f.get("far"); n != nil {
		d.fault(n.Pos, fmt.Sprintf("far has no place beside ends: %s, which hold nothing along the screw at the far end",
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
func (d *decoder) screwSize(v *machine.Drive, f fields, n *source.Node, lead **drive.LeadScrew) bool {
	if n.Kind == source.Mapping {
		s, ok := d.fields(n, &leadKeys)
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
	key := f.word("screw", "screw")
	if key == "" {
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
