package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/report/browsertest"
	"tiploop/report/phrase"
)

// The state of the page as its elements show it.
const (
	isSettled = `document.querySelector(".live-by")?.dataset.by === "meshes" &&
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
	browsertest.Needs(t)
	path, text := starterFile(t)
	w := watch(t, path)
	page := browsertest.Open(t, w.address, browsertest.Screen{})
	page.Until(isSettled)
	require.Equal(t, "150", browsertest.Value[string](page, reachNow))

	// by keys
	page.Focus(".live-value input[type=range]")
	for range 3 {
		page.Press(kb.ArrowRight)
	}
	page.Until(reachNow + ` === "156"`)
	page.Until(isMoved + " && " + isSettled)
	require.Equal(t, "live-value live-differs", browsertest.Value[string](page, reachRow+".className"))
	holdAgainstTip(t, page, edited(t, text, "reach: 150 mm", "reach: 156 mm"))
	lookAt(t, page, false)
	lookAt(t, page, true)
	page.Press(kb.ArrowLeft)
	page.Until(reachNow + ` === "154"`)

	// by typing
	page.Focus(".live-number input")
	page.Write("123.5")
	page.Press(kb.Enter)
	page.Until(reachNow + ` === "123.5" && document.querySelector(".live-by").textContent.includes("reach 123.5 mm")`)
	page.Until(isSettled)
	holdAgainstTip(t, page, edited(t, text, "reach: 150 mm", "reach: 123.5 mm"))

	// by the mouse, which it follows by the beam model; let go at the right end, the slider is at double
	x, y := page.PlaceOf(".live-value input[type=range]")
	wide := browsertest.Value[float64](page, `document.querySelector(".live-value input[type=range]").getBoundingClientRect().width`)
	browsertest.Value[bool](page, `(() => { window.seen = new Set(); new MutationObserver(() =>
		seen.add(document.querySelector(".live-by").dataset.by)).observe(document.querySelector(".live-by"),
		{attributes: true}); return true; })()`)
	page.Mouse("mousePressed", x, y)
	for i := range 10 {
		page.Mouse("mouseMoved", x+float64(i)*wide/18, y)
	}
	page.Mouse("mouseMoved", x+wide, y)
	page.Until(`seen.has("beams")`)
	page.Mouse("mouseReleased", x+wide, y)
	page.Until(reachNow + ` === "300" && document.querySelector(".live-by").textContent.includes("reach 300 mm")`)
	now, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, text, string(now), "moving writes nothing")

	// into the file
	page.Focus(".live-number input")
	page.Write("160")
	page.Press(kb.Enter)
	page.Until(reachNow + ` === "160"`)
	page.Click(".live-file button")
	page.Until(`document.querySelector(".live-note").textContent === "Written."`)
	now, err = os.ReadFile(path)
	require.NoError(t, err)
	written := edited(t, text, "reach: 150 mm", "reach: 160 mm")
	require.Equal(t, written, string(now))
	page.Until("!" + isMoved + " && " + isSettled)
	holdAgainstTip(t, page, written)

	// back to the file
	page.Focus(".live-value input[type=range]")
	page.Press(kb.PageDown)
	page.Until(reachNow + ` === "140"`)
	page.Click(".live-file button + button")
	page.Until(reachNow + ` === "160" && !` + isMoved)

	// no machine: there is nothing to write
	const height = ".live-value:nth-child(2)"
	page.Focus(height + " .live-number input")
	page.Write("10")
	page.Press(kb.Enter)
	page.Until(fmt.Sprintf(`document.querySelector(%q).disabled && !document.querySelector(".live-trouble").hidden`,
		height+" .live-file button"))
	lookFrom(t, page, browsertest.DeskWide, true)
	page.Accessible()
	page.Click(height + " .live-file button + button")
	page.Until(`document.querySelector(".live-trouble").hidden && !` + isMoved + " && " + isSettled)

	// a fault
	broken := edited(t, written, "plain column: {braced: false}", "plain column: {braced: flase}")
	require.NoError(t, os.WriteFile(path, []byte(broken), 0o600))
	page.Until(`!document.getElementById("live-fault").hidden`)
	require.Contains(t, browsertest.Value[string](page, `document.getElementById("live-fault").textContent`),
		fmt.Sprintf("stand.yaml:%d:", 1+strings.Count(text[:strings.Index(text, "plain column:")], "\n")))
	lookFrom(t, page, browsertest.DeskWide, false)
	page.Accessible()
	require.NoError(t, os.WriteFile(path, []byte(written), 0o600))
	page.Until(`document.getElementById("live-fault").hidden && ` + isSettled)

	require.Empty(t, page.Complaints())
}

// A slider stops at the ends of what the file says that its value is worth trying at, whatever its steps are, and the machine
// is answered for there.
func TestBrowserSlidesToTheEnds(t *testing.T) {
	browsertest.Needs(t)
	path, text := plainFile(t)
	text = edited(t, text, "{value: 220 mm, sweep: 160..240 mm}", "{value: 220 mm, sweep: 160.3 mm..722 mm/3}")
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	w := watch(t, path)
	page := browsertest.Open(t, w.address, browsertest.Screen{})
	page.Until(isSettled)
	const length = ".live-value:nth-child(3)"
	page.Focus(length + " input[type=range]")
	for _, tt := range []struct{ key, further, end string }{
		{kb.Home, kb.ArrowLeft, "160.3"}, {kb.End, kb.ArrowRight, "240.666666666667"},
	} {
		page.Press(tt.key)
		page.Press(tt.further)
		page.Until(fmt.Sprintf(`document.querySelector(".live-by").textContent.includes("bed_length %s mm") && %s`, tt.end, isSettled))
		require.True(t, browsertest.Value[bool](page, `document.querySelector(".live-trouble").hidden`), tt.end)
	}
	require.Empty(t, page.Complaints())
}

// holdAgainstTip holds the page's numbers against the screen of tip for a file of that text, and their ranges, too, against
// what compare has of the same option: like the page it follows the paths, and draws until what is read there is settled.
func holdAgainstTip(t *testing.T, page *browsertest.Page, text string) {
	t.Helper()
	other := filepath.Join(t.TempDir(), "other.yaml")
	require.NoError(t, os.WriteFile(other, []byte(text), 0o600))
	run := func(args ...string) []byte {
		var out bytes.Buffer
		require.Zero(t, runWith(t.Context(), append(args, other), streams{out: &out, err: io.Discard}))
		return out.Bytes()
	}
	var compared struct {
		Options []struct {
			Tip   answer.Tip
			Loads []answer.LoadResult
			Sure  answer.Sure
		}
	}
	require.NoError(t, json.Unmarshal(run("compare", "--json"), &compared))
	o, screen := compared.Options[0], strings.Join(strings.Fields(string(run("tip"))), " ")
	rows := browsertest.Value[map[string]string](page, allRows)
	typical := func(row string) string { return row[:strings.Index(row, " (")+2] }
	for _, load := range []string{"side cut", "drilling"} {
		row := rows["tip under “"+load+"”"]
		require.Contains(t, row, " µm (", "%v", rows)
		require.Contains(t, screen, load+" "+typical(row))
		l := o.Loads[slices.IndexFunc(o.Loads, func(l answer.LoadResult) bool { return l.Name == load })]
		r := o.Sure.Movements[slices.IndexFunc(o.Sure.Movements, func(r answer.MovementRange) bool {
			return r.Load == load && r.Point == ""
		})]
		require.Equal(t, phrase.Ranged(*l.TipSizeUm, &r.SizeUm, "µm"), row)
	}
	softest := rows["stiffness softest"]
	require.Contains(t, screen, ", "+typical(strings.Replace(softest, " N/µm", "", 1)))
	require.Equal(t, phrase.Ranged(o.Tip.StiffnessNPerUm.Softest, &o.Sure.Stiffness.Softest, "N/µm"), softest)
}

// Two windows show the same, and names from the file are texts in them, whatever they look like.
func TestBrowserWatchesHostileNames(t *testing.T) {
	browsertest.Needs(t)
	path, text := starterFile(t)
	nasty := `"<img src=x onerror=window.bitten=1>'\"&amp; שלום 👍"`
	text = strings.ReplaceAll(text, "plain column: {braced: false}", nasty+": {braced: false}")
	text = strings.ReplaceAll(text, "drilling", `"</script><script>window.bitten=1</script>"`)
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	w := watch(t, path)
	page := browsertest.Open(t, w.address, browsertest.Screen{})
	page.Until(isSettled)
	require.Equal(t, "undefined", browsertest.Value[string](page, "typeof window.bitten"))
	require.Contains(t, browsertest.Value[string](page, `document.querySelector("#live-option").textContent`), "<img src=x")
	lookFrom(t, page, browsertest.PhoneWide, false)
	require.Empty(t, page.Complaints())
}
