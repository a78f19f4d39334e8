package shopwork

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
)

// blind is a tapped M6 hole 20 mm deep, from the top of a part at z = 0.
func blind(part int, x, y float64) *Hole {
	return &Hole{Part: part, Normal: machine.Z, Far: true, FaceMM2: 1e4, Line: answer.HoleLine{Part: "p", Face: "top", XMM: x,
		YMM: y, AtMM: [3]float64{x, y, 0}, Kind: "tapped", Screw: "M6", DrillMM: 5, DepthMM: 20, ThreadMM: 12}}
}

// Holes are numbered in rows: part by part, the largest face first, those through it before those from one side, then
// from the datum corner along x, row by row; in whatever order they come.
func TestArrange(t *testing.T) {
	through := blind(0, 90, 90)
	through.Line.OutOn = "bottom"
	below := blind(0, 5, 5)
	below.Far, below.Line.AtMM[2] = false, -60
	edge := blind(0, 1, 1)
	edge.Normal, edge.FaceMM2, edge.Line.AtMM = machine.X, 1e3, [3]float64{0, 400, 0}
	want := []*Hole{through, below, blind(0, 10, 10), blind(0, 50, 10.0004), blind(0, 10, 80), edge, blind(1, 0, 0)}
	r := rand.New(rand.NewPCG(1, 1))
	for range 20 {
		list := slices.Clone(want)
		r.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
		Arrange(list)
		require.Equal(t, want, list)
		for i, n := range []int{1, 2, 3, 4, 5, 6, 1} {
			require.Equal(t, n, list[i].Line.Number)
			require.Empty(t, list[i].Line.Meets)
		}
	}
	require.Empty(t, Notes(want))
	require.Equal(t, answer.Holes{Tapped: 7, Operations: 35, Minutes: Count(want).Minutes}, Count(want))
}

// Two holes meet exactly where points of both cylinders do, tried at random places of the first: never in one only of the
// two ways of asking.
func TestMeetsAsPointsDo(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 2))
	met := 0
	for range 400 {
		a, b := blind(0, 0, 0), blind(0, 14*r.Float64()-7, 14*r.Float64()-7)
		if r.IntN(2) == 0 {
			b.Normal, b.Far = machine.X, r.IntN(2) == 0
			b.Line.AtMM = [3]float64{60*r.Float64() - 30, 14*r.Float64() - 7, -30 * r.Float64()}
		}
		shared := false
		for range 4000 {
			p := [3]float64{6*r.Float64() - 3, 6*r.Float64() - 3, -20 * r.Float64()}
			shared = shared || inside(a, p) && inside(b, p)
		}
		Arrange([]*Hole{a, b})
		meets := len(a.Line.Meets) > 0
		require.Equal(t, meets, len(b.Line.Meets) > 0)
		if shared {
			met++
			require.True(t, meets, "%v %v", b.Line.AtMM, b.Normal)
		}
		if meets { // the boxes and the ways across must be near
			require.Less(t, abs(b.Line.AtMM[1]), 6.01)
		}
	}
	require.Greater(t, met, 50)
}

// Two M5 through a plate of 20 mm with drills of 5.5 mm meet where their counterbores do, 10 mm wide (DIN 974-1, from
// memory) and 5 deep on the far face: not from opposite faces; and a hole across meets one only beside its head.
func TestCounterboresMeet(t *testing.T) {
	sunk := func(x float64, far bool) *Hole {
		h := &Hole{Normal: machine.Z, Far: far, Line: answer.HoleLine{Part: "p", AtMM: [3]float64{x, 0, 0}, Kind: "counterbored through",
			Screw: "M5", DrillMM: 5.5, DepthMM: 20, OutOn: "bottom", SinkMM: 10, SinkDepthMM: 5}}
		if !far {
			h.Line.AtMM[2] = -20
		}
		return h
	}
	across := func(y, z float64) *Hole { // M4 along x, 3.3 drilled, 4 wide
		return &Hole{Normal: machine.X, Line: answer.HoleLine{Part: "p", AtMM: [3]float64{-30, y, z}, Kind: "tapped", Screw: "M4",
			DrillMM: 3.3, DepthMM: 60}}
	}
	for _, c := range []struct {
		name  string
		a, b  *Hole
		meets bool
	}{
		{"heads side by side", sunk(0, true), sunk(9.9, true), true},
		{"heads just apart", sunk(0, true), sunk(10.1, true), false},
		{"heads on opposite faces", sunk(0, true), sunk(6, false), true}, // 5 and 2.75 mm: the drill passes the other's head
		{"on opposite faces, apart", sunk(0, true), sunk(8, false), false},
		{"a thread beside the head", sunk(0, true), across(6.5, -17), true},
		{"a thread above the head", sunk(0, true), across(6.5, -12), false},
		{"a thread through the shank", sunk(0, true), across(4, -10), true},
	} {
		for _, list := range [][]*Hole{{c.a, c.b}, {c.b, c.a}} {
			Arrange(list)
			require.Equal(t, c.meets, len(c.a.Line.Meets) > 0, c.name)
			require.Equal(t, c.meets, len(c.b.Line.Meets) > 0, c.name)
		}
	}
}

