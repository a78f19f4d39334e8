// Package page makes the log of a build: one page about one machine, for the builder who decides, the stranger who looks
// for ten seconds and the engineer who doubts. It solves nothing: a Content holds the answer, the machines of its
// options with what is in them, and the text of the model file.
//
// Write writes the page as HTML that needs nothing else: style and script stand in it, a content security policy allows
// no more than them, and nothing is fetched. Markdown gives the same as text with its pictures beside, for a forum.
//
// A section is made once, as blocks that know neither HTML nor Markdown (Section), and its heading says what was found.
// Tables come from package report and blocks of sentences from package screen, as blocks of package table; pictures from
// report and drawing. Names and notes of the file are text wherever they stand: html/template, the XML encoder and
// escape see to that, and notes, which are Markdown, lose raw HTML, pictures and links to anything but http and https
// before they are set.
//
//	err := page.Write(w, page.Content{Answer: a, Drawn: drawn, Version: "1.0"}, page.Live{})
package page
