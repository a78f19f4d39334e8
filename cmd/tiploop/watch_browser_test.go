package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// The state of the page as its elements show it.
const (
	isSettled = `document.querySelector(".live-by")?.dataset.by === "meshed" &&
		document.querySelector(".live-by").dataset.pending === ""`
	isMoved = `document.querySelector(".live-readout thead").textContent.includes("in the file")`
	allRows = `Object.fromEntries([...document.querySelectorAll(".live-readout tbody tr")].map((r) =>
		[r.cells[0].textContent, r.cells[r.cells.length > 2 ? 2 : 1].textContent]))`
	reachRow = `document.querySelector(".live-value")`
	reachNow = `document.querySelector(".live-number input").value`
)

// A reader moves a slider by keys, by typing and by the mouse, sees the numbers that tip prints, writes one into the
// file, and sees a fault where the verdict was.
func TestBrowserWatches(t *testing.T) {
	chromium := browser(t)
	path, text := starterFile(t)
	w := watch(t, path)
	page := visit(t, chromium, w.address)
	until(t, page, isSettled)
	require.Equal(t, "150", value[string](t, page, reachNow))

	// by keys
	value[bool](t, page, `document.querySelector(".live-value input[type=range]").focus() ?? true`)
	for range 3 {
		press(t, page, "ArrowRight")
	}
	until(t, page, reachNow+` === "156"`)
	until(t, page, isMoved+" && "+isSettled)
	require.Equal(t, "live-value live-differs", value[string](t, page, reachRow+".className"))
	holdAgainstTip(t, page, edited(t, text, "reach: 150 mm", "reach: 156 mm"))
	for _, scheme := range []string{"light", "dark"} {
		for _, wide := range []int64{phoneWide, deskWide} {
			looks(t, page, wide, scheme)
			readable(t, page)
		}
		accessible(t, page)
	}
	press(t, page, "ArrowLeft")
	until(t, page, reachNow+` === "154"`)

	// by typing
	value[bool](t, page, `document.querySelector(".live-number input").focus() ?? true`)
	write(t, page, "123.5")
	press(t, page, "Enter")
	value[bool](t, page, `document.activeElement.blur() ?? true`)
	until(t, page, reachNow+` === "123.5" && document.querySelector(".live-by").textContent.includes("reach 123.5 mm")`)
	until(t, page, isSettled)
	holdAgainstTip(t, page, edited(t, text, "reach: 150 mm", "reach: 123.5 mm"))

	// by the mouse, which it follows by the beam model; let go at the right end, the slider is at double
	at := placeOf(t, page, ".live-value input[type=range]")
	wide := value[float64](t, page, `document.querySelector(".live-value input[type=range]").getBoundingClientRect().width`)
	value[bool](t, page, `(() => { window.seen = new Set(); new MutationObserver(() =>
		seen.add(document.querySelector(".live-by").dataset.by)).observe(document.querySelector(".live-by"),
		{attributes: true}); return true; })()`)
	mouse(t, page, "mousePressed", at[0], at[1])
	for i := range 10 {
		mouse(t, page, "mouseMoved", at[0]+float64(i)*wide/18, at[1])
	}
	mouse(t, page, "mouseMoved", at[0]+wide, at[1])
	until(t, page, `seen.has("beam model")`)
	mouse(t, page, "mouseReleased", at[0]+wide, at[1])
	until(t, page, reachNow+` === "300" && document.querySelector(".live-by").textContent.includes("reach 300 mm")`)
	now, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, text, string(now), "moving writes nothing")

	// into the file
	value[bool](t, page, `document.querySelector(".live-number input").focus() ?? true`)
	write(t, page, "160")
	press(t, page, "Enter")
	until(t, page, reachNow+` === "160"`)
	click(t, page, ".live-file button")
	until(t, page, `document.querySelector(".live-note").textContent === "Written."`)
	now, err = os.ReadFile(path)
	require.NoError(t, err)
	written := edited(t, text, "reach: 150 mm", "reach: 160 mm")
	require.Equal(t, written, string(now))
	until(t, page, "!"+isMoved+" && "+isSettled)
	holdAgainstTip(t, page, written)

	// back to the file
	value[bool](t, page, `document.querySelector(".live-value input[type=range]").focus() ?? true`)
	press(t, page, "PageDown")
	until(t, page, reachNow+` === "140"`)
	click(t, page, ".live-file button + button")
	until(t, page, reachNow+` === "160" && !`+isMoved)

	// no machine: there is nothing to write
	const height = `document.querySelectorAll(".live-value")[1]`
	value[bool](t, page, height+`.querySelector(".live-number input").focus() ?? true`)
	write(t, page, "10")
	value[bool](t, page, `document.activeElement.blur() ?? true`)
	until(t, page, height+`.querySelector(".live-file button").disabled && !document.querySelector(".live-trouble").hidden`)
	looks(t, page, deskWide, "dark")
	accessible(t, page)
	value[bool](t, page, height+`.querySelector(".live-file button + button").click() ?? true`)
	until(t, page, `document.querySelector(".live-trouble").hidden && !`+isMoved+" && "+isSettled)

	// a fault
	broken := edited(t, written, "plain column: {braced: false}", "plain column: {braced: flase}")
	require.NoError(t, os.WriteFile(path, []byte(broken), 0o600))
	until(t, page, `!document.getElementById("live-fault").hidden`)
	require.Contains(t, value[string](t, page, `document.getElementById("live-fault").textContent`),
		fmt.Sprintf("stand.yaml:%d:", 1+strings.Count(text[:strings.Index(text, "plain column:")], "\n")))
	looks(t, page, deskWide, "light")
	require.NoError(t, os.WriteFile(path, []byte(written), 0o600))
	until(t, page, `document.getElementById("live-fault").hidden && `+isSettled)

	require.Empty(t, page.complaints())
}

