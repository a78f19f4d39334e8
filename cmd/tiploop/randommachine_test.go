package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/answer"
)

// block is a plate of a random machine, mm.
type block struct {
	name   string
	lo, hi [3]int
}

// stack is a random machine: plates, bars and gussets, each joined to the face of an earlier plate.
type stack struct {
	t      *rapid.T
	plates []block
	parts  []string // as they stand in the file
	joints []string
	last   string // part that is loaded
	end    [3]int // a place on it
}

func (s *stack) between(lo, hi int, what string) int { return rapid.IntRange(lo, hi).Draw(s.t, what) }

func (s *stack) oneOf(words ...string) string { return rapid.SampledFrom(words).Draw(s.t, "word") }

func (s *stack) plate(b block) {
	s.plates = append(s.plates, b)
	s.parts = append(s.parts, fmt.Sprintf("%s: {plate: {from: %s, to: %s}, material: %s}", b.name, list(b.lo), list(b.hi),
		s.oneOf("aluminium-5083", "brass", "steel")))
	s.last, s.end = b.name, [3]int{(b.lo[0] + b.hi[0]) / 2, (b.lo[1] + b.hi[1]) / 2, b.hi[2]}
}

func list(v [3]int) string { return fmt.Sprintf("[%d, %d, %d]", v[0], v[1], v[2]) }

func (s *stack) join(a, b string, kinds ...string) {
	switch s.oneOf(kinds...) {
	case "bonded":
		s.joints = append(s.joints, fmt.Sprintf("{between: [%s, %s], bonded: true}", a, b))
	case "screws":
		s.joints = append(s.joints, fmt.Sprintf("{between: [%s, %s], screws: {size: %s, grid: [%d, %d]}, surface: %s}", a, b,
			s.oneOf("M3", "M4", "M5"), s.between(1, 2, "screws"), s.between(1, 2, "rows"), s.oneOf("milled", "ground")))
	}
}

// grow adds a part on a face of an earlier plate.
func (s *stack) grow(i int) {
	on := s.plates[s.between(0, len(s.plates)-1, "on")]
	normal, far := s.between(0, 2, "normal"), rapid.Bool().Draw(s.t, "far")
	p, q := (normal+1)%3, (normal+2)%3
	name := fmt.Sprintf("%s_%d", []string{"right", "back", "top"}[normal], i)
	face, out := on.lo[normal], -1
	if far {
		face, out = on.hi[normal], 1
	}
	// no part of a machine is thinner than 12
	middle := func(k int) int { return s.between(on.lo[k]+6, on.hi[k]-6, "middle") }
	kind := s.oneOf("plate", "plate", "plate", "standing", "lying", "gusset")
	switch kind {
	case "plate":
		b := block{name: name}
		reach := face + out*s.between(12, 90, "reach")
		b.lo[normal], b.hi[normal] = min(face, reach), max(face, reach)
		for _, k := range []int{p, q} {
			half := s.between(8, 45, "half")
			at := middle(k)
			b.lo[k], b.hi[k] = at-half, at+half
		}
		s.plate(b)
		s.end = [3]int{(b.lo[0] + b.hi[0]) / 2, (b.lo[1] + b.hi[1]) / 2, (b.lo[2] + b.hi[2]) / 2}
		s.end[normal] = reach // away from the joint, where it would read the seat alone
		s.join(on.name, name, "screws", "screws", "bonded")
	case "standing", "lying":
		var from, to [3]int
		from[p], from[q], from[normal] = middle(p), middle(q), face
		to = from
		to[normal] += out * s.between(30, 100, "height")
		section := fmt.Sprintf("round: %d", s.between(6, 12, "round"))
		if kind == "lying" {
			height := 2 * s.between(3, 8, "half height")
			section = fmt.Sprintf("rect: [%d, %d]", height, height)
			from[normal] = face + out*height/2
			to = from
			from[p], to[p] = on.lo[p], on.hi[p]+s.between(0, 40, "overhang")
		}
		s.parts = append(s.parts, fmt.Sprintf("%s: {bar: {from: %s, to: %s}, section: {%s}, material: steel}", name,
			list(from), list(to), section))
		s.last, s.end = name, to
		s.join(on.name, name, "bonded")
	case "gusset":
		var corner, leg, up, thickness [3]int
		corner[normal], corner[p], corner[q] = face, middle(p), middle(q)
		leg[p], up[normal], thickness[q] = s.between(12, 40, "leg"), out*s.between(15, 50, "up"), 12
		s.parts = append(s.parts,
			fmt.Sprintf("%s: {gusset: {corner: %s, legs: [%s, %s], thickness: %s}, material: aluminium-5083}", name,
				list(corner), list(leg), list(up), list(thickness)))
		s.join(on.name, name, "screws", "bonded")
		// Often there is something beside it: a wall on the gusset's other leg.
		if rapid.Bool().Draw(s.t, "wall") {
			wall := block{name: name + "_wall"}
			wall.lo[p], wall.hi[p] = corner[p]-14, corner[p]
			wall.lo[q], wall.hi[q] = corner[q]-10, corner[q]+30
			wall.lo[normal], wall.hi[normal] = min(face, face+out*60), max(face, face+out*60)
			s.plate(wall)
			s.join(on.name, wall.name, "screws", "bonded")
			s.join(name, wall.name, "screws", "bonded")
		}
	}
}