// inside tells whether a place is in a hole's cylinder, thread and all.
func inside(h *Hole, p [3]float64) bool {
	along := p[h.Normal] - h.Line.AtMM[h.Normal]
	if h.Far {
		along = -along
	}
	a, b := h.Normal.Others()
	x, y := p[a]-h.Line.AtMM[a], p[b]-h.Line.AtMM[b]
	return along >= 0 && along <= h.Line.DepthMM && x*x+y*y <= 9
}

func abs(v float64) float64 { return max(v, -v) }

// A hole that cannot be holds back the other one of its screw in the other part, and only that one.
func TestOneFaultHoldsBackTheScrew(t *testing.T) {
	tapped := func(part int, name string, x, thread float64) *Hole {
		h := blind(part, x, 0)
		h.Line.Part, h.Line.For, h.Line.ThreadMM = name, "joint plate/rib", thread
		return h
	}
	through := func(x float64) *Hole {
		h := tapped(0, "plate", x, 0)
		h.Line.Kind, h.Line.OutOn, h.Line.DrillMM, h.Far = "through", "top", 6.6, false
		return h
	}
	list := []*Hole{through(0), through(30), through(60), through(90), tapped(1, "rib", 0, 12), tapped(1, "rib", 30, 4),
		tapped(1, "rib", 60, 0), tapped(1, "rib", 90, 12), tapped(1, "rib", 93, 12)}
	list[8].Line.For = "rail 1"
	Arrange(list)
	var said []string
	for _, h := range list {
		said = append(said, h.Line.NotYet)
	}
	require.Equal(t, []string{"", "its screw's hole 2 in rib cannot be", "its screw's hole 3 in rib cannot be",
		"its screw's hole 4 in rib cannot be", "", "less thread than a diameter", "cannot be: no metal for a thread",
		"runs into hole 5", "runs into hole 4"}, said)
}

// A carriage 34 mm wide round the place of a screw covers its head, 10 mm across by ISO 4762 for an M6, until it is
// 17 + 5 mm away; one on the other side of the plate, or on another part, does not.
func TestHeadsUnder(t *testing.T) {
	h := &Hole{Normal: machine.Z, Far: true, Line: answer.HoleLine{Part: "p", Number: 1, Kind: "through", Screw: "M6",
		DrillMM: 6.6, DepthMM: 20, For: "joint p/q"}}
	for _, c := range []struct {
		part        string
		x, from, to float64
		under       bool
	}{
		{"p", 0, -44, -20, true},
		{"p", 21.9, -44, -20, true},
		{"p", 22.1, -44, -20, false},
		{"p", 0, 0, 24, false},
		{"q", 0, -44, -20, false},
	} {
		axes := []answer.AxisLine{{Guides: []answer.GuideLine{{Part: c.part, Blocks: []answer.Block{
			{FromMM: [3]float64{c.x - 17, -17, c.from}, ToMM: [3]float64{c.x + 17, 17, c.to}}}}}}}
		require.Equal(t, c.under, HeadsUnder([]*Hole{h}, axes) != nil, "%+v", c)
	}
}

// A hole that cannot be holds back the others of its flange, and no other thing's.
func TestOneFaultHoldsBackTheFlange(t *testing.T) {
	nut := &Flange{Of: "nut of y", MiddleMM: [3]float64{20, 0, 0}}
	list := []*Hole{blind(0, 0, 0), blind(0, 40, 0), blind(0, 42, 0), blind(0, 80, 0)}
	for i, h := range list {
		h.Line.For, h.Line.OutOn = "rail 1", "bottom"
		if i < 2 {
			h.Line.For, h.Flange = "nut of y", nut
		}
	}
	Arrange(list)
	var said []string
	for _, h := range list {
		said = append(said, h.Line.NotYet)
	}
	require.Equal(t, []string{"its flange's hole 2 in p cannot be", "runs into hole 3", "runs into hole 2", ""}, said)
}

// A flange 52 mm across on the top covers the heads of screws that come out there, 10 mm across by ISO 4762 for an M6, until
// they are 26 + 5 mm away; its own it does not, nor those below.
func TestHeadsUnderFlanges(t *testing.T) {
	for _, c := range []struct {
		x     float64
		far   bool
		of    string
		under bool
	}{
		{30.9, false, "motor of y", true},
		{31.1, false, "motor of y", false},
		{10, true, "motor of y", false},
		{10, false, "bearing of y", false},
	} {
		bore := blind(0, 0, 0)
		bore.Line.Kind, bore.Flange = "bored", &Flange{Of: "bearing of y", OuterMM: 52}
		h := &Hole{Normal: machine.Z, Far: c.far, Flange: &Flange{Of: c.of}, Line: answer.HoleLine{Part: "p", Kind: "through",
			Screw: "M6", DrillMM: 6.6, DepthMM: 20, AtMM: [3]float64{c.x, 0, -20}}}
		require.Equal(t, c.under, HeadsUnder([]*Hole{bore, h}, nil) != nil, "%+v", c)
	}
}
