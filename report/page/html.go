package page

import (
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"math"
	"regexp"
	"slices"
	"strings"

	"tiploop/report/scene"
	"tiploop/report/table"
	"tiploop/report/wrap"
)

//go:embed page.html
var pageText string

//go:embed page.css
var pageStyle string

// Live is what a page has beyond one that stands by itself. The zero value is none of it.
type Live struct {
	Controls template.HTML // between the head of the page and its sections
	Style    string        // behind the page's own
	Script   string        // at the end of the page
	Connect  []string      // where the script may fetch from, in the words of a content security policy: "'self'"
}

// Write writes the page as one HTML file. It has the sections of the content that have something to tell, with the
// verdict at its head whatever is asked for. The same content gives the same bytes.
func Write(w io.Writer, c Content, live Live) error {
	v, err := c.view(live)
	if err != nil {
		return err
	}
	return templates.ExecuteTemplate(w, "page", v)
}

// headSection is the section that stands at the head of the page.
const headSection = "verdict"

// view is what the templates are filled with.
type view struct {
	Title, Date, Question string
	QuestionNote          string // in Markdown; Question stands where there is none
	Verdict               Section
	Sections              []sectionView
	Policy                string
	Style                 template.CSS
	Scripts               []template.JS
	Version, Detail       string
	Controls              template.HTML
}

// sectionView is a section, that of the drawing with the machine in three dimensions.
type sectionView struct {
	Section
	Scene template.JS
}

// Still is the block in whose place the machine in three dimensions stands, and Others are the blocks round it.
func (s sectionView) Still() (list []Block) {
	return slices.DeleteFunc(slices.Clone(s.Blocks), func(b Block) bool { return b.Figure == nil })
}

// Others are the blocks that Still has not.
func (s sectionView) Others() (list []Block) {
	return slices.DeleteFunc(slices.Clone(s.Blocks), func(b Block) bool { return b.Figure != nil })
}

// view makes the sections and what stands above them.
func (c Content) view(live Live) (v view, err error) {
	asked := c.Sections
	if len(asked) > 0 {
		asked = append(slices.Clone(asked), headSection)
	}
	list, err := c.sections(asked...)
	if err != nil {
		return v, err
	}
	m := c.machine()
	v = view{Title: wrap.OneLine(c.Answer.Machine), Date: wrap.OneLine(m.Date),
		Question: c.question(), QuestionNote: c.note("question"), Verdict: list[0], Version: c.Version,
		Detail: c.result().Detail, Controls: live.Controls}
	if about := wrap.OneLine(m.About); about != "" {
		v.Verdict.Blocks = slices.Insert(v.Verdict.Blocks, 1, Block{Text: about})
	}
	style, scripts := pageStyle, []string(nil)
	for _, s := range list[1:] {
		one := sectionView{Section: s}
		if s.Name == drawingSection && c.Scene != nil {
			style, scripts = style+scene.Style(), append(scripts, scene.Script())
			one.Scene = template.JS(c.Scene) // nothing in it has a meaning in HTML
		}
		v.Sections = append(v.Sections, one)
	}
	if style += live.Style; live.Script != "" {
		scripts = append(scripts, live.Script)
	}
	v.Policy, v.Style = policy(style, scripts, live.Connect), template.CSS(style)
	for _, script := range scripts {
		v.Scripts = append(v.Scripts, template.JS(script))
	}
	return v, nil
}

// drawingSection is the section that has the machine in it.
const drawingSection = "drawing"

// question is what the page answers where the builder does not ask it.
func (c Content) question() string {
	if !c.several() {
		return "How far does the tool tip move, and what gives way?"
	}
	var names []string
	for _, r := range c.Answer.Options {
		names = append(names, wrap.OneLine(r.Name))
	}
	const mostNamed = 4
	if len(names) > mostNamed {
		return fmt.Sprintf("Which of %d to build?", len(names))
	}
	return "Which to build: " + strings.Join(names[:len(names)-1], ", ") + " or " + names[len(names)-1] + "?"
}

// policy allows the page its own style and scripts, to fetch from where it may, and nothing else.
func policy(style string, scripts, connect []string) string {
	words := "default-src 'none'; style-src " + hashOf(style) + "; base-uri 'none'; form-action 'none'"
	if len(scripts) > 0 {
		words += "; script-src"
		for _, script := range scripts {
			words += " " + hashOf(script)
		}
	}
	if len(connect) > 0 {
		words += "; connect-src " + strings.Join(connect, " ")
	}
	return words
}

// hashOf names a text as a content security policy does.
func hashOf(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

// templates are those of the page.
var templates = template.Must(template.New("page").Funcs(template.FuncMap{
	"note": noteHTML,
	"kept": kept,
	"picture": func(f *Figure) (template.HTML, error) {
		return inline(f.Picture, "picture-"+f.Name, f.Words)
	},
	"pieces": pieces,
	"class": func(c table.Column) string {
		if c.Words {
			return "words"
		}
		return "number"
	},
	"percent": func(v float64) string { return fmt.Sprintf("%.0f %%", v) },
	"times":   func(a, b int) int { return a * b },
}).Parse(pageText))

// withUnit is met by a number with its unit, and by a unit that a browser would break at its stroke.
var withUnit = regexp.MustCompile(`[0-9.]+ (?:N/µm|N/mm|µm|mm|kg|N|K)\b|[0-9.]+ %|N/µm|N/mm`)

// kept writes a text so that no line ends between a number and its unit.
func kept(text string) template.HTML {
	var b strings.Builder
	last := 0
	for _, at := range withUnit.FindAllStringIndex(text, -1) {
		b.WriteString(template.HTMLEscapeString(text[last:at[0]]) + `<span class="kept">` +
			template.HTMLEscapeString(text[at[0]:at[1]]) + "</span>")
		last = at[1]
	}
	return template.HTML(b.String() + template.HTMLEscapeString(text[last:]))
}

// piece is a part of a bar as it is drawn, in percent of the bar's width.
type piece struct {
	BarPart
	From, Wide float64
	Shade      int // from 0, the darkest
	Label      string
}

// shades is how many inks the pieces of a bar have before they begin again with the lightest.
const shades = 5

// pieces lays a bar's parts out side by side; what is wide enough for it has its number in it.
func pieces(b Bar) (list []piece) {
	total := 0.0
	for _, p := range b.Parts {
		total += math.Max(p.Percent, 0)
	}
	from := 0.0
	const wideEnough = 8
	for i, p := range b.Parts {
		wide := 100 * math.Max(p.Percent, 0) / math.Max(total, 1e-9)
		one := piece{BarPart: p, From: math.Round(100*from) / 100, Wide: math.Round(100*wide) / 100, Shade: min(i, shades)}
		if wide >= wideEnough {
			one.Label = fmt.Sprintf("%.0f", p.Percent)
		}
		list, from = append(list, one), from+wide
	}
	return list
}
