package modelfile

import (
	"fmt"
	"slices"

	"tiploop/frame/constant"
	"tiploop/frame/drive"
	"tiploop/frame/machine"
)

// nutKeys, bearingKeys and farKeys are the keys of what holds a screw along its line.
var nutKeys = Mapping{
	Name: "nut", About: "Where the screw pushes the part.",
	Keys: slices.Concat([]Key{
		{Name: "part", Takes: nameOf("part"), About: "the part that holds it"},
		{Name: "at", Takes: sized(aLength), About: "its place along the screw, as drawn"},
		{Name: "fit", Takes: oneWord("", wordsOf(drive.NutFits(), drive.NutFit.String)...),
			Default: "as a catalogue has it, without play",
			About:   "of a ball nut: with play, without, or preloaded in pairs"},
		{Name: "kind", Takes: oneWord("", drive.BronzeNut.String(), drive.PlasticNut.String()),
			Default: drive.BronzeNut.String(),
			About:   "of the nut of a trapezoidal screw"},
		{Name: "stiffness", Takes: stiff(aStiffness),
			Default: "by fit or kind; must be given with a screw of your own numbers",
			About:   "your own number, along the screw"},
		{Name: "side", Takes: sized(aStiffness), Default: "what is usual",
			About: "what nut and bracket give across the screw; for misfits"},
		{Name: "play", Takes: sized(aLength), Default: "by fit or kind", About: "between push and pull"},
	}, fasteningKeys),
}

// bearing describes the bearings at one end of a screw.
func bearing(name, about string) Mapping {
	return Mapping{
		Name: name, About: about,
		Keys: slices.Concat([]Key{
			{Name: "part", Takes: nameOf("part"), About: "the part that holds them"},
			{Name: "unit", Takes: oneWord("drive",
				wordsOf(drive.SupportUnits(), func(u drive.SupportUnit) string { return u.Key })...),
				Default: "the one usual for the screw", About: "a support unit of the trade"},
			{Name: "stiffness", Takes: stiff(aStiffness), Default: "that of the unit",
				About: "your own number, along the screw"},
			{Name: "play", Takes: sized(aLength), Default: "that of the unit; none where it is the usual one",
				About: "between push and pull"},
		}, fasteningKeys),
	}
}

var (
	bearingKeys = bearing("bearing", "The bearings at the driven end, from.")
	farKeys     = bearing("far", "The bearings at the other end, to, where ends are fixed-fixed.")
)

// nut gives the stiffness of a nut, N/mm, and whether it is known; 0: the one that a ball screw has when nothing is
// said.
func (d *decoder) nut(v *machine.Drive, f fields, lead *drive.LeadScrew) (stiffness float64, known bool) {
	fit, kind := f.get("fit"), f.get("kind")
	usual := constant.Band{}
	defer func() { d.play(v, f, "nut", usual) }()
	v.NutHeld = d.fastening(f, nutFlange(v, lead))
	if n := f.get("stiffness"); n != nil {
		return d.unsure(&v.Unsure, n, aStiffness, "stiffness", machine.UnsureNut)
	}
	switch {
	case v.Ball != nil:
		if kind != nil {
			d.fault(kind.Pos, "kind is for the nut of a lead screw", "a ball nut has a fit: play, snug, double, double-hard")
		}
		if fit == nil {
			return 0, true
		}
		key := f.word("fit", "fit")
		if key == "" {
			return 0, false
		}
		is, _ := drive.LookupNutFit(key)
		usual = is.Play()
		k, err := v.Ball.Nut(is, playLoad)
		if err != nil {
			d.misfit(f.node.Pos, err.Error(), "")
			return 0, false
		}
		v.Preload = is.PreloadShare().Typical * v.Ball.Dynamic.Typical
		v.Unsure = append(v.Unsure, machine.UnsureBallNut(v.Ball))
		return k.Typical, true
	case lead != nil:
		if fit != nil {
			d.fault(fit.Pos, "fit is for a ball nut", "the nut of a lead screw has a kind: bronze, plastic")
		}
		is := drive.BronzeNut
		if f.word("kind", "kind") == drive.PlasticNut.String() {
			is = drive.PlasticNut
		}
		usual = drive.LeadNutPlay()
		v.Efficiency = lead.Efficiency(is.Friction().Typical)
		k := lead.Nut(is)
		v.Unsure = append(v.Unsure, machine.Unsure{What: machine.UnsureNut, Of: fmt.Sprintf("nuts %s, %s", lead.Key, is),
			Band: k})
		return k.Typical, true
	}
	f.need("stiffness") // own numbers of the screw ask for those of the nut
	return 0, false
}

// bearing gives the stiffness of a bearing along the screw, N/mm: own number, a unit, or 0 for the one usual for the
// screw. Of a lead screw the machine keeps no diameter, so the usual one is looked up here. Play is what such a unit
// has; what says which bearing it is, for how far it may be off.
func (d *decoder) bearing(v *machine.Drive, what string, f fields, lead *drive.LeadScrew) (stiffness float64,
	play constant.Band) {
	if n := f.get("stiffness"); n != nil {
		k, _ := d.unsure(&v.Unsure, n, aStiffness, "stiffness", what)
		return k, play
	}
	if f.get("unit") != nil {
		u, known := drive.LookupSupportUnit(f.word("unit", "unit"))
		if known {
			v.Unsure = append(v.Unsure, machine.UnsureBearing(what, u))
		}
		return u.Axial.Typical, u.Play
	}
	if lead == nil {
		return 0, play
	}
	u := drive.FixedUnitFor(lead.Diameter)
	v.Unsure = append(v.Unsure, machine.UnsureBearing(what, u))
	return u.Axial.Typical, play
}

// play reads how far something moves along the travel before it pushes: as said, 0 for none, or what is usual.
func (d *decoder) play(v *machine.Drive, f fields, name string, usual constant.Band) {
	if n := f.get("play"); n != nil {
		gap, ok := d.number(n, aLength)
		switch {
		case ok && gap < 0:
			d.misfit(n.Pos, fmt.Sprintf("play must not be negative: %s", aLength.show(gap)),
				"it is how far the "+name+" moves between push and pull; 0 for none")
		case ok && gap > machine.LargestPlay:
			d.misfit(n.Pos, fmt.Sprintf("a play of %s is beyond belief: at most %s", aLength.show(gap),
				aLength.show(machine.LargestPlay)), "look for a wrong unit")
			gap = 0
		}
		usual = constant.Exactly(max(0, gap))
	}
	if usual.High > 0 {
		v.Play = append(v.Play, drive.Play{Name: name, Gap: usual})
	}
}
