package frame_test

import (
	"fmt"
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

var aluminium = beam.Material{E: 7e4, Nu: 0.33, Density: 2.7e-9, Expansion: 23e-6}

// A long strip, held at its first node and loaded at its last, is a bar: beam theory's EA, EI, GJ (of the exact section
// constant) and shear area, from Timoshenko & Goodier, Theory of Elasticity, 3rd ed., art. 109, and Gere & Timoshenko.
func TestLongStripIsABar(t *testing.T) {
	const length, width, thick, load = 1200., 60., 12., 100.
	section, err := beam.Rect{Width: width, Height: thick}.Section(aluminium.Nu)
	require.NoError(t, err)
	e, g, shear := aluminium.E, aluminium.G(), 5./6*aluminium.G()*section.A
	cube := length * length * length
	s := newSheet(length, width, thick, aluminium, 12)
	nodes := s.strip.Nodes()
	hold(&s.Frame, nodes[0], clamped)
	system, err := s.Factor()
	require.NoError(t, err)
	tip := nodes[len(nodes)-1]
	for _, row := range []struct {
		name string
		form frame.Form
		want float64 // per unit load
		tol  float64
	}{
		{"stretch", frame.Move(tip, still, axisX), length / (e * section.A), 1e-9},
		// ends keep no shape across
		{"bending in the plane", frame.Move(tip, still, axisY), cube/(3*e*section.Iz) + length/shear, 1e-4},
		// ends bend across
		{"bending out of the plane", frame.Move(tip, still, axisZ), cube/(3*e*section.Iy) + length/shear, 1e-4},
		{"turning", frame.Turn(tip, axisY), length / (e * section.Iy), 1e-9},
		{"torsion", frame.Turn(tip, axisX), length / (g * section.J), 2e-3}, // ends warp a little
	} {
		answer, err := system.Solve(frame.Load{Pushes: []frame.Push{{Form: row.form, Force: load}}})
		require.NoError(t, err)
		checks.CloseTo(t, row.name, answer.Value(row.form)/load, row.want, row.tol)
	}
}

// A strip as a cantilever has a member's stress: of bending 6·P·l/(b·t²) and 6·P·l/(t·b²), of torsion T/Wt (Timoshenko
// & Goodier, art. 109), and of a force off its middle both.
func TestStressOfAStrip(t *testing.T) {
	const length, width, thick, load, off = 200., 30., 10., 100., 12.
	section, err := beam.Rect{Width: width, Height: thick}.Section(aluminium.Nu)
	require.NoError(t, err)
	s := newSheet(length, width, thick, aluminium, 40)
	hold(&s.Frame, s.strip.Nodes()[0], clamped)
	tip := s.strip.Nodes()[40]
	shear := math.Sqrt(3) * load
	for name, tt := range map[string]struct {
		push frame.Form
		want float64
	}{
		"flatwise": {frame.Move(tip, still, axisZ), math.Hypot(6*load*length/(width*thick*thick), shear*section.TauZ)},
		"edgewise": {frame.Move(tip, still, axisY), math.Hypot(6*load*length/(thick*width*width), shear*section.TauY)},
		"twist":    {frame.Turn(tip, axisX), shear / section.Wt},
		"off the middle": {s.strip.Move(r3.Vec{X: length, Y: off}, axisZ),
			math.Hypot(6*load*length/(width*thick*thick), shear*(section.TauZ+off/section.Wt))},
	} {
		mpa, at, ok := solve(t, &s.Frame, frame.Load{Pushes: []frame.Push{{Form: tt.push, Force: load}}}).
			StripStress(s.strip, section)
		require.True(t, ok)
		require.InEpsilon(t, tt.want, mpa, 1e-6, name)
		if name != "twist" {
			require.Equal(t, still, at, name)
		}
	}
	warm := solve(t, &s.Frame, frame.Load{Swollen: s.strip.Warmed(20, r3.Vec{Z: 1.5})})
	mpa, _, _ := warm.StripStress(s.strip, section)
	require.Less(t, mpa, 1e-6*aluminium.E*aluminium.Expansion*20, "warmed alike and free")
}

// What stands beside a strip hangs on it by a rigid arm. By beam theory (Gere & Timoshenko, Mechanics of Materials), a
// cantilever that is pushed through an arm of length e beyond its end and c aside from its middle sinks there by
// F·(L³/3 + L²·e + L·e²)/(E·I) + F·L/(G·A_s) + F·c²·L/(G·J), and pushed along it by F·c²·L/(E·I) in its plane +
// F·L/(E·A). What the ends bend and warp by themselves is 1 % of that; a force along it on a point of the end gives
// another 6e-6 mm/N there, which beam theory has no word for.
func TestArmBesideAStrip(t *testing.T) {
	const length, width, thick = 1200., 60., 12.
	section, err := beam.Rect{Width: width, Height: thick}.Section(aluminium.Nu)
	require.NoError(t, err)
	e, g, shear := aluminium.E, aluminium.G(), 5./6*aluminium.G()*section.A
	s := newSheet(length, width, thick, aluminium, 24)
	hold(&s.Frame, s.strip.Nodes()[0], clamped)
	for _, beyond := range []float64{0, 80} {
		for _, aside := range []float64{-180, 0, 30, 45, 100} {
			at := r3.Vec{X: length + beyond, Y: aside}
			sinks := (length*length*length/3+length*length*beyond+length*beyond*beyond)/(e*section.Iy) + length/shear +
				aside*aside*length/(g*section.J)
			follows := aside*aside*length/(e*section.Iz) + length/(e*section.A)
			down, along := s.strip.Move(at, axisZ), s.strip.Move(at, axisX)
			name := fmt.Sprintf("%g beyond, %g aside", beyond, aside)
			checks.CloseTo(t, name, solve(t, &s.Frame, unit(down)).Value(down), sinks, 1e-2)
			require.InDelta(t, follows, solve(t, &s.Frame, unit(along)).Value(along), 6e-6, name+", along")
		}
	}
}

// unit is a unit force on a form.
func unit(form frame.Form) frame.Load {
	return frame.Load{Pushes: []frame.Push{{Form: form, Force: 1}}}
}

// Between sections far from the ends a strip twists by Saint-Venant's rate, whatever its proportions and the spacing of
// its nodes. A plate whose transverse shear acts on 5/6 of its thickness has the torsion constant b·t³/3·(1 − 0.63·t/b)
// of itself: the shear that turns round at the long edges is in it. Degree eight leaves 0.8 % of it.
func TestStripTwistsAsSaintVenantSays(t *testing.T) {
	const width = 60.
	for _, slimness := range []float64{1, 2, 5, 12, 30, 100} {
		thick := width / slimness
		section, err := beam.Rect{Width: width, Height: thick}.Section(aluminium.Nu)
		require.NoError(t, err)
		for _, stretches := range []int{20, 200} {
			s := newSheet(20*width, width, thick, aluminium, stretches)
			hold(&s.Frame, s.strip.Nodes()[0], clamped)
			near, far := s.strip.Nodes()[stretches/4], s.strip.Nodes()[3*stretches/4]
			answer := solve(
				t,
				&s.Frame,
				frame.Load{Pushes: []frame.Push{{Form: frame.Turn(s.strip.Nodes()[stretches], axisX), Force: 1}}},
			)
			twist := answer.Value(frame.Turn(far, axisX)) - answer.Value(frame.Turn(near, axisX))
			checks.CloseTo(
				t,
				fmt.Sprintf("b/t %g, %d stretches", slimness, stretches),
				twist,
				10*width/(aluminium.G()*section.J),
				8e-3,
			)
		}
	}
}

// Halving the spacing of nodes quarters the error.
func TestStripConvergesWithItsNodes(t *testing.T) {
	off := func(stretches int) float64 {
		s := newSheet(400, 300, 4, aluminium, stretches)
		for _, e := range []edge{start, end, left, right} {
			s.support(e, clamp)
		}
		s.inPlane()
		return solve(t, &s.Frame, s.pressed(0.01)).Value(s.rises(200, 0))
	}
	coarse, middle, fine, finest := off(16), off(32), off(64), off(128)
	limit := (4*finest - fine) / 3
	for _, ratio := range []float64{(coarse - limit) / (middle - limit), (middle - limit) / (fine - limit)} {
		if !(ratio > 3.5 && ratio < 4.5) {
			t.Errorf("error falls by %.3g when the spacing is halved, not by 4", ratio)
		}
	}
}

// Held so that it bends into a cylinder, a plate has the closed form of a beam of stiffness D = E·t³/(12·(1−ν²)):
// 5·q·b⁴/(384·D) + q·b²/(8·κGt) over a span b, P·L³/(3·D·b) + P·L/(κGtb) for a cantilever (Timoshenko &
// Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed., art. 2; shear by Timoshenko's beam).
func TestCylindricalBending(t *testing.T) {
	const length, width, thick, load = 200., 150., 10., 3.
	bending := aluminium.E * thick * thick * thick / (12 * (1 - aluminium.Nu*aluminium.Nu))
	shear := 5. / 6 * aluminium.G() * thick

	across := newSheet(length, width, thick, aluminium, 7)
	across.support(left, hard)
	across.support(right, hard)
	across.inPlane()
	for _, x := range across.places { // sections stay upright
		for _, y := range sectionSpots(width) {
			across.Constrain(frame.Constraint{Form: across.strip.Turn(r3.Vec{X: x, Y: y}, axisY), Name: "upright"})
		}
	}
	want := 5*load*math.Pow(width, 4)/(384*bending) + load*width*width/(8*shear)
	for _, x := range []float64{0, 71, length} {
		answer := solve(t, &across.Frame, across.pressed(load))
		checks.CloseTo(t, fmt.Sprint("across at ", x), answer.Value(across.rises(x, 0)), want, 1e-9)
	}

	along := newSheet(length, width, thick, aluminium, 40)
	along.support(start, clamp)
	along.inPlane()
	for _, x := range along.places { // no bending across
		for _, y := range sectionSpots(width) {
			along.Constrain(frame.Constraint{Form: along.strip.Turn(r3.Vec{X: x, Y: y}, axisX), Name: "straight"})
		}
	}
	answer := solve(t, &along.Frame, along.pushed(length, 0, load))
	want = load*length*length*length/(3*bending*width) + load*length/(shear*width)
	mean := 0.0
	for _, y := range []float64{-0.5, 0.5} { // Gauss's two points: a load on the middle spreads within the last section
		mean += answer.Value(along.rises(length, y*width/math.Sqrt(3))) / 2
	}
	checks.CloseTo(t, "along", mean, want, 2e-3)
}

// A strip under end moments is exact with two nodes, and so is what it reads between them: w = M·x²/(2·E·I),
// saddle-shaped by ν (Timoshenko & Goodier, art. 102).
func TestMomentBendsTheStripIntoASaddle(t *testing.T) {
	const length, width, thick, moment = 300., 120., 10., 5000.
	s := newSheet(length, width, thick, aluminium, 1)
	hold(&s.Frame, s.strip.Nodes()[0], clamped)
	inertia := width * thick * thick * thick / 12
	answer := solve(t, &s.Frame, frame.Load{Pushes: []frame.Push{
		{Form: frame.Turn(s.strip.Nodes()[1], axisY), Force: moment}, // a node's is spread evenly over the section
	}})
	curvature := moment / (aluminium.E * inertia) // of the face that the moment shortens: down
	zero := answer.Value(s.rises(0, 0))
	for _, x := range []float64{0, 100, 150, 300} {
		for _, y := range []float64{-60, -20, 0, 45} {
			want := -curvature / 2 * (x*x - aluminium.Nu*y*y)
			require.InDelta(t, want, answer.Value(s.rises(x, y))-zero, 1e-9*curvature*length*length, "%g, %g", x, y)
		}
	}
}

// A free strip that is warmed unevenly takes the shape that leaves it without stress: for a rise T + f·x + g·y + h·z,
// w = −½αh(x² + y²), u = α(T·x + ½f·(x² − y²) + g·x·y + h·x·z), v = α(T·y + f·x·y + ½g·(y² − x²) + h·y·z).
func TestWarmStripCurlsWithoutStress(t *testing.T) {
	const length, width, thick = 300., 120., 10.
	const rise, ahead, over, through = 20., 0.2, 0.3, 1.5
	s := newSheet(length, width, thick, aluminium, 3)
	hold(&s.Frame, s.strip.Nodes()[0], clamped)
	answer := solve(t, &s.Frame, frame.Load{Swollen: s.strip.Warmed(rise, r3.Vec{X: ahead, Y: over, Z: through})})
	a := aluminium.Expansion
	zero, aside := answer.Value(s.rises(0, 0)), answer.Value(s.strip.Move(still, axisY))
	ahead0 := answer.Value(s.strip.Move(still, axisX))
	for _, x := range []float64{0, 100, 130, 300} { // nodes and between
		square := x * x
		if x == 130 {
			square = 100*100 + 0.3*(200*200-100*100) // what is drawn out along the strip runs straight between nodes
		}
		for _, y := range []float64{-60, 0, 45} {
			for _, z := range []float64{-5, 0, 5} {
				at := r3.Vec{X: x, Y: y, Z: z}
				u := a * (rise*x + ahead/2*(square-y*y) + over*x*y + through*x*z)
				require.InDelta(t, u, answer.Value(s.strip.Move(at, axisX))-ahead0, 1e-10, "u at %v", at)
				v := a * (rise*y + ahead*x*y + over/2*(y*y-x*x) + through*y*z)
				require.InDelta(t, v, answer.Value(s.strip.Move(at, axisY))-aside, 1e-10, "v at %v", at)
				require.InDelta(t, -a*through/2*(x*x+y*y), answer.Value(s.strip.Move(at, axisZ))-zero, 1e-10, "w at %v", at)
			}
		}
	}
}

// A rotation of the normal is the difference of the movements of the two faces, over the thickness.
func TestTurnIsTheDifferenceOfFaces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t)
		if len(p.strips) == 0 {
			t.Skip("no strip")
		}
		b, s := solvePlan(t, p, upright)
		c := chance{rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "spot seed"), 11))}
		st := p.strips[0]
		top := p.stripSpot(0, c.Float64(), c.between(-0.5, 0.5)).at
		normal := r3.Cross(st.along, st.across)
		bottom := r3.Sub(top, r3.Scale(st.thick, normal))
		lean := func(direction r3.Vec) float64 {
			return (s.Value(b.strips[0].Move(top, direction)) - s.Value(b.strips[0].Move(bottom, direction))) / st.thick
		}
		size := largest(b.readings(s)) / st.thick
		for _, pair := range [][2]float64{
			{lean(st.along), s.Value(b.strips[0].Turn(top, st.across))},
			{-lean(st.across), s.Value(b.strips[0].Turn(top, st.along))},
		} {
			if !(math.Abs(pair[0]-pair[1]) <= 1e-12*size) {
				t.Fatalf("faces say %g, turn %g", pair[0], pair[1])
			}
		}
	})
}

