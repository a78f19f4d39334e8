package structure

import (
	"fmt"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/answer"
	"tiploop/frame/drive"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
	"tiploop/frame/shopwork"
)

// feetHoles are open: nothing is known of how feet are held.
func (m *Model) feetHoles() (open []answer.OpenHoles) {
	for _, g := range m.grounds {
		if w := g.ground; w.Feet != nil {
			name := "feet"
			if g.name != "" {
				name = "feet " + g.name
			}
			open = append(open, answer.OpenHoles{What: "feet", For: name, Part: g.body.part.Name, PlacesMM: placesOf(g.places...),
				Why: fmt.Sprintf("%d feet: their thread is that of the feet in hand", len(w.Feet))})
		}
	}
	return open
}

// massHoles are open, as those of feet.
func (m *Model) massHoles() (open []answer.OpenHoles) {
	for _, w := range m.machine.Masses {
		open = append(open, answer.OpenHoles{What: "mass", For: "mass " + w.Name, Part: m.bodies[w.Part].part.Name,
			PlacesMM: placesOf(w.At), Why: "the model does not say how it is held"})
	}
	return open
}

// Why nothing is drilled for what is screwed down by a flange that the model does not tell.
const (
	noScrews = "own numbers: the model does not say its screws"
	noMotor  = "the model does not say which motor: name its size, or its screws"
)

// flanged is something of a drive that is screwed to a part by its flange.
type flanged struct {
	of    string // what its holes are for: "nut of y"
	bare  string // why it has none where its flange is not known
	part  *body
	at    r3.Vec
	shaft machine.Axis // that it runs along; noAxis: square to the face that is said
	held  machine.Fastening
	bored bool // the part gets the bore usual for its size
}

// driveHoles are those of nuts, bearings and motors, where the drawing tells on which face they lie.
func (m *Model) driveHoles(add func(*hole)) (open []answer.OpenHoles) {
	for i := range m.machine.Axes {
		a := &m.machine.Axes[i]
		for k := range a.Drives {
			v := &a.Drives[k]
			of := driveName(a, v)
			note := func(what string, part int, at r3.Vec, why string) {
				if why != "" {
					open = append(open, answer.OpenHoles{What: what, For: what + " of " + of, Part: m.bodies[part].part.Name,
						PlacesMM: placesOf(at), Why: why})
				}
			}
			hold := func(what, bare string, part int, at r3.Vec, shaft machine.Axis, held machine.Fastening, bored bool) {
				f := flanged{what + " of " + of, bare, m.bodies[part], at, shaft, held, bored}
				note(what, part, at, f.holes(add))
			}
			switch v.Kind {
			case machine.ByScrew:
				hold("nut", noScrews, v.Part, v.Push, a.Along, v.NutHeld, true)
				hold("bearing", noScrews, v.On, v.From, a.Along, v.NearHeld, true)
				if v.Far != nil {
					hold("far bearing", noScrews, *v.Far, v.To, a.Along, v.FarHeld, true)
				} else if part := m.supporting(v); part >= 0 {
					note("far bearing", part, v.To, "the model does not say what supports the screw's end: mark it from the one in hand")
				}
				if v.Motor.Ratio != 0 {
					note("motor", v.On, v.From, "it stands beside the screw, and the model does not say where: mark it by its belt")
					break
				}
				// In line with the screw it stands behind the bearing, on posts over the coupling, and needs no bore of its own.
				held := v.Motor.Held
				if held.Face == nil {
					if between := m.bodies[v.On].fills.size(a.Along); held.Flange != nil && between > mostBehind {
						note("motor", v.On, v.From, fmt.Sprintf("%s of metal are between bearing and motor, if it stands behind it: say its "+
							"face", machine.MM(between)))
						break
					}
					held.Face = faceBehind(v, a.Along)
				}
				hold("motor", noMotor, v.On, v.From, a.Along, held, false)
			case machine.ByBelt:
				note("belt clamp", v.Part, v.Push, "the model does not say how it is held")
				if v.Far != nil {
					note("idler", *v.Far, v.To, "the model does not say how it is held")
				}
				hold("motor", noMotor, v.On, v.From, noAxis, v.Motor.Held, true)
			case machine.ByRack:
				note("rack", v.On, v.From, "makers differ: take the pattern from the one in hand")
				hold("motor", noMotor, v.Part, v.Push, noAxis, v.Motor.Held, true)
			}
		}
	}
	return open
}

