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
	"golang.org/x/term"

	"tiploop/frame/machine"
	"tiploop/report/table"
	"tiploop/report/wrap"
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
	in       io.Reader
	out, err io.Writer
	errIsTTY bool // err is a terminal
	errWidth int  // of that terminal, in letters; 0: not known
	medium   table.Medium
}

// onMedium is where an answer is laid out for what out is.
func (s streams) onMedium(w io.Writer) io.Writer {
	m := s.medium
	m.Writer = w
	return m
}

// run is the whole program: arguments in, exit code out.
func run(args []string) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	// the first signal asks to leave; a second one, when that hangs in a full pipe, ends the program
	context.AfterFunc(ctx, stop)
	s := streams{in: os.Stdin, out: os.Stdout, err: os.Stderr}
	s.errIsTTY, s.errWidth = terminalOf(os.Stderr)
	// by the convention of no-color.org any value but none asks for no colours; a terminal that is called dumb has none
	outIsTTY, width := terminalOf(os.Stdout)
	s.medium = table.Medium{Width: width, Colour: outIsTTY && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"}
	return runWith(ctx, args, s)
}

// terminalOf tells whether a file is a terminal, and how wide: 0 when it does not say.
func terminalOf(f *os.File) (is bool, width int) {
	fd := int(f.Fd())
	if !term.IsTerminal(fd) {
		return false, 0
	}
	width, _, err := term.GetSize(fd)
	if err != nil {
		width = 0
	}
	return true, width
}

func runWith(ctx context.Context, args []string, s streams) int {
	out := &watched{Writer: s.out}
	s.out = out
	root := newRoot(s)
	root.SetArgs(args)
	err := root.ExecuteContext(ctx)
	if err == nil {
		err = out.failed // help does not look whether it could be written
	}
	if err == nil {
		return answered
	}
	if errors.Is(err, context.Canceled) {
		err = errors.New("interrupted; nothing was written")
	}
	fmt.Fprintln(s.err, wrap.Harmless(err.Error()))
	var faults machine.Faults
	var usage usageError
	if errors.As(err, &faults) || errors.As(err, &usage) {
		return misused
	}
	return failed
}

// watched keeps the first error of a writer.
type watched struct {
	io.Writer
	failed error
}

// Write writes, and keeps what goes wrong.
func (w *watched) Write(b []byte) (int, error) {
	n, err := w.Writer.Write(b)
	if w.failed == nil {
		w.failed = err
	}
	return n, err
}

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
		Args:          noArguments,
		RunE:          showHelp,
	}
	root.SetOut(s.out)
	root.SetErr(s.err)
	root.SetFlagErrorFunc(flagTrouble)
	root.AddCommand(newShow(s), newTip(s), newCompare(s), newTravel(s), newSweep(s), newAlign(s), newLog(s), newWatch(s),
		newNew(s), newTables(s), newModelHelp(s), newMan())
	addHelp(root)
	addCompletion(root)
	usageArgs(root)
	fitHelp(root, s.medium.Width)
	return root
}

func showHelp(cmd *cobra.Command, _ []string) error { return cmd.Help() }

// addHelp adds cobra's help command, which by itself takes help on a command that is not known for answered.
func addHelp(root *cobra.Command) {
	root.InitDefaultHelpCmd()
	help, _, _ := root.Find([]string{"help"}) // it was added a line before
	help.Args = func(_ *cobra.Command, args []string) error {
		found, rest, err := root.Find(args)
		if err != nil {
			return err
		}
		return noArguments(found, rest)
	}
}

// addCompletion adds cobra's completion command, which by itself takes a shell that is not known for answered.
func addCompletion(root *cobra.Command) {
	root.InitDefaultCompletionCmd()
	completion, _, _ := root.Find([]string{"completion"}) // it was added a line before
	completion.RunE = showHelp
	for _, c := range append(completion.Commands(), completion) {
		c.Args = noArguments
	}
}
