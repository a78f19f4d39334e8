package workshop_test

import (
	"bytes"
	"context"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/recorder"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile"
	"tiploop/frame/structure"
	"tiploop/report/paper"
	"tiploop/report/paper/papertest"
	"tiploop/report/workshop"
)

// built is a machine with its inventory, by the beam model.
func built(t *testing.T, doc *modelfile.Document) (*machine.Machine, answer.Inventory) {
	t.Helper()
	m, err := doc.Machine("")
	require.NoError(t, err)
	model, err := (&structure.Builder{Detail: structure.Section}).Build(context.Background(), m)
	require.NoError(t, err)
	return m, model.Inventory()
}

// example is one of the examples.
type example struct {
	name string
	m    *machine.Machine
	inv  answer.Inventory
}

// known are the examples, built once.
var known []example

// examples are the machines of the examples.
func examples(t *testing.T, do func(name string, m *machine.Machine, inv answer.Inventory)) {
	t.Helper()
	if known == nil {
		files, err := filepath.Glob("../../examples/*.yaml")
		require.NoError(t, err)
		require.NotEmpty(t, files)
		for _, path := range files {
			doc, err := modelfile.Read(path)
			require.NoError(t, err)
			m, inv := built(t, doc)
			known = append(known, example{filepath.Base(path), m, inv})
		}
	}
	for _, e := range known {
		do(e.name, e.m, e.inv)
	}
}

// painted are the texts of a page with their boxes, and the middles of the circles on it.
func painted(p *paper.Picture) (texts map[string][]vg.Rectangle, circles []vg.Point) {
	var c recorder.Canvas
	p.Paint(draw.NewCanvas(&c, p.Width, p.Height))
	texts = map[string][]vg.Rectangle{}
	for _, a := range c.Actions {
		switch a := a.(type) {
		case *recorder.FillString:
			sty := paper.Lettering(a.Size, paper.Ink)
			sty.Font = a.Font
			texts[a.String] = append(texts[a.String], vg.Rectangle{Min: a.Point,
				Max: vg.Point{X: a.Point.X + sty.Width(a.String), Y: a.Point.Y + a.Size*0.7}})
		case *recorder.Stroke:
			for _, s := range a.Path {
				if s.Type == vg.ArcComp && s.Angle > 6 {
					circles = append(circles, s.Pos)
				}
			}
		}
	}
	return texts, circles
}

// Nothing is clipped on either paper; every hole stands in the table once with its number, and its number on each face
// where it is drawn; no two numbers lie on one another.
func TestSheets(t *testing.T) {
	for _, page := range workshop.Pages {
		examples(t, func(name string, m *machine.Machine, inv answer.Inventory) {
			if page.Name != workshop.Pages[0].Name && !slices.Contains([]string{"gussets.yaml", "fixed-gantry-mill.yaml"}, name) {
				return
			}
			parts, err := workshop.Draw(m, inv, page)
			require.NoError(t, err)
			require.Len(t, parts, len(inv.Parts))
			for _, p := range parts {
				rows := map[string]int{}
				for i, s := range p.Sheets {
					where := fmt.Sprintf("%s, %s, sheet %d on %s", name, p.Name, i+1, page.Name)
					require.Equal(t, [2]vg.Length{page.Width, page.Height}, [2]vg.Length{s.Width, s.Height})
					papertest.NothingClipped(t, where, s)
					texts, _ := painted(s)
					var numbers []vg.Rectangle
					for words, boxes := range texts {
						if !regexp.MustCompile(`^\d+~?!?$`).MatchString(words) {
							continue
						}
						for _, b := range boxes {
							if b.Max.X <= paper.Margin+24.01 { // the table's first column
								rows[strings.TrimRight(words, "~!")]++
								continue
							}
							numbers = append(numbers, b)
						}
					}
					for k, a := range numbers {
						for _, b := range numbers[:k] {
							apart := a.Max.X <= b.Min.X || b.Max.X <= a.Min.X || a.Max.Y <= b.Min.Y || b.Max.Y <= a.Min.Y
							require.True(t, apart, "%s: two numbers at %v", where, a.Min)
						}
					}
				}
				want := map[string]int{}
				for _, h := range inv.HoleList {
					if h.Part == p.Name {
						want[strconv.Itoa(h.Number)] = 1
					}
				}
				require.Equal(t, want, rows, "%s, %s", name, p.Name)
			}
		})
	}
}

