package main

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/answer"
	"tiploop/frame/modelfile"
	"tiploop/frame/structure"
)

// These tests need no outside values: they hold one answer of the program against another that geometry, linearity or
// the meaning of the model file makes equal to it.

// agreement is how near two answers must be that differ by rounding alone: the stiffnesses of a machine span some six
// decades, which leaves ten of the sixteen digits.
const agreement = 1e-9

// sizes are what varies from stand to stand, mm.
type sizes struct {
	left, right, front, back int // of the base from the origin
	bed                      int // thickness
	column                   int // height
	aside                    int // of column, arm and spindle from the middle
	brace                    int // leg of the gusset behind the column; 0: none
	screws                   int // in a row
}

func drawSizes(t *rapid.T) sizes {
	between := func(lo, hi int, name string) int { return rapid.IntRange(lo, hi).Draw(t, name) }
	return sizes{
		left: between(80, 100, "left"), right: between(80, 100, "right"), front: between(130, 150, "front"),
		back: between(90, 110, "back"),
		bed:  between(12, 30, "bed"), column: between(190, 260, "column"), aside: between(-15, 15, "aside"),
		brace: rapid.SampledFrom([]int{0, 20, 28}).Draw(t, "brace"), screws: between(2, 3, "screws"),
	}
}

// view is how the same machine is written down: turned, mirrored, in another unit, with other loads.
type view struct {
	name   string
	world  [2][2]float64 // what becomes of x and y; z stays
	inches bool
	loads  float64 // factor on all loads
}

var (
	plain    = view{name: "as it is", world: [2][2]float64{{1, 0}, {0, 1}}, loads: 1}
	inInches = view{name: "in inches", world: plain.world, inches: true, loads: 1}
	mirrored = view{name: "mirrored", world: [2][2]float64{{-1, 0}, {0, 1}}, loads: 1}
	turned   = view{name: "turned", world: [2][2]float64{{0, -1}, {1, 0}}, loads: 1} // by 90 degrees about z
	doubled  = view{name: "doubled", world: plain.world, loads: 2}
)

// views are how else a machine can be written down.
var views = []view{inInches, mirrored, turned, doubled}

// seen gives what becomes of a vector.
func (v view) seen(a [3]float64) [3]float64 {
	return [3]float64{v.world[0][0]*a[0] + v.world[0][1]*a[1], v.world[1][0]*a[0] + v.world[1][1]*a[1], a[2]}
}

// isTurned tells whether x and y change places.
func (v view) isTurned() bool { return v.world[0][0] == 0 }

// length writes a length.
func (v view) length(mm float64) string {
	if v.inches {
		return strconv.FormatFloat(mm/25.4, 'g', -1, 64) + " in"
	}
	return strconv.FormatFloat(mm+0, 'g', -1, 64)
}

func (v view) lengths(a ...float64) string {
	var words []string
	for _, x := range a {
		words = append(words, v.length(x))
	}
	return "[" + strings.Join(words, ", ") + "]"
}

// place writes a place or an edge.
func (v view) place(x, y, z int) string {
	a := v.seen([3]float64{float64(x), float64(y), float64(z)})
	return v.lengths(a[:]...)
}

// plate writes a plate between two corners.
func (v view) plate(x0, y0, z0, x1, y1, z1 int) string {
	a, b := v.seen([3]float64{float64(x0), float64(y0), float64(z0)}),
		v.seen([3]float64{float64(x1), float64(y1), float64(z1)})
	for k := range a {
		a[k], b[k] = min(a[k], b[k]), max(a[k], b[k])
	}
	return fmt.Sprintf("{plate: {from: %s, to: %s}, material: aluminium-5083}", v.lengths(a[:]...), v.lengths(b[:]...))
}

// spots writes places on a level face.
func (v view) spots(places ...[2]int) string {
	var words []string
	for _, p := range places {
		a := v.seen([3]float64{float64(p[0]), float64(p[1]), 0})
		words = append(words, v.lengths(a[:2]...))
	}
	return "[" + strings.Join(words, ", ") + "]"
}

// grid writes a number of screws along x and y of a level face.
func (v view) grid(x, y int) string {
	if v.isTurned() {
		x, y = y, x
	}
	return fmt.Sprintf("[%d, %d]", x, y)
}

// force writes a load.
func (v view) force(x, y, z float64) string {
	a := v.seen([3]float64{x, y, z})
	return fmt.Sprintf("[%g, %g, %g]", v.loads*a[0]+0, v.loads*a[1]+0, v.loads*a[2])
}

