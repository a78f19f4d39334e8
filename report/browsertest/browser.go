// Package browsertest opens pages in Chromium in the tests of those who write them, does what hands do there, and looks at
// them as readers do.
//
//	func TestMain(m *testing.M) { os.Exit(browsertest.Main(m.Run)) }
//
//	p := browsertest.Open(t, address, browsertest.Screen{Width: 390})
//	p.Click("button")
//	p.Until("document.title === 'done'")
//	require.Empty(t, p.Complaints())
//
// What takes a page is tried where TIPLOOP_BROWSER=required, as in the gate, and fails there without Chromium; a Try wherever one
// is installed. WebGL is drawn in software.
package browsertest

import (
	"context"
	"os"
	"os/exec"
	"sync"
	"testing"

	"github.com/chromedp/chromedp"
)

// required is the value of TIPLOOP_BROWSER with which a test without a browser fails instead of being skipped.
const required = "required"

// Required tells whether everything is tried, and no test may do without what it needs.
func Required() bool { return os.Getenv("TIPLOOP_BROWSER") == required }

// browser is the one of all tests of a package, started when the first asks for it; nil where there is none.
var browser = sync.OnceValue(func() context.Context {
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
	ctx, leave := chromedp.NewContext(allocator)
	end = func() { leave(); stop() }
	if err := chromedp.Do(ctx); err != nil {
		panic(err)
	}
	return ctx
})

// end ends the browser, if one was started.
var end = func() {}

// Main runs the tests of a package and ends the browser that they used.
func Main(run func() int) int {
	code := run()
	end()
	return code
}

// Needs skips a test of everything where no browser is required.
func Needs(t testing.TB) {
	t.Helper()
	if !Required() {
		t.Skip("tried where TIPLOOP_BROWSER=required")
	}
	has(t)
}

// has skips a test where there is no browser, or fails it.
func has(t testing.TB) {
	t.Helper()
	switch {
	case browser() != nil:
	case Required():
		t.Fatal("no Chromium, and TIPLOOP_BROWSER=required")
	default:
		t.Skip("no Chromium on this computer: no page is opened in a browser")
	}
}
