package main

import (
	"github.com/spf13/cobra"

	"tiploop/frame/modelfile"
)

// standing are the flags that say where the axes stand.
type standing struct {
	at       string
	position string
}

func (s *standing) addTo(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&s.at, "at", "", "put axes at these `positions`: x=20,y=-1.5in; others stand as drawn")
	f.StringVar(&s.position, "position", "",
		"put the axes in the position of this `name` in the model; --at goes before it")
}

// move gives the document with its axes where the flags say.
func (s *standing) move(doc *modelfile.Document) (*modelfile.Document, error) {
	if s.at == "" {
		return doc.At(s.position, nil), nil
	}
	at, err := modelfile.ParseAt(s.at)
	if err != nil {
		return nil, misuse("--at %s: %w\n\twrite axis=position, several with commas: --at x=20,y=-15", s.at, err)
	}
	return doc.At(s.position, at), nil
}
