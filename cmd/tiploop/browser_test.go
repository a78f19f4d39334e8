package main

import (
	"context"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// browser is a real one without a window. What takes one is tried where TIPLOOP_BROWSER=required, as in the gate; else
// one control of the viewer is, in report/scene.
func browser(t *testing.T) context.Context {
	t.Helper()
	if os.Getenv("TIPLOOP_BROWSER") != "required" {
		t.Skip("tried where TIPLOOP_BROWSER=required")
	}
	path := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if found, err := exec.LookPath(name); err == nil {
			path = found
			break
		}
	}
	require.NotEmpty(t, path, "no browser is installed")
	options := append(slices.Clone(chromedp.DefaultExecAllocatorOptions[:]), chromedp.ExecPath(path), chromedp.NoSandbox,
		chromedp.UserDataDir(t.TempDir()), chromedp.Flag("use-gl", "angle"), chromedp.Flag("use-angle", "swiftshader"),
		chromedp.Flag("enable-unsafe-swiftshader", true)) // WebGL without a graphics card
	allocator, stop := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(stop)
	ctx, leave := chromedp.NewContext(allocator)
	t.Cleanup(leave)
	require.NoError(t, chromedp.Do(ctx))
	return ctx
}

// opened is a page in a tab of its own, with what it asked for and complained of.
type opened struct {
	ctx context.Context
	mu  sync.Mutex
	bad []string
}

// open opens a file and listens.
func open(t *testing.T, ctx context.Context, path string) *opened {
	t.Helper()
	return visit(t, ctx, (&url.URL{Scheme: "file", Path: path}).String())
}

// visit opens a page and listens; it may ask for what lies below its own address.
func visit(t *testing.T, ctx context.Context, own string) *opened {
	t.Helper()
	tab, leave := chromedp.NewContext(ctx)
	t.Cleanup(leave)
	o := &opened{ctx: tab}
	complain := func(what string) {
		o.mu.Lock()
		defer o.mu.Unlock()
		o.bad = append(o.bad, what)
	}
	require.NoError(t, chromedp.Listen(tab, func(event any) {
		switch e := event.(type) {
		case *network.EventRequestWillBeSent:
			if !strings.HasPrefix(e.Request.URL, own) {
				complain("asks for " + e.Request.URL)
			}
		case *log.EventEntryAdded:
			complain(fmt.Sprintf("%s: %s", e.Entry.Level, e.Entry.Text))
		case *runtime.EventConsoleAPICalled:
			complain(fmt.Sprintf("console %s", e.Type))
		case *runtime.EventExceptionThrown:
			complain(e.ExceptionDetails.Text)
		case *page.EventJavascriptDialogOpening:
			complain("a dialog: " + e.Message)
		}
	}))
	require.NoError(t, chromedp.Do(tab, asking(network.Enable, network.EnableParams{}), asking(log.Enable, cdp.Empty{}),
		asking(runtime.Enable, cdp.Empty{}), asking(page.Enable, page.EnableParams{}), chromedp.Navigate(own)))
	return o
}

// asking is a command of the browser's protocol whose answer nobody needs.
func asking[P, R any](command cdp.Command[P, R], params P) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, command, params)
		return err
	})
}

// complaints are what was asked for or went wrong.
func (o *opened) complaints() []string {
	o.mu.Lock()
	defer o.mu.Unlock()
	return slices.Clone(o.bad)
}

// value is what an expression of the page comes to.
func value[T any](t *testing.T, o *opened, expression string) (v T) {
	t.Helper()
	v, err := chromedp.Run(o.ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	require.NoError(t, err, expression)
	return v
}

// The widths of a phone and of a desk, in CSS pixels, and how high what is looked at.
const (
	phoneWide = 390
	deskWide  = 1440
	looksHigh = 900
)

// looks sets the width and the colours that the reader likes.
func looks(t *testing.T, o *opened, wide int64, scheme string) {
	t.Helper()
	require.NoError(t, chromedp.Do(o.ctx, asking(emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{
		Width: wide, Height: looksHigh, DeviceScaleFactor: 1, Mobile: wide == phoneWide}),
		asking(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{
			{Name: "prefers-color-scheme", Value: scheme}}})))
	if folder := os.Getenv("TIPLOOP_SHOTS"); folder != "" {
		png, err := chromedp.Run(o.ctx, chromedp.FullScreenshot(100))
		require.NoError(t, err)
		name := fmt.Sprintf("%s-%d-%s.png", strings.ReplaceAll(t.Name(), "/", "-"), wide, scheme)
		require.NoError(t, os.WriteFile(filepath.Join(folder, name), png, 0o600))
	}
}

