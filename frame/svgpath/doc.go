// Package svgpath reads the path data of an SVG drawing into corners of polygons.
//
//	path, err := svgpath.Parse("M 0 0 H 40 V 40 H 0 Z")
//	for _, loop := range path.Flatten(0.01) { … loop.Corners … }
//
// The grammar is that of SVG 2, chapter 9: all its commands, absolute and relative, with numbers as closely written as
// it allows. Units are those of the path; y runs as in the path, which in a drawing is down. Curves become chords within a
// tolerance. A path is text from a stranger: commands and corners are bounded.
package svgpath
