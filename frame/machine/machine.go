package machine

import (
	"cmp"
	"fmt"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame/joint"
	"tiploop/frame/outline"
)

// FilePos is where something stands in the model file, counted from 1; zero when there is none.
type FilePos struct{ Line, Col int }

// Axis is one of the world's directions: x right, y away from the operator, z up.
type Axis int

// The world's directions.
const (
	X Axis = iota
	Y
	Z
)

// String gives the axis its letter, "Axis(9)" to one that is none.
func (a Axis) String() string { return worded(a, "Axis", "x", "y", "z") }

// worded returns the word of an enumeration's value, or how Go writes a value that has none.
func worded[T ~int](v T, of string, words ...string) string {
	if v < 0 || int(v) >= len(words) {
		return fmt.Sprintf("%s(%d)", of, int(v))
	}
	return words[v]
}

// Face is one of the six faces of a plate, named as the builder in front of the machine sees it.
type Face int

// The faces of a plate: left and right look along x, front and back along y, bottom and top along z.
const (
	Left Face = iota
	Right
	Front
	Back
	Bottom
	Top
)

// FaceNames are the names of the faces, as a model file says them, by Face.
var FaceNames = [...]string{"left", "right", "front", "back", "bottom", "top"}

// FaceOf is the face that looks along an axis, the one with the larger coordinate or the other.
func FaceOf(normal Axis, far bool) Face {
	if far {
		return Face(2*normal + 1)
	}
	return Face(2 * normal)
}

// String gives the face its name, "Face(9)" to one that is none.
func (f Face) String() string { return worded(f, "Face", FaceNames[:]...) }

// Normal is the axis the face looks along.
func (f Face) Normal() Axis { return Axis(f / 2) }

// Far reports whether the face is the one with the larger coordinate.
func (f Face) Far() bool { return f%2 == 1 }

// Freedom is one way a body can move: three translations, then three right-handed rotations.
type Freedom int

// The freedoms in the order every array of six uses.
const (
	MoveX Freedom = iota
	MoveY
	MoveZ
	TurnX
	TurnY
	TurnZ
)

// FreedomNames are the names of the freedoms, as a model file says them, by Freedom.
var FreedomNames = [...]string{"x", "y", "z", "rx", "ry", "rz"}

// String gives the freedom the name the model file uses, "Freedom(9)" to one that is none.
func (f Freedom) String() string { return worded(f, "Freedom", FreedomNames[:]...) }

// Direction is the axis along which, or about which when it turns, the freedom moves.
func (f Freedom) Direction() (axis r3.Vec, turning bool) {
	return Axis(f % 3).Direction(), f >= TurnX
}

// StandardGravity is that of the CGPM of 1901, exact by definition, mm/s².
const StandardGravity = 9806.65

// Machine is what the builder wrote, evaluated for one option. Lengths are mm, forces N, moments N·mm, stiffnesses N/mm
// or N·mm/rad, temperatures K. Things refer to one another by their index in these lists. Fields that may be left zero
// say what that means; [Machine.Complete] writes it out.
type Machine struct {
	File   string // name for messages
	Name   string
	About  string
	Option string // the option applied; "" as drawn
	Date   string // as the builder wrote it; "": none
	Notes  []Note // in the order of the sections

	Parts   []Part
	Joints  []Joint
	Grounds []Ground
	Tool    *Tool    // nil: a frame without a tool
	Work    *Work    // set whenever Tool is
	Spindle *Spindle // nil: none stated, the tool sits in its part without give
	Masses  []Mass   // what is clamped or screwed on and is no part
	Points  []Point
	Loads   []Load // the cuts' among them
	Cuts    []Cut
	Travel  []Path

	Axes      []FeedAxis
	Positions []Position

	Misfits []Misfit
	Shims   []Shimmed // beside those of Joint.Shim, which are drawn and correct nothing
}

