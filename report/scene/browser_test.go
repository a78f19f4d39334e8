package scene

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// browser is a page opened in Chromium, with what it complained about and what it asked for.
type browser struct {
	context.Context
	t        *testing.T
	mu       sync.Mutex
	complain []string
	requests []string
}

// needed is the value of TIPLOOP_BROWSER with which a test without a browser fails instead of being skipped.
const needed = "required"

// patience is how long a page may take for one thing, on a computer that does much else.
const patience = time.Minute

// started is the one browser of all tests; nil where there is none. Its renderer draws WebGL in software.
var started = sync.OnceValue(func() context.Context {
	path := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if found, err := exec.LookPath(name); err == nil {
			path = found
			break
		}
	}
	if path == "" {
		return nil
	}
	allocator, stop := chromedp.NewExecAllocator(context.Background(), append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.Flag("use-gl", "angle"),
		chromedp.Flag("use-angle", "swiftshader"), chromedp.Flag("enable-unsafe-swiftshader", true))...)
	ctx, end := chromedp.NewContext(allocator)
	ended = func() { end(); stop() }
	if err := chromedp.Do(ctx); err != nil {
		panic(err)
	}
	return ctx
})

// ended ends the browser.
var ended = func() {}

func TestMain(m *testing.M) {
	code := m.Run()
	ended()
	os.Exit(code)
}

// screen is what a page is looked at with.
type screen struct {
	width, height int64
	dark, still   bool // the reader likes it dark; wants no movement
	density       float64
}

var desk = screen{width: 1000, height: 700}

// all tells whether everything is tried in the browser, as the gate does, which requires one.
func all() bool { return os.Getenv("TIPLOOP_BROWSER") == needed }

// open opens a page in a tab of its own, when everything is tried.
func open(t *testing.T, address string, on screen) *browser {
	t.Helper()
	if !all() {
		t.Skip("tried where TIPLOOP_BROWSER=required")
	}
	return openAlways(t, address, on)
}

// openAlways opens a page in a tab of its own where there is a browser.
func openAlways(t *testing.T, address string, on screen) *browser {
	t.Helper()
	parent := started()
	if parent == nil {
		if all() {
			t.Fatal("no Chromium, and TIPLOOP_BROWSER=required")
		}
		t.Skip("no Chromium on this computer: the viewer is not tried in a browser")
	}
	ctx, end := chromedp.NewContext(parent)
	t.Cleanup(end)
	b := &browser{Context: ctx, t: t}
	require.NoError(t, chromedp.Do(ctx))
	require.NoError(t, chromedp.Listen(ctx, b.hear))
	media := []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: map[bool]string{true: "dark", false: "light"}[on.dark]},
		{Name: "prefers-reduced-motion", Value: map[bool]string{true: "reduce", false: "no-preference"}[on.still]}}
	call(b, network.Enable, network.EnableParams{})
	call(b, log.Enable, cdp.Empty{})
	call(b, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: on.width, Height: on.height,
		DeviceScaleFactor: max(1, on.density), Mobile: on.width < 500})
	call(b, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: media})
	b.do(chromedp.Navigate(address))
	return b
}

// hear keeps what a page complains about and asks for. The software renderer tells how slow it is when a picture is
// taken of what it draws; that is the test's doing.
func (b *browser) hear(event any) {
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

// quiet holds that the page complained about nothing and asked for nothing but itself.
func (b *browser) quiet() {
	b.t.Helper()
	b.mu.Lock()
	defer b.mu.Unlock()
	require.Empty(b.t, b.complain)
	require.Len(b.t, b.requests, 1, "a page asks for itself only: %v", b.requests)
}

func call[P, R any](b *browser, command cdp.Command[P, R], params P) R {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b, patience)
	defer cancel()
	r, err := chromedp.Call(ctx, command, params)
	require.NoError(b.t, err)
	return r
}

func (b *browser) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b, patience)
	defer cancel()
	require.NoError(b.t, chromedp.Do(ctx, steps...))
}

// run is the value of an action.
func run[T any](b *browser, a chromedp.Action[T]) T {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b, patience)
	defer cancel()
	v, err := chromedp.Run(ctx, a)
	require.NoError(b.t, err)
	return v
}

// value is what an expression of the page comes to, or what its promise does.
func value[T any](b *browser, expression string) T {
	b.t.Helper()
	return run(b, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
}

// drawn waits for the viewer's first picture.
func (b *browser) drawn() {
	b.t.Helper()
	run(b, chromedp.Poll[bool]("Number(document.getElementById('machine').dataset.drawn) > 0"))
}

// settled waits until two frames after what was done.
func (b *browser) settled() {
	b.t.Helper()
	value[bool](b, "new Promise((f) => requestAnimationFrame(() => requestAnimationFrame(() => f(true))))")
}

// changed is the share of the picture's pixels that are plainly others than when it was last asked. What is drawn is
// there to be read only in the frame that drew it, so the viewer draws once more.
func (b *browser) changed() float64 {
	b.t.Helper()
	const plainly = 8 // of 255
	return value[float64](b, fmt.Sprintf(`new Promise((done) => {
		window.tiploopScene.choose({});
		requestAnimationFrame(() => {
			const view = document.querySelector('.scene-canvas'), copy = document.createElement('canvas');
			[copy.width, copy.height] = [view.width, view.height];
			const paper = copy.getContext('2d', {willReadFrequently: true});
			paper.drawImage(view, 0, 0);
			const now = paper.getImageData(0, 0, copy.width, copy.height).data, before = window.seenBefore;
			window.seenBefore = now;
			if (!before || before.length !== now.length) { done(1); return; }
			let count = 0;
			for (let i = 0; i < now.length; i += 4) {
				if ([0, 1, 2, 3].some((k) => Math.abs(now[i + k] - before[i + k]) > %d)) count++;
			}
			done(4 * count / now.length);
		});
	})`, plainly))
}

// keep photographs the whole page, when TIPLOOP_SHOTS names a folder for a reader to look at.
func (b *browser) keep(name string) {
	b.t.Helper()
	folder := os.Getenv("TIPLOOP_SHOTS")
	if folder == "" {
		return
	}
	b.settled()
	require.NoError(b.t, os.WriteFile(filepath.Join(folder, name+".png"), run(b, chromedp.FullScreenshot(100)), 0o600))
}
