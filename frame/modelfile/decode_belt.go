package modelfile

import (
	"tiploop/frame/drive"
	"tiploop/frame/machine"
)

// turning is the rotary stiffness at the screw of motor and belt, N·mm/rad; 0: held.
func (d *decoder) turning(v *machine.Drive, f fields) float64 {
	motor := d.motor(v, f)
	n := f.get("reduction")
	if n == nil {
		return motor
	}
	s, ok := d.fields(n, "reduction", "pitch", "width", "cord", "teeth", "centres")
	if !ok {
		return motor
	}
	r := drive.Reduction{Belt: d.beltOf(s)}
	if n := s.need("teeth"); n != nil {
		if n.kind != list || len(n.items) != 2 {
			d.fault(n.pos, "teeth must be a list [motor's pulley, screw's pulley]", "")
			return motor
		}
		r.Driver, _ = d.count(n.items[0], "a number of teeth", mostTeeth)
		r.Driven, _ = d.count(n.items[1], "a number of teeth", mostTeeth)
	}
	if n := s.need("centres"); n != nil {
		r.Centres, _ = d.positive(n, aLength, "centres")
	}
	if r.Belt.Width == 0 || r.Driver == 0 || r.Driven == 0 || r.Centres == 0 {
		return motor
	}
	k, err := r.AtDriven()
	if err != nil {
		d.misfit(n.pos, err.Error(), "")
		return motor
	}
	v.Motor.Ratio = r.Ratio()
	if motor == 0 {
		return k.Typical
	}
	return drive.Series(k.Typical, r.AtDrivenOfMotor(motor))
}

const mostTeeth = 1000

// beltOf reads what a belt is.
func (d *decoder) beltOf(f fields) (b drive.Belt) {
	if n := f.need("pitch"); n != nil {
		b.Pitch, _ = d.positive(n, aLength, "pitch")
		b.Width = 1 // only to ask whether there is such a belt
		if _, err := b.Specific(); err != nil && b.Pitch > 0 {
			d.misfit(n.pos, err.Error(), "")
		}
		b.Width = 0
	}
	if n := f.need("width"); n != nil {
		b.Width, _ = d.positive(n, aLength, "width")
	}
	if n := f.get("cord"); n != nil {
		if word, ok := d.word(n, "cord", []string{drive.GlassCord.String(), drive.SteelCord.String()}); ok &&
			word == drive.SteelCord.String() {
			b.Cord = drive.SteelCord
		}
	}
	return b
}

func (d *decoder) beltDrive(v *machine.Drive, a *machine.FeedAxis, f fields, n *node) presence {
	s, ok := d.fields(n, "belt", "pitch", "width", "cord")
	if !ok {
		return absent
	}
	b := &v.Belt
	b.Belt = d.beltOf(s)
	if n := f.get("path"); n != nil {
		if word, ok := d.word(n, "path", []string{"closed", "open"}); ok && word == "open" {
			b.Path = drive.OpenPath
		}
	}
	if n := f.need("teeth"); n != nil {
		b.Teeth, _ = d.count(n, "a number of teeth", mostTeeth)
	}
	b.Motor = d.motor(v, f)
	var straight bool
	v.From, v.To, straight = d.line(f, a, "belt")
	var clamp fields
	var included presence
	v.Part, clamp, included = d.end(f, "clamp", "at")
	if included == present {
		d.onLine(v, a, clamp)
	}
	on, _, near := d.end(f, "pulley")
	far, _, idler := d.end(f, "idler")
	v.On, v.Far = on, &far
	return presenceIf(straight && included == present && near == present && idler == present && b.Belt.Width > 0 &&
		b.Teeth > 0)
}
