package frame_test

import (
	"fmt"
	"math"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"tiploop/frame"
)

// pose is where a plan is built: turned, perhaps mirrored, and shifted.
type pose struct {
	axes  [3]r3.Vec // where the world's axes go
	shift r3.Vec
	hand  float64 // −1 if mirrored
}

var upright = pose{axes: world, hand: 1}

func newPose(axes [3]r3.Vec, shift r3.Vec) pose {
	return pose{axes, shift, math.Round(r3.Dot(axes[0], r3.Cross(axes[1], axes[2])))}
}

func (p pose) vector(v r3.Vec) r3.Vec {
	return r3.Add(r3.Add(r3.Scale(v.X, p.axes[0]), r3.Scale(v.Y, p.axes[1])), r3.Scale(v.Z, p.axes[2]))
}

func (p pose) place(v r3.Vec) r3.Vec { return r3.Add(p.shift, p.vector(v)) }

// axial is the image of a rotation or a moment.
func (p pose) axial(v r3.Vec) r3.Vec { return r3.Scale(p.hand, p.vector(v)) }

// built is a plan made into a frame.
type built struct {
	frame.Frame
	plan      *plan
	pose      pose
	ties      []int // a constraint or a spring
	strips    []*frame.Strip
	triangles []*frame.Triangle
}

func (p *plan) build(at pose) *built {
	b := &built{plan: p, pose: at}
	for _, n := range p.nodes {
		b.AddNode(at.place(n))
	}
	for _, m := range p.members {
		m.Up = at.vector(m.Up)
		for e := range m.Arms {
			m.Arms[e] = at.vector(m.Arms[e])
		}
		m.Section.Iyz *= at.hand // y = z × x goes the other way in a mirror
		m.Section.ShearY *= at.hand
		b.AddMember(m)
	}
	for _, s := range p.strips {
		b.strips = append(
			b.strips,
			b.AddStrip(at.place(s.from), at.vector(s.along), at.vector(s.across), s.places, s.width, s.thick, s.made, "strip"),
		)
	}
	for _, s := range p.triangles {
		thick := r3.Scale(s.thick, r3.Unit(r3.Cross(s.along, s.across)))
		b.triangles = append(
			b.triangles,
			b.AddTriangle(
				at.place(s.from),
				[2]r3.Vec{at.vector(s.along), at.vector(s.across)},
				at.vector(thick),
				s.made,
				"triangle",
			),
		)
	}
	for i, t := range p.ties {
		form := b.form(t.a, t.motion, t.direction).Plus(-1, b.form(t.b, t.motion, t.direction))
		if t.stiffness > 0 {
			b.ties = append(b.ties, b.AddSpring(frame.Spring{Form: form, Stiffness: t.stiffness, Source: "spring"}))
		} else {
			b.ties = append(b.ties, b.Constrain(frame.Constraint{Form: form, Name: fmt.Sprint("tie ", i)}))
		}
	}
	return b
}

// form is how a spot moves or turns; the ground does not.
func (b *built) form(s spot, m motion, direction r3.Vec) frame.Form {
	at, d := b.pose.place(s.at), b.pose.vector(direction)
	switch {
	case s.on == ground:
		return nil
	case s.on == node && m == turning:
		return frame.Turn(s.index, b.pose.axial(direction))
	case s.on == node:
		return frame.Move(s.index, r3.Sub(at, b.Node(s.index)), d)
	case s.on == strip && m == turning:
		return b.strips[s.index].Turn(at, b.pose.axial(direction))
	case s.on == strip:
		return b.strips[s.index].Move(at, d)
	case s.on == triangle && m == moving:
		return b.triangles[s.index].Move(at, d)
	}
	panic("no such form")
}

// load is the plan's load in the pose.
func (b *built) load() frame.Load {
	p := b.plan
	load := frame.Load{Gravity: b.pose.vector(p.gravity)}
	for _, a := range p.pushes {
		load.Pushes = append(load.Pushes, frame.Push{Form: b.form(a.at, a.motion, a.direction), Force: a.force})
	}
	for _, l := range p.lines {
		length := p.length(p.members[l.Member])
		load.Lines = append(load.Lines, frame.Line{
			Member: l.Member, From: l.From * length, To: l.To * length,
			AtFrom: b.pose.vector(l.AtFrom), AtTo: b.pose.vector(l.AtTo),
		})
	}
	for _, w := range p.warm {
		w.GradY *= b.pose.hand
		load.Warm = append(load.Warm, w)
	}
	return load
}

// spots are all nodes of the plan and the corners of its plates.
func (b *built) spots() (list []spot) {
	for n, at := range b.plan.nodes {
		list = append(list, spot{node, n, at})
	}
	for n := range b.strips {
		for _, s := range [][2]float64{{0, -0.5}, {0, 0.5}, {0.4, 0.1}, {1, -0.5}, {1, 0.5}} {
			list = append(list, b.plan.stripSpot(n, s[0], s[1]))
		}
	}
	for n := range b.triangles {
		for _, s := range [][2]float64{{0, 0}, {1, 0}, {0, 1}, {0.3, 0.3}} {
			list = append(list, b.plan.triangleSpot(n, s[0], s[1]))
		}
	}
	return list
}

// readings are the movements of all spots in the plan's own axes, mm, rotations times the size.
func (b *built) readings(s *frame.Solution) (list []float64) {
	for _, at := range b.spots() {
		for _, d := range world {
			list = append(list, s.Value(b.form(at, moving, d)))
			if at.on == node {
				list = append(list, b.plan.size*s.Value(b.form(at, turning, d)))
			}
		}
	}
	return list
}

// reactions are the forces of all constraints, N, moments over the size, and the first push to measure them by.
func (b *built) reactions(s *frame.Solution) []float64 {
	list := []float64{b.plan.pushes[0].force}
	for i, t := range b.plan.ties {
		switch {
		case t.stiffness > 0:
		case t.motion == turning:
			list = append(list, s.Reaction(b.ties[i])/b.plan.size)
		default:
			list = append(list, s.Reaction(b.ties[i]))
		}
	}
	return list
}

func largest(values []float64) float64 {
	size := 0.0
	for _, v := range values {
		size = math.Max(size, math.Abs(v))
	}
	return size
}

// requireAlike fails unless two lists agree within rel of the largest entry of the second.
func requireAlike(t require.TestingT, got, want []float64, rel float64, what string) {
	require.Len(t, got, len(want))
	size := largest(want)
	for i := range want {
		if e := math.Abs(got[i] - want[i]); !(e <= rel*size) {
			require.FailNow(t, what, "%d: got %.10g, want %.10g, off by %.1e of the largest", i, got[i], want[i], e/size)
		}
	}
}

// closeToRapid fails unless got is within rel of want.
func closeToRapid(t *rapid.T, what string, got, want, rel float64) {
	if e := math.Abs(got - want); !(e <= rel*math.Abs(want)) {
		t.Fatalf("%s: got %.10g, want %.10g, off by %.1e", what, got, want, e/math.Abs(want))
	}
}
