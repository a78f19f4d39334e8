package scene

import (
	"context"
	"encoding/json"
	"fmt"
	"image"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/report/browsertest"
)

// gantry has options, loads and axes.
const gantry = "examples/fixed-gantry-mill.yaml"

func gantryPage(t testing.TB) string {
	t.Helper()
	data, err := Data("Fixed-gantry mill", optionsOf(t, gantry))
	require.NoError(t, err)
	return written(t, page(data, ""))
}

// input events of the page's own elements, as a hand makes them.
const (
	nth = `((q, n) => [...document.querySelectorAll(q)][n])`
	// set gives a control a value as typing or choosing does.
	set = `((e, v) => { e.value = v; e.dispatchEvent(new Event('input', {bubbles: true})); ` +
		`e.dispatchEvent(new Event('change', {bubbles: true})); return true; })`
)

// Each control changes what is seen, by a good many pixels or by few where it draws a thin line, and what is undone is
// as before. Nothing is asked for and nothing goes to the console. Where no browser is required, of one control.
func TestEveryControlChangesThePicture(t *testing.T) {
	b := viewer{browsertest.Try(t, gantryPage(t), desk), t}
	b.drawn()
	require.True(t, value[bool](b, `document.getElementById('still').hidden`))
	b.changed()
	require.Zero(t, b.changed(), "what nobody touches stays")
	step := func(what string, least float64, do func()) {
		t.Helper()
		do()
		require.Greater(t, b.changed(), least, "%s: pixels", what)
	}
	script := func(expression string) func() { return func() { t.Helper(); value[bool](b, expression) } }
	choose := func(n, to int) func() {
		return script(fmt.Sprintf("%s(%s('.scene-choice select', %d), '%d')", set, nth, n, to))
	}
	step("another load", 0.01, choose(1, 2))
	if !browsertest.Required() {
		b.quiet()
		return
	}
	axis := func(n, to int) func() {
		return script(fmt.Sprintf("%s(%s('.scene-axes input[type=range]', %d), '%d')", set, nth, n, to))
	}
	step("another position", 0.02, axis(1, 4))
	require.Contains(t, value[string](b, "document.querySelector('.scene-said').textContent"), "at y = 70 mm the tip moves ")
	step("between the ends", 0.01, axis(1, 3))
	require.Contains(t, value[string](b, "document.querySelector('.scene-said').textContent"), "at y = 35 mm the tip moves ")
	step("another axis", 0.01, axis(0, 0))
	require.Equal(t, "2", value[string](b, nth+"('.scene-axes input[type=range]', 1).value"), "y stands as drawn")
	step("back", 0.01, axis(0, 2))
	step("another option", 0.0005, choose(0, 2))
	step("bend dragged", 0.01, script(set+"(document.querySelector('.scene-slider input[type=range]'), '90')"))
	step("bend typed", 0.01, script(set+"(document.querySelector('.scene-slider input[type=number]'), '10')"))
	require.Contains(t, value[string](b, "document.querySelector('.scene-said').textContent"), "drawn 10 times")
	step("inks of the parts", 0.02, script("document.querySelector('.scene-tint input').click() === undefined"))
	step("colour again", 0.02, script("document.querySelector('.scene-tint input').click() === undefined"))
	for n, word := range []string{"front", "right", "above", "corner"} {
		step(word, 0.02, script(fmt.Sprintf("%s('.scene-from button', %d).click() === undefined", nth, (n+1)%4)))
	}
	value[bool](b, "(document.querySelectorAll('details').forEach((d) => { d.open = true; }), true)")
	for n, v := range []string{"20", "10", "150", "20", "-20"} {
		step("typed view "+v, 0.02, script(fmt.Sprintf("%s(%s('.scene details .scene-typed input', %d), '%s')", set, nth, n, v)))
	}
	step("0", 0.02, func() { b.keys("0") })
	for _, key := range []string{kb.ArrowLeft, kb.ArrowUp, "+", "-"} {
		step("key "+key, 0.01, func() { b.keys(key) })
	}
	step("shift and arrow", 0.01, func() { b.keys(kb.ArrowRight, chromedp.KeyModifiers(chromedp.ModifierShift)) })
	step("key n", 0.0005, func() { b.keys("n") })
	step("key t", 0.005, func() { b.keys("t") })
	require.Contains(t, value[string](b, "document.querySelector('.scene-told').textContent"), "seen through")
	require.True(t, value[bool](b, "document.querySelector('.scene-parts input').checked"))
	step("solid again", 0.005, func() { b.keys("t") })
	step("key p", 0.0005, func() { b.keys("p") })
	step("let go", 0.0003, func() { b.keys(kb.Escape) })
	step("see through box", 0.001, script(nth+"('.scene-parts input', 2).click() === undefined"))
	step("picked in the table", 0.0005, script(nth+"('.scene-parts button', 3).click() === undefined"))
	require.Equal(t, "true", value[string](b, nth+"('.scene-parts button', 3).getAttribute('aria-pressed')"))
	b.Do(chromedp.Evaluate[chromedp.Void]("window.scrollTo(0, 0)"))
	box := b.box()
	middle := image.Pt((box.Min.X+box.Max.X)/2, (box.Min.Y+box.Max.Y)/2)
	step("dragged", 0.02, func() {
		b.Do(chromedp.DragAndDropXY(float64(middle.X), float64(middle.Y), float64(middle.X+90), float64(middle.Y+40)))
	})
	step("wheel", 0.02, func() {
		value[bool](b, "(() => { const c = document.querySelector('.scene-canvas'); c.focus(); "+
			"return !c.dispatchEvent(new WheelEvent('wheel', {deltaY: -300, cancelable: true})); })()")
	})
	b.quiet()
}

