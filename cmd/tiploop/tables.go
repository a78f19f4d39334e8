package main

import (
	"bytes"
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"

	"tiploop/report"
)

// tables are the numbers the estimate rests on, by name.
var tables = []struct {
	name  string
	write func(io.Writer) error
}{
	{"materials", report.WriteMaterials},
	{"screws", report.WriteScrews},
	{"surfaces", report.WriteSurfaces},
	{"joint", report.WriteConstants},
	{"drilling", report.WriteDrilling},
	{"carriage", report.WriteCarriages},
	{"drive", report.WriteDrives},
	{"spindle", report.WriteSpindles},
	{"cutting", report.WriteCutting},
}

func newTables(s streams) *cobra.Command {
	var names []string
	for _, t := range tables {
		names = append(names, t.name)
	}
	return &cobra.Command{
		Use:   "tables [materials|screws|surfaces|joint|drilling|carriage|drive|spindle|cutting]",
		Short: "The numbers the estimate rests on, with their sources",
		Long: `Materials, screws, surface finishes, every number of the screwed joint with its low, typical and high
value, the work that holes take; carriages and their rails, screws that drive an axis with their support units and
motors, spindles, and what materials take to cut; each with where it comes from. Without a name, all of them.`,
		Example: `  tiploop tables materials
  tiploop tables joint`,
		Args:      oneTable,
		ValidArgs: names,
		RunE: func(_ *cobra.Command, args []string) error {
			var b bytes.Buffer
			for i, t := range tables {
				if len(args) == 1 && args[0] != t.name {
					continue
				}
				if len(args) == 0 && i > 0 {
					b.WriteByte('\n')
				}
				if err := t.write(&b); err != nil {
					return err
				}
			}
			_, err := s.out.Write(b.Bytes())
			return err
		},
	}
}

// oneTable checks that no more than one table is asked for, and that there is such a table.
func oneTable(cmd *cobra.Command, args []string) error {
	switch {
	case len(args) > 1:
		return fmt.Errorf("%s takes one table, not %d", cmd.CommandPath(), len(args))
	case len(args) == 1 && !slices.Contains(cmd.ValidArgs, args[0]):
		return notKnown(cmd, fmt.Sprintf("table %q", args[0]), nearest(args[0], cmd.ValidArgs))
	}
	return nil
}
