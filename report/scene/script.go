package scene

import (
	"embed"
	"strings"
)

//go:embed viewer/*.js viewer/style.css
var files embed.FS

// scripts are the viewer's, in the order in which they stand on one another.
var scripts = []string{"decode.js", "camera.js", "draw.js", "controls.js", "hands.js", "viewer.js"}

// Script is the viewer, as one script that leaves nothing behind but window.tiploopScene. It holds no "</", so that it
// may stand in a script element.
func Script() string {
	var b strings.Builder
	b.WriteString("(() => {\n'use strict';\n")
	for _, name := range scripts {
		b.WriteString(read(name))
	}
	b.WriteString("})();\n")
	return b.String()
}

// Style is the viewer's style sheet.
func Style() string { return read("style.css") }

func read(name string) string {
	text, err := files.ReadFile("viewer/" + name)
	if err != nil {
		panic("scene: " + err.Error())
	}
	return string(text)
}
