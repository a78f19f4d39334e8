package workshop

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
	"gonum.org/v1/plot/vg"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
	"tiploop/report/number"
	"tiploop/report/paper"
)

// Page is a size of paper that sheets are made for.
type Page struct {
	Name          string
	Width, Height vg.Length // in points; upright
}

// Pages are the sizes that there are, the usual one first: A4 of ISO 216 and the letter of ASME Y14.1.
var Pages = []Page{
	{"A4", 210 * vg.Millimeter, 297 * vg.Millimeter},
	{"Letter", 8.5 * vg.Inch, 11 * vg.Inch},
}

// PageOf returns the size of that name, in capitals or not.
func PageOf(name string) (Page, bool) {
	i := slices.IndexFunc(Pages, func(p Page) bool { return strings.EqualFold(p.Name, name) })
	if i < 0 {
		return Page{}, false
	}
	return Pages[i], true
}

// Part is what the workshop gets of one part.
type Part struct {
	Name   string           // the part's own
	File   string           // how its files are named, without extension: "07-upright"
	Sheets []*paper.Picture // its pages, one at least
	Faces  []FullSize       // those that are drilled, and its largest one; of a bar without holes none
}

// FullSize is a face of a part at full size.
type FullSize struct {
	Face string // "top"
	SVG  []byte // in mm
}

// Draw makes the sheets of all parts of a machine, which the inventory is of. The error is one of a bar's section, or of a
// number that is none.
func Draw(m *machine.Machine, inv answer.Inventory, page Page) ([]Part, error) {
	if err := number.CheckFinite(inv); err != nil {
		return nil, err
	}
	byPart := map[string][]answer.HoleLine{}
	for _, h := range inv.HoleList {
		byPart[h.Part] = append(byPart[h.Part], h)
	}
	open := map[string][]answer.OpenHoles{}
	for _, o := range inv.HolesOpen {
		open[o.Part] = append(open[o.Part], o)
	}
	var parts []Part
	for i, line := range inv.Parts {
		faces, err := facesOf(&m.Parts[i], line, byPart[line.Name])
		if err != nil {
			return nil, fmt.Errorf("part %q: %w", line.Name, err)
		}
		s := &sheet{page: page, inv: inv, part: line, number: i + 1, faces: faces, holes: byPart[line.Name],
			open: open[line.Name]}
		p := Part{Name: line.Name, File: fileName(i+1, len(inv.Parts), line.Name), Sheets: s.pictures()}
		for _, f := range faces {
			if f.name == barFace {
				continue
			}
			p.Faces = append(p.Faces, FullSize{f.name, f.fullSize(title(i+1, line.Name), inv)})
		}
		parts = append(parts, p)
	}
	return parts, nil
}

// title is how a part is called on its sheets.
func title(number int, name string) string {
	return fmt.Sprintf("%d  %s", number, short(name, longestTitle))
}

// fileLetters is how many letters of its name a file takes over.
const fileLetters = 40

// fileName names the files of a part: its number, with as many digits as that of the last one and two at least, and the
// plain letters and numbers of its name, marks left out. So no two are alike, none has a folder in it, and none is a name
// that a system keeps for itself.
func fileName(number, of int, name string) string {
	digits := max(2, len(fmt.Sprint(of)))
	var b strings.Builder
	gap := false
	for _, r := range norm.NFD.String(name) {
		if b.Len() >= fileLetters {
			break
		}
		switch {
		case unicode.Is(unicode.Mn, r):
		case r < unicode.MaxASCII && (unicode.IsLetter(r) || unicode.IsDigit(r) || r == '_'):
			if gap && b.Len() > 0 {
				b.WriteByte('-')
			}
			gap = false
			b.WriteRune(r)
		default:
			gap = true
		}
	}
	if b.Len() == 0 {
		return fmt.Sprintf("%0*d", digits, number)
	}
	return fmt.Sprintf("%0*d-%s", digits, number, b.String())
}