// holdAgainstTip holds the page's numbers for each load against the screen of tip for a file of that text.
func holdAgainstTip(t *testing.T, page *opened, text string) {
	t.Helper()
	other := filepath.Join(t.TempDir(), "other.yaml")
	require.NoError(t, os.WriteFile(other, []byte(text), 0o600))
	var screen bytes.Buffer
	require.Zero(t, runWith(t.Context(), []string{"tip", other}, streams{out: &screen, err: io.Discard}))
	rows := value[map[string]string](t, page, allRows)
	for _, load := range []string{"side cut", "drilling"} {
		row := rows["tip under “"+load+"”"]
		require.Contains(t, row, " µm (", "%v", rows)
		require.Contains(t, screen.String(), load+"  "+row+"  ")
	}
	softest := strings.Replace(rows["stiffness softest"], " N/µm", "", 1) + " N/µm:"
	require.Contains(t, strings.Join(strings.Fields(screen.String()), " "), softest)
}

// Two windows show the same, and names from the file are texts in them, whatever they look like.
func TestBrowserWatchesHostileNames(t *testing.T) {
	path, text := starterFile(t)
	nasty := `"<img src=x onerror=window.bitten=1>'\"&amp; שלום 👍"`
	text = strings.ReplaceAll(text, "plain column: {braced: false}", nasty+": {braced: false}")
	text = strings.ReplaceAll(text, "drilling", `"</script><script>window.bitten=1</script>"`)
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	w := watch(t, path)
	page := visit(t, browser(t), w.address)
	until(t, page, isSettled)
	require.Equal(t, "undefined", value[string](t, page, "typeof window.bitten"))
	require.Contains(t, value[string](t, page, `document.querySelector("#live-option").textContent`), "<img src=x")
	looks(t, page, phoneWide, "light")
	readable(t, page)
	require.Empty(t, page.complaints())
}

// again is how long a page that is waited for is left alone.
const again = 50 * time.Millisecond

// until waits until an expression of the page is true; a page that is opened anew meanwhile is asked again.
func until(t *testing.T, page *opened, expression string) {
	t.Helper()
	ctx, cancel := context.WithTimeout(page.ctx, soon)
	defer cancel()
	for {
		is, err := chromedp.Run(ctx, chromedp.Evaluate[bool]("Boolean("+expression+")"))
		if err == nil && is {
			return
		}
		select {
		case <-time.After(again):
		case <-ctx.Done():
			require.Fail(t, "the page never comes to that", "%s: %v", expression, err)
		}
	}
}

// press presses a key and lets it go, as one who has the focus somewhere does.
func press(t *testing.T, page *opened, key string) {
	t.Helper()
	for _, kind := range []input.DispatchKeyEventType{"keyDown", "keyUp"} {
		require.NoError(t, chromedp.Do(page.ctx, asking(input.DispatchKeyEvent, input.DispatchKeyEventParams{Type: kind,
			Key: key, Code: key})))
	}
}

// write writes a text where the focus is.
func write(t *testing.T, page *opened, text string) {
	t.Helper()
	require.NoError(t, chromedp.Do(page.ctx, asking(input.InsertText, input.InsertTextParams{Text: text})))
}

// mouse presses ("mousePressed"), moves ("mouseMoved") or lets go ("mouseReleased") the left button at a place of the window.
func mouse(t *testing.T, page *opened, kind input.DispatchMouseEventType, x, y float64) {
	t.Helper()
	require.NoError(t, chromedp.Do(page.ctx, asking(input.DispatchMouseEvent, input.DispatchMouseEventParams{Type: kind, X: x,
		Y: y, Button: "left", Buttons: 1, ClickCount: 1})))
}

// click clicks what a selector finds first.
func click(t *testing.T, page *opened, selector string) {
	t.Helper()
	at := placeOf(t, page, selector)
	mouse(t, page, "mousePressed", at[0], at[1])
	mouse(t, page, "mouseReleased", at[0], at[1])
}

// placeOf scrolls to what a selector finds first, and gives the middle of it in the window.
func placeOf(t *testing.T, page *opened, selector string) []float64 {
	t.Helper()
	return value[[]float64](t, page, fmt.Sprintf(`(() => { const e = document.querySelector(%q);
		e.scrollIntoView({block: "center"}); const r = e.getBoundingClientRect();
		return [r.x + r.width / 2, r.y + r.height / 2]; })()`, selector))
}
