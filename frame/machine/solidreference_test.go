package machine

import (
	"fmt"
	"math"
	"os"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame"
)

// solidCase is one body of testdata/solid-reference.yaml: 3D linear elasticity, mm per 1000 N.
type solidCase struct {
	ID     string `yaml:"id"`
	Title  string `yaml:"title"`
	Blocks []struct {
		From, To [3]float64
	} `yaml:"blocks"`
	Gussets []struct {
		Corner [2]float64 `yaml:"corner_yz"`
		LegY   [2]float64 `yaml:"leg_y_to"`
		LegZ   [2]float64 `yaml:"leg_z_to"`
		X      [2]float64 `yaml:"x"`
	} `yaml:"gussets"`
	Fixed []struct {
		From, To [3]float64
	} `yaml:"fixed"`
	Results []struct {
		Patch string `yaml:"patch"`
		At    []struct {
			From, To [3]float64
		} `yaml:"at"`
		X float64 `yaml:"x_mm_per_kN"`
		Y float64 `yaml:"y_mm_per_kN"`
		Z float64 `yaml:"z_mm_per_kN"`
	} `yaml:"results"`
}

func readSolidCases(t testing.TB) []solidCase {
	t.Helper()
	data, err := os.ReadFile("../../testdata/solid-reference.yaml")
	require.NoError(t, err)
	var file struct {
		Cases []solidCase `yaml:"cases"`
	}
	require.NoError(t, yaml.Unmarshal(data, &file))
	require.Len(t, file.Cases, 7)
	return file.Cases
}

// machine builds the case out of plates and gussets bonded where they touch.
func (c solidCase) machine() *Machine {
	metal := beam.Material{Key: "reference", E: 70000, Nu: 0.33, Density: 2.7e-9}
	m := &Machine{File: c.ID, Name: c.Title}
	for i, b := range c.Blocks {
		m.Parts = append(m.Parts, Part{Name: fmt.Sprintf("block%d", i+1), Material: metal, Plate: &Plate{From: vector(b.From), To: vector(b.To)}})
	}
	for i, g := range c.Gussets {
		corner := r3.Vec{X: g.X[0], Y: g.Corner[0], Z: g.Corner[1]}
		m.Parts = append(m.Parts, Part{Name: fmt.Sprintf("gusset%d", i+1), Material: metal, Gusset: &Gusset{
			Corner: corner, Legs: [2]r3.Vec{{Y: g.LegY[0] - g.Corner[0]}, {Z: g.LegZ[1] - g.Corner[1]}}, Thickness: r3.Vec{X: g.X[1] - g.X[0]},
		}})
	}
	for i := range m.Parts {
		for j := range i {
			a, errA := newBody(&m.Parts[i])
			b, errB := newBody(&m.Parts[j])
			if errA != nil || errB != nil {
				continue
			}
			if _, err := findTouch(a, b); err == nil {
				m.Joints = append(m.Joints, Joint{Parts: [2]int{i, j}, Bonded: true, Drilled: -1})
			}
		}
	}
	for _, f := range c.Fixed {
		for i, p := range m.Parts {
			if p.Plate != nil && p.Plate.From.Z == f.From[2] && p.Plate.From.X <= f.From[0] && p.Plate.To.X >= f.To[0] {
				m.Grounds = append(m.Grounds, Ground{Part: i, Strip: &Region{vector(f.From), vector(f.To)}})
				break
			}
		}
	}
	for _, r := range c.Results {
		l := Load{}
		for k, at := range r.At {
			mid := r3.Scale(0.5, r3.Add(vector(at.From), vector(at.To)))
			size := box{at.From, at.To}
			normal := X
			for a := X; a <= Z; a++ {
				if size.size(a) == 0 {
					normal = a
				}
			}
			p, q := normal.others()
			part := -1
			for i := range m.Parts {
				if b, _ := newBody(&m.Parts[i]); m.Parts[i].Plate != nil && b.distance(mid) == 0 && b.fills.lo[p] <= at.From[p] && b.fills.hi[p] >= at.To[p] && b.fills.lo[q] <= at.From[q] && b.fills.hi[q] >= at.To[q] {
					part = i
				}
			}
			m.Points = append(m.Points, Point{Name: fmt.Sprintf("%s %d", r.Patch, k), Part: part, At: mid, Patch: [2]float64{size.size(p), size.size(q)}})
			_ = l
		}
	}
	return m
}

// measured is the movement of each patch under 1000 N spread over it, mm, by axis.
func (c solidCase) measured(t testing.TB) (got, want map[string][3]float64) {
	model, err := Build(c.machine())
	require.NoError(t, err)
	got, want = map[string][3]float64{}, map[string][3]float64{}
	n := 0
	for _, r := range c.Results {
		var v [3]float64
		for k := X; k <= Z; k++ {
			form := model.points[n].move[k].Plus(0, nil)
			for i := range form {
				form[i].Factor /= float64(len(r.At))
			}
			for i := 1; i < len(r.At); i++ {
				form = form.Plus(1/float64(len(r.At)), model.points[n+i].move[k])
			}
			comp := model.system.Compliance([]frame.Form{form}, []frame.Form{form})
			v[k] = comp[0][0] * 1000
		}
		got[r.Patch], want[r.Patch] = v, [3]float64{r.X, r.Y, r.Z}
		n += len(r.At)
	}
	return got, want
}

func TestSolidReference(t *testing.T) {
	for _, c := range readSolidCases(t) {
		got, want := c.measured(t)
		for _, r := range c.Results {
			line := fmt.Sprintf("%-12s %-14s", c.ID, r.Patch)
			for k := range 3 {
				g, w := got[r.Patch][k], want[r.Patch][k]
				line += fmt.Sprintf("  %s %9.6f / %9.6f %+6.1f %%", Axis(k), g, w, 100*(g/w-1))
			}
			t.Log(line)
		}
		_ = math.Pi
	}
}