// drawStack draws the model file of a random machine. Many do not fit: a screw finds no room, a corner stands out.
func drawStack(t *rapid.T) string {
	s := &stack{t: t}
	s.plate(block{"base", [3]int{-s.between(30, 70, "left"), -s.between(30, 70, "front"), 0},
		[3]int{s.between(30, 70, "right"), s.between(30, 70, "back"), s.between(12, 25, "thick")}})
	for i := range s.between(1, 4, "parts") {
		s.grow(i)
	}
	base := s.plates[0]
	ground := map[string]string{
		"fixed": "face: bottom, fixed: true", "bed": "face: bottom, bed: 8 N/mm3}\n  - {part: base, at: [0, 0, 0], spring: " +
			"{x: 10 N/um, y: 10 N/um, rz: 1e8}",
		"feet": "face: bottom, feet: [[-25, -25], [25, -25], [0, 25]], stiffness: 40 N/um",
		"strip": fmt.Sprintf("strip: {from: [%d, %d, 0], to: [%d, %d, 0]}", base.lo[0], base.lo[1], base.hi[0],
			base.lo[1]+20),
	}[s.oneOf("fixed", "bed", "feet", "strip")]
	return fmt.Sprintf(`machine: Random
parts:
  %s
joints:
  - %s
grounds:
  - {part: base, name: floor, %s}
points:
  end: {part: %s, at: %s}
loads:
  x: {at: end, force: [20, 0, 0]}
  y: {at: end, force: [0, 20, 0]}
  z: {at: end, force: [0, 0, 20]}
  own weight: {gravity: true}
  warm: {temperature: {part: %s, rise: 5}}
`, strings.Join(s.parts, "\n  "), strings.Join(s.joints, "\n  - "), ground, s.last, list(s.end), s.last)
}

// farthest is by what factor the two details may differ in how far a random machine gives way where it is pushed. Of
// 250 half differ by 6 % or less, nine in ten by 30 %, all but one in a hundred by less than a factor of two; the worst
// are stubby bars bonded to a plate's edge, a shape no beam looks like: 2.8. Less than onlyThere is the metal round the
// push alone, which the details spread differently.
const (
	farthest  = 3.0
	onlyThere = 0.05 // µm, of 20 N
)

// TestRandomMachines: a random machine is either refused with the place and what to do, or answered with finite numbers
// that make sense: it gives way where it is pushed, and about as much at one detail as at the other.
func TestRandomMachines(t *testing.T) {
	t.Parallel()
	draws := 6
	if thorough() {
		draws = 20
	}
	path := filepath.Join(t.TempDir(), "random.yaml")
	solvedOnes := 0
	for i := range draws {
		model := rapid.Custom(drawStack).Example(i)
		require.NoError(t, os.WriteFile(path, []byte(model), 0o644))
		code, out, complaint := called("tip", path, "--detail", "both", "--mesh", "2", "--json")
		switch code {
		case answered:
			solvedOnes++
			var a answer.Answer
			require.NoError(t, json.Unmarshal([]byte(out), &a))
			solid := a.Options[0]
			for k, l := range solid.Loads {
				require.False(t, math.IsNaN(length(l.PointsUm["end"])))
				if k > 2 {
					continue
				}
				give, giveBeside := l.PointsUm["end"][k], solid.Section.Loads[k].PointsUm["end"][k]
				require.Positive(t, give, "under %s, of\n%s", l.Name, model)
				ratio := give / giveBeside
				require.True(t, max(give, giveBeside) < onlyThere || ratio <= farthest && ratio >= 1/farthest,
					"%g µm under %s, %g µm in the beam model, of\n%s", give, l.Name, giveBeside, model)
			}
		case misused:
			require.Regexp(t, `^\S+:\d+:\d+: .*\n\t\S`, complaint, model)
		default:
			t.Fatalf("%s, of\n%s", complaint, model)
		}
	}
	require.GreaterOrEqual(t, solvedOnes, draws/4, "machines that fit")
}
