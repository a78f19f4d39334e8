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

// A flat bar 40 wide and 20 high, 600 mm long, and its section modulus.
const (
	barLength  = 600.
	barModulus = 40. * 20 * 20 / 6
)

func sectionOf(t require.TestingT, shape beam.Shape) beam.Section {
	s, err := shape.Section(0.3)
	require.NoError(t, err)
	return s
}

// stressedBar is a bar from the origin along a direction, its height towards up, held at its first node and, in the
// freedoms given, at its second.
func stressedBar(t require.TestingT, shape beam.Shape, along, up r3.Vec, farHeld string) *frame.Frame {
	f := &frame.Frame{}
	m := beam.Material{E: 7e4, Nu: 0.3, Density: 2.7e-9, Expansion: 23e-6}
	nodes, _ := chain(f, sectionOf(t, shape), m, up, still, r3.Scale(barLength, along))
	hold(f, nodes[0], clamped)
	if farHeld != "" {
		hold(f, nodes[1], farHeld)
	}
	return f
}

// even is a load per length on the whole first member.
func even(q r3.Vec) frame.Load {
	return frame.Load{Lines: []frame.Line{{To: barLength, AtFrom: q, AtTo: q}}}
}

func TestMemberStress(t *testing.T) {
	flat, bar := beam.Rect{Width: 40, Height: 20}, beam.Round{Diameter: 16}
	const q, weight = 2., 2.7e-9 * 800 * 9810
	withShear := func(normal, force, area float64) float64 { return math.Hypot(normal, math.Sqrt(3)*1.5*force/area) }
	skew := r3.Unit(r3.Vec{X: 2, Y: -1, Z: 2})
	supported := func() *frame.Frame { // on two supports
		f := &frame.Frame{}
		chain(
			f,
			sectionOf(t, flat),
			beam.Material{E: 7e4, Nu: 0.3, Density: 2.7e-9},
			axisZ,
			still,
			r3.Scale(barLength, axisX),
		)
		hold(f, 0, hinged)
		hold(f, 1, "12")
		return f
	}
	for _, tt := range []struct {
		name, source string
		frame        *frame.Frame
		load         frame.Load
		want, at     float64 // MPa, mm along the member (below 0: anywhere)
		tol          float64
	}{
		{"cantilever", "F·L/W and 3/2·F/A at the root; any text", stressedBar(t, flat, axisX, axisZ, ""),
			push(1, axisZ, -100),
			withShear(100*barLength/barModulus, 100, 800), 0, 1e-9},
		{"cantilever askew", "the same", stressedBar(t, flat, skew, r3.Cross(skew, axisX), ""),
			push(1, r3.Unit(r3.Cross(skew, axisX)), -100),
			withShear(100*barLength/barModulus, 100, 800), 0, 1e-9},
		{"supported, even load", "q·L²/8/W; any text", supported(), even(r3.Vec{Z: -q}),
			q * barLength * barLength / 8 / barModulus, 300, 1e-9},
		{"supported, own weight", "the same with ρ·A·g", supported(), frame.Load{Gravity: r3.Vec{Z: -9810}},
			weight * barLength * barLength / 8 / barModulus, 300, 1e-9},
		{"supported, load rising", "q·L²/(9√3)/W at L/√3; Roark's beam table (from memory)", supported(),
			frame.Load{Lines: []frame.Line{{To: barLength, AtTo: r3.Vec{Z: -q}}}},
			q * barLength * barLength / (9 * math.Sqrt(3)) / barModulus, barLength / math.Sqrt(3), 1e-9},
		{"supported, loaded on its first third", "R²/2q at R/q, R = 5·q·a/6; statics", supported(),
			frame.Load{Lines: []frame.Line{{To: 200, AtFrom: r3.Vec{Z: -q}, AtTo: r3.Vec{Z: -q}}}},
			math.Pow(5*q*200/6, 2) / (2 * q) / barModulus, 5. / 6 * 200, 1e-9},
		{"built in at both ends", "q·L²/12 and q·L/2 at an end; any text", stressedBar(t, flat, axisX, axisZ, clamped),
			even(r3.Vec{Z: -q}),
			withShear(q*barLength*barLength/12/barModulus, q*barLength/2, 800), -1, 1e-9},
		{"shaft", "√3·T·r/J; any text", stressedBar(t, bar, axisX, axisZ, ""),
			frame.Load{Pushes: []frame.Push{{Form: frame.Turn(1, axisX), Force: 5e4}}},
			math.Sqrt(3) * 5e4 * 16 / (math.Pi * 16 * 16 * 16), -1, 1e-9},
		{"shaft bent and twisted", "√(σ²+3τ²); texts on machine elements", stressedBar(t, bar, axisX, axisZ, ""),
			frame.Load{Pushes: []frame.Push{{Form: frame.Turn(1, axisX), Force: 5e4}, {Form: frame.Turn(1, axisY), Force: 4e4}}},
			math.Sqrt(math.Pow(4e4*32, 2)+3*math.Pow(5e4*16, 2)) / (math.Pi * 16 * 16 * 16), -1, 1e-9},
		{"pulled", "N/A; any text", stressedBar(t, flat, axisX, axisZ, ""), push(1, axisX, 8000), 10, -1, 1e-9},
		{"held and warmed", "E·α·ΔT; any text", stressedBar(t, flat, axisX, axisZ, clamped),
			frame.Load{Warm: []frame.Warm{{Mean: 20}}},
			7e4 * 23e-6 * 20, -1, 1e-9},
		{"held and warmed on top", "E·α·G·h/2; Boley & Weiner (from memory)", stressedBar(t, flat, axisX, axisZ, clamped),
			frame.Load{Warm: []frame.Warm{{GradZ: 2}}},
			7e4 * 23e-6 * 2 * 10, -1, 1e-9},
	} {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.source)
			mpa, at, ok := solve(t, tt.frame, tt.load).MemberStress(0)
			require.True(t, ok)
			checks.CloseTo(t, tt.source, mpa, tt.want, tt.tol)
			if tt.at >= 0 {
				require.InDelta(t, tt.at, r3.Norm(at), 0.05, "place")
			}
		})
	}
}

