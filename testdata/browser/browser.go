// Package browser opens pages in headless Chromium for tests, and notes what they ask for and complain about. Where there
// is no Chromium a test is skipped with a word, unless TIPLOOP_BROWSER is "required".
package browser

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// patience is how long a page may take for one thing, on a computer that does much else.
const patience = time.Minute

// Tab is a page that is open.
type Tab struct {
	context.Context
	t        *testing.T
	mu       sync.Mutex
	complain []string
	requests []string
}

// Screen is what a page is looked at with, in pixels.
type Screen struct {
	Width, Height int64
	Dark          bool
}

// Desk and Phone are the usual ones.
var (
	Desk  = Screen{Width: 1440, Height: 900}
	Phone = Screen{Width: 390, Height: 844}
)

// Open opens a page.
func Open(t *testing.T, address string, on Screen) *Tab {
	t.Helper()
	path := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if found, err := exec.LookPath(name); err == nil {
			path = found
			break
		}
	}
	if path == "" {
		if os.Getenv("TIPLOOP_BROWSER") == "required" {
			t.Fatal("there is no Chromium, and TIPLOOP_BROWSER=required")
		}
		t.Skip("there is no Chromium on this computer: the page is not tried in a browser")
	}
	allocator, stop := chromedp.NewExecAllocator(t.Context(), append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.Flag("use-gl", "angle"),
		chromedp.Flag("use-angle", "swiftshader"), chromedp.Flag("enable-unsafe-swiftshader", true))...)
	ctx, end := chromedp.NewContext(allocator)
	t.Cleanup(func() { end(); stop() })
	b := &Tab{Context: ctx, t: t}
	require.NoError(t, chromedp.Do(ctx))
	require.NoError(t, chromedp.Listen(ctx, b.hear))
	likes := map[bool]string{true: "dark", false: "light"}[on.Dark]
	call(b, network.Enable, network.EnableParams{})
	call(b, log.Enable, cdp.Empty{})
	call(b, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: on.Width, Height: on.Height,
		DeviceScaleFactor: 1})
	call(b, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: likes}}})
	b.do(chromedp.Navigate(address))
	return b
}

// hear keeps what a page complains about and asks for. The software renderer tells how slow it is when a picture is taken
// of what it draws; that is the test's doing.
func (b *Tab) hear(event any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch e := event.(type) {
	case *runtime.EventExceptionThrown:
		b.complain = append(b.complain, e.ExceptionDetails.Text)
		if e.ExceptionDetails.Exception != nil {
			b.complain = append(b.complain, e.ExceptionDetails.Exception.Description)
		}
	case *runtime.EventConsoleAPICalled:
		for _, a := range e.Args {
			b.complain = append(b.complain, string(a.Value))
		}
	case *log.EventEntryAdded:
		if !strings.Contains(e.Entry.Text, "GPU stall") {
			b.complain = append(b.complain, e.Entry.Text)
		}
	case *network.EventRequestWillBeSent:
		b.requests = append(b.requests, e.Request.URL)
	}
}

// Complaints are the errors and warnings of the page so far.
func (b *Tab) Complaints() []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return append([]string(nil), b.complain...)
}

// Requests are the addresses that the page asked for so far, its own first.
func (b *Tab) Requests() []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return append([]string(nil), b.requests...)
}

func call[P, R any](b *Tab, command cdp.Command[P, R], params P) R {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b, patience)
	defer cancel()
	r, err := chromedp.Call(ctx, command, params)
	require.NoError(b.t, err)
	return r
}

func (b *Tab) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b, patience)
	defer cancel()
	require.NoError(b.t, chromedp.Do(ctx, steps...))
}

func run[T any](b *Tab, a chromedp.Action[T]) T {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b, patience)
	defer cancel()
	v, err := chromedp.Run(ctx, a)
	require.NoError(b.t, err)
	return v
}

// Value is what an expression of the page comes to, or what its promise does.
func Value[T any](b *Tab, expression string) T {
	b.t.Helper()
	return run(b, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
}

// Until waits until an expression of the page is true; a page that is opened anew meanwhile is asked again.
func (b *Tab) Until(expression string) {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b, patience)
	defer cancel()
	for {
		is, err := chromedp.Run(ctx, chromedp.Evaluate[bool]("Boolean("+expression+")"))
		if err == nil && is {
			return
		}
		select {
		case <-time.After(again):
		case <-ctx.Done():
			require.Fail(b.t, "the page never comes to that", "%s: %v", expression, err)
		}
	}
}

// again is how long a page that is waited for is left alone.
const again = 50 * time.Millisecond

// Press presses a key and lets it go, as one who has the focus somewhere does.
func (b *Tab) Press(key string) {
	b.t.Helper()
	for _, kind := range []input.DispatchKeyEventType{"keyDown", "keyUp"} {
		call(b, input.DispatchKeyEvent, input.DispatchKeyEventParams{Type: kind, Key: key, Code: key})
	}
}

// Type writes a text where the focus is.
func (b *Tab) Type(text string) {
	b.t.Helper()
	call(b, input.InsertText, input.InsertTextParams{Text: text})
}

// Mouse presses ("mousePressed"), moves ("mouseMoved") or lets go ("mouseReleased") the left button at a place of the
// window.
func (b *Tab) Mouse(kind string, x, y float64) {
	b.t.Helper()
	call(b, input.DispatchMouseEvent, input.DispatchMouseEventParams{Type: input.DispatchMouseEventType(kind), X: x, Y: y,
		Button: "left", Buttons: 1, ClickCount: 1})
}

// Click clicks what a selector finds first.
func (b *Tab) Click(selector string) {
	b.t.Helper()
	at := b.Place(selector)
	b.Mouse("mousePressed", at[0], at[1])
	b.Mouse("mouseReleased", at[0], at[1])
}

// Place scrolls to what a selector finds first, and gives the middle of it in the window.
func (b *Tab) Place(selector string) [2]float64 {
	b.t.Helper()
	xy := Value[[]float64](b, `(() => { const e = document.querySelector(`+"`"+selector+"`"+`); e.scrollIntoView({block: "center"});
		const r = e.getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2]; })()`)
	return [2]float64{xy[0], xy[1]}
}

// Keep photographs the whole page, when TIPLOOP_SHOTS names a folder for a reader to look at.
func (b *Tab) Keep(name string) {
	b.t.Helper()
	if folder := os.Getenv("TIPLOOP_SHOTS"); folder != "" {
		require.NoError(b.t, os.WriteFile(filepath.Join(folder, name+".png"), run(b, chromedp.FullScreenshot(100)), 0o600))
	}
}
