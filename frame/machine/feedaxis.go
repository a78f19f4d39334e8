package machine

import (
	"fmt"
	"maps"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/drive"
	"tiploop/frame/guide"
	"tiploop/frame/joint"
)

// FeedAxis is one of the machine's own axes: what moves, along which of the world's directions, on which guides, and
// what holds it along the travel.
type FeedAxis struct {
	Name    string
	Pos     FilePos
	Along   Axis
	Carries []int      // indices into Machine.Parts, as the model says
	Travel  [2]float64 // least and greatest position, mm
	At      float64    // where the axis stands, mm
	Drawn   *float64   // where it was drawn, before Machine.At moved it, mm; nil: where it stands
	Rapid   float64    // fastest move, mm/s; 0: not said
	Guides  []Guide
	Drives  []Drive

	// Moves lists the parts that go along: what is carried, what is joined to that, and what axes on these carry. It is
	// found, by [Machine.Complete] and [Machine.At]; what is written here is not read.
	Moves []int
}

// Guide is one rail with its carriages, or a pair of sliding faces.
type Guide struct {
	Name string // zero: "rail 1", "slide 1", in the order of the guides
	Pos  FilePos
	On   int // index of the part with the rail
	Part int // index of the part with the carriages

	Rail      *guide.Carriage  // the size; nil with the builder's own numbers only
	Preload   guide.Preload    // of the size; zero is guide.Clearance, not the guide.Light of a file that says nothing
	Own       *guide.Stiffness // the builder's own numbers for one carriage as it is mounted; go before those of the size
	Surface   joint.Surface    // of the faces that rail and carriage are screwed to; zero: DefaultGuideSurface
	From, To  r3.Vec           // ends of the rail on a face of On, mm; of a rail that is a bar they are its own
	RailIsBar bool             // On is the rail itself, spanning freely
	Carriages []float64        // middles of the carriages: their world coordinate along the axis, mm
	Length    float64          // of a carriage along the rail, mm; 0: that of Rail, or not said
	Width     float64          // of a carriage across the rail, mm; 0: that of Rail, or not said

	Slide *guide.Slide // instead of a rail; sizes and the way it faces are found from the geometry

	Unsure []Unsure // of Own: "press", "pull", "side", "roll", "pitch", "yaw"
}

// Drive is what holds an axis along its travel, between a place of one part and a place of another.
type Drive struct {
	Name  string // "": the only one of its axis
	Pos   FilePos
	Kind  DriveKind
	Part  int     // index of the part with the nut, the belt's clamp or the pinion
	Push  r3.Vec  // place of the nut, clamp or pinion, mm
	On    int     // index of the part with the driven bearing, the motor's pulley or the rack
	Far   *int    // index of the part that holds the far end along the travel; nil: none
	From  r3.Vec  // driven end of the screw or belt, mm; ByRack and BySpring: not read
	To    r3.Vec  // its far end, mm
	Force float64 // stiffness along the travel, N/mm: ByRack, BySpring

	// Screw is of a drive ByScrew. Of its fields that are zero, Shaft.Root, Lead and Nut are those of Ball, its nut snug;
	// Shaft.E and Nu steel's, both zero; Shaft.Length from From to To; a bearing that of the fixed unit usual for Ball's
	// diameter, or else for Shaft.Root. Shaft.Ends zero is drive.FixedFree: the far end is free, not supported as in a
	// file that says nothing. Without Ball, Shaft.Root, Lead and Nut must be given.
	Screw drive.ScrewDrive
	Ball  *drive.BallScrew // its size, also for ratings; nil: a lead screw or own numbers
	Belt  drive.BeltAxis   // ByBelt; length zero: from From to To

	NutSide float64      // stiffness of nut and bracket across the screw, N/mm; 0: they do not give
	Preload float64      // of a ball nut, N; 0: none, or with Screw.Nut zero that of a snug nut
	Pinion  float64      // pitch radius, mm: ByRack
	Play    []drive.Play // gaps along the travel, one after the other

	Unsure []Unsure // of its stiffnesses: UnsureNut and so on

	NutHeld, NearHeld, FarHeld Fastening // how nut and bearings ByScrew are screwed on

	Efficiency float64 // of turning into travel; 0: that of a ball screw with Ball, 1 ByBelt and ByRack, else not known
	Motor      DriveMotor
}

// ScrewDiameter returns that of a screw drive's screw by its size, mm; where no more is known, of its core.
func (d *Drive) ScrewDiameter() float64 {
	if d.Ball != nil {
		return d.Ball.Diameter
	}
	return d.Screw.Shaft.Root
}

// DriveMotor is the motor of a drive, as far as it is known.
type DriveMotor struct {
	Hold  float64 // torque at rest, N·mm; 0: not known
	Rotor float64 // moment of inertia, tonne·mm²; 0: not known
	Tonne float64 // its mass, where it drives: at From, or with the pinion; 0: not known
	Ratio float64 // its turns for one of the screw; 0: 1
	Held  Fastening
}

// Fastening is how a nut, a bearing or a motor is screwed to its part, for the holes alone: it is in no spring.
type Fastening struct {
	Flange             *drive.Flange // nil: not known
	OwnBore, OwnScrews bool          // what of Flange are the builder's own numbers
	Face               *Face         // of the part, that it lies on; nil: the one square to the shaft on which it is drawn
}

// DriveKind tells the kinds of Drive apart.
type DriveKind int

// The kinds of Drive.
const (
	ByScrew  DriveKind = iota
	ByBelt             // a belt that moves the axis itself
	ByRack             // rack and pinion
	BySpring           // a stiffness given by the builder
)

