package structure

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame"
	"tiploop/frame/machine"
)

// disc is a kind of part of the test's own: a round disc square to z, with its lower face round Centre.
type disc struct {
	Centre            r3.Vec
	Radius, Thickness float64
}

func (d *disc) KindName() string { return "disc" }

func (d *disc) Shifted(by r3.Vec) machine.Kind {
	return &disc{r3.Add(d.Centre, by), d.Radius, d.Thickness}
}

// discKind models a disc as a rigid lump at its middle.
type discKind struct {
	baseKind
	disc *disc
	at   int // its node
	lump int // its block in the frame
}

func newDisc(b *body) (kind, error) {
	d, ok := b.part.Other.(*disc)
	if !ok {
		return nil, nil
	}
	reach := r3.Vec{X: d.Radius, Y: d.Radius}
	b.fills, b.hasBox = box{
		array(r3.Sub(d.Centre, reach)),
		array(r3.Add(d.Centre, r3.Add(reach, r3.Vec{Z: d.Thickness}))),
	}, true
	return &discKind{baseKind: baseKind{b}, disc: d}, nil
}

func (k *discKind) move(f *frame.Frame, s *spot, direction r3.Vec) frame.Form {
	return onArm(f, k.at, s, direction)
}

func (k *discKind) turn(_ *spot, direction r3.Vec) frame.Form { return frame.Turn(k.at, direction) }

func (k *discKind) grown(f *frame.Frame, s *spot, direction r3.Vec) float64 {
	return k.b.armGrown(f, k.at, s, direction)
}

// beyond is how far a place is outside the rim.
func (k *discKind) beyond(at r3.Vec) float64 {
	return math.Max(0, math.Hypot(at.X-k.disc.Centre.X, at.Y-k.disc.Centre.Y)-k.disc.Radius)
}

func (k *discKind) faces() (flat []facet) {
	for _, f := range k.baseKind.faces() {
		if f.normal == machine.Z {
			f.inside = func(at r3.Vec) bool { return k.beyond(at) <= machine.Touching }
			flat = append(flat, f)
		}
	}
	return flat
}

func (k *discKind) off(at r3.Vec) float64 { return math.Max(k.b.distance(at), k.beyond(at)) }

func (k *discKind) meetsBox(o box) bool {
	near := r3.Vec{
		X: math.Max(o.lo[0], math.Min(o.hi[0], k.disc.Centre.X)),
		Y: math.Max(o.lo[1], math.Min(o.hi[1], k.disc.Centre.Y)),
	}
	return k.beyond(near) == 0
}

func (k *discKind) depth(touch) (mm float64, through bool) { return 0, false }

func (k *discKind) mass() (tonne float64, centre r3.Vec) {
	volume := math.Pi * k.disc.Radius * k.disc.Radius * k.disc.Thickness
	return k.b.part.Material.Density * volume, r3.Add(k.disc.Centre, r3.Vec{Z: k.disc.Thickness / 2})
}

func (k *discKind) addTo(f *frame.Frame, _ [3]float64) {
	tonne, centre := k.mass()
	k.at = f.AddNode(centre)
	block := frame.Block{K: mat.NewSymDense(6, nil), Mass: []frame.MassPoint{{Mass: tonne}}, Source: k.b.source()}
	for i := range 6 {
		block.Freedoms = append(block.Freedoms, 6*k.at+i)
	}
	for i := machine.X; i <= machine.Z; i++ {
		block.Mass[0].Move[i] = frame.Move(k.at, r3.Vec{}, i.Direction())
	}
	k.lump = f.AddBlock(block)
}

func (k *discKind) node(*spot) int { return k.at }

func (k *discKind) nodes() []int { return []int{k.at} }

func (k *discKind) warm(*frame.Load, float64, r3.Vec) {}

func (k *discKind) inertia(out *frame.Inertia) { out.Blocks = append(out.Blocks, k.lump) }

// withDiscs makes the program know discs for a test: the line that registers a kind.
func withDiscs(t *testing.T) {
	known := kinds
	t.Cleanup(func() { kinds = known })
	kinds = append(kinds[:len(kinds):len(kinds)], newDisc)
}

var kindSteel = beam.Material{Key: "steel", E: 210e3, Nu: 0.3, Density: 7.85e-9}

