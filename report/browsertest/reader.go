package browsertest

import (
	"fmt"
	"os"
	"strings"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// Readable requires of a page as it looks now that it is not wider than it is shown, and that its letters stand out
// against the paper: WCAG 2.2 asks for a contrast of 4.5.
func (p *Page) Readable() {
	p.t.Helper()
	require.LessOrEqual(p.t, Value[float64](p, "document.documentElement.scrollWidth - innerWidth"), 0.0, "wider than shown")
	require.Greater(p.t, Value[float64](p, `(() => {
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

// Accessible asks axe-core for what bars readers by ear or by keys, where TIPLOOP_AXE is the path of its script.
func (p *Page) Accessible() {
	p.t.Helper()
	path := os.Getenv("TIPLOOP_AXE")
	if path == "" {
		require.False(p.t, Required(), "TIPLOOP_AXE names no script")
		return
	}
	script, err := os.ReadFile(path)
	require.NoError(p.t, err)
	Value[any](p, string(script)+"; null")
	require.Empty(p.t, Value[[]string](p, `document.querySelectorAll("details").forEach((d) => { d.open = true; });
		axe.run().then((found) => found.violations.filter((v) => v.impact === "serious" || v.impact === "critical")
			.map((v) => v.id + ": " + v.help + " at " + v.nodes.map((n) => n.target.join(" ")).slice(0, 3).join(", ")))`))
}

// Printed requires that the page prints on A4 and Letter.
func (p *Page) Printed() {
	p.t.Helper()
	for name, sheet := range map[string]chromedp.PaperSize{"A4": chromedp.PaperA4, "Letter": chromedp.PaperLetter} {
		pdf := Run(p, chromedp.PrintToPDF(chromedp.PDFPaper(sheet), chromedp.PDFPrintBackground()))
		require.True(p.t, strings.HasPrefix(string(pdf), "%PDF"))
		p.keep(fmt.Sprintf("%s-%s.pdf", p.t.Name(), name), pdf)
	}
}
