package structure

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/machine"
)

// machineCase is one mill of testdata/solid-machines.yaml: 3D linear elasticity, mm, under 1000 N and under own weight.
type machineCase struct {
	Body       solidCase     `yaml:",inline"`
	Tool       region        `yaml:"tool"`
	Work       region        `yaml:"work"`
	Compliance [3][3]float64 `yaml:"compliance"` // rows: how tool moves against work; columns: forces on both
	Sag        [3]float64    `yaml:"sag"`        // of the tool against the work
	Ends       []struct {
		Patch string     `yaml:"patch"`
		At    region     `yaml:"at"`
		Moved [3]float64 `yaml:"moved"` // in the direction of each force on the patch
		Sag   [3]float64 `yaml:"sag"`
	} `yaml:"ends"`
}

// machineGravity is that of solid_machines.py, mm/s².
const machineGravity = 9810

func readMachineCases(t testing.TB, file string, want int) []machineCase {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", file))
	require.NoError(t, err)
	var table struct {
		Metals map[string]struct {
			E       float64 `yaml:"E"`
			Nu      float64 `yaml:"nu"`
			Density float64 `yaml:"density"`
		} `yaml:"metals"`
		Cases []machineCase `yaml:"cases"`
	}
	require.NoError(t, yaml.Unmarshal(data, &table))
	require.Len(t, table.Cases, want)
	for name, metal := range table.Metals {
		ours := referenceMetals[name]
		require.Equal(t, [3]float64{metal.E, metal.Nu, metal.Density}, [3]float64{ours.E, ours.Nu, ours.Density}, name)
	}
	for i := range table.Cases {
		c := &table.Cases[i]
		patches := []patchResult{{Patch: "tool", At: []region{c.Tool}}, {Patch: "work", At: []region{c.Work}}}
		for _, end := range c.Ends {
			patches = append(patches, patchResult{Patch: end.Patch, At: []region{end.At}})
		}
		c.Body.Results = patches
	}
	return table.Cases
}

// push is a force on a patch.
func push(point int, along machine.Axis, newtons float64) machine.Action {
	return machine.Action{Kind: machine.OnPoint, Point: point, Force: r3.Scale(newtons, along.Direction())}
}

// rows measures the mill: its compliance by reciprocity without what stands below the diagonal.
func (c machineCase) rows(t *testing.T, by *Builder) []heldRow {
	t.Helper()
	model, err := by.Build(context.Background(), c.Body.machine())
	require.NoError(t, err)
	under := func(actions ...machine.Action) func(patch int) r3.Vec {
		s, err := model.solve(&machine.Load{Actions: actions}, nil)
		require.NoError(t, err)
		return func(patch int) r3.Vec {
			v := s.of(model.points[patch].gauge)
			return r3.Vec{X: v[0], Y: v[1], Z: v[2]}
		}
	}
	body := strings.TrimPrefix(c.Body.ID, "machine-") + ", " + c.Body.Title
	var got [3][3]float64
	for k := machine.X; k <= machine.Z; k++ {
		moved := under(push(0, k, 1000), push(1, k, -1000))
		for i, v := range array(r3.Sub(moved(0), moved(1))) {
			got[i][k] = v
		}
	}
	var along, across, wantAlong, wantAcross [3]float64 // across: yz, zx, xy
	largest := 0.0
	for k := range along {
		i, j := (k+1)%3, (k+2)%3
		along[k], wantAlong[k] = got[k][k], c.Compliance[k][k]
		across[k], wantAcross[k] = got[i][j], c.Compliance[i][j]
		largest = math.Max(largest, math.Max(wantAlong[k], math.Abs(wantAcross[k])))
	}
	weight := under(machine.Action{Kind: machine.Weight, Force: r3.Vec{Z: -machineGravity}})
	rows := []heldRow{
		held(body, "tool against work, x y z", along, wantAlong, wantAlong),
		held(body, "tool against work, yz zx xy", across, wantAcross, alike(largest)),
		held(body, "sag, tool against work", array(r3.Sub(weight(0), weight(1))), c.Sag, alike(size(c.Sag))),
	}
	for i, end := range c.Ends {
		var moved [3]float64
		for k := machine.X; k <= machine.Z; k++ {
			moved[k] = array(under(push(2+i, k, 1000))(2 + i))[k]
		}
		rows = append(rows, held(body, end.Patch+", x y z", moved, end.Moved, end.Moved),
			held(body, "sag, "+end.Patch, array(weight(2+i)), end.Sag, alike(size(end.Sag))))
	}
	return rows
}

func alike(v float64) [3]float64 { return [3]float64{v, v, v} }

// size is the largest component without its sign.
func size(v [3]float64) float64 {
	return math.Max(math.Abs(v[0]), math.Max(math.Abs(v[1]), math.Abs(v[2])))
}
