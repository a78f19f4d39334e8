package main

import (
	"bytes"
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"tiploop/frame/answer"
	"tiploop/frame/structure"
	"tiploop/report"
	"tiploop/report/page"
	"tiploop/report/paper"
	"tiploop/report/scene"
)

// logOptions are the flags of log.
type logOptions struct {
	modelOptions
	sections []string
}

func newLog(s streams) *cobra.Command {
	o := &logOptions{modelOptions: modelOptions{next: true, follows: &following{}, stdin: s.in, posted: true}}
	cmd := &cobra.Command{
		Use:   "log <model.yaml> --out page.html",
		Short: "A page about the machine, to be posted as it is",
		Long: `Writes a page for a build log: which option to build and how sure that is, the machine, how far it moves
along its travel, who gives way, what to change next, what is near a limit, what to saw and drill, what a dial
should read, what is taken for granted, and the model file. The builder's own words stand in it by the file's
notes. A name in .html is one file that needs nothing else and asks for nothing; one in .md is text for a forum,
with its pictures beside it.`,
		Example: `  tiploop log mill.yaml --out mill.html
  tiploop log mill.yaml --out mill.md --sections drawing,shares,parts`,
		RunE: func(cmd *cobra.Command, args []string) error {
			o.path = args[0]
			return runLog(cmd.Context(), s, o)
		},
	}
	o.addModelTo(cmd, solidDetail, sectionDetail)
	f := cmd.Flags()
	f.Var((*outFile)(&o.out), "out", "the `file` to write: .html, or .md with its pictures beside it")
	f.StringSliceVar(&o.sections, "sections", nil, "write these `sections` only, below the verdict: "+
		strings.Join(page.Names(), ", "))
	// The only errors are flags that are not there.
	_ = cmd.RegisterFlagCompletionFunc("sections", cobra.FixedCompletions(page.Names(), cobra.ShellCompDirectiveNoFileComp))
	_ = cmd.MarkFlagFilename("out", "html", "md")
	return cmd
}

// The endings of names that log writes.
const (
	pageEnding     = ".html"
	markdownEnding = ".md"
)

// check finds what is wrong with the flags before any work is done, and says which ending the name has.
func (o *logOptions) check() (ending string, err error) {
	if err := o.modelOptions.checkDetail(); err != nil {
		return "", err
	}
	if o.detail == bothDetails {
		return "", misuse("log takes one detail at a time: solid or section")
	}
	for _, name := range o.sections {
		if !slices.Contains(page.Names(), name) {
			hint := "one or more of: " + strings.Join(page.Names(), ", ")
			if near := nearest(name, page.Names()); near != "" {
				hint = "did you mean " + near + "? " + hint
			}
			return "", misuse("--sections %q is not known\n\t%s", name, hint)
		}
	}
	switch ending = strings.ToLower(filepath.Ext(o.out)); {
	case o.out == "":
		return "", misuse("log writes a page, and --out does not say where\n\tadd --out %s", "log.html")
	case ending != pageEnding && ending != markdownEnding:
		return "", misuse("page %q: the name must end in .html or .md", o.out)
	}
	return ending, o.checkOverwrites(o.out)
}

// runLog solves once, and writes the page whole or not at all.
func runLog(ctx context.Context, s streams, o *logOptions) error {
	ending, err := o.check()
	if err != nil {
		return err
	}
	bar := newProgress(s)
	turns := ending == pageEnding && (len(o.sections) == 0 || slices.Contains(o.sections, "drawing"))
	content, err := atOnce(ctx, func() (page.Content, error) { return o.content(ctx, bar, turns) })
	bar.clear()
	if err != nil {
		return err
	}
	var files []paper.File
	if ending == markdownEnding {
		stem := strings.TrimSuffix(filepath.Base(o.out), filepath.Ext(o.out))
		if files, err = page.Markdown(content, stem); err != nil {
			return err
		}
		for i := range files {
			files[i].Path = filepath.Join(filepath.Dir(o.out), files[i].Path)
		}
		files[0].Path = o.out
	} else {
		var b bytes.Buffer
		if err := page.Write(&b, content, page.Live{}); err != nil {
			return err
		}
		files = []paper.File{{Path: o.out, Data: b.Bytes()}}
	}
	for _, f := range files {
		if err := o.checkOverwrites(f.Path); err != nil {
			return err
		}
	}
	if err := paper.WriteFilesWhole(files); err != nil {
		return err
	}
	said := fmt.Sprintf("wrote %s", o.out)
	if n := len(files) - 1; n > 0 {
		said += fmt.Sprintf(" and its pictures: %s", strings.Join(pathsOf(files[1:]), ", "))
	}
	_, err = fmt.Fprintln(s.out, said)
	return err
}

// pathsOf are the names of files.
func pathsOf(files []paper.File) (paths []string) {
	for _, f := range files {
		paths = append(paths, f.Path)
	}
	return paths
}

// content solves for every option and gathers what the page is made of.
// With turns the machine can be turned.
func (o *logOptions) content(ctx context.Context, bar *progress, turns bool) (page.Content, error) {
	c := page.Content{Version: version, Sections: o.sections}
	var looks []scene.Option
	o.keep = func(ctx context.Context, k kept) error {
		shapes, err := shapesOf(ctx, k, turns)
		if err != nil {
			return err
		}
		c.Drawn = append(c.Drawn, page.Drawn{Machine: k.machine, Inventory: inventoryOf(k.model, k.result), Shape: shapes[0]})
		looks = append(looks, scene.Option{Name: k.result.Name, Shapes: shapes, Result: k.result})
		return nil
	}
	var err error
	if c.Answer, err = o.solve(ctx, bar, structure.FullTravel); err != nil {
		return c, err
	}
	if turns {
		if c.Scene, err = sceneOf(c.Answer, looks); err != nil {
			return c, err
		}
	}
	name := filepath.Base(o.path)
	if o.path == standardInput {
		name = standardInputName
	}
	c.Source = page.Source{Name: name, Text: o.doc.Text()}
	return c, nil
}

// sceneOf is the data of a viewer, in which the option that the page is about comes first: it is what a viewer begins with.
// The options are in the order of the answer.
func sceneOf(found answer.Answer, looks []scene.Option) ([]byte, error) {
	picked := report.Picked(found)
	return scene.Data(found.Machine, slices.Concat(looks[picked:picked+1], looks[:picked], looks[picked+1:]))
}

// shapesOf is what a machine looks like as it stands, and with turns at the ends of its axes.
func shapesOf(ctx context.Context, k kept, turns bool) ([]*answer.Shape, error) {
	if turns {
		return k.by.Shapes(ctx, k.machine)
	}
	shape, err := k.model.Shape(ctx)
	return []*answer.Shape{shape}, err
}
