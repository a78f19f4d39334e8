package structure

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/machine"
)

// meet builds two parts from the text of their definitions and looks where they touch.
func meet(t *testing.T, a, b string) (touch, error) {
	t.Helper()
	m := readMachine(t, fmt.Sprintf("machine: pair\nparts:\n"+
		"  a: {%s, material: steel}\n  b: {%s, material: steel}\n", a, b))
	one, err := newBody(&m.Parts[0])
	require.NoError(t, err)
	two, err := newBody(&m.Parts[1])
	require.NoError(t, err)
	return findTouch(one, two)
}

func TestTouch(t *testing.T) {
	const (
		slab = "plate: {from: [0, 0, 0], to: [200, 100, 20]}"
		leg  = "gusset: {corner: [0, 50, 20], legs: [[0, -40, 0], [0, 0, 60]], thickness: [10, 0, 0]}"
	)
	for _, c := range []struct {
		name, a, b string
		kind       touchKind
		normal     machine.Axis
		from, to   [3]float64
		below      bool
	}{
		{"post on a slab", slab, "plate: {from: [150, 0, 20], to: [200, 120, 90]}", onFace, machine.Z, [3]float64{150, 0, 20},
			[3]float64{200, 100, 20}, true},
		{"the same the other way round", "plate: {from: [150, 0, 20], to: [200, 120, 90]}", slab, onFace, machine.Z,
			[3]float64{150, 0, 20}, [3]float64{200, 100, 20}, false},
		{"side by side", slab, "plate: {from: [200, 20, -10], to: [220, 60, 90]}", onFace, machine.X, [3]float64{200, 20, 0},
			[3]float64{200, 60, 20}, true},
		{"gusset's lower leg", slab, leg, onFace, machine.Z, [3]float64{0, 10, 20}, [3]float64{10, 50, 20}, true},
		{"gusset's upright leg", "plate: {from: [0, 50, 0], to: [100, 70, 200]}", leg, onFace, machine.Y,
			[3]float64{0, 50, 20}, [3]float64{10, 50, 80}, false},
		{"gusset's flat side", "plate: {from: [10, 0, 20], to: [20, 60, 200]}", leg, onFace, machine.X,
			[3]float64{10, 10, 20}, [3]float64{10, 50, 80}, false},
		{"beside the slope", leg, "plate: {from: [0, 0, 65], to: [10, 25, 90]}", -1, 0, [3]float64{}, [3]float64{}, false},
		{"bar through a plate", "bar: {from: [50, 50, -30], to: [50, 50, 90]}, section: {round: 10}", slab, along, machine.Z,
			[3]float64{50, 50, -0.0005}, [3]float64{50, 50, 20.0005}, true},
		{"tube lying on a plate", slab, "bar: {from: [0, 50, 40], to: [300, 50, 40]}, section: {tube: [40, 40, 2]}", onFace,
			machine.Z, [3]float64{0, 30, 20}, [3]float64{200, 70, 20}, true},
		{"bar standing on a plate", slab, "bar: {from: [50, 50, 20], to: [50, 50, 90]}, section: {rect: [10, 30]}", onFace,
			machine.Z, [3]float64{45, 35, 20}, [3]float64{55, 65, 20}, true},
		{"thin line standing on a plate", slab, "bar: {from: [50, 50, 20], to: [50, 50, 90]}, section: {A: 100, Iy: 1000, " +
			"Iz: 1000, J: 2000}", atPoint, 0, [3]float64{50, 50, 20}, [3]float64{50, 50, 20}, false},
		{"bars end to end", "bar: {from: [0, 0, 0], to: [0, 0, 90]}, section: {round: 10}",
			"bar: {from: [0, 0, 90], to: [50, 0, 90]}, section: {round: 10}", atPoint, 0, [3]float64{0, 0, 90},
			[3]float64{0, 0, 90}, false},
		{"bars across one another", "bar: {from: [-50, 0, 0], to: [50, 0, 0]}, section: {round: 10}",
			"bar: {from: [0, -50, 10], to: [0, 50, 10]}, section: {round: 10}", atPoint, 0, [3]float64{0, 0, 5},
			[3]float64{0, 0, 5}, false},
		{"bars side by side", "bar: {from: [0, 0, 0], to: [100, 0, 0]}, section: {round: 10}",
			"bar: {from: [150, 10, 0], to: [40, 10, 0]}, section: {round: 10}", along, 0, [3]float64{40, 5, 0},
			[3]float64{100, 5, 0}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := meet(t, c.a, c.b)
			if c.kind < 0 {
				require.Error(t, err)
				return
			}
			require.NoError(t, err)
			require.Equal(t, c.kind, got.kind)
			for k := range 3 {
				require.InDelta(t, c.from[k], got.lo[k], 1e-9)
				require.InDelta(t, c.to[k], got.hi[k], 1e-9)
			}
			if c.kind == onFace {
				require.Equal(t, c.normal, got.normal)
				require.Equal(t, c.below, got.aBelow)
			}
		})
	}
}