// Heat that nothing holds back stresses nothing (Boley & Weiner, Theory of Thermal Stresses; from memory), and neither
// does no load.
func TestNoStressWithoutForce(t *testing.T) {
	f := stressedBar(t, beam.Tube{Width: 40, Height: 20, Wall: 2}, axisX, axisZ, "")
	for _, load := range []frame.Load{{}, {Warm: []frame.Warm{{Mean: 30, GradZ: 1, GradY: -2}}}} {
		mpa, _, ok := solve(t, f, load).MemberStress(0)
		require.True(t, ok)
		require.InDelta(t, 0, mpa, 1e-8)
	}
}

// A member's place is on its own line, arms left off.
func TestStressIsOnTheMembersLine(t *testing.T) {
	f := &frame.Frame{}
	a, b := f.AddNode(r3.Vec{X: 5, Y: 6, Z: 7}), f.AddNode(r3.Vec{X: 205, Y: 6, Z: 7})
	arm := r3.Vec{X: 10, Z: 30}
	m := f.AddMember(
		frame.Member{
			Ends:    [2]int{a, b},
			Arms:    [2]r3.Vec{arm, {Z: 30}},
			Up:      axisZ,
			Section: sectionOf(t, beam.Rect{Width: 40, Height: 20}),
			Made:    beam.Material{E: 7e4, Nu: 0.3},
		},
	)
	hold(f, a, clamped)
	mpa, at, ok := solve(t, f, push(b, axisZ, -100)).MemberStress(m)
	require.True(t, ok)
	checks.CloseTo(t, "F·L/W and 3/2·F/A", mpa, math.Hypot(100*190/barModulus, math.Sqrt(3)*1.5*100/800), 1e-9)
	require.InDelta(t, 0, r3.Norm(r3.Sub(at, r3.Vec{X: 15, Y: 6, Z: 37})), 1e-9)
}

func TestNoStressOfPlainNumbers(t *testing.T) {
	f := stressedBar(t, beam.Plain{A: 800, Iy: 3e4, Iz: 1e5, J: 7e4}, axisX, axisZ, "")
	mpa, at, ok := solve(t, f, push(1, axisZ, 1)).MemberStress(0)
	require.False(t, ok)
	require.Zero(t, mpa)
	require.Zero(t, at)
}

