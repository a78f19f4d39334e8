package doubt

import (
	"fmt"
	"math"
	"strings"

	"tiploop/beam"
	"tiploop/frame/chance"
	"tiploop/frame/constant"
	"tiploop/frame/machine"
)

// made is an unknown of one thing of the machine.
func made(k kind, key string, band constant.Band, name, settle string) Unknown {
	return Unknown{Unknown: chance.Unknown{Key: key, Band: over(band)}, Name: name, Settle: settle, kind: k}
}

// foot is how far the stiffness that a file states of feet or of a bed may be off, house value: who writes one has
// chosen foot and floor, and has measured nothing. Feet of one kind on one kind of floor differ by more, 20 to 150 N/µm
// for screw feet on a hard one (common practice, no source): then the file says so, with a range.
const foot = 0.3

// Ground is the stiffness of a ground, "ground 1".
func Ground(name string) Unknown {
	return made(ofGround, name, within(foot), name, "push the machine over its feet and read them")
}

// Stated is a stiffness that the builder gave a range, of what answers call so: "ground 1", "joint base/column". With the
// same range in shares, `k +- 40 %`, it is the same thing in every option, whatever k; with another one another thing.
func Stated(of string, u machine.Unsure) Unknown {
	k := ofPiece
	switch {
	case strings.HasPrefix(of, "ground "):
		k = ofGround
	case strings.HasPrefix(of, "joint "):
		k = ofJoint
	}
	name := of + ", " + u.What
	band := over(u.Band)
	return made(k, fmt.Sprintf("stated %s %.6g..%.6g", name, band.Low, band.High), u.Band, name, "measure it, and write a narrower range")
}

// flat is how far flatness may put the contact stiffness of one joint off, house value: like sliding faces of one batch
// are within 2.5 to 1 of one another (Ito, Modular Design for Machine Tools, 2008, p. 225), and the zones under screws,
// some 20 mm wide, are taken for half as far apart in the logarithm.
var flat = math.Pow(2.5, 0.25) - 1

// Flatness is how stiff the faces of one joint are over others of their finish: how much of their zones carries.
func Flatness(joint string) Unknown {
	return made(ofJoint, "faces of "+joint, within(flat), "faces of "+joint,
		"blue the faces and scrape them, or push the joint and read it")
}

// piece is how far one piece differs from others of its size, house value: preload differs within a class, and
// stiffness goes with its cube root.
const piece = 0.1

// Piece is the stiffness of one carriage, nut or bearing over that of its size.
func Piece(name string) Unknown {
	return made(ofPiece, "piece "+name, within(piece), name, "push it and read it with a dial")
}

// Slide is the stiffness of one slide over that of its class.
func Slide(name string, scatter constant.Band) Unknown {
	return made(ofPiece, "piece "+name, scatter, name, "scrape it in, or push it and read it with a dial")
}

// unlisted is how far the modulus of a material may be off of which no range is known, house value.
const unlisted = 0.03

// Material is the modulus of a material. One that the file gives as a number is known.
func Material(m beam.Material) Unknown {
	band := within(unlisted)
	if 0 < m.ELow && m.ELow <= m.E && m.E <= m.EHigh {
		band = constant.Between(m.ELow, m.E, m.EHigh)
	}
	return made(ofMaterial, "E of "+m.Key, band, "E of "+m.Key, "bend a bar of it and read it with a dial")
}

// What the details are off by, house values: nine in ten of the movements in testdata/accuracy.md, the middle of its
// four lists of bodies.
const (
	beams     = 0.11
	usualMesh = 0.035
	mesh1     = 0.016
)

// Beams is how stiff a plate or gusset is over what its beam model says.
func Beams(part string) Unknown {
	return made(ofModel, "model of "+part, within(beams), "beam model of "+part, "take the detail solid")
}

// Mesh is how stiff a part is over what its mesh says, at a factor on the size of its cells.
func Mesh(part string, factor, usual float64) Unknown {
	off := mesh1 + (usualMesh-mesh1)*max(0, factor-1)/(usual-1)
	return made(ofModel, "model of "+part, within(off), "mesh of "+part, "take a finer mesh")
}

// Screw is the preload of one screw, or of some that act as one, over the one meant. The place tells it from others in
// every option.
func Screw(place, name string, together int) Unknown {
	one, share := hand(), 1/math.Sqrt(float64(together))
	band := constant.Between(math.Pow(one.Low, share), 1, math.Pow(one.High, share))
	return made(ofScrew, "screw "+place, band, "preload of "+name, "tighten with a torque key")
}
