package main

import (
	"github.com/spf13/cobra"

	"tiploop/frame/machine"
	"tiploop/report"
)

func newTravel(s streams) *cobra.Command {
	o := &modelOptions{}
	cmd := &cobra.Command{
		Use:   "travel <model.yaml>",
		Short: "How far the tip moves along the bed",
		Long: `How far does the tip move with the work spot at each place along a path of the model, and over which
stretch does it keep the tolerance?`,
		Example: `  tiploop travel mill.yaml --out bed.svg
  tiploop travel mill.yaml --csv`,
		RunE: func(cmd *cobra.Command, args []string) error {
			o.path = args[0]
			return o.answer(cmd.Context(), s, answerForms{machine.FullTravel, report.WriteTravel, report.WriteTravelCSV, report.TravelPicture})
		},
	}
	o.addTo(cmd, "the movement along each path, all options in one chart,", detailNames...)
	return cmd
}
