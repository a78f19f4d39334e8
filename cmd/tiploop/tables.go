package main

import (
	"bytes"
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"

	"tiploop/frame/modelfile"
	"tiploop/report/reference"
)

// tables are the numbers the estimate rests on, by name.
var tables = []struct {
	name  string
	write func(w io.Writer, sources bool) error
}{
	{"materials", reference.WriteMaterials},
	{"screws", reference.WriteScrews},
	{"surfaces", reference.WriteSurfaces},
	{"joint", reference.WriteConstants},
	{"drilling", reference.WriteDrilling},
	{"carriage", reference.WriteCarriages},
	{"drive", reference.WriteDrives},
	{"spindle", reference.WriteSpindles},
	{"cutting", reference.WriteCutting},
	{"methods", reference.WriteMethods},
}

// schemaTable is the one that is for programs, and stands by itself.
const schemaTable = "schema"

func newTables(s streams) *cobra.Command {
	var names []string
	for _, t := range tables {
		names = append(names, t.name)
	}
	names = append(names, schemaTable)
	var sources bool
	cmd := &cobra.Command{
		Use:   "tables [materials|screws|surfaces|joint|drilling|carriage|drive|spindle|cutting|methods|schema]",
		Short: "The numbers the estimate rests on, with their sources",
		Long: `Materials, screws, surface finishes, every number of the screwed joint with its low, typical and high
value, the work that holes take; carriages and their rails, screws that drive an axis with their support units and
motors, spindles, what materials take to cut, and by which published methods answers go. Without a name, all of
them; --sources says below each table where its numbers come from. The JSON Schema of the model file, by which
editors complete its keys, comes by its name alone.`,
		Example: `  tiploop tables materials
  tiploop tables joint --sources
  tiploop tables schema`,
		Args:      oneTable,
		ValidArgs: names,
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 1 && args[0] == schemaTable {
				_, err := s.out.Write(modelfile.Schema())
				return err
			}
			var b bytes.Buffer
			for i, t := range tables {
				if len(args) == 1 && args[0] != t.name {
					continue
				}
				if len(args) == 0 && i > 0 {
					b.WriteByte('\n')
				}
				if err := t.write(s.onMedium(&b), sources); err != nil {
					return err
				}
			}
			_, err := s.out.Write(b.Bytes())
			return err
		},
	}
	cmd.Flags().BoolVar(&sources, "sources", false, "say where the numbers come from")
	return cmd
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
