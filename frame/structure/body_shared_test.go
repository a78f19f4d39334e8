package structure

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/solid"
)

// A column on a base between two pairs of cheeks, each the mirror of the one on the other side and equal to the one
// behind it but for its place, 1/3 of a millimetre off what floating point holds exactly.
const cheeked = `machine: cheeks
values: {deep: 30 mm, low: 20 mm}
parts:
  base:   {plate: {from: [-100, -30, 0], to: [100, 300, low]}, material: aluminium-5083}
  column: {plate: {from: [-40, 80.3, low], to: [40, 80.3 + deep, low + 200]}, material: aluminium-5083}
  left:   {plate: {from: [-40, 0, low], to: [-25, 80.3, low + 120]}, material: aluminium-5083}
  right:  {plate: {from: [25, 0, low], to: [40, 80.3, low + 120]}, material: aluminium-5083}
  lefter: {plate: {from: [-40, 80.3 + deep, low], to: [-25, 160.6 + deep, low + 120]}, material: aluminium-5083}
  righter: {plate: {from: [25, 80.3 + deep, low], to: [40, 160.6 + deep, low + 120]}, material: aluminium-5083}
joints:
  - {between: [base, column], bonded: true}
  - {between: [base, left], bonded: true}
  - {between: [base, right], bonded: true}
  - {between: [base, lefter], bonded: true}
  - {between: [base, righter], bonded: true}
  - {between: [column, left], bonded: true}
  - {between: [column, right], bonded: true}
  - {between: [column, lefter], bonded: true}
  - {between: [column, righter], bonded: true}
grounds: [{part: base, face: bottom, fixed: true}]
tool: {part: column, at: [0, 80.3, low + 180]}
work: {part: base, at: [0, -10, low]}
loads:
  side: {tip: [100, 0, 0]}
  push: {tip: [0, 100, 0]}
  warm: {temperature: {part: column, across: [0, 5, 0]}}
  own weight: {gravity: true}
`

// meshesOf are the meshes behind a model's bodies: one for every reduction.
func meshesOf(m *Model, into map[*solid.Mesh]bool) {
	for _, s := range m.solids {
		into[s.reduced.Mesh()] = true
	}
}

// Equal and mirrored cheeks are reduced once, and the machine is what it is with each body reduced where it stands.
func TestEqualAndMirroredBodiesAreReducedOnce(t *testing.T) {
	by := &Builder{Detail: Solid}
	m, err := by.Build(context.Background(), readMachine(t, cheeked))
	require.NoError(t, err)
	require.Len(t, by.kept.reduced, 3, "base, column, one cheek")
	shared := m.solids[2].reduced.Mesh()
	for _, s := range m.solids[3:] {
		require.Same(t, shared, s.reduced.Mesh(), s.b.part.Name)
	}

	alone, err := by.draw(m.machine)
	require.NoError(t, err)
	for _, s := range alone.solids {
		one, _, err := (&Builder{Detail: Solid}).reduce(context.Background(), []*solid.Body{&s.spec})
		require.NoError(t, err)
		s.reduced = one[0]
	}
	require.NoError(t, alone.fillFrame())
	alone.system, err = alone.frame.Factor()
	require.NoError(t, err)
	got, err := m.Solve(TipOnly)
	require.NoError(t, err)
	want, err := alone.Solve(TipOnly)
	require.NoError(t, err)
	for i := range want.Loads {
		for k, um := range want.Loads[i].TipUm {
			require.InDelta(t, um, got.Loads[i].TipUm[k], 1e-9**want.Loads[i].TipSizeUm, want.Loads[i].Name)
		}
	}
	require.Equal(t, fmt.Sprint(want.Solid), fmt.Sprint(got.Solid))
}

// The machine is its own mirror, and so is what a push in its plane of symmetry does to the cheeks on both sides:
// stress and where it is, as one would be read off the other's.
func TestMirroredBodiesHaveMirroredFields(t *testing.T) {
	m, err := (&Builder{Detail: Solid}).Build(context.Background(), readMachine(t, cheeked))
	require.NoError(t, err)
	for _, load := range []int{1, 2, 3} {
		s, err := m.solve(&m.machine.Loads[load], m.tool.gauge)
		require.NoError(t, err)
		for _, pair := range [][2]int{{2, 3}, {4, 5}} {
			left, right := s.fields[pair[0]], s.fields[pair[1]]
			a, _ := left.Worst()
			b, _ := right.Worst()
			require.InEpsilon(t, a.Stress, b.Stress, 1e-8)
			a.At.X = -a.At.X
			require.InDeltaSlice(t, slices.Collect(coordinates(a)), slices.Collect(coordinates(b)), 1e-6)
			require.InEpsilon(t, left.Energy(), right.Energy(), 1e-8)
			for i := range m.solids[pair[0]].spec.Zones {
				zone := m.solids[pair[0]].spec.Zones[i]
				other := zone
				other.At.X = -zone.At.X
				if zone.Normal != 0 {
					other.Polygon = nil
					for k := len(zone.Polygon) - 1; k >= 0; k-- {
						other.Polygon = append(other.Polygon, [2]float64{-zone.Polygon[k][0], zone.Polygon[k][1]})
					}
				}
				v, w := left.Mean(zone), right.Mean(other)
				for k, sign := range []float64{-1, 1, 1, 1, -1, -1} {
					scale := []float64{5, 0.05}[k/3] * 1e-2 // mm, rad: of what the loads make
					require.InDelta(t, v[k], sign*w[k], 1e-8*scale, "load %d zone %d freedom %d", load, i, k)
				}
			}
		}
	}
}

func coordinates(p solid.Peak) func(func(float64) bool) {
	return slices.Values([]float64{p.At.X, p.At.Y, p.At.Z})
}

// Over a sweep only bodies that change are reduced again: with the column's depth the column and the base under it;
// with the base's thickness the base alone, though everything else moves up.
func TestSweepReducesWhatChanges(t *testing.T) {
	for _, c := range []struct {
		from, to string
		each     int
	}{
		{"deep: 30", "deep: %d", 2},
		{"low: 20", "low: %d", 1},
	} {
		by := &Builder{Detail: Solid}
		reductions := map[*solid.Mesh]bool{}
		var kept []*Model // so that no mesh takes another's address
		for i := range 4 {
			text := strings.Replace(cheeked, c.from, fmt.Sprintf(c.to, 30+3*i), 1)
			model, err := by.Build(context.Background(), readMachine(t, text))
			require.NoError(t, err)
			by.Forget(1)
			meshesOf(model, reductions)
			kept = append(kept, model)
		}
		require.Len(t, reductions, 3+3*c.each, "%s of %d models", c.from, len(kept))
		require.LessOrEqual(t, len(slices.Collect(maps.Keys(by.kept.reduced))), 3+c.each, "others are forgotten")
	}
}
