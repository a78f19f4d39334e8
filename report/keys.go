package report

import (
	"io"
	"strings"

	"tiploop/report/phrase"
	"tiploop/report/wrap"
)

// KeyGroup is a part of the reference of the model file's keys.
type KeyGroup struct {
	Title  string
	Tables []KeyTable
}

// KeyTable is one mapping of the model file.
type KeyTable struct {
	Name, About string
	Choices     [][]string // of each of these one is taken
	Keys        []KeyLine
}

// KeyLine is one key: what it takes, when it is given and what holds where it is not, what it says.
type KeyLine struct{ Name, Takes, Given, About string }

// Says returns what there is to say of the mapping.
func (t KeyTable) Says() string {
	about := t.About
	for _, c := range t.Choices {
		about += " One of: " + strings.Join(c, ", ") + "."
	}
	return about
}

// Says returns what there is to say of the key.
func (k KeyLine) Says() string {
	text := k.Takes
	if k.Given != "" {
		text += " (" + k.Given + ")"
	}
	return text + ": " + k.About
}

// WriteKeys writes the reference of the model file's keys behind a few words on it.
func WriteKeys(w io.Writer, words []string, groups []KeyGroup) error {
	p := newPage(w)
	for i, s := range words {
		if i > 0 {
			p.Line("")
		}
		p.Say(s)
	}
	for i, g := range groups {
		if i > 0 || len(words) > 0 {
			p.Line("")
		}
		p.Item("", phrase.Capital(g.Title))
		for _, t := range g.Tables {
			p.keys(t)
		}
	}
	return p.Close()
}

// keys writes the keys of one mapping, each behind its name.
func (p *page) keys(t KeyTable) {
	p.Line("")
	p.Item("  "+t.Name+": ", t.Says())
	widest := 0
	for _, k := range t.Keys {
		widest = max(widest, wrap.Letters(k.Name))
	}
	for _, k := range t.Keys {
		p.Item("    "+k.Name+strings.Repeat(" ", widest-wrap.Letters(k.Name)+2), k.Says())
	}
}
