package browsertest

import (
	"cmp"
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// Page is a page in a tab of its own, with what it complained about.
type Page struct {
	context.Context
	t   testing.TB
	own string
	mu  sync.Mutex
	bad []string
}

// patience is how long a page may take for one thing, on a computer that does much else.
const patience = time.Minute

// Screen is what a page is looked at with, in CSS pixels. No width or height is that of a desk.
type Screen struct {
	Width, Height int64
	Dark, Still   bool    // the reader likes it dark; wants no movement
	Density       float64 // pixels of the screen to one of CSS; 0 is 1
}

// The widths of a phone and of a desk, in CSS pixels.
const (
	PhoneWide = 390
	DeskWide  = 1440
	deskHigh  = 900
)

// Open opens a page in a tab of its own and listens to it, where everything is tried. The page may ask for what lies below
// its own address.
func Open(t testing.TB, address string, on Screen) *Page {
	t.Helper()
	Needs(t)
	return Try(t, address, on)
}

// Try opens a page wherever there is a browser.
func Try(t testing.TB, address string, on Screen) *Page {
	t.Helper()
	has(t)
	ctx, leave := chromedp.NewContext(browser())
	t.Cleanup(leave)
	p := &Page{Context: ctx, t: t, own: address}
	require.NoError(t, chromedp.Do(ctx))
	require.NoError(t, chromedp.Listen(ctx, p.hear))
	Call(p, network.Enable, network.EnableParams{})
	Call(p, log.Enable, cdp.Empty{})
	Call(p, page.Enable, page.EnableParams{})
	p.LookWith(on)
	p.Do(chromedp.Navigate(address))
	return p
}

// LookWith changes what the page is looked at with.
func (p *Page) LookWith(on Screen) {
	p.t.Helper()
	scheme, motion := "light", "no-preference"
	if on.Dark {
		scheme = "dark"
	}
	if on.Still {
		motion = "reduce"
	}
	width := cmp.Or(on.Width, DeskWide)
	Call(p, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: width,
		Height: cmp.Or(on.Height, deskHigh), DeviceScaleFactor: max(1, on.Density), Mobile: width <= PhoneWide})
	Call(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{
		{Name: "prefers-color-scheme", Value: scheme}, {Name: "prefers-reduced-motion", Value: motion}}})
}

// hear keeps what a page complains about, and what it asks for elsewhere. The software renderer tells how slow it is when
// a picture is taken of what it draws; that is the test's doing.
func (p *Page) hear(event any) {
	p.mu.Lock()
	defer p.mu.Unlock()
	complain := func(what string) { p.bad = append(p.bad, what) }
	switch e := event.(type) {
	case *runtime.EventExceptionThrown:
		what := e.ExceptionDetails.Text
		if e.ExceptionDetails.Exception != nil {
			what += " " + e.ExceptionDetails.Exception.Description
		}
		complain(what)
	case *runtime.EventConsoleAPICalled:
		what := "console " + string(e.Type)
		for _, a := range e.Args {
			what += " " + string(a.Value)
		}
		complain(what)
	case *log.EventEntryAdded:
		if !strings.Contains(e.Entry.Text, "GPU stall") {
			complain(string(e.Entry.Level) + ": " + e.Entry.Text)
		}
	case *network.EventRequestWillBeSent:
		if !strings.HasPrefix(e.Request.URL, p.own) {
			complain("asks for " + e.Request.URL)
		}
	case *page.EventJavascriptDialogOpening:
		complain("a dialog: " + e.Message)
	}
}

// Complaints are what went wrong, and what was asked for elsewhere.
func (p *Page) Complaints() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return slices.Clone(p.bad)
}

// Call gives the browser a command of its protocol.
func Call[P, R any](p *Page, command cdp.Command[P, R], params P) R {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p, patience)
	defer cancel()
	r, err := chromedp.Call(ctx, command, params)
	require.NoError(p.t, err)
	return r
}

// Do takes some steps.
func (p *Page) Do(steps ...chromedp.Action[chromedp.Void]) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p, patience)
	defer cancel()
	require.NoError(p.t, chromedp.Do(ctx, steps...))
}

// Run is the value of an action.
func Run[T any](p *Page, a chromedp.Action[T]) T {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p, patience)
	defer cancel()
	v, err := chromedp.Run(ctx, a)
	require.NoError(p.t, err)
	return v
}

// Value is what an expression of the page comes to, or what its promise does.
func Value[T any](p *Page, expression string) T {
	p.t.Helper()
	return Run(p, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
}

// again is how long a page that is waited for is left alone.
const again = 50 * time.Millisecond

// Until waits until an expression of the page is true; a page that is opened anew meanwhile is asked again.
func (p *Page) Until(expression string) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p, patience)
	defer cancel()
	for {
		is, err := chromedp.Run(ctx, chromedp.Evaluate[bool]("Boolean("+expression+")"))
		if err == nil && is {
			return
		}
		select {
		case <-time.After(again):
		case <-ctx.Done():
			require.Fail(p.t, "the page never comes to that", "%s: %v", expression, err)
		}
	}
}

// Settled waits until two frames after what was done.
func (p *Page) Settled() {
	p.t.Helper()
	Value[bool](p, "new Promise((f) => requestAnimationFrame(() => requestAnimationFrame(() => f(true))))")
}

// Keep photographs the whole page, when TIPLOOP_SHOTS names a folder for a reader to look at.
func (p *Page) Keep(name string) {
	p.t.Helper()
	if os.Getenv("TIPLOOP_SHOTS") == "" {
		return
	}
	p.Settled()
	p.keep(name+".png", Run(p, chromedp.FullScreenshot(100)))
}

// keep puts a file where TIPLOOP_SHOTS says.
func (p *Page) keep(name string, data []byte) {
	p.t.Helper()
	if folder := os.Getenv("TIPLOOP_SHOTS"); folder != "" {
		name = strings.ReplaceAll(name, "/", "-")
		require.NoError(p.t, os.WriteFile(filepath.Join(folder, name), data, 0o600))
	}
}
