package main

import (
	"slices"

	"github.com/spf13/cobra"

	"tiploop/frame/modelfile"
)

// following are the flags that say along which axes the tip is followed beside the paths of the model.
type following struct {
	over   []string
	within *string // nil: not given
}

func (o *following) addTo(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringArrayVar(&o.over, "over", nil, "follow the tip along an axis, x, or over the plane of two `axes`, x,y, "+
		"through their travel; may be given several times")
	completeFromModel(cmd, "over", cobra.ShellCompDirectiveDefault, axisNames)
	within := f.String("within", "", "`tolerance` of what --over adds: 20um")
	cmd.PreRun = func(*cobra.Command, []string) {
		if f.Changed("within") {
			o.within = within
		}
	}
}

// axisNames are the axes of a file, and their planes.
func axisNames(doc *modelfile.Document) []string {
	m, err := doc.Machine("")
	if err != nil {
		return nil
	}
	var words []string
	for i, a := range m.Axes {
		words = append(words, a.Name)
		for _, b := range m.Axes[i+1:] {
			words = append(words, a.Name+","+b.Name)
		}
	}
	return words
}

// follow gives the document with the paths that the flags ask for: without any, each axis by itself where the file has
// no paths.
func (o *following) follow(doc *modelfile.Document) (*modelfile.Document, error) {
	tolerance := 0.0
	if o.within != nil {
		var err error
		if tolerance, err = modelfile.ParseTolerance(*o.within); err != nil {
			return nil, misuse("--within %s: %w\n\twrite a length, such as 20um", *o.within, err)
		}
	}
	if o.over == nil {
		if tolerance > 0 && doc.HasTravel() {
			return nil, misuse("--within %s has nothing to go with: the paths of the file have tolerances of their own\n\tadd "+
				"--over with the axes to follow", *o.within)
		}
		return doc.OverEachAxis(tolerance), nil
	}
	var paths [][]string
	for _, text := range o.over {
		axes, err := modelfile.ParseOver(text)
		if err != nil {
			return nil, misuse("--over %s: %w\n\twrite one axis or two: --over x, --over x,y", text, err)
		}
		if slices.ContainsFunc(paths, func(p []string) bool { return slices.Equal(p, axes) }) {
			return nil, misuse("--over %s is asked for twice", text)
		}
		paths = append(paths, axes)
	}
	return doc.Over(tolerance, paths...), nil
}