// readable requires of a page as it looks now that it is not wider than it is shown, and that its letters stand out
// against the paper: WCAG 2.2 asks for a contrast of 4.5.
func readable(t *testing.T, o *opened) {
	t.Helper()
	require.LessOrEqual(t, value[float64](t, o, "document.documentElement.scrollWidth - innerWidth"), 0.0, "wider than shown")
	require.Greater(t, value[float64](t, o, `(() => {
		const light = (colour) => {
			const [r, g, b] = colour.match(/[0-9.]+/g).slice(0, 3).map((v) => {
				const c = v / 255;
				return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
			});
			return 0.2126 * r + 0.7152 * g + 0.0722 * b + 0.05;
		};
		const style = getComputedStyle(document.documentElement);
		const [a, b] = [light(style.color), light(style.backgroundColor)];
		return Math.max(a, b) / Math.min(a, b);
	})()`), 4.5)
}

// Pages of models open from a file without a word of complaint and without asking for anything, at the width of a phone
// and of a desk, by day and by night, and whoever reads them by ear or by keys finds nothing serious in the way.
func TestBrowserOpensLogs(t *testing.T) {
	ctx := browser(t)
	models, err := filepath.Glob(filepath.Join(top, "examples", "*.yaml"))
	require.NoError(t, err)
	require.NotEmpty(t, models)
	if !thorough() {
		models = []string{filepath.Join(top, "examples", "bed-layouts.yaml")}
	}
	for _, model := range append(models, nastyModel(t)) {
		t.Run(strings.TrimSuffix(filepath.Base(model), ".yaml"), func(t *testing.T) {
			folder, files := logged(t, model, "page.html")
			const mostBytes = 1_500_000
			require.Less(t, len(files["page.html"]), mostBytes)
			o := open(t, ctx, filepath.Join(folder, "page.html"))
			require.Equal(t, "tiploop "+version, value[string](t, o, `document.querySelector("meta[name=generator]").content`))
			turning(t, o)
			papers := map[string]bool{}
			for _, scheme := range []string{"light", "dark"} {
				for _, wide := range []int64{phoneWide, deskWide} {
					looks(t, o, wide, scheme)
					readable(t, o)
				}
				accessible(t, o)
				papers[value[string](t, o, "getComputedStyle(document.documentElement).backgroundColor")] = true
			}
			require.Len(t, papers, 2, "light and dark")
			require.Equal(t, 2, value[int](t, o, `document.scripts.length`), "the viewer and what it shows")
			require.Zero(t, value[int](t, o, `document.querySelectorAll("img, iframe, object, style:not(head style)").length`))
			printed(t, o)
			require.Empty(t, o.complaints())
		})
	}
}

// turning waits for the machine in three dimensions to take the place of the still drawing, which stays in the page for
// printing.
func turning(t *testing.T, o *opened) {
	t.Helper()
	_, err := chromedp.Run(o.ctx, chromedp.Poll[bool]("'tiploopScene' in window"))
	require.NoError(t, err)
	require.True(t, value[bool](t, o, `document.querySelector("#machine canvas") !== null`))
	require.True(t, value[bool](t, o, `document.querySelector("#machine figure").hidden`))
}

// accessible asks axe-core, of whose script TIPLOOP_AXE is the path.
func accessible(t *testing.T, o *opened) {
	t.Helper()
	path := os.Getenv("TIPLOOP_AXE")
	require.NotEmpty(t, path, "TIPLOOP_AXE names no script")
	script, err := os.ReadFile(path)
	require.NoError(t, err)
	value[any](t, o, string(script)+"; null")
	require.Empty(t, value[[]string](t, o, `document.querySelectorAll("details").forEach((d) => { d.open = true; });
		axe.run().then((found) => found.violations.filter((v) => v.impact === "serious" || v.impact === "critical")
			.map((v) => v.id + ": " + v.help + " at " + v.nodes.map((n) => n.target.join(" ")).slice(0, 3).join(", ")))`))
}

// printed requires that the page prints on A4 and Letter.
func printed(t *testing.T, o *opened) {
	t.Helper()
	for name, sheet := range map[string]chromedp.PaperSize{"A4": chromedp.PaperA4, "Letter": chromedp.PaperLetter} {
		pdf, err := chromedp.Run(o.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(sheet), chromedp.PDFPrintBackground()))
		require.NoError(t, err)
		require.True(t, strings.HasPrefix(string(pdf), "%PDF"))
		if folder := os.Getenv("TIPLOOP_SHOTS"); folder != "" {
			name = fmt.Sprintf("%s-%s.pdf", strings.ReplaceAll(t.Name(), "/", "-"), name)
			require.NoError(t, os.WriteFile(filepath.Join(folder, name), pdf, 0o600))
		}
	}
}
