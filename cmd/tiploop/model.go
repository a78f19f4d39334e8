package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"tiploop/frame/answer"
	"tiploop/frame/chance"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile"
	"tiploop/frame/structure"
	"tiploop/report"
	"tiploop/report/paper"
	"tiploop/report/verdict"
	"tiploop/report/wrap"
)

// modelOptions are the flags that every command on a model takes.
type modelOptions struct {
	path     string
	options  []string
	stands   standing
	detail   string
	mesh     meshFactor
	json     bool
	csv      bool
	out      string
	tables   *tablesAsked        // which tables are asked for; nil: the command has no screen
	doc      *modelfile.Document // what was read, once
	stdin    io.Reader
	oneFirst bool                              // a screen and its tables are for the file's first option
	others   []string                          // the options of the file that are then left out
	next     bool                              // what to stiffen next is asked for
	align    bool                              // what must be aligned is asked for
	follows  *following                        // along which axes the tip is followed; nil: along the model's own paths only
	keep     func(context.Context, kept) error // takes each option's model with its answer; nil: nobody does
	posted   bool                              // the answer is for readers who have no command line to ask for more
	turns    bool                              // the picture may be a machine to be turned, .glb
}

// addTo declares the flags on a command; picture says what --out draws, details are those that the command answers at.
func (o *modelOptions) addTo(cmd *cobra.Command, picture string, details ...string) {
	o.addModelTo(cmd, details...)
	f := cmd.Flags()
	f.BoolVar(&o.json, "json", false, "answer as JSON")
	f.BoolVar(&o.csv, "csv", false, "answer as CSV, units in the heads")
	endings := ".svg, .png or .pdf"
	if o.turns {
		endings += "; or the machine bent by each load, for other programs to turn (glTF 2.0): .glb"
	}
	f.Var((*outFile)(&o.out), "out", "also write "+picture+" to this `file`: "+endings)
}

// addModelTo declares the flags that say which machine is meant, and at which detail.
func (o *modelOptions) addModelTo(cmd *cobra.Command, details ...string) {
	cmd.Args = oneModel
	cmd.ValidArgsFunction = completeModel
	f := cmd.Flags()
	f.StringArrayVar(&o.options, "option", nil, "answer for the option of this `name`; may be given several times (\"as "+
		"drawn\" for the file's own values)")
	o.stands.addTo(cmd)
	f.StringVar(&o.detail, "detail", details[0], "`detail` of plates and gussets: "+detailsInWords(details))
	o.mesh = meshFactor{times: structure.QuickMesh}
	f.Var(&o.mesh, "mesh", "`factor` on the size of a meshed part's elements: 1 for a finer look, 0.5 halves that")
	// The only error is a flag that is not there.
	_ = cmd.RegisterFlagCompletionFunc("detail", cobra.FixedCompletions(details, cobra.ShellCompDirectiveNoFileComp))
	completeFromModel(cmd, "option", cobra.ShellCompDirectiveDefault, func(doc *modelfile.Document) []string {
		return append(doc.OptionNames(), structure.AsDrawn)
	})
}

