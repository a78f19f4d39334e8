package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"

	"tiploop/frame/machine"
	"tiploop/report"
)

// modelOptions are the flags that every command on a model takes.
type modelOptions struct {
	path    string
	options []string
	json    bool
	csv     bool
	out     string
}

// addTo declares the flags on a command; picture says what --out draws.
func (o *modelOptions) addTo(cmd *cobra.Command, picture string) {
	cmd.Args = oneModel
	cmd.ValidArgsFunction = func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
		if len(args) > 0 {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		return []string{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
	}
	f := cmd.Flags()
	f.StringArrayVar(&o.options, "option", nil, "answer for the option of this `name`; may be given several times (\"as drawn\" for the file's own values)")
	f.BoolVar(&o.json, "json", false, "answer as JSON")
	f.BoolVar(&o.csv, "csv", false, "answer as CSV, units in the heads")
	f.StringVar(&o.out, "out", "", "also write "+picture+" to this `file`: .svg, .png or .pdf")
	// The names come from the user's own file; a file that cannot be read completes to nothing.
	_ = cmd.RegisterFlagCompletionFunc("option", func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
		if len(args) == 0 {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		doc, err := machine.Read(args[0])
		if err != nil {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		return append(doc.OptionNames(), machine.AsDrawn), cobra.ShellCompDirectiveNoFileComp
	})
}

// check finds what is wrong with the flags before any work is done.
func (o *modelOptions) check() error {
	if o.json && o.csv {
		return misuse("--json and --csv are both asked for\n\tkeep one of them")
	}
	if o.out == "" {
		return nil
	}
	if _, err := report.FormatOf(o.out); err != nil {
		return usageError{err}
	}
	return nil
}

// read reads the model and settles which options are meant: those asked for, else all of the file's, else none.
func (o *modelOptions) read() (*machine.Document, []string, error) {
	doc, err := machine.Read(o.path)
	if err != nil {
		return nil, nil, err
	}
	names := o.options
	if names == nil {
		names = doc.OptionNames()
	}
	if names == nil {
		names = []string{machine.AsDrawn}
	}
	var chosen []string
	for _, name := range names {
		switch {
		case name == "":
			return nil, nil, misuse("--option names no option\n\tsay %q for the file's own values", machine.AsDrawn)
		case slices.Contains(chosen, name):
			return nil, nil, misuse("option %q is asked for twice", name)
		}
		chosen = append(chosen, name)
	}
	return doc, chosen, nil
}

// build makes the model of one option, and says under which option it turned out wrong unless it is wrong as drawn.
func build(doc *machine.Document, option string) (*machine.Machine, *machine.Model, error) {
	if !slices.Contains(doc.OptionNames(), option) {
		if option == machine.AsDrawn {
			option = ""
		}
		return assemble(doc, option)
	}
	m, model, err := assemble(doc, option)
	if err == nil {
		return m, model, nil
	}
	if _, _, drawn := assemble(doc, ""); drawn == nil || drawn.Error() != err.Error() {
		err = ofOption(option, err)
	}
	return nil, nil, err
}

func assemble(doc *machine.Document, option string) (*machine.Machine, *machine.Model, error) {
	m, err := doc.Machine(option)
	if err != nil {
		return nil, nil, err
	}
	model, err := machine.Build(m)
	if err != nil {
		return nil, nil, err
	}
	return m, model, nil
}

// ofOption says under which option something went wrong.
func ofOption(option string, err error) error { return fmt.Errorf("option %s:\n%w", option, err) }

// solve answers for every option.
func (o *modelOptions) solve(ctx context.Context, extent machine.Extent) (machine.Answer, error) {
	doc, options, err := o.read()
	if err != nil {
		return machine.Answer{}, err
	}
	answer := machine.Answer{Tiploop: 1, Machine: doc.Name(), Detail: "section"}
	for _, option := range options {
		if err := ctx.Err(); err != nil {
			return machine.Answer{}, err
		}
		_, model, err := build(doc, option)
		if err != nil {
			return machine.Answer{}, err
		}
		result, err := model.Solve(extent)
		if err != nil {
			return machine.Answer{}, ofOption(option, err)
		}
		answer.Options = append(answer.Options, *result)
	}
	return answer, nil
}

// answerForms is what a command that solves works out, and how it writes that.
type answerForms struct {
	extent    machine.Extent
	text, csv func(io.Writer, machine.Answer) error
	picture   func(machine.Answer) (*report.Picture, error)
}

// answer is a whole command that solves: check, solve, write.
func (o *modelOptions) answer(ctx context.Context, s streams, f answerForms) error {
	if err := o.check(); err != nil {
		return err
	}
	answer, err := o.solve(ctx, f.extent)
	if err != nil {
		return err
	}
	return o.write(s, form{
		text:    func(w io.Writer) error { return f.text(w, answer) },
		csv:     func(w io.Writer) error { return f.csv(w, answer) },
		json:    answer,
		picture: func() (*report.Picture, error) { return f.picture(answer) },
	})
}

// form is the three ways an answer can be written.
type form struct {
	text, csv func(io.Writer) error
	json      any
	picture   func() (*report.Picture, error)
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
		err = f.text(&b)
	}
	if err != nil {
		return err
	}
	if o.out != "" {
		picture, err := f.picture()
		if nothing := report.NothingToDraw(""); errors.As(err, &nothing) {
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
