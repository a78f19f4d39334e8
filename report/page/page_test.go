package page

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
	"tiploop/report"
	"tiploop/report/internal/sample"
)

// mill is the page of a machine with one load, one culprit and a path.
func mill() Content {
	m, inv := sample.Mill()
	tip := [3]float64{0, 30, 40}
	size := 50.0
	r := answer.Result{Name: "as drawn", Detail: answer.SolidDetail, MassKg: inv.MassKg,
		Tip:    &answer.Tip{StiffnessNPerUm: answer.Stiffness{X: 3, Y: 2, Z: 4, Softest: 2, SoftestDirection: [3]float64{0, 1, 0}}},
		Loads:  []answer.LoadResult{{Name: "push", OnTip: true, TipUm: &tip, TipSizeUm: &size}},
		Shares: []answer.Share{{Load: "push", Source: "part head", Percent: 60}, {Load: "push", Source: "tool", Percent: 40}},
		Travel: []answer.Travel{{Path: "bed", Load: "push", ToleranceUm: 60, WithinMM: &[2]float64{0, 100},
			AtMM: []float64{0, 100, 200}, TipUm: [][3]float64{tip, tip, {0, 0, 90}}}},
	}
	return Content{Answer: answer.Answer{Machine: m.Name, Detail: r.Detail, Options: []answer.Result{r}},
		Drawn: []Drawn{{Machine: m, Inventory: inv}}, Source: Source{"mill.yaml", "machine: Mill\n"}, Version: "1"}
}

// written is the page.
func written(t *testing.T, c Content, live Live) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, Write(&b, c, live))
	return b.String()
}

// Headings say what was found, in the numbers of the answer.
func TestHeadings(t *testing.T) {
	list, err := mill().sections()
	require.NoError(t, err)
	says := map[string]string{}
	for _, s := range list {
		says[s.Name] = s.Heading
	}
	require.Equal(t, "It typically keeps 60 µm over 100 of 200 mm along “bed” under “push”. The tip moves 50.0 µm "+
		"under “push”.", says["verdict"])
	require.Equal(t, "The tip is softest towards/away from you (y): 2.0 N/µm", says["loads"])
	require.Equal(t, "The tip typically keeps 60 µm over 100 of 200 mm along “bed” under “push”", says["places"])
	require.Equal(t, "The head gives way most under “push”: 60 %", says["shares"])
	require.Equal(t, "All of it comes from 1 line of mill.yaml", says["file"])
	require.NotContains(t, says, "options", "there is one")
	require.NotContains(t, says, "cuts")
}

// Holes that run into each other come first: among the alarms, and above what there is to drill.
func TestFindings(t *testing.T) {
	c := mill()
	c.Drawn = slices.Clone(c.Drawn)
	c.Drawn[0].Inventory.HoleList = []answer.HoleLine{{Part: "head", Number: 1, Meets: []int{2}},
		{Part: "head", Number: 2, Meets: []int{1}}}
	list, err := c.sections()
	require.NoError(t, err)
	says := map[string]string{}
	for _, s := range list {
		says[s.Name] = s.Heading
	}
	clash := "Do not drill yet: 1 pair of holes runs into each other, in head"
	require.Contains(t, items(list[0].Blocks), Item{Text: clash + ".", Alarm: true})
	require.Equal(t, clash, says["parts"])
}

// Most of the doubt is that of the load that moves the tip farthest, whichever quantity was drawn first.
func TestDoubtInHeading(t *testing.T) {
	c := mill()
	c.Answer.Options[0].Sure = &answer.Sure{Draws: 100, Settled: true, Culprits: []answer.UnknownShare{
		{Quantity: answer.StiffnessKey("x"), What: "spindle router", Percent: 90},
		{Quantity: answer.MovementKey("push", ""), What: "faces of base/head", Percent: 41.4, Settle: "push the joint and read it"},
	}}
	list, err := c.sections("sure")
	require.NoError(t, err)
	require.Equal(t, "Most of the doubt, 41 %, is faces of base/head: push the joint and read it", list[0].Heading)
}