// postWithDisc is a post, held at its foot, with a disc on its head.
func postWithDisc(length float64, section beam.Section, d *disc) *machine.Machine {
	all := [6]bool{true, true, true, true, true, true}
	head := d.Centre
	top := r3.Add(head, r3.Vec{Z: d.Thickness})
	return &machine.Machine{
		Name: "post with a disc",
		Parts: []machine.Part{
			{
				Name:     "post",
				Material: kindSteel,
				Bar: &machine.Bar{
					From:  r3.Sub(head, r3.Vec{Z: length}),
					To:    head,
					Up:    r3.Vec{Y: 1},
					Shape: beam.Plain{A: section.A, Iy: section.Iy, Iz: section.Iz, J: section.J, Ay: section.Ay, Az: section.Az},
				},
			},
			{Name: "disc", Material: kindSteel, Other: d},
		},
		Joints:  []machine.Joint{{Parts: [2]int{0, 1}, Bonded: true}},
		Grounds: []machine.Ground{{Part: 0, At: &r3.Vec{}, Hold: all}},
		Points: []machine.Point{
			{Name: "top", Part: 1, At: top},
			{Name: "rim", Part: 1, At: r3.Add(top, r3.Vec{X: d.Radius})},
		},
		Loads: []machine.Load{
			{
				Name:    "aside",
				Actions: []machine.Action{{Kind: machine.Weight, Force: r3.Vec{X: machine.StandardGravity}}},
			},
		},
	}
}

// A kind of part that the program does not know is one type and one line: a cantilever with a disc on its end, under
// weight that acts sideways. Handbook sum of its cases (Euler-Bernoulli, end load F and moment F·t/2 of the disc, own
// weight w): at the end u = F·L³/(3·E·I) + F·t/2·L²/(2·E·I) + w·L⁴/(8·E·I), θ = F·L²/(2·E·I) +
// F·t/2·L/(E·I) + w·L³/(6·E·I).
func TestKindOfItsOwn(t *testing.T) {
	withDiscs(t)
	const length, inertia, area = 300.0, 2e4, 400.0
	d := &disc{Centre: r3.Vec{Z: length}, Radius: 60, Thickness: 25}
	m := postWithDisc(length, beam.Section{A: area, Iy: inertia, Iz: inertia, J: 2 * inertia}, d)

	weight := kindSteel.Density * math.Pi * d.Radius * d.Radius * d.Thickness * machine.StandardGravity
	moment, own := weight*d.Thickness/2, kindSteel.Density*area*machine.StandardGravity
	ei := kindSteel.E * inertia
	u := weight*math.Pow(length, 3)/(3*ei) + moment*length*length/(2*ei) + own*math.Pow(length, 4)/(8*ei)
	theta := weight*length*length/(2*ei) + moment*length/ei + own*math.Pow(length, 3)/(6*ei)

	for _, detail := range []Detail{Section, Solid} {
		r := solveMachine(t, Builder{Detail: detail}, m)
		near(t, 1000*(u+theta*d.Thickness), r.Loads[0].PointsUm["top"][0], 1e-9, detail.String()+": top along x")
		near(t, -1000*theta*d.Radius, r.Loads[0].PointsUm["rim"][2], 1e-9, detail.String()+": rim along z")
		near(t, theta, r.Loads[0].PointsRad["top"][1], 1e-9, detail.String()+": turn about y")
	}
	model, err := buildBeams(m)
	require.NoError(t, err)
	alone := frame.Inertia{Felt: r3.Vec{X: machine.StandardGravity}}
	model.bodies[1].inertia(&alone)
	s, err := model.system.Solve(frame.Load{Inertia: []frame.Inertia{alone}})
	require.NoError(t, err)
	end := s.Value(model.bodies[0].move(model.frame, &spot{at: d.Centre}, machine.X.Direction()))
	near(t, weight*math.Pow(length, 3)/(3*ei)+moment*length*length/(2*ei), end, 1e-9, "speeded up without the post")
	inv := model.Inventory()
	require.Equal(t, "disc", inv.Parts[1].Kind)
	require.Equal(t, [3]float64{120, 120, 25}, inv.Parts[1].SizeMM)
	near(t, 1000*(weight+own*length)/machine.StandardGravity, inv.MassKg, 1e-12, "mass")
}