// stand writes the model: a stand that is symmetric about nothing, with plates thick and thin, a gusset, a bar through
// a plate, screws on level and on standing faces, bonds, feet and a patch. No plate has two longest sides.
func (v view) stand(s sizes) string {
	patch := []float64{24, 16}
	if v.isTurned() {
		slices.Reverse(patch)
	}
	path := fmt.Sprintf("{along: y, from: %s, to: %s, tolerance: %s}", v.length(-90), v.length(10), v.length(0.01))
	if v.isTurned() {
		path = fmt.Sprintf("{along: x, from: %s, to: %s, tolerance: %s}", v.length(-10), v.length(90), v.length(0.01))
	}
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	top := 30 + s.bed
	line("machine: Stand\nparts:")
	line("  base: %s", v.plate(-s.left, -s.front, 0, s.right, s.back, 30))
	line("  bed: %s", v.plate(-60, -100, 30, 50, 24, top))
	line("  column: %s", v.plate(s.aside-30, 30, 30, s.aside+25, 60, s.column))
	line("  arm: %s", v.plate(s.aside-20, -55, 150, s.aside+22, 30, 180))
	line("  spindle: {bar: {from: %s, to: %s}, section: {round: %s}, material: steel}", v.place(s.aside, -30, 195),
		v.place(s.aside, -30, 120), v.length(30))
	if s.brace > 0 {
		line("  brace: {gusset: {corner: %s, legs: [%s, %s], thickness: %s}, material: aluminium-5083}",
			v.place(s.aside-5, 60, 30), v.place(0, s.brace, 0), v.place(0, 0, 70), v.place(14, 0, 0))
	}
	line("joints:")
	line("  - {between: [base, bed], screws: {size: M5, grid: %s}}", v.grid(2, s.screws))
	line("  - {between: [base, column], screws: {size: M5, grid: %s}, surface: milled}", v.grid(s.screws, 1))
	line("  - {between: [column, arm], screws: {size: M5, grid: [%d, 1]}}", s.screws)
	line("  - {between: [arm, spindle], bonded: true}")
	if s.brace > 0 {
		line("  - {between: [base, brace], bonded: true}\n  - {between: [column, brace], bonded: true}")
	}
	line("grounds:")
	line("  - {part: base, face: bottom, feet: %s, stiffness: 40 N/um}", v.spots([2]int{-70, -120}, [2]int{75, -110},
		[2]int{-65, 70}, [2]int{70, 80}))
	line("tool: {part: spindle, at: %s, stickout: %s, diameter: %s, material: carbide}", v.place(s.aside, -30, 100),
		v.length(20), v.length(6))
	line("work: {part: bed}\npoints:")
	line("  bed end: {part: bed, at: %s, patch: %s}", v.place(10, -80, top), v.lengths(patch...))
	line("  column top: {part: column, at: %s}", v.place(s.aside, 45, s.column))
	line("loads:")
	line("  cut: {tip: %s}", v.force(40, -25, 60))
	line("  press: {at: bed end, force: %s}", v.force(5, 10, -80))
	line("  both: [{at: column top, force: %s}, {tip: %s}]", v.force(0, 30, 0), v.force(0, 0, 20))
	line("travel:\n  bed: %s", path)
	return b.String()
}

// solved is what compare answers of a model at typical numbers: without its draws, which take most of its time.
func solved(t rapid.TB, by *structure.Builder, model string) answer.Result {
	doc, err := modelfile.Parse("stand.yaml", []byte(model))
	require.NoError(t, err)
	m, err := doc.Machine("")
	require.NoError(t, err)
	r, err := by.Answer(context.Background(), m, structure.FullTravel)
	require.NoError(t, err)
	return *r
}

// alike checks that two vectors agree, measured by the wanted one or by the least size that counts.
func alike(t rapid.TB, want, got [3]float64, least float64, what string) {
	t.Helper()
	size := func(a [3]float64) float64 { return math.Sqrt(a[0]*a[0] + a[1]*a[1] + a[2]*a[2]) }
	off := size([3]float64{got[0] - want[0], got[1] - want[1], got[2] - want[2]}) / max(size(want), least)
	if !(off <= agreement) { // written so that NaN fails
		t.Fatalf("%s: got %v, want %v, off by %.1e", what, got, want, off)
	}
}