// mostBehind is the metal through which a motor still reaches the end of its screw, mm: about as much as a coupling is long
// [common practice, no source].
const mostBehind = 40

// supporting is the part on which the supported end of a screw is drawn that the model says no bearing of; -1: none.
func (m *Model) supporting(v *machine.Drive) int {
	if v.Screw.Shaft.Ends != drive.FixedSupported {
		return -1
	}
	return slices.IndexFunc(m.bodies, func(b *body) bool {
		return b != m.bodies[v.On] && b != m.bodies[v.Part] && b.hasBox && b.off(v.To) <= machine.Touching
	})
}

// faceBehind is the face of the part at a screw's driven end that looks away from the screw.
func faceBehind(v *machine.Drive, along machine.Axis) *machine.Face {
	face := machine.FaceOf(along, machine.Component(r3.Sub(v.To, v.From), along) < 0)
	return &face
}

// holes adds the holes of a flange, or says why there are none.
func (f *flanged) holes(add func(*hole)) (why string) {
	flange, b := f.held.Flange, f.part
	if flange == nil {
		return f.bare
	}
	if b.part.Bar != nil {
		return b.part.Name + " is a bar, and the model does not say where it is flat: mark it from the one in hand"
	}
	var face machine.Face
	switch {
	case f.held.Face != nil:
		face = *f.held.Face
	case f.shaft == noAxis:
		return "the model does not say which way its shaft goes: say its face"
	default:
		if face, why = shopwork.SquareFace(f.shaft, b.fills.lo, b.fills.hi, array(f.at)); why != "" {
			return why
		}
	}
	square := f.shaft == noAxis || face.Normal() == f.shaft
	if !square && !f.held.OwnScrews {
		return fmt.Sprintf("on the %s face of %s it lies along its shaft, as none of the table does: say its screws", face, b.part.Name)
	}
	list := f.on(face, flange, f.held.OwnBore || f.bored && square)
	beside := 0
	for _, h := range list {
		if h.offFace() {
			beside++
		}
	}
	if beside > 0 {
		return fmt.Sprintf("%d of its %d holes reach out of the %s face of %s: make that larger, or say its bore and screws",
			beside, len(list), face, b.part.Name)
	}
	for _, h := range list {
		add(h)
	}
	return ""
}

// on are the holes of a flange that lies on a face: its bore and those of its screws.
func (f *flanged) on(face machine.Face, flange *drive.Flange, bored bool) (list []*hole) {
	b, normal := f.part, face.Normal()
	spot := func(off [2]float64) r3.Vec {
		return vector(shopwork.FlangePlace(face, b.fills.lo, b.fills.hi, array(f.at), off))
	}
	middle := spot([2]float64{})
	if bored && flange.Bore > 0 {
		h := newHole(b, normal, face.Far(), middle, joint.Screw{}, f.of).bore(flange.Bore, middle, flange.Source)
		if h.Line.Typical = !f.held.OwnBore; f.held.OwnBore {
			h.Line.Source = "bores: the model"
		}
		list = append(list, h)
	}
	if screw, ok := joint.LookupScrew(flange.Screw); ok {
		for _, off := range flange.At {
			at := spot(off)
			h := newHole(b, normal, face.Far(), at, screw, f.of)
			if flange.Through {
				h.clear(screw, joint.Proud, at)
			} else {
				h.tap(screw, at)
			}
			h.Line.Typical = !f.held.OwnScrews
			list = append(list, h)
		}
	}
	whole := &shopwork.Flange{Of: f.of, MiddleMM: array(middle), OuterMM: flange.Outer}
	for _, h := range list {
		h.Flange = whole
	}
	return list
}