// Holes stand on a sheet as far apart as its scale says.
func TestSheetsAreToScale(t *testing.T) {
	checked := 0
	examples(t, func(name string, m *machine.Machine, inv answer.Inventory) {
		parts, err := workshop.Draw(m, inv, workshop.Pages[0])
		require.NoError(t, err)
		for _, p := range parts {
			lo, hi := math.Inf(1), math.Inf(-1)
			faces := map[string]bool{}
			for _, h := range inv.HoleList {
				if h.Part == p.Name {
					lo, hi = math.Min(lo, h.YMM), math.Max(hi, h.YMM)
					faces[h.Face], faces[h.OutOn] = true, h.SinkMM > 0 || faces[h.OutOn]
				}
			}
			if len(p.Faces) != 1 || hi-lo < 10 { // of several faces it is not known here which hole is on which
				continue
			}
			texts, circles := painted(p.Sheets[0])
			var times float64
			for words := range texts {
				if s := regexp.MustCompile(`scale (\d+):([\d.]+)`).FindStringSubmatch(words); s != nil {
					a, _ := strconv.ParseFloat(s[1], 64)
					b, _ := strconv.ParseFloat(s[2], 64)
					times = a / b
				}
			}
			require.NotZero(t, times, "%s, %s", name, p.Name)
			least, most := vg.Length(math.Inf(1)), vg.Length(math.Inf(-1))
			for _, c := range circles {
				if c.Y < p.Sheets[0].Height-110 { // the key is above
					least, most = min(least, c.Y), max(most, c.Y)
				}
			}
			const pointsPerMM = 72 / 25.4
			require.InDelta(t, (hi-lo)*times*pointsPerMM, float64(most-least), 0.01, "%s, %s", name, p.Name)
			checked++
		}
	})
	require.Greater(t, checked, 10)
}

// element is one of an SVG, with what it holds.
type element struct {
	name string
	has  map[string]string
}

// elements are all of a file, which must be well formed.
func elements(t *testing.T, svg []byte) (list []element) {
	t.Helper()
	for d := xml.NewDecoder(bytes.NewReader(svg)); ; {
		token, err := d.Token()
		if err == io.EOF {
			return list
		}
		require.NoError(t, err)
		if s, ok := token.(xml.StartElement); ok {
			e := element{s.Name.Local, map[string]string{}}
			for _, a := range s.Attr {
				e.has[a.Name.Local] = a.Value
			}
			list = append(list, e)
		}
	}
}

// numbersIn are the numbers in a text.
func numbersIn(s string) (list []float64) {
	for _, f := range regexp.MustCompile(`-?[\d.]+`).FindAllString(s, -1) {
		v, _ := strconv.ParseFloat(f, 64)
		list = append(list, v)
	}
	return list
}