// Part is one piece of metal (or wood, or stone): exactly one of Plate, Gusset, Bar and Other is set.
type Part struct {
	Name     string
	Pos      FilePos
	Material beam.Material
	Plate    *Plate
	Gusset   *Gusset
	Bar      *Bar
	Other    Kind // for kinds that frame/structure registers in kinds; of another kind nothing builds it
}

// Plate is a rectangular block with its edges along the world's axes, or what is sawn from it; From is below To in every
// axis, mm.
type Plate struct {
	From, To r3.Vec
	// Outline is what the block is sawn to, square to its least extent: loops as beam.CleanOutline leaves them, corners
	// along the other two of the world's axes in order, mm. The box round it is the block's. nil: all of the block.
	Outline outline.Shape
}

// Gusset is a right triangle with its legs along two of the world's axes, extruded along the third; mm.
type Gusset struct {
	Corner    r3.Vec    // the right-angled corner
	Legs      [2]r3.Vec // from Corner along the two edges, mm
	Thickness r3.Vec    // extrusion from Corner, mm
}

// Bar is a straight member of constant section from one end of its centroid line to the other.
type Bar struct {
	From, To r3.Vec // mm
	Shape    beam.Shape
	Section  beam.Section // of Shape in the part's material; zero: it is worked out
	Up       r3.Vec       // which way the section's height points: unit length, square to the bar; zero: see SquareUp
}

// Joint holds two parts together where they touch. Exactly one of Bonded, Screws and Sprung applies.
type Joint struct {
	Pos     FilePos
	Parts   [2]int // indices into Machine.Parts
	Bonded  bool   // glued or welded all over: no give of its own
	Screws  *Screws
	Sprung  *Sprung
	Surface joint.Surface // of the two faces of a screwed joint; zero: DefaultSurface
	Shim    *Shim         // between them; nil: none
	Drilled Drilled       // of a screwed joint: which of its two parts has the through holes; zero: the thinner one

	// Moved is how far the joint has gone with its parts since the places of its screws were given, mm.
	Moved r3.Vec
}

// Drilled says which of a screwed joint's two parts has the through holes; the other one has the threads.
type Drilled int

// The parts that can be drilled through.
const (
	DrilledThinner Drilled = iota // the one that is thinner along the screw; of two alike the first
	DrilledFirst                  // Joint.Parts[0]
	DrilledSecond                 // Joint.Parts[1]
)

// Screws says which screws a joint has and where: Grid, or At. Size holds their property class and the diameter of
// their through holes too, its Clearance.
type Screws struct {
	Size joint.Screw
	Grid [2]int       // along the first and second world axis of the contact face; zero when At is used
	At   [][2]float64 // places along the same two axes, mm
	// TorqueNmm is the tightening torque, N·mm; 0: the usual share of proof load, less into a short thread in aluminium.
	TorqueNmm float64
	Head      joint.Head // HeadUnsaid: proud where the drawing leaves room for it, else sunk
	Pos       FilePos
	TorquePos FilePos // zero: that of the screws
}

// Sprung joins two bars where they meet: tied in every freedom but those set loose or sprung.
type Sprung struct {
	Loose     [6]bool    // freedoms in which the parts are not joined at all
	Stiffness [6]float64 // N/mm, N·mm/rad; 0: tied (or loose)
	Unsure    []Unsure   // of Stiffness, by FreedomNames
}

// Shim is a layer between two screwed faces.
type Shim struct {
	Key       string // material key as written
	Material  beam.Material
	Thickness float64 // mm
	Paper     bool    // its stiffness follows the pressure on it, as paper's does, whatever Material says of E
}