// Who chooses by keys keeps the place from which they do.
func TestKeysKeepTheirPlace(t *testing.T) {
	for path, control := range map[string]string{gantry: "select", "examples/gussets.yaml": "input"} {
		data, err := Data("A mill", optionsOf(t, path))
		require.NoError(t, err)
		b := open(t, written(t, page(data, "")), desk)
		b.drawn()
		said := "document.querySelector('.scene-said').textContent"
		was := value[string](b, said)
		b.Focus(".scene-choice + .scene-choice :is(select, input:checked)")
		b.Press(kb.ArrowDown)
		b.Settled()
		require.NotEqual(t, was, value[string](b, said), path)
		require.Equal(t, control, value[string](b, "document.activeElement.localName"), path)
		b.quiet()
	}
}

// An axis is stepped by keys from place to place at which the machine was solved, and what is typed goes to the nearest.
func TestAxisBySteps(t *testing.T) {
	b := open(t, gantryPage(t), desk)
	b.drawn()
	said := "document.querySelector('.scene-said').textContent"
	b.Focus(".scene-axes input[type=range]")
	b.Press(kb.ArrowRight)
	require.Contains(t, value[string](b, said), "at x = 30 mm")
	require.Equal(t, "30 mm", value[string](b, "document.activeElement.getAttribute('aria-valuetext')"))
	b.Press(kb.End)
	require.Contains(t, value[string](b, said), "at x = 60 mm")
	value[bool](b, "(document.querySelector('.scene-axes input[type=number]').select(), true)")
	b.Write("-40")
	b.Press(kb.Enter)
	require.Contains(t, value[string](b, said), "at x = −30 mm")
	require.Equal(t, "-30", value[string](b, "document.querySelector('.scene-axes input[type=number]').value"))
	b.Press(kb.ArrowDown)
	require.Contains(t, value[string](b, said), "at x = −60 mm")
	b.quiet()
}

// A machine without loads is shown, and says so.
func TestWithoutLoads(t *testing.T) {
	shape := *optionsOf(t, "examples/gussets.yaml")[0].Shapes[0]
	shape.Loads, shape.Tip, shape.Bodies = nil, nil, append([]answer.ShapeBody{}, shape.Bodies...)
	for i := range shape.Bodies {
		shape.Bodies[i].MovedMM = nil
	}
	data, err := Data("A mill", []Option{{Name: "bare", Shapes: []*answer.Shape{&shape}}})
	require.NoError(t, err)
	b := open(t, written(t, page(data, "")), desk)
	b.drawn()
	b.keys("n")
	b.Settled()
	require.Equal(t, "No load to bend it.", value[string](b, "document.querySelector('.scene-said').textContent"))
	require.True(t, value[bool](b, "document.querySelector('.scene-play').hidden"))
	b.quiet()
}