// String gives the kind as the trade says it, "DriveKind(9)" for one that is none.
func (k DriveKind) String() string {
	return worded(k, "DriveKind", "screw", "belt", "rack", "stiffness")
}

// Position is a named place of some of the axes.
type Position struct {
	Name string
	At   map[string]float64 // by axis, mm
}

// At gives the machine with axes at other positions, mm; axes that are not named stay where they are. It is pure
// geometry: the machine that comes of it is the one that would have been drawn there. It is complete, as
// [Machine.Complete] gives it; the machine itself stays as it is. The error is [Faults].
func (m *Machine) At(positions map[string]float64) (*Machine, error) {
	m, faults := m.complete()
	if faults != nil {
		return nil, faults
	}
	moved := *m
	moved.Axes = slices.Clone(m.Axes)
	shift := make([]r3.Vec, len(m.Parts))
	for _, name := range slices.Sorted(maps.Keys(positions)) {
		i := slices.IndexFunc(m.Axes, func(a FeedAxis) bool { return a.Name == name })
		if i < 0 {
			hint := Suggest(name, m.axisNames())
			if len(m.Axes) == 0 {
				hint = "the model has no axes"
			}
			faults = append(faults, Fault{File: m.File, What: fmt.Sprintf("axis %s is not known", Quote(name)), Hint: hint})
			continue
		}
		if f := m.Axes[i].Beyond(m.File, positions[name]); f != nil {
			faults = append(faults, *f)
			continue
		}
		drawn := m.Axes[i].DrawnAt()
		moved.Axes[i].At, moved.Axes[i].Drawn = positions[name], &drawn
	}
	if faults != nil {
		return nil, faults.Sorted()
	}
	for i := range m.Axes {
		by := r3.Scale(moved.Axes[i].At-m.Axes[i].At, m.Axes[i].Along.Direction())
		for _, p := range m.Axes[i].Moves {
			shift[p] = r3.Add(shift[p], by)
		}
	}
	moved.shift(shift)
	return &moved, nil
}

// DrawnAt returns where the axis was drawn, mm.
func (a *FeedAxis) DrawnAt() float64 {
	if a.Drawn == nil {
		return a.At
	}
	return *a.Drawn
}

func (m *Machine) axisNames() (names []string) {
	for _, a := range m.Axes {
		names = append(names, a.Name)
	}
	return names
}

// Beyond is the fault of a position that the axis cannot take.
func (a *FeedAxis) Beyond(file string, at float64) *Fault {
	if at >= a.Travel[0]-Touching && at <= a.Travel[1]+Touching {
		return nil
	}
	return &Fault{File: file, Pos: a.Pos, What: fmt.Sprintf("axis %s cannot stand at %s: it travels from %s to %s", a.Name,
		MM(at), MM(a.Travel[0]), MM(a.Travel[1])),
		Hint: "choose a position within its travel, or give it more travel"}
}

// shift moves parts, and all that stands on them, by a way each. What is joined moves by the same way.
func (m *Machine) shift(by []r3.Vec) {
	m.Parts = slices.Clone(m.Parts)
	for i := range m.Parts {
		m.Parts[i].Shift(by[i])
	}
	m.Joints = slices.Clone(m.Joints)
	for i := range m.Joints {
		j := &m.Joints[i]
		if j.Screws != nil && j.Screws.At != nil {
			j.Moved = r3.Add(j.Moved, by[j.Parts[0]])
		}
	}
	if m.Tool != nil {
		tool := *m.Tool
		tool.At = r3.Add(tool.At, by[tool.Part])
		m.Tool = &tool
	}
	if m.Work != nil && m.Work.At != nil {
		work := *m.Work
		at := r3.Add(*work.At, by[work.Part])
		work.At = &at
		m.Work = &work
	}
	m.Points = slices.Clone(m.Points)
	for i := range m.Points {
		m.Points[i].At = r3.Add(m.Points[i].At, by[m.Points[i].Part])
	}
	m.Masses = slices.Clone(m.Masses)
	for i := range m.Masses {
		m.Masses[i].At = r3.Add(m.Masses[i].At, by[m.Masses[i].Part])
	}
	m.Travel = slices.Clone(m.Travel)
	for i := range m.Travel {
		p := &m.Travel[i]
		if len(p.Axes) > 0 {
			continue // positions of axes, not places
		}
		along := Component(by[m.Work.Part], p.Along)
		p.From += along
		p.To += along
	}
	for i := range m.Axes {
		m.Axes[i].shift(by)
	}
}

func (a *FeedAxis) shift(by []r3.Vec) {
	a.Guides = slices.Clone(a.Guides)
	for i := range a.Guides {
		g := &a.Guides[i]
		if g.Slide == nil {
			g.From, g.To = r3.Add(g.From, by[g.On]), r3.Add(g.To, by[g.On])
		}
		g.Carriages = slices.Clone(g.Carriages)
		for k := range g.Carriages {
			g.Carriages[k] += Component(by[g.Part], a.Along)
		}
	}
	a.Drives = slices.Clone(a.Drives)
	for i := range a.Drives {
		d := &a.Drives[i]
		d.Push = r3.Add(d.Push, by[d.Part])
		d.From, d.To = r3.Add(d.From, by[d.On]), r3.Add(d.To, by[d.On])
		if d.Kind == ByRack || d.Kind == BySpring {
			d.From, d.To = d.Push, d.Push // both sides meet where the pinion is
		}
	}
}