// Read back, a face at full size has the part's own measures, and its holes stand where the machine has them, seen from
// outside: to the right on the paper is up × outward. A hole through is on both of its faces where both are drawn.
func TestFullSizeReadBack(t *testing.T) {
	// Of each face: the machine's axis to the right on the paper with its sign, that upwards, both by hand.
	views := map[string]struct {
		right, up int
		sign      float64
	}{"top": {0, 1, 1}, "bottom": {0, 1, -1}, "front": {0, 2, 1}, "back": {0, 2, -1}, "right": {1, 2, 1}, "left": {1, 2, -1}}
	seen := 0
	examples(t, func(name string, m *machine.Machine, inv answer.Inventory) {
		parts, err := workshop.Draw(m, inv, workshop.Pages[0])
		require.NoError(t, err)
		for i, p := range parts {
			box := partBox(m.Parts[i])
			for _, f := range p.Faces {
				where := name + ", " + p.Name + ", " + f.Face
				list := elements(t, f.SVG)
				require.Equal(t, "svg", list[0].name)
				size := numbersIn(list[0].has["viewBox"])
				require.Equal(t, fmt.Sprintf("%gmm %gmm", size[2], size[3]), list[0].has["width"]+" "+list[0].has["height"], where)
				circles := map[string]element{}
				var outline, check []float64
				for _, e := range list {
					switch id := e.has["id"]; {
					case strings.HasPrefix(id, "hole-"):
						circles[strings.TrimPrefix(id, "hole-")] = e
					case id == "outline":
						outline = numbersIn(e.has["d"])
					case id == "check":
						check = numbersIn(e.has["d"])
					}
				}
				require.InDelta(t, 50, check[2]-check[0], 1e-9, where)
				left, low := math.Inf(1), math.Inf(-1)
				var xs, ys []float64
				for k := 0; k < len(outline); k += 2 {
					xs, ys = append(xs, outline[k]), append(ys, outline[k+1])
					left, low = math.Min(left, outline[k]), math.Max(low, outline[k+1])
				}
				v := views[f.Face]
				require.InDelta(t, box[1][v.right]-box[0][v.right], slices.Max(xs)-slices.Min(xs), 2e-3, where)
				require.InDelta(t, box[1][v.up]-box[0][v.up], slices.Max(ys)-slices.Min(ys), 2e-3, where)
				for _, h := range inv.HoleList {
					if h.Part != p.Name || h.Face != f.Face && h.OutOn != f.Face {
						continue
					}
					c, ok := circles[strconv.Itoa(h.Number)]
					require.True(t, ok, "%s: hole %d", where, h.Number)
					right := h.AtMM[v.right] - box[0][v.right]
					if v.sign < 0 {
						right = box[1][v.right] - h.AtMM[v.right]
					}
					at := numbersIn(c.has["cx"] + " " + c.has["cy"] + " " + c.has["r"])
					require.InDelta(t, left+right, at[0], 2e-3, "%s: hole %d", where, h.Number)
					require.InDelta(t, low-(h.AtMM[v.up]-box[0][v.up]), at[1], 2e-3, "%s: hole %d", where, h.Number)
					require.InDelta(t, h.DrillMM/2, at[2], 1e-3, "%s: hole %d", where, h.Number)
					delete(circles, strconv.Itoa(h.Number))
					seen++
				}
				require.Empty(t, circles, where)
			}
		}
	})
	require.Greater(t, seen, 500)
}

// partBox is the box round a plate or a gusset.
func partBox(p machine.Part) (box [2][3]float64) {
	corners := [][3]float64{}
	add := func(x, y, z float64) { corners = append(corners, [3]float64{x, y, z}) }
	switch {
	case p.Plate != nil:
		add(p.Plate.From.X, p.Plate.From.Y, p.Plate.From.Z)
		add(p.Plate.To.X, p.Plate.To.Y, p.Plate.To.Z)
	case p.Gusset != nil:
		g := p.Gusset
		add(g.Corner.X, g.Corner.Y, g.Corner.Z)
		add(g.Corner.X+g.Legs[0].X+g.Legs[1].X+g.Thickness.X, g.Corner.Y+g.Legs[0].Y+g.Legs[1].Y+g.Thickness.Y,
			g.Corner.Z+g.Legs[0].Z+g.Legs[1].Z+g.Thickness.Z)
	default:
		return box
	}
	for k := range 3 {
		box[0][k], box[1][k] = math.Min(corners[0][k], corners[1][k]), math.Max(corners[0][k], corners[1][k])
	}
	return box
}

