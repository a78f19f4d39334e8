package modelfile

import (
	"fmt"
	"math"
	"slices"

	"tiploop/frame/drive"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// The keys of how a nut, a bearing or a motor is screwed to its part.
var (
	faceKey = Key{Name: "face", Takes: oneWord("", machine.FaceNames[:]...),
		Default: "the one square to the shaft on which it is drawn", About: "of the part, that its flange lies on; for the holes"}
	boreKey = Key{Name: "bore", Takes: sized(aLength), Default: "that usual for its size",
		About: "for its body, through the part; 0 for none"}
	flangeScrewsKey = Key{Name: "screws", Takes: keysOf(&flangeScrewsKeys), Default: "those usual for its size",
		About: "that hold it, where yours differ"}
	fasteningKeys = []Key{faceKey, boreKey, flangeScrewsKey}
)

var flangeScrewsKeys = Mapping{
	Name:  "flange screws",
	About: "Where they stand round the middle of a nut, a bearing or a motor. Counted and drilled, and in no stiffness.",
	Keys: []Key{
		{Name: "size", Takes: oneWord("screws", screwWords...), About: "the thread"},
		{Name: "circle", Takes: sized(aLength),
			About: "diameter of the circle on which they stand, the first along the face's first axis"},
		{Name: "count", Takes: counted, Default: "4", With: []string{"circle"}, About: "how many on the circle, evenly"},
		{Name: "offsets", Takes: listOf(rowOf(sized(aLength), "a", "b")),
			About: "or their places from the middle, along the two of the world's axes in the face"},
		{Name: "through", Takes: truth, Default: "false", About: "the part has through holes, the thread is in what they hold"},
	},
	Choices: [][]string{{"circle", "offsets"}},
}

// mostRound bounds the screws on a circle, usualRound is how many there are.
const (
	mostRound  = 24
	usualRound = 4
)

// fastening reads how something is screwed to its part; usual is how its size is, nil when that is not known.
func (d *decoder) fastening(f fields, usual *drive.Flange) (h machine.Fastening) {
	h.Flange = usual
	if word := f.word("face", "face"); word != "" {
		face := machine.Face(slices.Index(machine.FaceNames[:], word))
		h.Face = &face
	}
	own := drive.Flange{}
	if usual != nil {
		own = *usual
	}
	if n := f.get("bore"); n != nil {
		bore, ok := d.number(n, aLength)
		if ok && bore != 0 && bore < aLength.least {
			d.misfit(n.Pos, fmt.Sprintf("bore must be positive, not %s", aLength.show(bore)), "0 for none")
		}
		own.Bore, h.OwnBore, h.Flange = math.Max(0, bore), true, &own
	}
	if n := f.get("screws"); n != nil && d.flangeScrews(&own, n) {
		h.OwnScrews, h.Flange = true, &own
	}
	return h
}

// flangeScrews reads the screws of a flange, and tells whether it could.
func (d *decoder) flangeScrews(into *drive.Flange, n *source.Node) bool {
	f, ok := d.fields(n, &flangeScrewsKeys)
	if !ok {
		return false
	}
	f.need("size")
	size := f.word("size", "screw size")
	into.Screw, into.At, into.Through = size, nil, false
	way, n := f.choose("circle")
	f.only(way)
	switch way {
	case "circle":
		circle, ok := d.positive(n, aLength, "circle")
		count := usualRound
		if n := f.get("count"); n != nil {
			count, _ = d.count(n, "a number of screws", mostRound)
		}
		if !ok || count == 0 {
			return false
		}
		into.At = drive.Round(circle, count)
	case "offsets":
		into.At, _ = d.places(n, "offsets")
	}
	if n := f.get("through"); n != nil {
		into.Through, _ = d.truth(n)
	}
	d.apart(n, size, into.At)
	return size != "" && len(into.At) > 0
}

// apart reports two screws of a flange whose heads would run into each other.
func (d *decoder) apart(n *source.Node, size string, at [][2]float64) {
	screw, found := joint.LookupScrew(size)
	for i, p := range at {
		for _, q := range at[:i] {
			if gap := math.Hypot(p[0]-q[0], p[1]-q[1]); found && gap < screw.HeadDiameter {
				d.misfit(n.Pos, fmt.Sprintf("screws %.3g mm apart run into each other: the head of %s is %g mm wide", gap, size,
					screw.HeadDiameter), "fewer screws, smaller ones, or a larger circle")
				return
			}
		}
	}
}

// known is a flange of the tables, nil where it is none.
func known(f drive.Flange, ok bool) *drive.Flange {
	if !ok {
		return nil
	}
	return &f
}

// nutFlange is that usual for the nut of a screw of the tables.
func nutFlange(v *machine.Drive, lead *drive.LeadScrew) *drive.Flange {
	switch {
	case v.Ball != nil:
		return known(v.Ball.NutFlange())
	case lead != nil:
		return known(lead.NutFlange())
	}
	return nil
}

// unitFlange is that of the support unit that is named; of none named, and no stiffness of one's own, that of the unit
// usual for the screw.
func unitFlange(v *machine.Drive, f fields, lead *drive.LeadScrew) *drive.Flange {
	diameter := v.ScrewDiameter()
	if lead != nil {
		diameter = lead.Diameter
	}
	switch n := f.get("unit"); {
	case n != nil:
		u, _ := drive.LookupSupportUnit(n.Text)
		return known(u.Flange())
	case f.get("stiffness") != nil || diameter == 0:
		return nil
	}
	return known(drive.FixedUnitFor(diameter).Flange())
}
