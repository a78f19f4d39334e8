package scene

import (
	"fmt"
	"image"
	"os"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"tiploop/report/browsertest"
)

func TestMain(m *testing.M) { os.Exit(browsertest.Main(m.Run)) }

// viewer is a page with the machine on it.
type viewer struct {
	*browsertest.Page
	t testing.TB
}

var desk = browsertest.Screen{Width: 1000, Height: 700}

func open(t testing.TB, address string, on browsertest.Screen) viewer {
	t.Helper()
	return viewer{browsertest.Open(t, address, on), t}
}

// value is what an expression of the page comes to, or what its promise does.
func value[T any](v viewer, expression string) T {
	v.t.Helper()
	return browsertest.Value[T](v.Page, expression)
}

// quiet holds that the page complained about nothing and asked for nothing but itself.
func (v viewer) quiet() {
	v.t.Helper()
	require.Empty(v.t, v.Complaints())
}

// drawn waits for the viewer's first picture.
func (v viewer) drawn() {
	v.t.Helper()
	v.Until("Number(document.getElementById('machine').dataset.drawn) > 0")
}

// changed is the share of the picture's pixels that are plainly others than when it was last asked. What is drawn is
// there to be read only in the frame that drew it, so the viewer draws once more.
func (v viewer) changed() float64 {
	v.t.Helper()
	const plainly = 8 // of 255
	return value[float64](v, fmt.Sprintf(`new Promise((done) => {
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

// keys presses a key on the picture.
func (v viewer) keys(key string, options ...chromedp.KeyOption) {
	v.t.Helper()
	v.Focus(".scene-canvas")
	v.Press(key, options...)
}

// box is where the view stands on the page.
func (v viewer) box() image.Rectangle {
	v.t.Helper()
	at := value[[]float64](v, "(({left, top, right, bottom}) => [left, top, right, bottom])"+
		"(document.querySelector('.scene-view').getBoundingClientRect())")
	return image.Rect(int(at[0]), int(at[1]), int(at[2]), int(at[3]))
}

// later waits until the viewer would have been there.
func (v viewer) later() {
	v.t.Helper()
	value[bool](v, "new Promise((f) => requestAnimationFrame(() => requestAnimationFrame(() => requestIdleCallback(() => "+
		"requestIdleCallback(() => f(true))))))")
	v.Settled()
}
