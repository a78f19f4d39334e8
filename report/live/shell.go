package live

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"html/template"
)

//go:embed live.js
var script string

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