// completeModel completes the name of a model file.
func completeModel(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return []string{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
}

// completeFromModel completes a flag with words from the model file that stands on the line; a file that cannot be read,
// and the standard input, complete to nothing. goesOn is
// cobra.ShellCompDirectiveNoSpace for words that more follows on.
func completeFromModel(cmd *cobra.Command, flag string, goesOn cobra.ShellCompDirective,
	words func(*modelfile.Document) []string) {
	// The only error is a flag that is not there.
	_ = cmd.RegisterFlagCompletionFunc(flag, func(_ *cobra.Command, args []string, _ string) ([]string,
		cobra.ShellCompDirective) {
		if len(args) == 0 {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		doc, err := modelfile.Read(args[0])
		if err != nil {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		return words(doc), cobra.ShellCompDirectiveNoFileComp | goesOn
	})
}

// outFile is the one file that a picture goes into.
type outFile string

// Set takes the file's name.
func (o *outFile) Set(name string) error { return setOnce((*string)(o), name, o.Type()) }

// setOnce takes the name of the one file or folder that something goes into.
func setOnce(to *string, name, what string) error {
	switch {
	case name == "":
		return errors.New("it names no " + what)
	case *to != "":
		return fmt.Errorf("it is asked for twice: %s and %s", *to, name)
	}
	*to = name
	return nil
}

// String is the file's name.
func (o *outFile) String() string { return string(*o) }

// Type is what help calls it.
func (*outFile) Type() string { return "file" }

// check finds what is wrong with the flags before any work is done.
func (o *modelOptions) check() error {
	if o.json && o.csv {
		return misuse("--json and --csv are both asked for\n\tkeep one of them")
	}
	if err := o.checkDetail(); err != nil {
		return err
	}
	if o.tables != nil {
		if err := o.tables.check(o.json || o.csv); err != nil {
			return err
		}
	}
	if err := o.checkOverwrites(o.out); err != nil {
		return err
	}
	if o.out == "" || o.wantsGLB() {
		return nil
	}
	if _, err := paper.FormatOf(o.out); err != nil {
		return usageError{err}
	}
	return nil
}

// checkOverwrites refuses to write over the model, by whatever name.
func (o *modelOptions) checkOverwrites(path string) error {
	model, err := os.Stat(o.path)
	if err != nil {
		return nil // whoever reads it says so
	}
	if out, err := os.Stat(path); err == nil && os.SameFile(model, out) {
		return misuse("--out %s would write over the model\n\tchoose another name", wrap.Harmless(path))
	}
	return nil
}

// wantsGLB tells whether the picture asked for is a machine to be turned.
func (o *modelOptions) wantsGLB() bool {
	return o.turns && strings.EqualFold(filepath.Ext(o.out), ".glb")
}

// read reads the model and finds which options are meant: those asked for, else all of the file's, else none.
func (o *modelOptions) read() (*modelfile.Document, []string, error) {
	doc, err := o.readFile()
	if err != nil {
		return nil, nil, err
	}
	if doc, err = o.stands.move(doc); err != nil {
		return nil, nil, err
	}
	if o.follows != nil {
		if doc, err = o.follows.follow(doc); err != nil {
			return nil, nil, err
		}
	}
	names := o.options
	if names == nil {
		names = doc.OptionNames()
		if o.oneOption() && len(names) > 0 {
			names, o.others = names[:1], names[1:]
		}
	}
	if names == nil {
		names = []string{structure.AsDrawn}
	}
	var chosen []string
	for _, name := range names {
		switch {
		case name == "":
			return nil, nil, misuse("--option names no option\n\tsay %q for the file's own values", structure.AsDrawn)
		case slices.Contains(chosen, name):
			return nil, nil, misuse("option %q is asked for twice", name)
		}
		chosen = append(chosen, name)
	}
	return doc, chosen, nil
}

// oneOption tells whether the answer is for the file's first option where none is asked for.
func (o *modelOptions) oneOption() bool { return o.oneFirst && !o.json && !o.csv && !o.tables.all }

// standardInput is the name of a file that means the model comes from the standard input, and what that is called.
const (
	standardInput     = "-"
	standardInputName = "standard input"
)

// readFile reads the model from its file or from the standard input, once.
func (o *modelOptions) readFile() (doc *modelfile.Document, err error) {
	switch {
	case o.doc != nil:
		return o.doc, nil
	case o.path == standardInput:
		doc, err = modelfile.ReadFrom(standardInputName, o.stdin)
	default:
		doc, err = modelfile.Read(o.path)
	}
	if err != nil {
		return nil, err
	}
	o.doc = doc
	return doc, nil
}

// drawnName is the option's name for the document: none for the file's own values.
func drawnName(doc *modelfile.Document, option string) string {
	if option == structure.AsDrawn && !slices.Contains(doc.OptionNames(), option) {
		return ""
	}
	return option
}

// build makes the model of one option.
func build(ctx context.Context, by *structure.Builder, doc *modelfile.Document, option string) (*machine.Machine,
	*structure.Model, error) {
	name := drawnName(doc, option)
	m, model, err := assemble(ctx, by, doc, name)
	if err != nil {
		return nil, nil, unbuilt(ctx, by, doc, name, err)
	}
	return m, model, nil
}

// unbuilt says under which option a machine turned out wrong unless it is wrong as drawn.
func unbuilt(ctx context.Context, by *structure.Builder, doc *modelfile.Document, option string, err error) error {
	if !slices.Contains(doc.OptionNames(), option) || ctx.Err() != nil {
		return err
	}
	if _, _, drawn := assemble(ctx, by, doc, ""); drawn != nil && drawn.Error() == err.Error() {
		return err
	}
	return ofOption(option, err)
}

func assemble(ctx context.Context, by *structure.Builder, doc *modelfile.Document, option string) (*machine.Machine,
	*structure.Model, error) {
	m, err := doc.Machine(option)
	if err != nil {
		return nil, nil, err
	}
	model, err := by.Build(ctx, m)
	if err != nil {
		return nil, nil, err
	}
	return m, model, nil
}

// optionError is what went wrong under an option.
type optionError struct {
	option string
	err    error
}

// Error says under which option, and what.
func (e optionError) Error() string { return fmt.Sprintf("option %s:\n%v", e.option, e.err) }

// Unwrap returns what went wrong.
func (e optionError) Unwrap() error { return e.err }

// ofOption says under which option something went wrong.
func ofOption(option string, err error) error { return optionError{option, err} }

// solve answers for every option.
func (o *modelOptions) solve(ctx context.Context, bar *progress, extent structure.Extent) (answer.Answer, error) {
	doc, options, err := o.read()
	if err != nil {
		return answer.Answer{}, err
	}
	bar.begin(len(options))
	found := answer.Answer{Tiploop: 1, Machine: doc.Name(), Detail: o.detail, Asks: o.asks()}
	if err := o.checkOptions(ctx, doc, o.others); err != nil {
		return answer.Answer{}, err
	}
	by, beams, columns := o.builder(bar), o.solveBeams(ctx, doc, options, extent), new(chance.Columns)
	for i, option := range options {
		bar.on(option)
		result, err := o.solveBy(ctx, by, doc, option, extent, columns)
		if err != nil {
			return answer.Answer{}, err
		}
		if beams != nil {
			beam, err := beams[i].result, beams[i].err
			if err != nil {
				return answer.Answer{}, err
			}
			if len(result.Solid) > 0 {
				result.Beam = answer.BesideBeam(result, beam)
			}
			if o.detail == bothDetails {
				result.Section = beam
			} else {
				result.Next = beam.Next
			}
		}
		found.Options = append(found.Options, *result)
		bar.next()
	}
	found.Duels = answer.Duels(found.Options)
	found.Verdict = verdict.Of(found)
	return found, nil
}

// besideMeshes is the answer of the beam model for one option, or why there is none.
type besideMeshes struct {
	result *answer.Result
	err    error
}

// solveBeams answers for every option by the beam model that stands beside the meshed one; nil where none does. They go
// first, for the factors of meshes are kept from option to option, and the two together take more memory than either.
func (o *modelOptions) solveBeams(ctx context.Context, doc *modelfile.Document, options []string,
	extent structure.Extent) (list []besideMeshes) {
	if o.detail == sectionDetail || o.align {
		return nil
	}
	if o.detail != bothDetails {
		extent = structure.TipOnly
	}
	by := o.beams()
	for _, option := range options {
		result, err := o.solveBy(ctx, by, doc, option, extent, nil)
		list = append(list, besideMeshes{result, err})
	}
	return list
}

// kept is the model of one option, who built it and what was found of it.
type kept struct {
	by      *structure.Builder
	machine *machine.Machine
	model   *structure.Model
	result  *answer.Result
}

// solveBy answers for one option by one builder, a beam model with what to stiffen next where that is asked for. With
// columns it says how sure that is.
func (o *modelOptions) solveBy(ctx context.Context, by *structure.Builder, doc *modelfile.Document, option string,
	extent structure.Extent, columns *chance.Columns) (*answer.Result, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if o.align {
		return o.alignBy(ctx, by, doc, option)
	}
	m, model, err := build(ctx, by, doc, option)
	if err != nil {
		return nil, err
	}
	result, err := model.SolveContext(ctx, extent)
	if err != nil {
		return nil, ofOption(option, err)
	}
	if columns != nil {
		if result.Sure, err = model.Sure(ctx, columns, result); err != nil {
			return nil, ofOption(option, err)
		}
		if o.keep != nil {
			if err := o.keep(ctx, kept{by, m, model, result}); err != nil {
				return nil, ofOption(option, err)
			}
		}
	}
	// CSV has no place for it; without a tool there is none, and the file need not be asked.
	if o.next && !o.csv && result.Tip != nil && by.Detail == structure.Section {
		variables, err := doc.Variables(drawnName(doc, option))
		if err != nil {
			return nil, ofOption(option, err)
		}
		if result.Next, err = model.Next(ctx, variables); err != nil {
			return nil, ofOption(option, err)
		}
	}
	return result, nil
}

// atOnce does work that writes nothing and leaves it as soon as the context is cancelled, wherever it is: a long
// factorisation need not look up.
func atOnce[T any](ctx context.Context, work func() (T, error)) (T, error) {
	var none T
	if err := ctx.Err(); err != nil {
		return none, err
	}
	type outcome struct {
		value T
		err   error
	}
	done := make(chan outcome, 1)
	go func() {
		value, err := work()
		done <- outcome{value, err}
	}()
	select {
	case o := <-done:
		return o.value, o.err
	case <-ctx.Done():
		return none, ctx.Err()
	}
}

// answerForms is what a command that solves works out, and how it writes that.
type answerForms struct {
	extent    structure.Extent
	text, csv func(io.Writer, answer.Answer) error
	picture   func(answer.Answer) (*paper.Picture, error)
}

// answer is a whole command that solves: check, solve, write.
func (o *modelOptions) answer(ctx context.Context, s streams, f answerForms) error {
	if err := o.check(); err != nil {
		return err
	}
	bar := newProgress(s)
	found, err := atOnce(ctx, func() (answer.Answer, error) { return o.solve(ctx, bar, f.extent) })
	bar.clear()
	if err != nil {
		return err
	}
	return o.write(s, form{
		text:    func(w io.Writer) error { return f.text(w, found) },
		csv:     func(w io.Writer) error { return f.csv(w, found) },
		json:    found,
		picture: func() (*paper.Picture, error) { return f.picture(found) },
	})
}

// form is the ways an answer can be written.
type form struct {
	text, csv func(io.Writer) error
	json      any
	picture   func() (*paper.Picture, error)
	glb       func() ([]byte, error) // nil: the command has none
}

// write writes the picture first, so that an unwritable one spoils no pipe, then the answer.
func (o *modelOptions) write(s streams, f form) error {
	var b bytes.Buffer
	var err error
	switch {
	case o.json:
		err = report.WriteJSON(&b, f.json)
	case o.csv:
		err = f.csv(&b)
	default:
		err = f.text(s.onMedium(&b))
	}
	if err != nil {
		return err
	}
	if o.wantsGLB() {
		file, err := f.glb()
		if err != nil {
			return err
		}
		if err := paper.WriteFileWhole(o.out, file); err != nil {
			return err
		}
	} else if o.out != "" {
		picture, err := f.picture()
		if nothing := paper.NothingToDraw(""); errors.As(err, &nothing) {
			return misuse("%s: %w\n\tleave out --out, or give the model what is missing", o.out, err)
		}
		if err != nil {
			return err
		}
		if err := picture.Save(o.out); err != nil {
			return err
		}
	}
	_, err = s.out.Write(b.Bytes())
	return err
}