// Ground is where a part meets the bench, the floor or an ideal support. Exactly one way applies.
type Ground struct {
	Name   string // for settlement; "" when none was given
	Number int    // from 1, among all that some option has, so that it is the same in each; 0: its place among the grounds
	Pos    FilePos
	Part   int

	Face       Face         // for Fixed, Feet and a plate's BedNPerMM3; zero is Left, not "none said"
	Fixed      bool         // the whole face does not move
	Strip      *Region      // a region of a face that does not move
	Feet       [][2]float64 // places on Face, along its two world axes, mm
	Normal     float64      // stiffness of each foot square to the face, N/mm
	Side       float64      // stiffness of each foot along the face, N/mm; 0: SideShare of Normal
	At         *r3.Vec      // place of Hold, Spring or Skew, mm
	Hold       [6]bool      // freedoms held at At
	Spring     [6]float64   // springs to ground at At, N/mm and N·mm/rad
	Skew       *Skew        // one spring along any direction, at At
	Bed        [3]float64   // elastic bed along a bar, N/mm per mm of length (N/mm²), by world axis
	BedNPerMM3 float64      // elastic bed under a plate's Face, N/mm³: pressure per deflection
	Unsure     []Unsure     // "stiffness" of Normal and Skew, "side", "bed", of Spring by FreedomNames
}

// NameAt is the name that answers give a ground that is this one, from 0, of its machine's: its own or its number.
func (g *Ground) NameAt(index int) string {
	return cmp.Or(g.Name, fmt.Sprint(cmp.Or(g.Number, index+1)))
}

// Skew is a spring to ground along a direction that need not be an axis.
type Skew struct {
	Direction r3.Vec  // unit length
	Stiffness float64 // N/mm
}

// Region is a flat box, one of its sides zero: the part of a face between two corners, mm.
type Region struct{ From, To r3.Vec }

// Tool is the cutter: where its tip is and how far it sticks out of the part that holds it.
type Tool struct {
	Pos      FilePos
	Part     int
	At       r3.Vec  // the tip, mm; with Stickout 0 it lies on or in Part
	Stickout float64 // mm; 0: the tip moves with the part
	Diameter float64 // over the flutes, mm
	Material beam.Material

	Flutes   int     // 0: a plain round bar
	Helix    float64 // of the flutes, rad
	Entering float64 // angle between edge and plane of the feed, rad
	Core     float64 // diameter of the round bar that bends like the flutes, mm; 0: that usual for so many, or Diameter
	Shank    *Shank  // between flutes and grip; nil: flutes all the way
	Holder   *Holder // nil: it grips without give
}

// Work is the part that the work is clamped to. The tool pushes on it where its tip is: whatever lies between the part
// and the tip is one rigid block.
type Work struct {
	Pos    FilePos
	Part   int
	At     *r3.Vec // mm; nil: the spot of the part under the tool
	Height float64 // of the work, with what holds it, over the spot, mm; 0: not said
}

// Mass is something that hangs on a part, goes along with it and gives it no stiffness: a vise, a motor, a
// counterweight.
type Mass struct {
	Name  string
	Pos   FilePos
	Part  int
	At    r3.Vec  // its centre, mm: on a rigid arm from the nearest metal of the part
	Tonne float64 // tonne
}

// Point is a named place on a part: loads on it are spread over its patch, its movement is the patch's mean.
type Point struct {
	Name  string
	Pos   FilePos
	Part  int
	At    r3.Vec     // mm
	Patch [2]float64 // sides along the two world axes of the face it lies on, mm; zero: a point
	Stand Stand      // what its movement is read against
}

// Stand is what the movement of a point is read against.
type Stand struct {
	Kind  StandKind
	Index int // OnPart: into Machine.Parts. OnOther: into Machine.Points
}

// StandKind tells the kinds of Stand apart.
type StandKind int

// The kinds of Stand. On a part or the work the point is read as by a dial on a rigid arm that is fixed there: on the
// metal nearest to the point, or on the spot under the tool.
const (
	OnGround StandKind = iota
	OnPart
	OnWork
	OnOther // another point: the two movements apart, whatever either turns
)

// Load is a named load case: the sum of its actions.
type Load struct {
	Name    string
	Pos     FilePos
	Actions []Action
}

