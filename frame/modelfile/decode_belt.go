package modelfile

import (
	"tiploop/frame/drive"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// beltOnly are the keys of any belt.
var beltOnly = []Key{
	{Name: "pitch", Takes: sized(aLength), About: "from tooth to tooth: 2, 3, 5, 8"},
	{Name: "width", Takes: sized(aLength), About: "of the belt"},
	{Name: "cord", Takes: oneWord("", drive.GlassCord.String(), drive.SteelCord.String()),
		Default: drive.GlassCord.String(),
		About:   "what carries the pull in it"},
}

var beltKeys = Mapping{Name: "belt", About: "A toothed belt.", Keys: beltOnly}

var reductionKeys = Mapping{
	Name: "reduction", About: "A toothed belt from the motor to the screw.",
	Keys: append(beltOnly[:len(beltOnly):len(beltOnly)],
		Key{Name: "teeth", Takes: rowOf(counted, "motor's pulley", "screw's pulley"), About: "of the two pulleys"},
		Key{Name: "centres", Takes: sized(aLength), About: "between the two shafts"}),
}

var clampKeys = Mapping{
	Name: "clamp", About: "Where the belt holds the part.",
	Keys: []Key{
		{Name: "part", Takes: nameOf("part"), About: "the part that it holds"},
		{Name: "at", Takes: sized(aLength), About: "its place along the belt, as drawn"},
	},
}

var pulleyKeys, idlerKeys = wheel("pulley", "The motor's pulley, at from."), wheel("idler", "The wheel at to.")

// wheel describes a wheel that a belt runs round.
func wheel(name, about string) Mapping {
	return Mapping{
		Name: name, About: about,
		Keys: []Key{{Name: "part", Takes: nameOf("part"), About: "the part that holds it"}},
	}
}

// turning is the rotary stiffness at the screw of motor and belt, N·mm/rad; 0: held.
func (d *decoder) turning(v *machine.Drive, f fields) float64 {
	motor := d.motor(v, f)
	n := f.get("reduction")
	if n == nil {
		return motor
	}
	s, ok := d.fields(n, &reductionKeys)
	if !ok {
		return motor
	}
	r := drive.Reduction{Belt: d.beltOf(s)}
	if n := s.need("teeth"); n != nil {
		if n.Kind != source.List || len(n.Items) != 2 {
			d.fault(n.Pos, "teeth must be a list [motor's pulley, screw's pulley]", "")
			return motor
		}
		r.Driver, _ = d.count(n.Items[0], "a number of teeth", mostTeeth)
		r.Driven, _ = d.count(n.Items[1], "a number of teeth", mostTeeth)
	}
	if n := s.need("centres"); n != nil {
		r.Centres, _ = d.positive(n, aLength, "centres")
	}
	if r.Belt.Width == 0 || r.Driver == 0 || r.Driven == 0 || r.Centres == 0 {
		return motor
	}
	k, err := r.AtDriven()
	if err != nil {
		d.misfit(n.Pos, err.Error(), "")
		return motor
	}
	v.Motor.Ratio = r.Ratio()
	turning := k.Typical
	if motor != 0 {
		turning = drive.Series(k.Typical, r.AtDrivenOfMotor(motor))
	}
	belt := turning / k.Typical
	inRow(v, machine.UnsureTurning, 1-belt)
	if spans, err := r.SpanShare(); err == nil {
		v.Unsure = append(v.Unsure, machine.UnsureBelt(machine.UnsureTurning, r.Belt, belt*spans),
			machine.UnsureTeeth(machine.UnsureTurning, r.Belt, belt*(1-spans)))
	}
	return turning
}

const mostTeeth = 1000

// beltOf reads what a belt is.
func (d *decoder) beltOf(f fields) (b drive.Belt) {
	if n := f.need("pitch"); n != nil {
		b.Pitch, _ = d.positive(n, aLength, "pitch")
		b.Width = 1 // only to ask whether there is such a belt
		if _, err := b.Specific(); err != nil && b.Pitch > 0 {
			d.misfit(n.Pos, err.Error(), "")
		}
		b.Width = 0
	}
	if n := f.need("width"); n != nil {
		b.Width, _ = d.positive(n, aLength, "width")
	}
	if f.word("cord", "cord") == drive.SteelCord.String() {
		b.Cord = drive.SteelCord
	}
	return b
}

func (d *decoder) beltDrive(v *machine.Drive, a *machine.FeedAxis, f fields, n *source.Node) presence {
	s, ok := d.fields(n, &beltKeys)
	if !ok {
		return absent
	}
	b := &v.Belt
	b.Belt = d.beltOf(s)
	if f.word("path", "path") == "open" {
		b.Path = drive.OpenPath
	}
	if n := f.need("teeth"); n != nil {
		b.Teeth, _ = d.count(n, "a number of teeth", mostTeeth)
	}
	b.Motor = d.motor(v, f)
	var straight bool
	v.From, v.To, straight = d.line(f, a, "belt")
	var clamp fields
	var included presence
	v.Part, clamp, included = d.end(f, "clamp")
	if included == present {
		d.onLine(v, a, clamp)
	}
	on, _, near := d.end(f, "pulley")
	far, _, idler := d.end(f, "idler")
	v.On, v.Far = on, &far
	return presenceIf(straight && included == present && near == present && idler == present && b.Belt.Width > 0 &&
		b.Teeth > 0)
}
