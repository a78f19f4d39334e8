package live

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"html/template"
	"strings"
)

//go:embed script/*.js
var scripts embed.FS

// script is the page's, as one that leaves nothing behind: its files in the order in which they stand on one another.
var script = func() string {
	var b strings.Builder
	b.WriteString("(() => {\n\"use strict\";\n")
	for _, name := range []string{"make.js", "asking.js", "sliders.js", "readout.js", "sections.js", "news.js"} {
		text, err := scripts.ReadFile("script/" + name)
		if err != nil {
			panic("live: " + err.Error())
		}
		b.Write(text)
	}
	b.WriteString("})();\n")
	return b.String()
}()

//go:embed live.css
var style string

//go:embed shell.html
var shellText string

// Script, Style and Controls are what makes a page live: at its end, in its style sheet, and where the controls belong.
// The script may fetch from the page's own address only.
func Script() string          { return script }
func Style() string           { return style }
func Controls() template.HTML { return `<div id="live"></div>` }

// shell is the page as long as there is no machine to show.
func shell() []byte {
	var b bytes.Buffer
	err := template.Must(template.New("shell").Parse(shellText)).Execute(&b, struct {
		Policy   string
		Style    template.CSS
		Script   template.JS
		Controls template.HTML
	}{"default-src 'none'; connect-src 'self'; style-src " + hashOf(style) + "; script-src " + hashOf(script),
		template.CSS(style), template.JS(script), Controls()})
	if err != nil {
		panic("live: " + err.Error()) // a buffer takes everything
	}
	return b.Bytes()
}

// hashOf names a text as a content security policy does.
func hashOf(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}
