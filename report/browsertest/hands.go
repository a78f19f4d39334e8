package browsertest

import (
	"fmt"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

// Focus goes to what a selector finds first, as one who steps through a page by keys does.
func (p *Page) Focus(selector string) {
	p.t.Helper()
	Value[bool](p, fmt.Sprintf("document.querySelector(%q).focus() === undefined", selector))
}

// Press presses a key and lets it go, as one who has the focus somewhere does; keys without a letter are named in chromedp/kb.
func (p *Page) Press(key string, with ...chromedp.KeyOption) {
	p.t.Helper()
	p.Do(chromedp.KeyEvent(key, with...))
}

// Write writes a text where the focus is.
func (p *Page) Write(text string) {
	p.t.Helper()
	Call(p, input.InsertText, input.InsertTextParams{Text: text})
}

// Mouse presses ("mousePressed"), moves ("mouseMoved") or lets go ("mouseReleased") the left button at a place of the window.
func (p *Page) Mouse(kind input.DispatchMouseEventType, x, y float64) {
	p.t.Helper()
	Call(p, input.DispatchMouseEvent, input.DispatchMouseEventParams{Type: kind, X: x, Y: y, Button: "left", Buttons: 1,
		ClickCount: 1})
}

// Click clicks what a selector finds first.
func (p *Page) Click(selector string) {
	p.t.Helper()
	p.Do(chromedp.MouseClickXY(p.PlaceOf(selector)))
}

// PlaceOf scrolls to what a selector finds first, and gives the middle of it in the window.
func (p *Page) PlaceOf(selector string) (x, y float64) {
	p.t.Helper()
	at := Value[[]float64](p, fmt.Sprintf(`(() => { const e = document.querySelector(%q);
		e.scrollIntoView({block: "center"}); const r = e.getBoundingClientRect();
		return [r.x + r.width / 2, r.y + r.height / 2]; })()`, selector))
	return at[0], at[1]
}
