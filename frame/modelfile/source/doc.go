// Package source reads the text of a model file into a tree of nodes that know their places, before anything is known of
// their meaning. It is the only room that knows YAML: what of it is foreign to a model, how large and how deep a file may
// be, and what a builder is told of a bracket too many.
//
//	root, faults := source.Parse("mill.yaml", data) // root is nil when there is nothing that can be read
package source
