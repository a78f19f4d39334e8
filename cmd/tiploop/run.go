package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	"github.com/spf13/cobra"

	"tiploop/frame/machine"
)

// version of the program; the form of its JSON is numbered apart.
const version = "0.1.0"

// Exit codes: whatever is wrong with the model or the flags is 2, anything else that goes wrong 1.
const (
	answered = 0
	failed   = 1
	misused  = 2
)

// streams are where a command reads and writes.
type streams struct {
	out, err io.Writer
}

// run is the whole program: arguments in, exit code out.
func run(args []string) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	return runWith(ctx, args, streams{os.Stdout, os.Stderr})
}

func runWith(ctx context.Context, args []string, s streams) int {
	root := newRoot(s)
	root.SetArgs(args)
	err := root.ExecuteContext(ctx)
	if err == nil {
		return answered
	}
	fmt.Fprintln(s.err, err)
	var faults machine.Faults
	var usage usageError
	if errors.As(err, &faults) || errors.As(err, &usage) {
		return misused
	}
	return failed
}

// usageError is a mistake in how the program was called.
type usageError struct{ error }

func (e usageError) Unwrap() error { return e.error }

// misuse makes a usageError.
func misuse(format string, args ...any) error { return usageError{fmt.Errorf(format, args...)} }

func newRoot(s streams) *cobra.Command {
	root := &cobra.Command{
		Use:   "tiploop",
		Short: "How stiff is the machine you are about to build?",
		Long: `tiploop reads a machine of plates, gussets, bars and screws from a model file and estimates how far
the tool tip moves against the work under the cut, which part or joint gives way most, and what
each option of the design gains and costs: before a single hole is drilled.

An estimate from a simple linear model with uncertain joints, not a certified calculation.`,
		Example: `  tiploop new mill.yaml
  tiploop show mill.yaml
  tiploop compare mill.yaml`,
		Version:       version,
		SilenceUsage:  true,
		SilenceErrors: true,
		Args:          cobra.NoArgs,
		RunE:          func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	root.SetOut(s.out)
	root.SetErr(s.err)
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return misuse("%w\n\tsee %s --help", err, cmd.CommandPath())
	})
	root.AddCommand(newShow(s), newTip(s), newCompare(s), newTravel(s), newNew(s), newTables(s))
	for _, c := range root.Commands() {
		c.Args = usageArgs(c.Args)
	}
	root.Args = usageArgs(unknownCommand)
	return root
}

// usageArgs makes a complaint about arguments a usageError.
func usageArgs(check cobra.PositionalArgs) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if check == nil {
			return nil
		}
		if err := check(cmd, args); err != nil {
			return misuse("%w\n\tsee %s --help", err, cmd.CommandPath())
		}
		return nil
	}
}

func unknownCommand(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	err := fmt.Errorf("command %q is not known", args[0])
	if near := cmd.SuggestionsFor(args[0]); len(near) > 0 {
		err = fmt.Errorf("%w: did you mean %s?", err, near[0])
	}
	return err
}