func TestNoTouch(t *testing.T) {
	const slab = "plate: {from: [0, 0, 0], to: [200, 100, 20]}"
	for _, c := range []struct{ name, a, b, want string }{
		{"gap", slab, "plate: {from: [0, 0, 25], to: [20, 50, 90]}",
			"a and b do not touch: they are apart by 5 mm along z (top of a at 20 mm, bottom of b at 25 mm)"},
		{"gap two ways", slab, "plate: {from: [-50, 0, 25], to: [-20, 50, 90]}",
			"a and b do not touch: they are apart by 20 mm along x (right of b at -20 mm, left of a at 0 mm) and 5 mm along z " +
				"(top of a at 20 mm, bottom of b at 25 mm)"},
		{"edge", slab, "plate: {from: [200, 0, 20], to: [220, 50, 90]}",
			"a and b do not touch on a face: they meet at most along an edge"},
		{"overlap", slab, "plate: {from: [190, 0, 10], to: [220, 50, 90]}",
			"a and b run into each other: they share 10 x 50 x 10 mm (x, y, z)"},
		{"gusset in a plate", "gusset: {corner: [0, 0, 0], legs: [[50, 0, 0], [0, 0, 50]], thickness: [0, 10, 0]}",
			"plate: {from: [20, 0, 20], to: [90, 10, 90]}", "a and b run into each other: they share 30 x 10 x 30 mm (x, y, z)"},
		{"bar beside", slab, "bar: {from: [0, 0, 60], to: [90, 0, 60]}, section: {round: 20}",
			"b and a do not touch: the bar's centre line passes 40 mm from the nearest face of a"},
		{"bars", "bar: {from: [0, 0, 0], to: [100, 0, 0]}, section: {round: 10}",
			"bar: {from: [50, -50, 12], to: [50, 50, 12]}, section: {round: 10}",
			"a and b do not touch: their centre lines pass 12 mm from each other, their sections reach 10 mm"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := meet(t, c.a, c.b)
			require.EqualError(t, err, c.want)
		})
	}
}

// How far a spot is from the metal, by hand.
func TestOff(t *testing.T) {
	for _, c := range []struct {
		name, part string
		at         [3]float64
		want       float64
	}{
		{"in a plate", "plate: {from: [0, 0, 0], to: [200, 100, 20]}", [3]float64{10, 10, 10}, 0},
		{"over a plate's corner", "plate: {from: [0, 0, 0], to: [200, 100, 20]}", [3]float64{203, 104, 20}, 5},
		{"beside a skew bar, in the box round it", "bar: {from: [0, 0, 0], to: [300, 0, 300]}, section: {round: 20}",
			[3]float64{300, 0, 0}, 150*math.Sqrt2 - 10},
		{"beyond a bar's end", "bar: {from: [0, 0, 300], to: [0, 0, 100]}, section: {round: 43}", [3]float64{0, 0, 80}, 20},
		{"on a bar's skin", "bar: {from: [0, 0, 300], to: [0, 0, 100]}, section: {round: 43}", [3]float64{21.5, 0, 200}, 0},
		{"beyond the end of a thin line", "bar: {from: [0, 0, 0], to: [0, 0, 100]}, section: {A: 1, Iy: 1, Iz: 1, J: 1}",
			[3]float64{3, 0, 104}, 5},
		{"on a gusset", "gusset: {corner: [0, 40, 20], legs: [[0, -100, 0], [0, 0, 100]], thickness: [10, 0, 0]}",
			[3]float64{5, 0, 50}, 0},
		{"past a gusset's slope", "gusset: {corner: [0, 40, 20], legs: [[0, -100, 0], [0, 0, 100]], thickness: [10, 0, 0]}",
			[3]float64{5, -50, 110}, 80 / math.Sqrt2},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := readMachine(t, fmt.Sprintf("machine: one\nparts:\n  a: {%s, material: steel}\n", c.part))
			b, err := newBody(&m.Parts[0])
			require.NoError(t, err)
			require.InDelta(t, c.want, b.off(vector(c.at)), 1e-9)
		})
	}
}
