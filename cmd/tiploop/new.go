package main

import (
	_ "embed"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"github.com/spf13/cobra"

	"tiploop/report/paper"
	"tiploop/report/wrap"
)

//go:embed starter.yaml
var starter []byte

func newNew(s streams) *cobra.Command {
	return &cobra.Command{
		Use:   "new [model.yaml]",
		Short: "A commented model to start from",
		Long: `Writes a small commented model that runs as it is, to be changed into yours: to the file named, which
must not exist yet, or to the terminal.`,
		Example: `  tiploop new mill.yaml
  tiploop new > mill.yaml`,
		Args: oneFile,
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				_, err := s.out.Write(starter)
				return err
			}
			return runNew(s, args[0])
		},
	}
}

// oneFile checks that no more than one file is to be written.
func oneFile(cmd *cobra.Command, args []string) error {
	if len(args) > 1 {
		return fmt.Errorf("%s writes one file, not %d", cmd.CommandPath(), len(args))
	}
	return nil
}

func runNew(s streams, path string) error {
	switch _, err := os.Lstat(path); {
	case err == nil:
		return misuse("%s is already there\n\tchoose another name, or remove it first", path)
	case !errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("look for %s: %w", path, err)
	}
	if err := paper.WriteFileWhole(path, starter); err != nil {
		return err
	}
	path = wrap.Harmless(path)
	_, err := fmt.Fprintf(s.out, "wrote %s; now try: tiploop show %s\n", path, path)
	return err
}
