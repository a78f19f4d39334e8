package structure

import (
	"context"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"tiploop/frame/machine"
)

// jointed is a machine of a base and an arm that stands or lies on it, to be joined in different ways.
type jointed struct {
	text    string
	size    string // of the screws
	torque  float64
	places  [][2]float64
	surface string
}

// drawJointed draws two plates and places for screws on the face they share.
func drawJointed(t *rapid.T) jointed {
	whole := func(lo, hi int, name string) float64 { return float64(rapid.IntRange(lo, hi).Draw(t, name)) }
	material := func(name string) string {
		return rapid.SampledFrom([]string{"aluminium-5083", "steel", "cast-iron-gjl-250"}).Draw(t, name)
	}
	j := jointed{size: rapid.SampledFrom([]string{"M4", "M5", "M6", "M8"}).Draw(t, "size")}
	var head, d float64
	switch j.size {
	case "M4":
		head, d = 7, 4
	case "M5":
		head, d = 8.5, 5
	case "M6":
		head, d = 10, 6
	case "M8":
		head, d = 13, 8
	}
	j.torque = whole(10, 40, "torque") / 10 * d * d * d / 64
	a, b := whole(60, 150, "half length of base"), whole(40, 120, "half width of base")
	thick := whole(8, 40, "thickness of base")
	wide, deep, tall := whole(15, int(a), "half width of arm"), whole(10, 30, "half depth of arm"), whole(60, 250, "height")
	if rapid.Bool().Draw(t, "lies") {
		deep, tall = whole(15, int(b), "half length of arm"), whole(6, 30, "thickness of arm")
	}
	aside := whole(int(-a+wide), int(a-wide), "aside")
	off := whole(int(-b+deep), int(b-deep), "off")
	ground := "{part: base, face: bottom, fixed: true}"
	if rapid.Bool().Draw(t, "feet") {
		ground = fmt.Sprintf("{part: base, face: bottom, feet: [[%g, %g], [%g, %g], [%g, %g], [%g, %g]], stiffness: 100 N/um}",
			-a+10, -b+10, a-10, -b+10, -a+10, b-10, a-10, b-10)
	}
	edge := d + 0.5
	n := rapid.IntRange(2, 7).Draw(t, "screws")
	for i := range n {
		x := math.Round((-wide+edge)+rapid.Float64Range(0, 1).Draw(t, fmt.Sprint("x", i))*2*(wide-edge)) + aside
		y := math.Round((-deep+edge)+rapid.Float64Range(0, 1).Draw(t, fmt.Sprint("y", i))*2*(deep-edge)) + off
		free := math.Abs(x-aside) <= wide-d && math.Abs(y-off) <= deep-d
		for _, p := range j.places {
			free = free && math.Hypot(p[0]-x, p[1]-y) >= head+0.5
		}
		if free {
			j.places = append(j.places, [2]float64{x, y})
		}
	}
	tipX, tipY := aside+whole(-100, 100, "tip x")/100*wide, off+whole(-100, 100, "tip y")/100*deep
	surface := rapid.SampledFrom([]string{"ground", "milled", "sawn"}).Draw(t, "surface")
	j.text = fmt.Sprintf(`
machine: jointed
parts:
  base: {plate: {from: [%g, %g, 0], to: [%g, %g, %g]}, material: %s}
  arm: {plate: {from: [%g, %g, %g], to: [%g, %g, %g]}, material: %s}
joints:
  - {between: [base, arm], SCREWS}
grounds: [%s]
points: {tip: {part: arm, at: [%g, %g, %g]}}
loads: {x: {at: tip, force: [1000, 0, 0]}, y: {at: tip, force: [0, 1000, 0]}, z: {at: tip, force: [0, 0, 1000]}}
`, -a, -b, a, b, thick, material("base"), aside-wide, off-deep, thick, aside+wide, off+deep, thick+tall, material("arm"),
		ground, tipX, tipY, thick+tall)
	j.surface = surface
	return j
}

func (j jointed) screwed(places [][2]float64, torque float64) string {
	var list []string
	for _, p := range places {
		list = append(list, fmt.Sprintf("[%g, %g]", p[0], p[1]))
	}
	return strings.Replace(j.text, "SCREWS", fmt.Sprintf("surface: %s, screws: {size: %s, torque: %.3f N m, at: [%s]}", j.surface, j.size, torque,
		strings.Join(list, ", ")), 1)
}

func complianceOf(m *machine.Machine, by Builder) (*mat.SymDense, error) {
	model, err := by.Build(context.Background(), m)
	if err != nil {
		return nil, err
	}
	r, err := model.solveStanding(TipOnly)
	if err != nil {
		return nil, err
	}
	c := mat.NewSymDense(3, nil)
	for i := range 3 {
		for k := range i + 1 {
			c.SetSym(i, k, (r.Loads[i].PointsUm["tip"][k]+r.Loads[k].PointsUm["tip"][i])/2)
		}
	}
	return c, nil
}

// softer is by how much of itself the movement under some force grows at most from one compliance to another.
func softer(t require.TestingT, was, is *mat.SymDense) float64 {
	var c mat.Cholesky
	require.True(t, c.Factorize(was))
	var l mat.TriDense
	c.LTo(&l)
	var half, both mat.Dense
	require.NoError(t, half.Solve(&l, is))
	require.NoError(t, both.Solve(&l, half.T()))
	s := mat.NewSymDense(3, nil)
	for i := range 3 {
		for k := range i + 1 {
			s.SetSym(i, k, (both.At(i, k)+both.At(k, i))/2)
		}
	}
	var e mat.EigenSym
	require.True(t, e.Factorize(s, false))
	v := e.Values(nil)
	if os.Getenv("DIAG") != "" {
		most := -1.0
		for i := range 3 {
			most = math.Max(most, is.At(i, i)/was.At(i, i)-1)
		}
		return most
	}
	return v[2] - 1
}

func TestProbeMore(t *testing.T) {
	n, _ := strconv.Atoi(os.Getenv("DRAWS"))
	by := Builder{}
	if os.Getenv("SOLID") != "" {
		by = Builder{Detail: Solid, Mesh: 2}
	}
	worst := map[string]float64{}
	over := map[string]int{}
	count := 0
	for i := range n {
		j := rapid.Custom(drawJointed).Example(i)
		if len(j.places) < 3 {
			continue
		}
		some := j.places[:len(j.places)-1]
		get := func(text string) *mat.SymDense {
			m, err := machineOf(text, "")
			if err != nil {
				t.Log(err)
				return nil
			}
			c, err := complianceOf(m, by)
			if err != nil {
				t.Log(err)
			}
			return c
		}
		was := get(j.screwed(some, j.torque))
		if was == nil {
			continue
		}
		count++
		for what, text := range map[string]string{
			"one more":    j.screwed(j.places, j.torque),
			"more torque": j.screwed(some, 1.3*j.torque),
			"bonded":      strings.Replace(j.text, "SCREWS", "bonded: true", 1),
		} {
			is := get(text)
			if is == nil {
				continue
			}
			s := softer(t, was, is)
			if s > 1e-6 {
				over[what]++
			}
			if s > worst[what] {
				worst[what] = s
				t.Logf("%s: %+.3f %%, draw %d\n%s", what, 100*s, i, j.screwed(j.places, j.torque))
			}
		}
	}
	t.Log(count, worst, over)
}
