package main

import (
	"fmt"
	"net/url"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/report/browsertest"
)

// openFile opens a page that is a file.
func openFile(t *testing.T, path string) *browsertest.Page {
	t.Helper()
	return browsertest.Open(t, (&url.URL{Scheme: "file", Path: path}).String(), browsertest.Screen{})
}

// lookAt looks at a page at the width of a phone and of a desk, reads it and has it read out.
func lookAt(t *testing.T, o *browsertest.Page, dark bool) {
	t.Helper()
	for _, wide := range []int64{browsertest.PhoneWide, browsertest.DeskWide} {
		lookFrom(t, o, wide, dark)
	}
	o.Accessible()
}

// lookFrom looks at a page at a width and reads it.
func lookFrom(t *testing.T, o *browsertest.Page, wide int64, dark bool) {
	t.Helper()
	o.LookWith(browsertest.Screen{Width: wide, Dark: dark})
	o.Keep(fmt.Sprintf("%s-%d-%s", t.Name(), wide, map[bool]string{true: "dark", false: "light"}[dark]))
	o.Readable()
}

// Pages of models open from a file without a word of complaint and without asking for anything, at the width of a phone
// and of a desk, by day and by night, and whoever reads them by ear or by keys finds nothing serious in the way.
func TestBrowserOpensLogs(t *testing.T) {
	browsertest.Needs(t)
	models, err := filepath.Glob(filepath.Join(top, "examples", "*.yaml"))
	require.NoError(t, err)
	require.NotEmpty(t, models)
	if !thorough() {
		models = []string{filepath.Join(top, "examples", "bed-layouts.yaml")}
	}
	for _, model := range append(models, nastyModel(t)) {
		t.Run(strings.TrimSuffix(filepath.Base(model), ".yaml"), func(t *testing.T) {
			folder, files := logged(t, model, "page.html")
			const mostBytes = 1_500_000
			require.Less(t, len(files["page.html"]), mostBytes)
			o := openFile(t, filepath.Join(folder, "page.html"))
			require.Equal(t, "tiploop "+version, browsertest.Value[string](o, `document.querySelector("meta[name=generator]").content`))
			turning(t, o)
			papers := map[string]bool{}
			for _, dark := range []bool{false, true} {
				lookAt(t, o, dark)
				papers[browsertest.Value[string](o, "getComputedStyle(document.documentElement).backgroundColor")] = true
			}
			require.Len(t, papers, 2, "light and dark")
			require.Equal(t, 2, browsertest.Value[int](o, `document.scripts.length`), "the viewer and what it shows")
			require.Zero(t, browsertest.Value[int](o, `document.querySelectorAll("img, iframe, object, style:not(head style)").length`))
			o.Printed()
			require.Empty(t, o.Complaints())
		})
	}
}

// turning waits for the machine in three dimensions to take the place of the still drawing, which stays in the page for
// printing.
func turning(t *testing.T, o *browsertest.Page) {
	t.Helper()
	o.Until("'tiploopScene' in window")
	require.True(t, browsertest.Value[bool](o, `document.querySelector("#machine canvas") !== null`))
	require.True(t, browsertest.Value[bool](o, `document.querySelector("#machine figure").hidden`))
}