// The same machine gives the same bytes.
func TestSameBytes(t *testing.T) {
	doc, err := modelfile.Read("../../examples/gussets.yaml")
	require.NoError(t, err)
	bytesOf := func() []byte {
		m, inv := built(t, doc)
		parts, err := workshop.Draw(m, inv, workshop.Pages[1])
		require.NoError(t, err)
		var b bytes.Buffer
		var pages []*paper.Picture
		for _, p := range parts {
			for _, f := range p.Faces {
				b.Write(f.SVG)
			}
			for _, s := range p.Sheets {
				require.NoError(t, s.Encode(&b, paper.SVG))
			}
			pages = append(pages, p.Sheets...)
		}
		require.NoError(t, paper.EncodePages(&b, pages...))
		return b.Bytes()
	}
	first := bytesOf()
	require.True(t, bytes.Equal(first, bytesOf()))
	// A page a sheet in the PDF.
	m, inv := built(t, doc)
	parts, err := workshop.Draw(m, inv, workshop.Pages[1])
	require.NoError(t, err)
	sheets := 0
	for _, p := range parts {
		sheets += len(p.Sheets)
	}
	require.Equal(t, sheets, bytes.Count(first, []byte("/Type /Page\n")))
}

// Names of parts, machine and joints do no harm: files have plain names of their own, drawings are well formed, and
// nothing runs off the paper.
func TestHostileNames(t *testing.T) {
	names := []string{"../../etc/passwd", `..\..\boot.ini`, "/", ".", "..", "CON", "<script>alert(1)</script>", `"'&]]>`,
		"\u202egnp.exe", "👾👾", "Säule Nº 1", "a\x00b\nc\x1b[31m", strings.Repeat("x", 10000),
		strings.Repeat("ÿ ", 5000), "base", "BASE"}
	plain := regexp.MustCompile(`^\d\d(-[A-Za-z0-9_]+(-[A-Za-z0-9_]+)*)?$`)
	doc, err := modelfile.Read("../../examples/gussets.yaml")
	require.NoError(t, err)
	taken := map[string]string{}
	harmless, inventory := built(t, doc)
	usual, err := workshop.Draw(harmless, inventory, workshop.Pages[0])
	require.NoError(t, err)
	for some := range slices.Chunk(names, len(usual)) {
		m, inv := built(t, doc)
		m.Name, inv.Machine, inv.Option = some[0], some[0], some[len(some)-1]
		hostile := map[string]string{} // of the parts by what they were called
		for k, name := range some {
			hostile[inv.Parts[k].Name] = name
			m.Parts[k].Name, inv.Parts[k].Name, inv.Parts[k].Material = name, name, name
		}
		for i := range inv.HoleList {
			h := &inv.HoleList[i]
			if name, is := hostile[h.Part]; is {
				h.Part, h.For = name, "joint "+name
			}
		}
		parts, err := workshop.Draw(m, inv, workshop.Pages[0])
		require.NoError(t, err)
		for k, name := range some {
			p := parts[k]
			require.Regexp(t, plain, p.File, "%.40q", name)
			require.LessOrEqual(t, len(p.File), 60)
			taken[p.File] = name
			require.Contains(t, p.File, fmt.Sprintf("%02d", k+1))
			require.Len(t, p.Faces, len(usual[k].Faces))
			for _, f := range p.Faces {
				for _, e := range elements(t, f.SVG) {
					require.NotEqual(t, "script", e.name)
				}
			}
			for i, s := range p.Sheets {
				papertest.NothingClipped(t, fmt.Sprintf("%.40q, sheet %d", name, i+1), s)
				for _, e := range elements(t, papertest.Encoded(t, s, paper.SVG)) {
					require.NotEqual(t, "script", e.name)
				}
			}
		}
	}
	require.Greater(t, len(taken), 8)
}
