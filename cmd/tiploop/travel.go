package main

import (
	"io"

	"github.com/spf13/cobra"

	"tiploop/frame/answer"
	"tiploop/frame/structure"
	"tiploop/report"
	"tiploop/report/screen"
)

func newTravel(s streams) *cobra.Command {
	o := &modelOptions{follows: &following{}, stdin: s.in, tables: &tablesAsked{}}
	cmd := &cobra.Command{
		Use:   "travel <model.yaml>",
		Short: "How far the tip moves along the bed, an axis or a plane",
		Long: `How far does the tip move with the work spot at each place along a path of the model, with an axis at each
position of its travel, or with two axes at each position of a plane? Over which stretch, or what share of the
plane, does it keep the tolerance, where is it softest, and how straight does an axis run under its own weight?
Without paths in the model, and without --over, each axis is followed by itself. The answer is one screen;
--all prints everything, --show some of the tables.`,
		Example: `  tiploop travel mill.yaml --out bed.svg
  tiploop travel mill.yaml --csv`,
		RunE: func(cmd *cobra.Command, args []string) error {
			o.path = args[0]
			return o.answer(cmd.Context(), s, answerForms{structure.FullTravel, o.writeTravel, report.WriteTravelCSV,
				report.TravelPicture})
		},
	}
	o.addTo(cmd, "the movement along each path and over each plane", detailNames...)
	o.follows.addTo(cmd)
	o.tables.addTo(cmd, report.TravelTables())
	return cmd
}

// writeTravel writes the screen, or what else is asked for.
func (o *modelOptions) writeTravel(w io.Writer, a answer.Answer) error {
	if err := report.CheckTravels(a); err != nil {
		return err
	}
	if o.tables.screen() {
		return screen.Travel(w, a, report.TravelTables())
	}
	return report.WriteTravel(w, a, o.tables.show...)
}