// The same kind on a face: a column pressed by the rigid disc on its end is shorter by F·h/(E·A), and a mesh of it
// too but for what its two ends keep from widening, some thousandths at ten times as long as wide.
func TestKindOnAFace(t *testing.T) {
	withDiscs(t)
	const side, height, force = 20.0, 200.0, 1000.0
	m := &machine.Machine{
		Name: "pressed column",
		Parts: []machine.Part{
			{Name: "column", Material: kindSteel, Plate: &machine.Plate{To: r3.Vec{X: side, Y: side, Z: height}}},
			{
				Name:     "disc",
				Material: kindSteel,
				Other:    &disc{Centre: r3.Vec{X: side / 2, Y: side / 2, Z: height}, Radius: side, Thickness: 10},
			},
		},
		Joints:  []machine.Joint{{Parts: [2]int{0, 1}, Bonded: true}},
		Grounds: []machine.Ground{{Part: 0, Face: machine.Bottom, Fixed: true}},
		Points:  []machine.Point{{Name: "middle", Part: 1, At: r3.Vec{X: side / 2, Y: side / 2, Z: height + 10}}},
		Loads: []machine.Load{
			{Name: "press", Actions: []machine.Action{{Kind: machine.OnPoint, Force: r3.Vec{Z: -force}}}},
		},
	}
	want := -1000 * force * height / (kindSteel.E * side * side)
	for detail, tol := range map[Detail]float64{Section: 1e-3, Solid: 1e-2} {
		r := solveMachine(t, Builder{Detail: detail}, m)
		near(t, want, r.Loads[0].PointsUm["middle"][2], tol, detail.String())
		near(t, force, r.Loads[0].ReactionN[2], 1e-9, detail.String()+": reaction")
	}
}

// What else others ask of a part: where a disc touches, that it does not run into what stands beside its rim but
// inside its box, that nothing is on it beyond the rim, and that it moves with an axis.
func TestShapeOfAKind(t *testing.T) {
	withDiscs(t)
	m := postWithDisc(
		100,
		beam.Section{A: 100, Iy: 1e3, Iz: 1e3, J: 1e3},
		&disc{Centre: r3.Vec{Z: 100}, Radius: 50, Thickness: 10},
	)
	m.Parts = append(
		m.Parts,
		machine.Part{
			Name:     "corner",
			Material: kindSteel,
			Plate:    &machine.Plate{From: r3.Vec{X: 40, Y: 40, Z: 90}, To: r3.Vec{X: 60, Y: 60, Z: 110}},
		},
	)
	lump, err := newBody(&m.Parts[1])
	require.NoError(t, err)
	corner, err := newBody(&m.Parts[2])
	require.NoError(t, err)
	_, ok := overlap(lump, corner)
	require.False(t, ok, "the rim passes the corner at 50·√2 − 40·√2")
	_, ok = overlap(corner, lump.shifted([3]float64{10, 10, 0}))
	require.True(t, ok, "moved towards it")
	require.InDelta(t, 50*math.Sqrt2-50, lump.off(r3.Vec{X: 50, Y: 50, Z: 105}), 1e-12)

	m.Points[1].At = r3.Vec{X: 40, Y: 40, Z: 110}
	m.Parts = m.Parts[:2]
	_, err = beams().Build(context.Background(), m)
	require.ErrorContains(t, err, "point at [40, 40, 110] is not on disc: it is 6.569 mm away")
}

// A kind that nothing here models is a fault that names it, at either detail.
func TestKindThatIsNotKnown(t *testing.T) {
	m := postWithDisc(300, beam.Section{A: 400, Iy: 2e4, Iz: 2e4, J: 4e4},
		&disc{Centre: r3.Vec{Z: 300}, Radius: 60, Thickness: 25})
	m.File, m.Parts[1].Pos = "m.yaml", machine.FilePos{Line: 4, Col: 3}
	require.NoError(t, m.Check(), "a machine may have parts of any kind")
	for _, detail := range []Detail{Section, Solid} {
		_, err := (&Builder{Detail: detail}).Build(context.Background(), m)
		require.EqualError(t, err, `m.yaml:4:3: part disc: nothing here models parts of kind "disc"
	make it a plate, a gusset or a bar: of others there are only those that frame/structure registers in kinds`)
	}
}
