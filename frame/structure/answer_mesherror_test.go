package structure

import (
	"context"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/machine"
)

// meshErrorCase is how much too little a load moves what it pushes, percent, and how much the answer says it may be.
type meshErrorCase struct {
	name       string
	held, said float64
}

// meshErrorOf measures a load of one or two pushes along an axis, which by the reference does so much work, N·mm,
// twice.
func meshErrorOf(t *testing.T, m *Model, name string, l machine.Load, reference float64) meshErrorCase {
	t.Helper()
	s, err := m.solve(&l, nil)
	require.NoError(t, err)
	work := 0.0
	for _, a := range l.Actions {
		u := s.of(m.points[a.Point].gauge)
		work += a.Force.X*u[0] + a.Force.Y*u[1] + a.Force.Z*u[2]
	}
	_, said, err := m.shares(&l, s)
	require.NoError(t, err)
	return meshErrorCase{name, 100 * (reference - work) / reference, *said}
}

// meshErrors are those of a body, each patch pushed along each axis.
func (c solidCase) meshErrors(t *testing.T, by *Builder) (cases []meshErrorCase) {
	model, n := c.built(t, by), 0
	for _, r := range c.Results {
		for k := machine.X; k <= machine.Z; k++ {
			var load machine.Load
			for i := range r.At {
				load.Actions = append(load.Actions, push(n+i, k, 1000/float64(len(r.At))))
			}
			cases = append(cases, meshErrorOf(t, model, fmt.Sprintf("%s %s %v", c.ID, r.Patch, k), load,
				1000*[3]float64{r.X, r.Y, r.Z}[k]))
		}
		n += len(r.At)
	}
	return cases
}

// meshErrors are those of a mill: tool against work, and each end pushed along each axis.
func (c machineCase) meshErrors(t *testing.T, by *Builder) (cases []meshErrorCase) {
	model, err := by.Build(context.Background(), c.Body.machine())
	require.NoError(t, err)
	for k := machine.X; k <= machine.Z; k++ {
		name := func(of string) string { return fmt.Sprintf("%s %s %v", c.Body.ID, of, k) }
		load := machine.Load{Actions: []machine.Action{push(0, k, 1000), push(1, k, -1000)}}
		cases = append(cases, meshErrorOf(t, model, name("tool"), load, 1000*c.Compliance[k][k]))
		for i, end := range c.Ends {
			load := machine.Load{Actions: []machine.Action{push(2+i, k, 1000)}}
			cases = append(cases, meshErrorOf(t, model, name(end.Patch), load, 1000*end.Moved[k]))
		}
	}
	return cases
}

// plateErrors are those of plates pushed square to their face, against a mesh five times as fine, which leaves some
// tenths of a percent: cantilevers, plates fixed at both ends, on feet and on a strip.
func plateErrors(t *testing.T, by *Builder, sizes [][3]float64) (cases []meshErrorCase) {
	for _, s := range sizes {
		x, y, z := s[0], s[1], s[2]
		foot := func(x, y float64) string {
			return fmt.Sprintf("{part: a, strip: {from: [%g, %g, 0], to: [%g, %g, 0]}}", x, y, x+20, y+20)
		}
		for _, c := range []struct {
			name, grounds string
			at            [2]float64
		}{
			{"by its end", "{part: a, face: left, fixed: true}", [2]float64{x - 10, y / 2}},
			{"by its end, at a corner", "{part: a, face: left, fixed: true}", [2]float64{x - 10, 14}},
			{"by both ends", "{part: a, face: left, fixed: true}, {part: a, face: right, fixed: true}",
				[2]float64{x / 2, y / 2}},
			{"on feet", foot(0, 0) + ", " + foot(x-20, 0) + ", " + foot(0, y-20) + ", " + foot(x-20, y-20),
				[2]float64{x / 2, y / 2}},
			{"on a strip", fmt.Sprintf("{part: a, strip: {from: [0, 0, 0], to: [40, %g, 0]}}", y),
				[2]float64{x - 10, y / 2}},
		} {
			text := fmt.Sprintf(`machine: m
parts: {a: {plate: {from: [0, 0, 0], to: [%g, %g, %g]}, material: steel}}
grounds: [%s]
points: {p: {part: a, at: [%g, %g, %g], patch: [20, 20]}}
loads: {push: {at: p, force: [0, 0, -100]}}
`, x, y, z, c.grounds, c.at[0], c.at[1], z)
			fine := 100 * math.Abs(bent(t, text, &Builder{Detail: Solid, Mesh: QuickMesh / 5}))
			model, err := by.Build(context.Background(), readMachine(t, text))
			require.NoError(t, err)
			cases = append(cases, meshErrorOf(t, model, fmt.Sprintf("plate %v %s", s, c.name), model.machine.Loads[0],
				fine))
		}
	}
	return cases
}

// What an answer says of its mesh error is too little in one case of ten at most: over the bodies and mills of
// testdata, whose references have doubts of their own, and over plates, of which it was too little by half in most.
// Nor is it wild: where two percent are missing it is two and a half times that in half of the cases at most. Runs that
// are not thorough measure a few.
func TestMeshErrorAgainstReferences(t *testing.T) {
	by := accuracyAt[1].by // not parallel: TestAccuracy has these bodies from the same builder
	var bodies []meshErrorCase
	for i, set := range accuracySets {
		if !thorough() && set.name != "solid-heldout" {
			continue
		}
		for _, c := range heldCases(t, i, true) {
			bodies = append(bodies, c.(interface {
				meshErrors(*testing.T, *Builder) []meshErrorCase
			}).meshErrors(t, by)...)
		}
	}
	sizes := [][3]float64{{200, 120, 12}, {100, 120, 12}}
	if thorough() {
		sizes = append(sizes, [][3]float64{{200, 60, 12}, {300, 200, 10}, {150, 40, 20}, {250, 250, 20}, {120, 300, 15},
			{200, 120, 30}}...)
	}
	for name, cases := range map[string][]meshErrorCase{"bodies": bodies, "plates": plateErrors(t, by, sizes)} {
		less, missing, much := 0, 0, 0
		for _, c := range cases {
			if c.said < c.held {
				t.Logf("%s: %.1f %% are missing, %.1f %% are said", c.name, c.held, c.said)
				less++
			}
			if c.held > 2 {
				missing++
				if c.said > 2.5*c.held {
					much++
				}
			}
		}
		t.Logf("%s: too little in %d of %d; of %d with 2 %% missing more than 2.5 times that in %d", name, less, len(cases),
			missing, much)
		require.NotZero(t, missing)
		require.LessOrEqual(t, 10*less, len(cases), name)
		require.LessOrEqual(t, 2*much, missing, name)
	}
}

// The mesh error that is said is the energy that the meshes may hold back, as a share of all there is.
func TestMeshErrorIsAShare(t *testing.T) {
	model, err := (&Builder{Detail: Solid}).Build(context.Background(), readMachine(t, `machine: m
parts: {a: {plate: {from: [0, 0, 0], to: [200, 120, 12]}, material: steel}}
grounds: [{part: a, face: left, fixed: true}]
points: {p: {part: a, at: [190, 60, 12], patch: [20, 20]}}
loads: {push: {at: p, force: [0, 0, -100]}}
`))
	require.NoError(t, err)
	l := &model.machine.Loads[0]
	s, err := model.solve(l, nil)
	require.NoError(t, err)
	work := 100 * math.Abs(s.of(model.points[0].gauge)[2]) / 2
	_, said, err := model.shares(l, s)
	require.NoError(t, err)
	require.InEpsilon(t, 100*s.fields[0].MeshDoubt()/work, *said, 1e-6)
}