// The stress of a member under a crooked load, against the end forces of the same member cut into forty pieces before,
// under and behind the line load. The cuts pass over tops a little, so the whole member may have more by the share
// given.
func TestStressBetweenTheEnds(t *testing.T) {
	const pieces, rounding, passed = 40, 1e-6, 3e-3
	sections := []beam.Section{
		sectionOf(t, beam.Rect{Width: 40, Height: 20}),
		sectionOf(t, beam.Angle{LegY: 60, LegZ: 40, Thickness: 5}),
		sectionOf(t, beam.Pipe{Outer: 40, Wall: 3}),
	}
	least, most := 0.0, 0.0
	rapid.Check(t, func(t *rapid.T) {
		c := chance{rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 21))}
		section, m := sections[c.IntN(len(sections))], c.material(memberModulus)
		basis := c.basis()
		held := []string{"", clamped, "012"}[c.IntN(3)]
		line := frame.Line{From: barLength * c.between(0.03, 0.48), To: barLength * c.between(0.52, 0.97)}
		line.AtFrom, line.AtTo = r3.Scale(c.log(1, 10), c.direction()), r3.Scale(c.log(1, 10), c.direction())
		gravity := r3.Scale(c.log(1e3, 1e5), c.direction())
		tip := r3.Scale(c.log(1, 1000), c.direction())
		// solved cuts the member at some places and returns its members and the answer.
		solved := func(places ...float64) ([]int, *frame.Solution) {
			f := &frame.Frame{}
			var at []r3.Vec
			for _, x := range places {
				at = append(at, r3.Scale(x, basis[0]))
			}
			nodes, members := chain(f, section, m, basis[1], at...)
			last := nodes[len(nodes)-1]
			hold(f, nodes[0], clamped)
			if held != "" {
				hold(f, last, held)
			}
			load := push(last, r3.Unit(tip), r3.Norm(tip))
			load.Gravity = gravity
			along := func(x float64) r3.Vec {
				p := (x - line.From) / (line.To - line.From)
				return r3.Add(r3.Scale(1-p, line.AtFrom), r3.Scale(p, line.AtTo))
			}
			for i, member := range members {
				low, high := math.Max(line.From, places[i]), math.Min(line.To, places[i+1])
				if low < high {
					load.Lines = append(
						load.Lines,
						frame.Line{Member: member, From: low - places[i], To: high - places[i], AtFrom: along(low), AtTo: along(high)},
					)
				}
			}
			return members, solve(t, f, load)
		}
		whole, s := solved(0, barLength)
		got, at, ok := s.MemberStress(whole[0])
		require.True(t, ok)
		require.InDelta(t, 0, r3.Norm(r3.Cross(at, basis[0])), 1e-9)

		cuts := []float64{0}
		for _, to := range []float64{line.From, line.To, barLength} {
			from := cuts[len(cuts)-1]
			for i := range pieces {
				cuts = append(cuts, from+(to-from)*float64(i+1)/pieces)
			}
		}
		members, s := solved(cuts...)
		want := 0.0
		for _, member := range members {
			ends := s.EndForces(member)
			first, _ := section.Stress([6]float64(ends[:6]))
			second, _ := section.Stress([6]float64(ends[6:]))
			want = math.Max(want, math.Max(first, second))
		}
		least, most = math.Min(least, got/want-1), math.Max(most, got/want-1)
		if !(got >= want*(1-rounding) && got <= want*(1+passed)) {
			t.Fatalf("found %g, %g in pieces", got, want)
		}
	})
	t.Logf("from %.2g to %.2g more than in pieces", least, most)
}

// Twice the load is twice the stress, at the same place.
func TestMemberStressScales(t *testing.T) {
	f := stressedBar(t, beam.Rect{Width: 40, Height: 20}, axisX, axisZ, "012")
	once, at, _ := solve(t, f, even(r3.Vec{Y: 1, Z: -2})).MemberStress(0)
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.Float64Range(-5, 5).Draw(t, "k")
		mpa, place, _ := solve(t, f, even(r3.Vec{Y: k, Z: -2 * k})).MemberStress(0)
		if !(math.Abs(mpa-math.Abs(k)*once) <= 1e-9*once) {
			t.Fatalf("%g times the load: %g, once %g", k, mpa, once)
		}
		if math.Abs(k) > 1e-3 {
			require.InDelta(t, 0, r3.Norm(r3.Sub(place, at)), 1e-6)
		}
	})
}

func BenchmarkMemberStress(b *testing.B) {
	s := solve(b, stressedBar(b, beam.Rect{Width: 40, Height: 20}, axisX, axisZ, ""), even(r3.Vec{Z: 1}))
	b.ReportAllocs()
	for b.Loop() {
		s.MemberStress(0)
	}
}
