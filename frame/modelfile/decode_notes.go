package modelfile

import (
	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// plainNotes is the section in which notes stand that name none.
const plainNotes = "verdict"

// noteKeys are the sections of the log.
var noteKeys = Mapping{
	Name: "notes", About: "The builder's notes by the section of the log in which they stand.",
	Keys: logSectionKeys(),
}

func logSectionKeys() (keys []Key) {
	for _, s := range machine.LogSections {
		keys = append(keys, Key{Name: s.Name, Takes: anyText, Default: "none", About: s.About})
	}
	return keys
}

// decodeNotes reads the builder's notes: one text, or a text for each of some sections.
func (d *decoder) decodeNotes(n *source.Node) {
	if n == nil || n.Kind == source.Nothing {
		return
	}
	if n.Kind == source.Scalar {
		d.m.Notes = []machine.Note{{Section: plainNotes, Text: n.Text}}
		return
	}
	f, ok := d.fields(n, &noteKeys)
	if !ok {
		return
	}
	for _, k := range noteKeys.Keys {
		if text := f.get(k.Name); text != nil {
			if words, ok := d.single(text, "note "+k.Name); ok {
				d.m.Notes = append(d.m.Notes, machine.Note{Section: k.Name, Text: words})
			}
		}
	}
}