// A click picks the part under it: from above the middle of the picture is the spindle's or what carries it; beside the
// machine is nothing.
func TestClickPicks(t *testing.T) {
	b := open(t, gantryPage(t), desk)
	b.drawn()
	value[bool](b, nth+"('.scene-from button', 3).click() === undefined")
	b.Settled()
	box := b.box()
	b.Do(chromedp.MouseClickXY(float64(box.Min.X+box.Max.X)/2, float64(box.Min.Y+box.Max.Y)/2))
	b.Settled()
	told := value[string](b, "document.querySelector('.scene-told').textContent")
	require.Contains(t, told, "moves up to")
	require.Contains(t, told, "µm")
	b.Do(chromedp.MouseClickXY(float64(box.Min.X)+4, float64(box.Max.Y)-4))
	b.Settled()
	require.Equal(t, "No part chosen.", value[string](b, "document.querySelector('.scene-told').textContent"))
	b.quiet()
}

// Two fingers bring the machine nearer and move it, one turns it from side to side.
func TestTouch(t *testing.T) {
	b := open(t, gantryPage(t), browsertest.Screen{Width: 390, Height: 700})
	b.drawn()
	b.changed()
	box := b.box()
	x, y := float64(box.Min.X+box.Max.X)/2, float64(box.Min.Y+box.Max.Y)/2
	touch := func(kind input.DispatchTouchEventType, points ...*input.TouchPoint) {
		browsertest.Call(b.Page, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: kind, TouchPoints: points})
	}
	id := func(n float64) *float64 { return &n }
	zoom := "Number([...document.querySelectorAll('.scene details .scene-typed input')][2].value)"
	before := value[float64](b, zoom)
	two := func(kind input.DispatchTouchEventType, reach float64) {
		touch(kind, &input.TouchPoint{X: x - reach, Y: y, ID: id(0)}, &input.TouchPoint{X: x + reach, Y: y, ID: id(1)})
	}
	two(input.DispatchTouchEventTypeTouchStart, 30)
	two(input.DispatchTouchEventTypeTouchMove, 60)
	touch(input.DispatchTouchEventTypeTouchEnd)
	b.Settled()
	require.InDelta(t, 2*before, value[float64](b, zoom), 0.1*before, "fingers twice as far apart")
	require.Greater(t, b.changed(), 0.02)
	turn := "Number([...document.querySelectorAll('.scene details .scene-typed input')][0].value)"
	before = value[float64](b, turn)
	touch(input.DispatchTouchEventTypeTouchStart, &input.TouchPoint{X: x, Y: y, ID: id(0)})
	touch(input.DispatchTouchEventTypeTouchMove, &input.TouchPoint{X: x + 50, Y: y, ID: id(0)})
	touch(input.DispatchTouchEventTypeTouchMove, &input.TouchPoint{X: x + 80, Y: y, ID: id(0)})
	touch(input.DispatchTouchEventTypeTouchEnd)
	b.Settled()
	require.Less(t, value[float64](b, turn), before-5)
	require.Equal(t, "No part chosen.", value[string](b, "document.querySelector('.scene-told').textContent"))
	b.quiet()
}

// Playing moves the picture by itself, and stops; a reader who wants no movement is offered none.
func TestPlay(t *testing.T) {
	address := gantryPage(t)
	b := open(t, address, desk)
	b.drawn()
	drawn := "Number(document.getElementById('machine').dataset.drawn)"
	value[bool](b, "document.querySelector('.scene-play').click() === undefined")
	from := value[int](b, drawn)
	b.Until(fmt.Sprintf("%s > %d", drawn, from+5))
	require.Equal(t, "Stop", value[string](b, "document.querySelector('.scene-play').textContent"))
	value[bool](b, "document.querySelector('.scene-play').click() === undefined")
	b.Settled()
	from = value[int](b, drawn)
	b.Settled()
	b.Settled()
	require.Equal(t, from, value[int](b, drawn), "what stands still is not drawn again")
	b.quiet()
	still := open(t, address, browsertest.Screen{Width: 1000, Height: 700, Still: true})
	still.drawn()
	require.True(t, value[bool](still, "document.querySelector('.scene-play').hidden"))
}

