package frame_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"tiploop/beam"
	"tiploop/frame"
	"tiploop/testdata/checks"
)

// split cuts a member at a share of its length, and the line loads on it with it. The second half comes last.
func (p *plan) split(member int, share float64) *plan {
	q := p.clone()
	m := p.members[member]
	start, end := r3.Add(p.nodes[m.Ends[0]], m.Arms[0]), r3.Add(p.nodes[m.Ends[1]], m.Arms[1])
	q.nodes = append(q.nodes, r3.Add(start, r3.Scale(share, r3.Sub(end, start))))
	first, second := m, m
	first.Ends[1], first.Arms[1] = len(q.nodes)-1, r3.Vec{}
	second.Ends[0], second.Arms[0] = len(q.nodes)-1, r3.Vec{}
	q.members[member] = first
	q.members = append(q.members, second)

	q.lines = nil
	for _, l := range p.lines {
		if l.Member != member {
			q.lines = append(q.lines, l)
			continue
		}
		at := func(x float64) r3.Vec {
			part := (x - l.From) / (l.To - l.From)
			return r3.Add(r3.Scale(1-part, l.AtFrom), r3.Scale(part, l.AtTo))
		}
		if l.From < share {
			to := math.Min(l.To, share)
			q.lines = append(
				q.lines,
				frame.Line{Member: member, From: l.From / share, To: to / share, AtFrom: l.AtFrom, AtTo: at(to)},
			)
		}
		if l.To > share {
			from, rest := math.Max(l.From, share), 1-share
			q.lines = append(
				q.lines,
				frame.Line{
					Member: len(q.members) - 1,
					From:   (from - share) / rest,
					To:     (l.To - share) / rest,
					AtFrom: at(from),
					AtTo:   l.AtTo,
				},
			)
		}
	}
	for _, w := range p.warm {
		if w.Member == member {
			w.Member = len(q.members) - 1
			q.warm = append(q.warm, w)
		}
	}
	return q
}

// A member is exact between its ends, so a cut anywhere changes nothing. (On a bed it is not: see the published beds.)
func TestSplittingAMemberChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t).withoutBeds()
		c := chance{rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "cut seed"), 5))}
		for m := range p.members {
			p.warm = append(
				p.warm,
				frame.Warm{Member: m, Mean: c.between(-10, 10), GradY: c.between(-1, 1) / p.size, GradZ: c.between(-1, 1) / p.size},
			)
		}
		b, s := solvePlan(t, p, upright)
		cut, answer := solvePlan(t, p.split(c.IntN(len(p.members)), c.between(0.05, 0.95)), upright)
		whole, halves := s.U[:6*len(p.nodes)], answer.U[:6*len(p.nodes)]
		requireAlike(t, halves, whole, randomTolerance, "nodes")
		requireAlike(t, cut.reactions(answer), b.reactions(s), randomTolerance, "reactions")
	})
}

// The local axes: x along the member, z towards up, y completing them. A bar with different stiffness in all directions
// tells which is which. Published closed form: F·L³/(3·E·I) and T·L/(G·J).
func TestLocalAxes(t *testing.T) {
	const length = 100.
	m := beam.Material{E: 7e4, Nu: 0.25}
	section := beam.Section{A: 50, Iy: 1000, Iz: 200, J: 300} // stiffest against bending along its height
	for _, row := range []struct {
		name          string
		along, up     r3.Vec
		height, width r3.Vec
	}{
		{"square", axisX, axisZ, axisZ, axisY},
		{"leaning", axisX, r3.Vec{X: 5, Y: 1}, axisY, axisZ},
		{"turned", axisY, axisX, axisX, axisZ},
		{"no up: z", axisX, still, axisZ, axisY},
		{"no up along z: y", axisZ, still, axisY, axisX},
		{"up along the member: z", axisY, axisY, axisZ, axisX},
		{"up along a member along z: y", axisZ, r3.Vec{Z: -2}, axisY, axisX},
	} {
		t.Run(row.name, func(t *testing.T) {
			f := &frame.Frame{}
			a, b := f.AddNode(r3.Vec{X: 1, Y: 2, Z: 3}), f.AddNode(r3.Add(r3.Vec{X: 1, Y: 2, Z: 3}, r3.Scale(length, row.along)))
			bar := f.AddMember(frame.Member{Ends: [2]int{a, b}, Up: row.up, Section: section, Made: m})
			hold(f, a, clamped)
			system, err := f.Factor()
			require.NoError(t, err)
			for _, want := range []struct {
				form   frame.Form
				moved  float64
				atRoot [6]float64 // forces of the first node on the member; y is square to up and along
			}{
				{frame.Move(b, still, row.height), length * length * length / (3 * m.E * section.Iy), [6]float64{2: -1, 4: length}},
				{frame.Move(b, still, row.width), length * length * length / (3 * m.E * section.Iz), [6]float64{1: 1, 5: length}},
				{frame.Move(b, still, row.along), length / (m.E * section.A), [6]float64{0: -1}},
				{frame.Turn(b, row.along), length / (m.G() * section.J), [6]float64{3: -1}},
			} {
				s, err := system.Solve(frame.Load{Pushes: []frame.Push{{Form: want.form, Force: 1}}})
				require.NoError(t, err)
				checks.CloseTo(t, "moved", s.Value(want.form), want.moved, 1e-12)
				got := s.EndForces(bar)
				for k, v := range want.atRoot {
					// The sign of y depends on which way width points.
					require.InDelta(t, math.Abs(v), math.Abs(got[k]), 1e-9*length, "force %d", k)
				}
			}
		})
	}
}

// A rigid arm is as good as a node at its end tied by constraints.
func TestArmsAreRigidOffsets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := chance{rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 6))}
		arm := r3.Scale(c.log(1, 100), c.direction())
		end := r3.Scale(c.log(50, 500), c.direction())
		section, m := c.section(20), c.material(memberModulus)
		direction := c.direction()
		f := &frame.Frame{}
		root, armed := f.AddNode(still), f.AddNode(r3.Sub(end, arm))
		hold(f, root, clamped)
		f.AddMember(frame.Member{Ends: [2]int{root, armed}, Arms: [2]r3.Vec{{}, arm}, Up: axisZ, Section: section, Made: m})
		far, tied := f.AddNode(end), f.AddNode(r3.Sub(end, arm))
		f.AddMember(frame.Member{Ends: [2]int{root, far}, Up: axisZ, Section: section, Made: m})
		for _, d := range world {
			f.Constrain(frame.Constraint{Form: frame.Move(tied, arm, d).Plus(-1, frame.Move(far, still, d))})
			f.Constrain(frame.Constraint{Form: frame.Turn(tied, d).Plus(-1, frame.Turn(far, d))})
		}
		moved := func(n int) []float64 { return solve(t, f, push(n, direction, 1)).U[6*n : 6*n+6] }
		requireAlike(t, moved(armed), moved(tied), 1e-9, "tip")
	})
}
