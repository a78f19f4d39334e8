package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"tiploop/report/live"
	"tiploop/report/wrap"
)

func newWatch(s streams) *cobra.Command {
	return &cobra.Command{
		Use:   "watch <model.yaml>",
		Short: "A live page to design with: it follows the file",
		Long: `What does this number do? A page in the browser follows the model file with every save, and each of the
file's values is a slider there. While one moves the beam model answers, and the meshed one when it rests:
what changes against the file, for better or worse, and how sure that is. A number can be written back into
the file, which changes that number and nothing else. The page is on this computer alone; its address is
printed, and an interrupt (Ctrl-C) ends it.`,
		Example:           `  tiploop watch mill.yaml`,
		Args:              oneModel,
		ValidArgsFunction: completeModel,
		RunE: func(cmd *cobra.Command, args []string) error {
			if args[0] == standardInput {
				return misuse("watch follows a file, and the standard input is none")
			}
			return runWatch(cmd.Context(), s, args[0])
		},
	}
}

// runWatch serves the page until the context is done, which is how it is meant to end.
func runWatch(ctx context.Context, s streams, path string) error {
	if now := (&watchedFile{path: path}).read(); now.gone != nil {
		return fmt.Errorf("watch %s: %w", path, now.gone)
	}
	d := newDesk(path)
	server, err := live.Listen(d)
	if err != nil {
		return err
	}
	d.wall, d.render = server, livePage
	_, err = fmt.Fprintf(s.out, "%s\nThe page follows %s. Ctrl-C ends it.\n", server.Address(), wrap.Harmless(path))
	if err != nil {
		return err
	}
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	go (&watchedFile{path: path}).follow(ctx, d)
	go d.solveBeams(ctx)
	go d.solveMeshes(ctx)
	defer d.leave() // nobody waits for a factorisation
	return server.Serve(ctx)
}