// Without WebGL 2, and with data that is none, the still drawing stays.
func TestStillDrawingStays(t *testing.T) {
	address := gantryPage(t)
	b := open(t, "about:blank", desk)
	browsertest.Call(b.Page, cdppage.AddScriptToEvaluateOnNewDocument, cdppage.AddScriptToEvaluateOnNewDocumentParams{
		Source: "const old = HTMLCanvasElement.prototype.getContext; HTMLCanvasElement.prototype.getContext = " +
			"function (kind, ...rest) { return kind.startsWith('webgl') ? null : old.call(this, kind, ...rest); };"})
	b.Do(chromedp.Navigate(address))
	b.later()
	require.False(t, value[bool](b, "document.getElementById('still').hidden"))
	require.Equal(t, 0, value[int](b, "document.querySelectorAll('.scene').length"))
	for _, data := range []string{"{}", "no data", `{"form":2,"options":[{}]}`} {
		b := open(t, written(t, page([]byte(data), "")), desk)
		b.later()
		require.False(t, value[bool](b, "document.getElementById('still').hidden"), data)
		require.Len(t, b.Complaints(), 1, data)
	}
}

// New data keeps what was chosen where it is still there; what is no data changes nothing.
func TestReplace(t *testing.T) {
	options := optionsOf(t, gantry)
	b := open(t, gantryPage(t), desk)
	b.drawn()
	require.True(t, value[bool](b, fmt.Sprintf("window.tiploopScene.choose({option: %q, load: 'cut away', position: 'y = 70 mm'}) || "+
		"window.tiploopScene.choose({option: %q, load: %q})", options[1].Name, options[1].Name, options[1].Shapes[0].Loads[2])))
	require.False(t, value[bool](b, "window.tiploopScene.choose({option: 'none such'})"))
	b.keys("n")
	b.Settled()
	said := "document.querySelector('.scene-said').textContent"
	was := value[string](b, said)
	b.changed()
	require.Contains(t, was, options[1].Shapes[0].Loads[2])
	require.True(t, value[bool](b, "(() => { try { window.tiploopScene.replace('{}'); return false; } catch { return true; } })()"))
	require.Equal(t, was, value[string](b, said))
	again, err := Data("Fixed-gantry mill", []Option{options[0], options[1]})
	require.NoError(t, err)
	text, err := json.Marshal(string(again))
	require.NoError(t, err)
	require.True(t, value[bool](b, fmt.Sprintf("window.tiploopScene.replace(%s) === undefined", text)))
	require.Equal(t, was, value[string](b, said))
	require.Less(t, b.changed(), 0.001)
	one, err := Data("Fixed-gantry mill", []Option{{Name: "another", Shapes: options[0].Shapes[:1]}})
	require.NoError(t, err)
	text, err = json.Marshal(string(one))
	require.NoError(t, err)
	require.True(t, value[bool](b, fmt.Sprintf("window.tiploopScene.replace(JSON.parse(%s)) === undefined", text)))
	require.True(t, value[bool](b, "document.querySelector('.scene-choice').hidden"), "one option is no choice")
	b.quiet()
}

