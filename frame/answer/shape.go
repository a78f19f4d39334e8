package answer

import "math"

// Shape is what a machine looks like, coarsely, and how every corner of it moves under each load: for drawing, and no
// part of an answer's JSON.
type Shape struct {
	Option string             // as [Result.Name]
	AtMM   map[string]float64 // where the axes stand; nil without axes
	Loads  []string           // in the order of the machine
	Tip    *ShapeTip          // nil: no tool
	Bodies []ShapeBody        // parts in their order, then what is fitted to them
}

// ShapeTip is where the tool cuts. What the tip moves against the work is the difference of the two.
type ShapeTip struct {
	AtMM   [3]float64
	ToolMM [][3]float64 // movement by load
	WorkMM [][3]float64
}

// ShapeBody is the surface of a part, or of what is fitted to parts.
type ShapeBody struct {
	Name     string
	Kind     ShapeKind
	Material string  // key; "" where none is said
	MassKg   float64 // 0: not known, or counted with another
	Source   string  // under which its energy is counted, as in [Share]; "" for none

	AtMM      [][3]float64   // corners, mm
	Triangles [][3]int       // of corners, anticlockwise seen from outside
	Edges     [][2]int       // pieces of the edges that are drawn
	MovedMM   [][][3]float64 // movement by load and corner, mm
}

// ShapeKind is what a body is, which decides how it is drawn.
type ShapeKind string

// The kinds. Parts have the kinds of [PartLine].
const (
	ShapePlate    ShapeKind = "plate"
	ShapeGusset   ShapeKind = "gusset"
	ShapeBar      ShapeKind = "bar"
	ShapeRail     ShapeKind = "rail"
	ShapeCarriage ShapeKind = "carriage"
	ShapeScrew    ShapeKind = "screw" // of a drive
	ShapeBelt     ShapeKind = "belt"
	ShapeNut      ShapeKind = "nut" // or the clamp of a belt, or a pinion
	ShapeMotor    ShapeKind = "motor"
	ShapeMass     ShapeKind = "mass" // what hangs on a part, as big as steel of its mass
	ShapeFoot     ShapeKind = "foot"
	ShapeGround   ShapeKind = "ground"
	ShapeTool     ShapeKind = "tool"
	ShapeWork     ShapeKind = "work"
)

// IsPart tells whether the body is one of the machine's parts.
func (b *ShapeBody) IsPart() bool {
	return b.Kind == ShapePlate || b.Kind == ShapeGusset || b.Kind == ShapeBar
}

// drawnMove is the length that the largest movement of a shape is drawn with, as a share of the shape's diagonal.
const drawnMove = 0.06

// Magnification is how many times as far as it is a load's movement is best drawn, the load by its number: 1, 2 or 5
// times a power of ten, never less than one; one where nothing moves. The tip is not drawn so far off that the machine
// seems to come apart: by no more than half of what the tool sticks out or half of the thinnest part, whichever is more.
// It panics where there is no such load.
func (s *Shape) Magnification(load int) float64 {
	lo, hi := [3]float64{}, [3]float64{}
	most, out, thinnest := 0.0, 0.0, math.Inf(1)
	for i, b := range s.Bodies {
		from, to := b.box()
		for k := range lo {
			if i == 0 {
				lo[k], hi[k] = from[k], to[k]
			}
			lo[k], hi[k] = min(lo[k], from[k]), max(hi[k], to[k])
		}
		for _, v := range b.MovedMM[load] {
			most = max(most, length(v))
		}
		x, y, z := to[0]-from[0], to[1]-from[1], to[2]-from[2]
		switch {
		case b.Kind == ShapeTool:
			out = max(out, x, y, z)
		case b.IsPart():
			thinnest = min(thinnest, x, y, z)
		}
	}
	raw := drawnMove * length([3]float64{hi[0] - lo[0], hi[1] - lo[1], hi[2] - lo[2]}) / most
	if s.Tip != nil && !math.IsInf(thinnest, 1) {
		tool, work := s.Tip.ToolMM[load], s.Tip.WorkMM[load]
		off := length([3]float64{tool[0] - work[0], tool[1] - work[1], tool[2] - work[2]})
		raw = min(raw, max(out, thinnest)/2/off)
	}
	if most == 0 || !(raw > 1) {
		return 1
	}
	ten := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, digit := range []float64{5, 2} {
		if digit*ten <= raw {
			return digit * ten
		}
	}
	return ten
}

// box is that round a body along the axes; corners there are.
func (b *ShapeBody) box() (lo, hi [3]float64) {
	for i, p := range b.AtMM {
		for k := range p {
			if i == 0 {
				lo[k], hi[k] = p[k], p[k]
			}
			lo[k], hi[k] = min(lo[k], p[k]), max(hi[k], p[k])
		}
	}
	return lo, hi
}

// length is that of a vector.
func length(v [3]float64) float64 { return math.Hypot(math.Hypot(v[0], v[1]), v[2]) }