// Action is one thing that acts in a load case. Only the fields of its kind are set.
type Action struct {
	Kind   ActionKind
	Pos    FilePos
	Force  r3.Vec // OnTip, OnPoint: N. AlongBar: N/mm at From. Accelerating: mm/s². Weight: mm/s², zero: free fall down
	Moment r3.Vec // OnTip, OnPoint: N·mm
	Point  int    // OnPoint: index into Machine.Points
	Bar    int    // AlongBar: index into Machine.Parts
	Part   *int   // Warming: index into Machine.Parts; nil: the whole machine with its tool
	From   float64
	To     float64    // AlongBar: stretch of the bar from its From end, mm; To zero: as far as the bar goes
	End    *r3.Vec    // AlongBar: N/mm at To; nil: Force, all along
	Ground int        // Settling: index into Machine.Grounds
	Axis   int        // Accelerating: index into Machine.Axes
	Misfit int        // Misfitting: index into Machine.Misfits
	By     [6]float64 // Settling: by how much, by Freedom, mm and rad
	Rise   float64    // Warming: mean temperature change, K
	Across r3.Vec     // Warming: temperature difference between the far and the near face along each world axis, K
}

// ActionKind tells the kinds of Action apart.
type ActionKind int

// The kinds of Action.
const (
	OnTip        ActionKind = iota // force and moment on the tool's tip, and their opposite on the work
	OnPoint                        // force and moment on a point
	AlongBar                       // load per length along a bar, world directions
	Weight                         // own weight
	Settling                       // a ground moves by a given amount
	Warming                        // a change of temperature
	Accelerating                   // an axis gains speed
	Misfitting                     // what does not line up is screwed down
)

// Path is where the tip is followed: the spot under the tool goes over the work part, or axes run through their travel.
type Path struct {
	Name      string
	Pos       FilePos
	Axes      []int   // indices into Machine.Axes: one that runs, or two that span a plane; empty: only the work spot goes
	Along     Axis    // of the work spot
	From, To  float64 // of the work spot, or of the one axis, mm; both zero: all its travel, as always over a plane
	Tolerance float64 // mm; 0: none given
	Loads     []int   // indices into Machine.Loads; nil: all, or on a work spot's path all with an action on the tip
}

// Touching is how near two faces must be to count as in contact, mm: far below what a saw or a mill leaves, far above
// the rounding of inches.
const Touching = 1e-3

// Direction is the direction of an axis. It panics unless the axis is X, Y or Z.
func (a Axis) Direction() r3.Vec {
	switch a {
	case X:
		return r3.Vec{X: 1}
	case Y:
		return r3.Vec{Y: 1}
	case Z:
		return r3.Vec{Z: 1}
	}
	panic("machine: an axis that is none of X, Y and Z has no direction")
}

// Others are the two axes square to a, in order.
func (a Axis) Others() (Axis, Axis) {
	switch a {
	case X:
		return Y, Z
	case Y:
		return X, Z
	default:
		return X, Y
	}
}

// ScrewE, MPa, and ScrewNu are of a hardened steel shaft (see drive's constants for the source of 206 GPa), and so is
// ScrewDensity, tonne/mm³.
const (
	ScrewE       = 206e3
	ScrewNu      = 0.3
	ScrewDensity = 7.83e-9
)

// Component gives one of the three components of a vector. It panics unless the axis is X, Y or Z.
func Component(v r3.Vec, a Axis) float64 {
	switch a {
	case X:
		return v.X
	case Y:
		return v.Y
	case Z:
		return v.Z
	}
	panic("machine: a vector has no component along an axis that is none of X, Y and Z")
}

// Parallel is the sine below which two directions count as parallel: closer, rounding would decide which way is
// square to both.
const Parallel = 1e-6

// OnTip tells whether something in the load acts on the tool's tip.
func (l Load) OnTip() bool {
	return slices.ContainsFunc(l.Actions, func(a Action) bool { return a.Kind == OnTip })
}
