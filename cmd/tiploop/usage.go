package main

import (
	"errors"
	"fmt"
	"strings"

	"tiploop/frame/machine"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// usageError is a mistake in how the program was called.
type usageError struct{ error }

func (e usageError) Unwrap() error { return e.error }

// misuse makes a usageError.
func misuse(format string, args ...any) error { return usageError{fmt.Errorf(format, args...)} }

// usageArgs makes a complaint about arguments, on a command and all below it, a usageError that says where help is.
func usageArgs(cmd *cobra.Command) {
	for _, c := range cmd.Commands() {
		usageArgs(c)
	}
	if check := cmd.Args; check != nil {
		cmd.Args = func(cmd *cobra.Command, args []string) error {
			err := check(cmd, args)
			var usage usageError
			if err == nil || errors.As(err, &usage) {
				return err
			}
			return misuse("%w\n\t%s", err, whereHelp(cmd))
		}
	}
}

func whereHelp(cmd *cobra.Command) string { return "see " + cmd.CommandPath() + " --help" }

// oneModel checks that a command has its model file and nothing else.
func oneModel(cmd *cobra.Command, args []string) error {
	switch len(args) {
	case 0:
		return fmt.Errorf("%s needs a model file", cmd.CommandPath())
	case 1:
		return nil
	}
	return fmt.Errorf("%s takes one model file, not %d", cmd.CommandPath(), len(args))
}

// noArguments refuses what stands behind a command; where a command may stand, it is a command that is not known.
func noArguments(cmd *cobra.Command, args []string) error {
	switch {
	case len(args) == 0:
		return nil
	case !cmd.HasSubCommands():
		return fmt.Errorf("%s takes no %q", cmd.CommandPath(), args[0])
	}
	var known []string
	for _, c := range cmd.Commands() {
		known = append(known, c.Name())
	}
	what := "command"
	if !cmd.HasAvailableSubCommands() {
		what = "key" // below the topic of the model file
	}
	return notKnown(cmd, fmt.Sprintf("%s %q", what, args[0]), nearest(args[0], known))
}

// flagTrouble is a mistake in a flag.
func flagTrouble(cmd *cobra.Command, err error) error {
	var unknown *pflag.NotExistError
	if !errors.As(err, &unknown) || unknown.GetSpecifiedShortnames() != "" {
		return misuse("%w\n\t%s", err, whereHelp(cmd))
	}
	var known []string
	cmd.Flags().VisitAll(func(f *pflag.Flag) { known = append(known, f.Name) })
	near := nearest(unknown.GetSpecifiedName(), known)
	if near != "" {
		near = "--" + near
	}
	return notKnown(cmd, "flag --"+unknown.GetSpecifiedName(), near)
}

// notKnown is the mistake of a word that is not known, with the right one when there is one like it.
func notKnown(cmd *cobra.Command, what, near string) error {
	hint := whereHelp(cmd)
	if near != "" {
		hint = "did you mean " + near + "?"
	}
	return misuse("%s is not known\n\t%s", what, hint)
}

// nearest gives the known word that another begins, or else the one most like it by the measure that serves the model
// file; "" when there is none.
func nearest(word string, known []string) string {
	if word == "" {
		return "" // every word begins with nothing
	}
	for _, k := range known {
		if strings.HasPrefix(k, strings.ToLower(word)) {
			return k
		}
	}
	if near := machine.Nearest(word, known); len(near) > 0 {
		return near[0]
	}
	return ""
}