// The least sizes that count: the loads are some tens of newtons, and a movement is measured in some tenths of a µm.
const (
	leastNewtons = 10.0
	leastUm      = 0.1
)

// sameAnswer checks that what one view answers is what becomes of the other's answer.
func sameAnswer(t rapid.TB, v view, was, is answer.Result) {
	grown := func(a [3]float64) [3]float64 {
		a = v.seen(a)
		return [3]float64{v.loads * a[0], v.loads * a[1], v.loads * a[2]}
	}
	alike(t, [3]float64{was.MassKg}, [3]float64{is.MassKg}, 0, v.name+": mass")
	require.Equal(t, was.Holes, is.Holes)
	for i, row := range was.Tip.ComplianceUmPerN {
		// A row of the turned matrix is a turned sum of rows: compare what single unit forces do.
		unit := [3]float64{}
		unit[i] = 1
		push := v.seen(unit)
		var moved [3]float64
		for k := range moved {
			for l := range push {
				moved[k] += is.Tip.ComplianceUmPerN[k][l] * push[l]
			}
		}
		alike(t, v.seen(row), moved, 0, v.name+": compliance")
	}
	require.Len(t, is.Loads, len(was.Loads))
	for i, l := range was.Loads {
		alike(t, grown(*l.TipUm), *is.Loads[i].TipUm, leastUm, v.name+": tip under "+l.Name)
		alike(t, grown(l.ReactionN), is.Loads[i].ReactionN, leastNewtons, v.name+": reaction under "+l.Name)
		for name, um := range l.PointsUm {
			alike(t, grown(um), is.Loads[i].PointsUm[name], leastUm, v.name+": "+name+" under "+l.Name)
		}
	}
	require.Len(t, is.Travel, len(was.Travel))
	for i, path := range was.Travel {
		n := len(path.TipUm)
		require.Len(t, is.Travel[i].TipUm, n)
		for k := range n {
			at := k
			if v.isTurned() {
				at = n - 1 - k
			}
			alike(t, grown(path.TipUm[k]), is.Travel[i].TipUm[at], leastUm,
				fmt.Sprintf("%s: tip with the work at %g mm", v.name, path.AtMM[k]))
		}
	}
}

func TestViews(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		s := drawSizes(t)
		was := solved(t, new(structure.Builder), plain.stand(s))
		for _, v := range views {
			sameAnswer(t, v, was, solved(t, new(structure.Builder), v.stand(s)))
		}
	})
}

// TestOptionIsHandEdit: an option is the same as writing its settings into the values by hand, to the last digit.
func TestOptionIsHandEdit(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	rapid.Check(t, func(t *rapid.T) {
		write := func(width, height int, options string) string {
			return fmt.Sprintf(`machine: Post
values: {width: %d mm, height: %d mm, top: height + 20 mm}
parts:
  foot: {plate: {from: [-70, -60, 0], to: [70, 60, 20]}, material: aluminium-5083}
  post: {plate: {from: [-width/2, -20, 20], to: [width/2, 20, top]}, material: aluminium-5083}
  cap: {if: width > 50, plate: {from: [-20, -20, top], to: [20, 20, top + 10]}, material: steel}
joints:
  - {between: [foot, post], screws: {size: M5, grid: [2, 2]}}
  - {between: [post, cap], bonded: true}
grounds:
  - {part: foot, face: bottom, fixed: true}
tool: {part: post, at: [0, -20, height]}
work: {part: foot, at: [0, -40, 20]}
loads:
  push: {tip: [0, 100, 0]}
%s`, width, height, options)
		}
		width, height := rapid.IntRange(40, 60).Draw(t, "width"), rapid.IntRange(100, 300).Draw(t, "height")
		option := fmt.Sprintf("options:\n  changed: {width: %d mm, height: %d mm}\n", width, height)
		path := filepath.Join(dir, "post.yaml")
		command := rapid.SampledFrom([]string{"show", "tip", "compare", "travel"}).Draw(t, "command")
		form := rapid.SampledFrom([]string{"--json", "--csv"}).Draw(t, "form")
		require.NoError(t, os.WriteFile(path, []byte(write(45, 150, option)), 0o644))
		asked := outputOf(t, command, path, form, "--option", "changed")
		require.NoError(t, os.WriteFile(path, []byte(write(width, height, "")), 0o644))
		edited := outputOf(t, command, path, form)
		require.Equal(t, strings.ReplaceAll(string(edited), structure.AsDrawn, "changed"), string(asked))
	})
}