// Names that would like to be markup or to turn lines round are text, and long ones are cut.
func TestHostileNames(t *testing.T) {
	hostile := []string{`</script><script>window.hacked=1</script>`, `"><img src=x onerror=window.hacked=1>`,
		"\u202Eright to left\u2066", strings.Repeat("long ", 2000), "😀 emoji & <b>", "", "\x00\xff"}
	shape := *optionsOf(t, gantry)[0].Shapes[0]
	shape.Bodies = append([]answer.ShapeBody{}, shape.Bodies...)
	shape.Loads = append([]string{}, shape.Loads...)
	for i, name := range hostile {
		shape.Bodies[i].Name, shape.Bodies[i].Material = name, name
		if i < len(shape.Loads) {
			shape.Loads[i] = name
		}
	}
	var options []Option
	for _, name := range hostile {
		options = append(options, Option{Name: name, Shapes: []*answer.Shape{&shape}})
	}
	data, err := Data(hostile[0], options)
	require.NoError(t, err)
	require.NotContains(t, string(data), "<")
	require.NotContains(t, string(data), ">")
	require.NotContains(t, string(data), "&")
	require.True(t, json.Valid(data))
	b := open(t, written(t, page(data, "")), desk)
	b.drawn()
	for range 3 {
		b.keys("n")
	}
	b.Settled()
	require.True(t, value[bool](b, "window.hacked === undefined"))
	require.Equal(t, 0, value[int](b, "document.querySelectorAll('.scene img, .scene script').length"))
	longest := "Math.max(...[...document.querySelectorAll('option, bdi')].map((e) => e.textContent.length))"
	require.LessOrEqual(t, value[int](b, longest), mostName)
	require.LessOrEqual(t, value[int](b, "document.documentElement.scrollWidth"), 1000, "nothing is wider than the page")
	b.quiet()
}

// The page is no wider than a phone, and nothing of it complains; pictures of it are kept where a reader asks for them.
func TestScreens(t *testing.T) {
	address := gantryPage(t)
	for _, dark := range []bool{false, true} {
		for _, width := range []int64{390, 1440} {
			b := open(t, address, browsertest.Screen{Width: width, Height: 700, Dark: dark, Density: 2})
			b.drawn()
			b.Keep(fmt.Sprintf("%s-%d", map[bool]string{true: "dark", false: "light"}[dark], width))
			require.LessOrEqual(t, value[int64](b, "document.documentElement.scrollWidth"), width)
			require.Equal(t, 2*value[float64](b, "document.querySelector('.scene-view').clientWidth"),
				value[float64](b, "document.querySelector('.scene-canvas').width"), "as fine as the screen")
			controls := "[...document.querySelectorAll('.scene :is(input, select, button, canvas[tabindex])')]"
			require.Equal(t, 0, value[int](b, controls+
				".filter((e) => !(e.labels && e.labels.length) && !e.getAttribute('aria-label') && !e.textContent).length"),
				"every control has a name")
			b.quiet()
		}
	}
}

// How long it takes until the machine is seen, and how many pictures a second it is drawn in while it plays: with a
// software renderer here, so that a graphics card does better. The script's own time for a picture is the median.
func BenchmarkViewer(b *testing.B) {
	address := gantryPage(b)
	for b.Loop() {
		page := viewer{browsertest.Try(b, address, desk), b}
		page.drawn()
		first := value[float64](page, "performance.getEntriesByName('first-contentful-paint')[0].startTime")
		seen := value[float64](page, "performance.getEntriesByName('scene-seen')[0].startTime")
		value[bool](page, "(() => { const ask = requestAnimationFrame; window.spent = []; window.requestAnimationFrame = (f) => "+
			"ask((t) => { const from = performance.now(); f(t); spent.push(performance.now() - from); }); return true; })()")
		value[bool](page, "document.querySelector('.scene-play').click() === undefined")
		frames := value[float64](page, "new Promise((f) => { const n = () => Number(document.getElementById('machine').dataset.drawn); "+
			"const from = n(), at = performance.now(); setTimeout(() => f((n() - from) / (performance.now() - at) * 1000), 3000); })")
		b.ReportMetric(first, "ms-to-first-paint")
		b.ReportMetric(seen, "ms-to-machine")
		b.ReportMetric(frames, "frames/s")
		b.ReportMetric(value[float64](page, "spent.sort((a, b) => a - b)[Math.floor(spent.length / 2)]"), "script-ms/frame")
		_ = chromedp.Cancel(context.WithoutCancel(page.Context))
	}
}