func TestNodesOfAStripStandAtItsPlaces(t *testing.T) {
	f := &frame.Frame{}
	s := f.AddStrip(r3.Vec{Y: 5}, axisX, axisY, []float64{10, 30, 80}, 40, 8, aluminium, "strip")
	for i, x := range []float64{10, 30, 80} {
		require.Equal(t, r3.Vec{X: x, Y: 5}, f.Node(s.Nodes()[i]))
	}
}

func TestStripRefusesWhatIsNone(t *testing.T) {
	f := &frame.Frame{}
	for name, add := range map[string]func(){
		"one place":     func() { f.AddStrip(still, axisX, axisY, []float64{0}, 40, 8, aluminium, "strip") },
		"no width":      func() { f.AddStrip(still, axisX, axisY, []float64{0, 1}, 0, 8, aluminium, "strip") },
		"no thickness":  func() { f.AddStrip(still, axisX, axisY, []float64{0, 1}, 40, math.NaN(), aluminium, "strip") },
		"no ascent":     func() { f.AddStrip(still, axisX, axisY, []float64{0, 1, 1}, 40, 8, aluminium, "strip") },
		"not a section": func() { f.AddStrip(still, axisX, axisY, []float64{0, 1}, math.Inf(1), 8, aluminium, "strip") },
	} {
		require.Panics(t, add, name)
	}
}
