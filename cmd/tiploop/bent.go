package main

import (
	"context"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"tiploop/frame/modelfile"
	"tiploop/report/drawing"
	"tiploop/report/paper"
	"tiploop/report/scene"
)

// bending is the flag that asks for the picture of a machine bent by a load.
type bending struct{ load string }

func (o *bending) addTo(cmd *cobra.Command) {
	cmd.Flags().StringVar(&o.load, "bent", "", "--out draws the machine bent by the `load` of this name, from a corner, over its "+
		"outline at rest")
	completeFromModel(cmd, "bent", cobra.ShellCompDirectiveDefault, func(doc *modelfile.Document) (names []string) {
		m, err := doc.Machine("")
		if err != nil {
			return nil
		}
		for _, l := range m.Loads {
			names = append(names, l.Name)
		}
		return names
	})
}

// check finds what is wrong with the flag beside the file that the picture goes into.
func (o *bending) check(out string, glb bool) error {
	switch {
	case o.load == "":
		return nil
	case out == "":
		return misuse("--bent draws nothing without --out\n\tadd --out bent.svg")
	case glb:
		return misuse("--bent is for pictures: a .glb has every load\n\tleave it out")
	}
	return nil
}

// picture is that of what was found, bent where that is asked for.
func (o *bending) picture(ctx context.Context, found shown) (*paper.Picture, error) {
	if o.load == "" {
		return drawing.Picture(found.machine, found.inventory)
	}
	shape, err := found.model.Shape(ctx)
	if err != nil {
		return nil, err
	}
	load := slices.Index(shape.Loads, o.load)
	if load < 0 {
		hint := "the model has no loads"
		if len(shape.Loads) > 0 {
			hint = "its loads are " + strings.Join(shape.Loads, ", ")
		}
		if near := nearest(o.load, shape.Loads); near != "" {
			hint = "did you mean " + near + "?"
		}
		return nil, misuse("--bent %q: no load is called so\n\t%s", o.load, hint)
	}
	return drawing.Isometric(found.machine.Name, shape, load)
}

// glb is the machine of what was found, bent by each load, for other programs to turn.
func (s shown) glb(ctx context.Context) ([]byte, error) {
	shape, err := s.model.Shape(ctx)
	if err != nil {
		return nil, err
	}
	return scene.GLB(s.machine.Name, shape)
}