// The page has the builder's notes, what a live page adds, and of its sections those that are asked for.
func TestSectionsAndLive(t *testing.T) {
	c := mill()
	c.Drawn[0].Machine.Notes = []machine.Note{{Section: "shares", Text: "It is the *head*."},
		{Section: "question", Text: "How stiff?"}}
	c.Drawn[0].Machine.Date = "26 November"
	live := Live{Controls: "<p>sliders</p>", Style: "p{margin:1px}", Script: "let a = 1 < 2;", Connect: []string{"'self'"}}
	whole := written(t, c, live)
	for _, want := range []string{"It is the <em>head</em>.", "<p>How stiff?</p>", "26 November",
		`<aside id="controls" aria-label="Controls"><p>sliders</p></aside>`, "p{margin:1px}</style>", "<script>let a = 1 < 2;</script>",
		"connect-src &#39;self&#39;", "script-src &#39;sha256-"} {
		require.Contains(t, whole, want)
	}
	c.Sections = []string{"file"}
	few := written(t, c, Live{})
	require.NotContains(t, few, `<section id="shares"`)
	require.Contains(t, few, `<section id="file"`)
	require.Contains(t, few, `<header id="verdict">`)
}

// The names of sections are those in which the builder's notes may stand, behind the question.
func TestNames(t *testing.T) {
	var noted []string
	for _, s := range machine.LogSections {
		noted = append(noted, s.Name)
	}
	require.Equal(t, append([]string{"question"}, Names()...), noted)
	for _, name := range []string{"shares", "next", "screws", "check", "loads", "cuts"} {
		require.Contains(t, report.TipTables(), name, "one word for one thing")
	}
	require.Contains(t, report.TravelTables(), "places")
	require.Contains(t, report.ShowTables(), "parts")
}

// What is no page is told and nothing is written.
func TestNoPage(t *testing.T) {
	for name, spoil := range map[string]func(*Content){
		"no options":      func(c *Content) { c.Answer.Options = nil },
		"no machine":      func(c *Content) { c.Drawn[0].Machine = nil },
		"a number none":   func(c *Content) { c.Answer.Options[0].MassKg = math.NaN() },
		"a size none":     func(c *Content) { c.Drawn[0].Inventory.MassKg = math.Inf(1) },
		"no such section": func(c *Content) { c.Sections = []string{"weather"} },
	} {
		c := mill()
		c.Answer.Options, c.Drawn = slices.Clone(c.Answer.Options), slices.Clone(c.Drawn)
		spoil(&c)
		var b bytes.Buffer
		require.Error(t, Write(&b, c, Live{}), name)
		require.Empty(t, b.String(), name)
		_, err := Markdown(c, "log")
		require.Error(t, err, name)
	}
}

// Names are text wherever they stand, beside numbers that keep their units.
func TestKept(t *testing.T) {
	require.EqualValues(t, `&lt;b&gt; moves <span class="kept">12.5 µm</span> (10 to <span class="kept">14 µm</span>), `+
		`<span class="kept">3 %</span> &amp; 2 mmm`, kept("<b> moves 12.5 µm (10 to 14 µm), 3 % & 2 mmm"))
	require.EqualValues(t, `stiffness, <span class="kept">N/µm</span>`, kept("stiffness, N/µm"))
	require.EqualValues(t, "", kept(""))
}

// Bars are as long as their shares, and begin where the one before ends.
func TestPieces(t *testing.T) {
	list := pieces(Bar{Parts: []BarPart{{"a", 50}, {"b", 25}, {"c", 5}}})
	require.Equal(t, []piece{{BarPart{"a", 50}, 0, 62.5, 0, "50"}, {BarPart{"b", 25}, 62.5, 31.25, 1, "25"},
		{BarPart{"c", 5}, 93.75, 6.25, 2, ""}}, list)
	require.Empty(t, pieces(Bar{}))
}

// Pictures in a page say by attributes what files say by styles, which the page's policy does not let in.
func TestInline(t *testing.T) {
	c := mill()
	c.Sections = []string{"drawing"}
	_, html, _ := strings.Cut(written(t, c, Live{}), "<main")
	require.Contains(t, html, "<title id=\"picture-drawing\">")
	require.NotContains(t, html, "style=")
	require.NotContains(t, html, "font-family")
	require.Contains(t, html, ` fill="none"`)
	require.Contains(t, html, `font-weight="bold"`)
	require.Equal(t, strings.Count(html, "<g"), strings.Count(html, "</g>"))
}
